package desk

import (
	"crypto/rand"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
	"unicode/utf8"

	"starwright/cmd/internal/engine"
	"starwright/cmd/internal/release"
)

// Saved is what came of saving.
type Saved struct {
	Tag string `json:"tag"`
	// Theirs is the file as another program has written it meanwhile; then
	// nothing was saved. Gone says that it was removed.
	Theirs *Opened `json:"theirs,omitempty"`
	Gone   bool    `json:"gone,omitempty"`
}

// savingMark stands in the names of files that are being written. One that a
// killed desk has left is removed by the next that saves the same file.
const savingMark = ".saving-"

// Save writes a job file or the shop file, if it still is the one whose tag the
// page has; was is "" for a new file.
func (f *Folder) Save(name, source, was string) (Saved, error) {
	if err := jobName(name); err != nil {
		return Saved{}, err
	}
	if len(source) > maxJob || !utf8.ValidString(source) {
		return Saved{}, refuse("%s: this is not a text of at most 1 MB", name)
	}
	if err := f.here(); err != nil {
		return Saved{}, err
	}
	free, err := f.hold(name)
	if err != nil {
		return Saved{}, err
	}
	defer free()
	now, err := f.read(name)
	var fault *engine.Fault
	gone := errors.As(err, &fault) && fault.Kind == "io" && !f.exists(name)
	switch {
	case gone && was != "":
		return Saved{Gone: true}, nil
	case gone:
	case err != nil:
		return Saved{}, err
	case tag(now) == tag([]byte(source)): // what was to be written is there
		return Saved{Tag: tag(now)}, nil
	case tag(now) != was:
		return Saved{Theirs: &Opened{name, strings.ToValidUTF8(string(now), "\ufffd"), tag(now)}}, nil
	}
	if err := f.replace(name, []byte(source), gone); err != nil {
		return Saved{}, f.wrap(name, err)
	}
	return Saved{Tag: tag([]byte(source))}, nil
}

func (f *Folder) exists(name string) bool {
	_, err := f.root.Lstat(name)
	return !errors.Is(err, fs.ErrNotExist)
}

// hold keeps other desks from writing the same file for a moment.
func (f *Folder) hold(name string) (free func(), err error) {
	const tries, pause = 20, 50 * time.Millisecond
	for range tries {
		free, err = release.Hold(filepath.Join(f.path, "."+name+".lock"))
		if !errors.Is(err, release.ErrBusy) {
			return free, f.wrap(name, err)
		}
		time.Sleep(pause)
	}
	return nil, refuse("%s: another desk is writing this file; save again in a moment", name)
}

// replace writes the file beside its place, has it safe on the disk and puts it
// there by one rename.
func (f *Folder) replace(name string, data []byte, isNew bool) (err error) {
	f.clean(name)
	beside := "." + name + savingMark + rand.Text()[:8]
	mode := fs.FileMode(0o644)
	if info, err := f.root.Lstat(name); err == nil {
		mode = info.Mode().Perm()
	}
	file, err := f.root.OpenFile(beside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.root.Remove(beside)
		}
	}()
	_, err = file.Write(data)
	if err = errors.Join(err, file.Sync(), file.Close()); err != nil {
		return err
	}
	if isNew {
		// A link never takes the place of a file that another program has made
		// in this instant. Where the disk has no links, the rename has to do.
		if err := f.root.Link(beside, name); err == nil {
			return f.root.Remove(beside)
		} else if errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	return f.root.Rename(beside, name)
}

// clean removes what a killed desk has left of this file. The lock is held, so
// nobody is writing it now.
func (f *Folder) clean(name string) {
	entries, err := fs.ReadDir(f.root.FS(), ".")
	if err != nil {
		return
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), "."+name+savingMark) && e.Type().IsRegular() {
			f.root.Remove(e.Name())
		}
	}
}
