// Package publish writes what a build made: whole or not at all. It is the only room that writes into an output folder.
//
// Every file is made as a temporary file beside its place, flushed and closed; when all are ready they are renamed
// together, the folders are flushed, and the manifest comes last. So at every instant each file is the old one or the
// new one. What the manifest does not say is ours, or what was changed since we wrote it, is never touched.
package publish

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"path"
	"slices"
	"strings"
)

// A File is one file of a build. Path is slash-separated, below the output folder. Volume is the key of the volume that
// it belongs to, empty for a file of the whole set.
type File struct {
	Path   string
	Volume string
	Data   []byte
}

// A Volume of a build. Folder is where its files stand, below the output folder. A volume that is not Clean writes
// nothing, and what was written for it before stays.
type Volume struct {
	Key    string
	Folder string
	Clean  bool
}

// A Build is what one source gives. Whole says that every volume is clean and the files of the set are among Files.
type Build struct {
	Volumes []Volume
	Files   []File
	Whole   bool
}

// A Refusal is a volume that was left alone because files of somebody else stand in its way.
type Refusal struct {
	Volume string // the key; empty for the files of the set
	Paths  []string
}

// A Report says what was done, paths sorted.
type Report struct {
	Written   []string
	Unchanged []string
	Removed   []string
	Left      []string // no longer made, but changed since we wrote them: they stay, and are ours no more
	Refused   []Refusal
}

// Publish brings the folder to what the build says. Nothing is written if the context is done before the last temporary
// file is ready; from then on it goes through to the end.
func (f *Folder) Publish(ctx context.Context, b Build) (Report, error) {
	var rep Report
	if err := checkNames(b); err != nil {
		return rep, err
	}
	before, err := f.readManifest(ManifestName)
	if err != nil {
		return rep, err
	}
	p, err := f.plan(b, before)
	if err != nil {
		return rep, err
	}
	rep.Refused = p.refused
	rep.Unchanged = p.unchanged

	if err := f.stage(ctx, p); err != nil {
		f.unstage(p)
		return rep, err
	}
	err = f.commit(p, &rep)
	return rep, err
}

// A plan is what one call of Publish is about to do.
type plan struct {
	write     []*staged
	unchanged []string
	remove    []string
	refused   []Refusal
	manifest  manifest // as it is now on the disk, made to agree with each step
	disk      manifest // as the file headcap.manifest has it
}

// A staged file stands complete under its temporary name.
type staged struct {
	path, temp string
	sum        digest
	volume     string
	data       []byte
}

// plan compares the build with what stands in the folder.
func (f *Folder) plan(b Build, before manifest) (*plan, error) {
	p := &plan{manifest: manifest{}, disk: before}
	maps.Copy(p.manifest, before)
	clean := map[string]bool{"": b.Whole}
	for _, v := range b.Volumes {
		clean[v.Key] = v.Clean
	}
	wanted := map[string]bool{}
	for _, file := range b.Files {
		if clean[file.Volume] {
			wanted[file.Path] = true
		}
	}

	// One file in the way holds back its whole volume, so the files are first only looked at.
	inTheWay := map[string][]string{}
	for _, file := range b.Files {
		if !wanted[file.Path] {
			continue
		}
		sum := digestOf(file.Data)
		state, err := f.compare(file.Path, sum, before)
		if err != nil {
			return nil, err
		}
		switch state {
		case foreign:
			inTheWay[file.Volume] = append(inTheWay[file.Volume], file.Path)
		case same:
			p.unchanged = append(p.unchanged, file.Path)
			p.manifest[file.Path] = sum
		case other:
			p.write = append(p.write, &staged{path: file.Path, sum: sum, volume: file.Volume, data: file.Data})
		}
	}
	whole := b.Whole && len(inTheWay) == 0
	held := func(volume string) bool {
		return len(inTheWay[volume]) > 0 || volume == "" && !whole
	}
	p.write = slices.DeleteFunc(p.write, func(s *staged) bool { return held(s.volume) })
	for _, v := range slices.Sorted(maps.Keys(inTheWay)) {
		slices.Sort(inTheWay[v])
		p.refused = append(p.refused, Refusal{v, inTheWay[v]})
	}

	taken := map[string]bool{}
	for name := range wanted {
		taken[fold(name)] = true
	}
	for _, name := range slices.Sorted(maps.Keys(before)) {
		if wanted[name] {
			continue
		}
		if stale(name, b, whole, held) && !taken[fold(name)] {
			p.remove = append(p.remove, name)
		}
	}
	slices.Sort(p.unchanged)
	slices.SortFunc(p.write, func(a, b *staged) int { return strings.Compare(a.path, b.path) })
	return p, p.clash(before)
}

