package release

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// The names of what stands beside a target while it is made, all with a dot
// and the target's name before and a number behind.
const (
	asideMark  = ".aside-"  // what was replaced, where folders cannot be exchanged
	goneMark   = ".gone-"   // what is being removed
	makingMark = ".making-" // a stage, or what it was exchanged with
)

var markName = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(\.making-|\.aside-|\.gone-)([0-9]{1,9})$`) })

// markFile lies in a stage from its first instant until all in it has been
// looked at for the last time. It holds the stage's own name, so that a folder
// of another name with this file in it is none.
const markFile = ".unfinished"

func markWords(dir string) string {
	return filepath.Base(dir) + " is a packet that nobody has checked yet. Do not cut from it.\n"
}

// newStage makes the folder of a stage, which says of itself from its first instant
// that it is one: until the mark is in it, it has the name of what gets removed.
// Half a mark would be taken for somebody's file.
func (s *Stage) newStage() error {
	dir, err := s.free(makingMark)
	if err != nil {
		return err
	}
	bare, err := s.free(goneMark)
	if err != nil {
		return err
	}
	if err := os.Mkdir(bare, 0o777); err != nil {
		return err
	}
	err = os.WriteFile(filepath.Join(bare, markFile), []byte(markWords(dir)), 0o666)
	if err == nil {
		err = patient(func() error { return os.Rename(bare, dir) })
	}
	if err != nil {
		removeTree(bare)
		return err
	}
	s.dir = dir
	return nil
}

// marked reports whether a folder says of itself that it is a stage.
func marked(dir string) bool {
	data, err := os.ReadFile(filepath.Join(dir, markFile))
	return err == nil && string(data) == markWords(dir)
}

// unmark takes the mark from a stage.
func unmark(stage *os.Root) error { return stage.Remove(markFile) }

// removeStage removes a stage, its mark last: what is left of it, should this
// run die half way, still says what it is.
func removeStage(dir string) {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if e.Name() != markFile {
			removeTree(filepath.Join(dir, e.Name()))
		}
	}
	removeTree(dir)
}

// left is something that stands beside the target under a marked name.
type left struct {
	path, mark string
	number     int
}

// lefts lists what stands beside the target under marked names: what stepped
// aside first, and of each kind the last first.
func (s *Stage) lefts() ([]left, error) {
	parent, base := filepath.Split(s.target)
	entries, err := os.ReadDir(parent)
	if err != nil {
		return nil, err
	}
	var out []left
	for _, e := range entries {
		rest, ours := strings.CutPrefix(e.Name(), "."+base)
		m := markName().FindStringSubmatch(rest)
		if !ours || m == nil {
			continue
		}
		n, _ := strconv.Atoi(m[2])
		out = append(out, left{filepath.Join(parent, e.Name()), m[1], n})
	}
	slices.SortStableFunc(out, func(a, b left) int {
		return cmp.Or(strings.Compare(a.mark, b.mark), b.number-a.number)
	})
	return out, nil
}

// free returns a path beside the target of which nothing stands there, with a
// number above all others of its kind: the last is the highest.
func (s *Stage) free(mark string) (string, error) {
	all, err := s.lefts()
	if err != nil {
		return "", err
	}
	n := 1
	for _, l := range all {
		if l.mark == mark {
			n = l.number + 1
			break
		}
	}
	return filepath.Join(filepath.Dir(s.target), "."+filepath.Base(s.target)+mark+strconv.Itoa(n)), nil
}

// recover puts right what a dead run left beside the target: this one holds
// the lock, so nobody else is at work there. What cannot be moved or removed
// now, because another program has it open, waits for the next run.
func (s *Stage) recover() error {
	all, err := s.lefts()
	if err != nil {
		return err
	}
	for _, l := range all {
		if info, err := os.Lstat(l.path); err != nil || !info.IsDir() {
			continue
		}
		if l.mark == asideMark {
			if _, err := os.Lstat(s.target); errors.Is(err, fs.ErrNotExist) && os.Rename(l.path, s.target) == nil {
				continue
			}
		}
		switch {
		case l.mark == goneMark:
			removeTree(l.path)
		case l.mark == makingMark && marked(l.path):
			removeStage(l.path)
		default:
			_, _ = s.settle(l.path)
		}
	}
	return nil
}

// settle keeps or removes a folder that was replaced. One that cannot be
// removed is left for the next run to try again.
func (s *Stage) settle(old string) (kept string, err error) {
	if s.keep == nil || !s.keep(old) {
		s.discard(old)
		return "", nil
	}
	if kept, err = keepName(s.target); err == nil {
		err = patient(func() error { return os.Rename(old, kept) })
	}
	if err != nil {
		return "", fmt.Errorf("%s has been replaced; the edited one stays in %s: %w", s.said, old, err)
	}
	return kept, nil
}

// discard removes a folder under a name by which the next run knows that it
// is to go, should this one die half way. One that cannot get that name is left
// whole.
func (s *Stage) discard(old string) {
	gone, err := s.free(goneMark)
	if err == nil && patient(func() error { return os.Rename(old, gone) }) == nil {
		removeTree(gone)
	}
}

// removeTree removes a folder with all that is in it, also where somebody has
// taken the right to write from folders in it.
func removeTree(path string) error {
	if err := os.RemoveAll(path); err == nil {
		return nil
	}
	filepath.WalkDir(path, func(p string, d fs.DirEntry, _ error) error {
		if d != nil && d.IsDir() {
			os.Chmod(p, 0o700)
		}
		return nil
	})
	return os.RemoveAll(path)
}

// keepName returns a free name beside the target for a folder that is kept.
func keepName(target string) (string, error) {
	for i := 1; i < 1000; i++ {
		name := fmt.Sprintf("%s.edited-%d", target, i)
		if _, err := os.Lstat(name); errors.Is(err, fs.ErrNotExist) {
			return name, nil
		}
	}
	return "", fmt.Errorf("%s.edited-1 to -999 all exist; move some away", target)
}
