//go:build tools

package main

import (
	_ "codeberg.org/go-fonts/latin-modern/lmmonoproplt10bold"
	_ "codeberg.org/go-fonts/stix/stix2textsemibold"
	_ "github.com/ajstarks/svgo/float"
	_ "github.com/alecthomas/kong"
	_ "github.com/alecthomas/participle/v2"
	_ "github.com/fsnotify/fsnotify"
	_ "github.com/go-text/typesetting/shaping"
	_ "github.com/lucasb-eyer/go-colorful"
	_ "github.com/yofu/dxf"
	_ "golang.org/x/image/vector"
)