// stale says whether a file that the build no longer makes may go. A clean volume answers for its own folder; what
// belongs to no volume goes only when the whole set is clean, since a volume with an error may have lost its title.
func stale(name string, b Build, whole bool, held func(string) bool) bool {
	for _, v := range b.Volumes {
		if v.Folder != "" && strings.HasPrefix(name, v.Folder+"/") {
			return v.Clean && !held(v.Key)
		}
	}
	return whole
}

// clash refuses a file to be written whose name differs by case alone from one that stays: on many disks they are one.
func (p *plan) clash(before manifest) error {
	going := map[string]bool{}
	for _, name := range p.remove {
		going[name] = true
	}
	staying := map[string]string{}
	for name := range before {
		if !going[name] {
			staying[fold(name)] = name
		}
	}
	for _, s := range p.write {
		if old, ok := staying[fold(s.path)]; ok && old != s.path {
			return fmt.Errorf("%s and %s differ by capitals only, and many disks take them for one file", old, s.path)
		}
	}
	return nil
}

// stage makes every file complete under a temporary name, and notes the intent, so that the next start knows for ours
// what a crash in the middle of the renames left.
func (f *Folder) stage(ctx context.Context, p *plan) error {
	for i, s := range p.write {
		if i == 0 || s.volume != p.write[i-1].volume {
			if err := ctx.Err(); err != nil {
				return err
			}
		}
		temp, err := f.writeTemp(s.path, s.data)
		s.temp = temp
		if err != nil {
			return fmt.Errorf("writing %s: %w", s.path, err)
		}
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if len(p.write) == 0 {
		return nil
	}
	intent := maps.Clone(p.manifest)
	for _, s := range p.write {
		intent[s.path] = s.sum
	}
	return f.writeIntent(intent)
}

// unstage takes back what stage made. What it cannot remove, the next start sweeps.
func (f *Folder) unstage(p *plan) {
	for _, s := range p.write {
		if s.temp != "" {
			_ = f.disk.remove(s.temp)
			f.removeEmptyFolders(path.Dir(s.path))
		}
	}
	_ = f.disk.remove(intentName)
}

// commit renames what is staged, removes what is stale, and writes the manifest. If a step fails, the manifest still
// tells what stands in the folder.
func (f *Folder) commit(p *plan, rep *Report) error {
	var failed error
	for _, s := range p.write {
		if failed == nil {
			if err := f.disk.rename(s.temp, s.path); err != nil {
				failed = fmt.Errorf("putting %s in its place: %w", s.path, err)
			} else {
				p.manifest[s.path] = s.sum
				rep.Written = append(rep.Written, s.path)
				continue
			}
		}
		_ = f.disk.remove(s.temp)
	}
	if err := f.syncFolders(rep.Written); err != nil && failed == nil {
		failed = fmt.Errorf("flushing the output folder: %w", err)
	}
	if failed == nil {
		failed = f.removeStale(p, rep)
	}
	if maps.Equal(p.manifest, p.disk) {
		_ = f.disk.remove(intentName) // when it stays, it tells the truth
		return failed
	}
	if err := f.writeManifest(p.manifest); err != nil {
		return errors.Join(failed, fmt.Errorf("writing %s: %w", ManifestName, err))
	}
	_ = f.disk.remove(intentName)
	return failed
}

// removeStale removes the stale files that are still as we wrote them, and forgets the others.
func (f *Folder) removeStale(p *plan, rep *Report) error {
	for _, name := range p.remove {
		state, err := f.compare(name, p.manifest[name], p.manifest)
		if err != nil {
			return err
		}
		switch state {
		case same:
			if err := f.disk.remove(name); err != nil {
				return fmt.Errorf("removing %s: %w", name, err)
			}
			rep.Removed = append(rep.Removed, name)
			f.removeEmptyFolders(path.Dir(name))
		case foreign:
			rep.Left = append(rep.Left, name)
		}
		delete(p.manifest, name)
	}
	return nil
}
