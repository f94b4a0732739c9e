module headcap

go 1.26.0

require (
	codeberg.org/go-fonts/latin-modern v0.4.0
	codeberg.org/go-fonts/stix v0.3.0
	github.com/ajstarks/svgo v0.0.0-20211024235047-1546f124cd8b
	github.com/alecthomas/kong v1.17.0
	github.com/alecthomas/participle/v2 v2.1.4
	github.com/go-text/typesetting v0.3.5
	github.com/rogpeppe/go-internal v1.16.0
	github.com/yofu/dxf v0.0.0-20250806094206-f3988c7f0176
	pgregory.net/rapid v1.3.0
)

require (
	golang.org/x/image v0.48.0 // indirect
	golang.org/x/sys v0.50.0 // indirect
	golang.org/x/tools v0.26.0 // indirect
)
