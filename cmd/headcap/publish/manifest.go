package publish

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"slices"
	"strings"
)

type digest [sha256.Size]byte

func digestOf(data []byte) digest { return sha256.Sum256(data) }

func digestFrom(r io.Reader) (d digest, err error) {
	h := sha256.New()
	if _, err := io.Copy(h, r); err != nil {
		return d, err
	}
	h.Sum(d[:0])
	return d, nil
}

// A manifest says which files are ours, and what was in them when we wrote them.
type manifest map[string]digest

// manifestHeader is a comment to sha256sum, which can therefore check a manifest as it is.
const manifestHeader = "# headcap manifest 1"

func (m manifest) text() []byte {
	var b bytes.Buffer
	b.WriteString(manifestHeader + "\n")
	for _, name := range slices.Sorted(maps.Keys(m)) {
		sum := m[name]
		fmt.Fprintf(&b, "%s  %s\n", hex.EncodeToString(sum[:]), name)
	}
	return b.Bytes()
}

// parseManifest reads a manifest; source names it in messages. Lines may end in CR LF, as git may have left them.
func parseManifest(source, text string) (manifest, error) {
	lines := strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n")
	if lines[0] != manifestHeader {
		return nil, fmt.Errorf("%s does not begin with %q: it is not ours, or a later headcap wrote it; move it away, or use that headcap", source, manifestHeader)
	}
	m := manifest{}
	for i, line := range lines[1:] {
		if line == "" {
			continue
		}
		sum, name, ok := strings.Cut(line, "  ")
		raw, err := hex.DecodeString(sum)
		if !ok || err != nil || len(raw) != sha256.Size {
			return nil, fmt.Errorf("line %d of %s is not a hash and a path; move the file away, and the build will say which files are in its way", i+2, source)
		}
		if err := checkName(name); err != nil {
			return nil, fmt.Errorf("line %d of %s: %w", i+2, source, err)
		}
		m[name] = digest(raw)
	}
	return m, nil
}

// settle brings the manifest up to date after a build that was interrupted between its renames and its manifest: of what
// that build meant to write, the files that stand there are ours.
func (f *Folder) settle() error {
	intent, err := f.readManifest(intentName)
	if err != nil || intent == nil {
		return err
	}
	was, err := f.readManifest(ManifestName)
	if err != nil {
		return err
	}
	now := manifest{}
	maps.Copy(now, was)
	for name, sum := range intent {
		state, err := f.compare(name, sum, nil)
		if err != nil {
			return err
		}
		if state == same {
			now[name] = sum
		}
	}
	if !maps.Equal(was, now) {
		if err := f.writeManifest(now); err != nil {
			return err
		}
	}
	return f.disk.remove(intentName)
}

// readManifest gives nil where there is none.
func (f *Folder) readManifest(name string) (manifest, error) {
	text, err := f.root.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return parseManifest(name, string(text))
}

func (f *Folder) writeManifest(m manifest) error { return f.replace(ManifestName, m.text()) }

func (f *Folder) writeIntent(m manifest) error { return f.replace(intentName, m.text()) }
