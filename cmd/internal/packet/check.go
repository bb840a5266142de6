package packet

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"starwright/cmd/internal/job"
	"starwright/geom/star"
)

// Checked is what came of checking a packet.
type Checked struct {
	Work    *Work
	Proofs  []Proof
	Changes []Change // since it was made
}

// OK reports whether every file passed.
func (c *Checked) OK() bool {
	for i := range c.Proofs {
		if !c.Proofs[i].OK() {
			return false
		}
	}
	return true
}

// JobErrors are the errors of a job file, as one error.
type JobErrors []job.Error

func (e JobErrors) Error() string {
	lines := make([]string, len(e))
	for i, one := range e {
		lines[i] = one.Error()
	}
	return strings.Join(lines, "\n")
}

// Check proves the drawings and programs of a packet as they lie on disk,
// against the geometry that the packet's own job.toml, with the shop.toml beside
// it, gives. Where no file is named, the packet as a whole is also held against
// what was released. All is read from one folder: where a new packet takes its
// place meanwhile, that one is checked.
func Check(dir string, a Asked) (*Checked, error) {
	const tries = 5
	for range tries {
		c, replaced, err := checkOnce(dir, a)
		if !replaced {
			return c, err
		}
	}
	return nil, &RefusedError{dir, "this packet was replaced again and again while it was checked; check it when that is done"}
}

// checkOnce is one try of [Check]; replaced says that the folder went away
// meanwhile.
func checkOnce(dir string, a Asked) (c *Checked, replaced bool, err error) {
	f, err := openPacket(dir)
	if err != nil {
		return nil, false, err
	}
	defer f.close()
	c, err = f.check(dir, a)
	return c, !f.standsAt(dir), err
}

// openPacket opens a folder that should be a packet.
func openPacket(dir string) (folder, error) {
	info, err := os.Stat(dir)
	if err != nil {
		return folder{}, err
	}
	if !info.IsDir() {
		return folder{}, &RefusedError{dir, "this is a file; check takes a packet folder, then the files in it"}
	}
	return openFolder(dir)
}

// check proves what is in an open packet; dir is its path for people.
func (f folder) check(dir string, a Asked) (*Checked, error) {
	source, err := f.read("job.toml", maxJobBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, &RefusedError{dir, "this folder is not a packet: it has no job.toml; starwright make writes one"}
	}
	if why := odd(err); why != "" {
		return nil, &RefusedError{dir, why}
	}
	if err != nil {
		return nil, err
	}
	in := job.Input{Job: job.File{Name: filepath.Join(dir, "job.toml"), Data: source}}
	switch shop, err := f.read(job.ShopName, maxJobBytes); {
	case err == nil:
		in.Shop = &job.File{Name: filepath.Join(dir, job.ShopName), Data: shop}
	case odd(err) != "":
		return nil, &RefusedError{dir, odd(err)}
	case !errors.Is(err, fs.ErrNotExist):
		return nil, err
	}
	f.begun = f.begin(dir, a.Files)
	defer f.begun.settle()
	w, only, err := loadFor(dir, in, a.Files, a.Watch)
	if err != nil {
		return nil, err
	}
	c := &Checked{Work: w}
	made, err := f.readManifest()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	if only == nil {
		only = w.older(made)
	}
	others := f.digestsBeside(made, only)
	c.Proofs, err = w.prove(f, only, made.sums())
	sums := <-others
	if err != nil {
		return nil, err
	}
	for i := range c.Proofs {
		sums[c.Proofs[i].Path] = c.Proofs[i].SHA256
	}
	if c.Changes, err = f.edited(made, sums); err != nil {
		return nil, fmt.Errorf("%s: %w", dir, err)
	}
	if len(a.Files) == 0 {
		c.wholePacket(made, a)
	}
	return c, nil
}

// loadFor works out as much of a job as the named files need, and returns
// their paths within the packet. Jigs and nests take most of the time, and
// a check of one slot program does without.
func loadFor(dir string, in job.Input, files []string, watch Progress) (*Work, map[string]bool, error) {
	w, err := Start(context.Background(), in, watch)
	if err != nil {
		return nil, nil, err
	}
	plated := slices.ContainsFunc(w.Order.Units, func(u *star.Unit) bool { return u.Plate != nil })
	if len(files) > 0 && !plated { // a plate is as the cutter that its sheet ends with has it
		if only, err := w.pick(dir, files); err == nil {
			return w, only, nil
		}
	}
	if err := w.Finish(context.Background()); err != nil {
		return nil, nil, err
	}
	only, err := w.pick(dir, files)
	return w, only, err
}

// pick turns the names of files into paths within the packet.
func (w *Work) pick(dir string, files []string) (map[string]bool, error) {
	if len(files) == 0 {
		return nil, nil
	}
	known := map[string]bool{}
	var all []string
	w.eachDrawing(func(d *Drawing, f format) {
		known[d.in(f)] = true
		all = append(all, d.in(f))
	})
	for _, p := range w.Programs {
		known[p.Path] = true
		all = append(all, p.Path)
	}
	only := map[string]bool{}
	for _, f := range files {
		paths := pathsOf(dir, f)
		i := slices.IndexFunc(paths, func(path string) bool { return known[path] })
		if i < 0 {
			return nil, &RefusedError{f, fmt.Sprintf("this job's packet has no such drawing or program; it has %s", strings.Join(all, ", "))}
		}
		only[paths[i]] = true
	}
	return only, nil
}

// pathsOf returns the paths within the packet that the name of a file may mean: it is
// a path from here, or else one within the packet.
func pathsOf(dir, file string) (paths []string) {
	if rel, err := filepath.Rel(dir, file); err == nil {
		paths = append(paths, filepath.ToSlash(rel))
	}
	return append(paths, filepath.ToSlash(filepath.Clean(file)))
}
