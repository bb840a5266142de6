package release

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// syncsAtOnce is how many files are synced at the same time: a disk then
// settles many with one flush, where one after the other each waits for its own.
const syncsAtOnce = 16

// early syncs files while others are still being made, so that the disk works
// at the same time as the processors. At most syncsAtOnce are in work; more are
// left to [syncTree].
type early struct {
	work sync.WaitGroup
	sync.Mutex
	busy int
	done map[string]bool // by full path
	err  error
}

// take syncs and closes f, which nobody writes to any more, in its own time.
// It is false, and f left alone, where enough are in work.
func (e *early) take(f *os.File, path string) bool {
	e.Lock()
	defer e.Unlock()
	if e.busy == syncsAtOnce {
		return false
	}
	e.busy++
	e.work.Go(func() {
		err := errors.Join(f.Sync(), f.Close())
		e.Lock()
		defer e.Unlock()
		e.busy--
		if e.err = errors.Join(e.err, err); err == nil {
			if e.done == nil {
				e.done = map[string]bool{}
			}
			e.done[path] = true
		}
	})
	return true
}

// wait returns when nothing is in work any more, with what went wrong.
func (e *early) wait() error {
	e.work.Wait()
	e.Lock()
	defer e.Unlock()
	return e.err
}

// syncTree makes all files and folders of a tree last through a power cut, but
// for files of which that is known.
func syncTree(root string, done map[string]bool) error {
	var files, dirs []string
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() {
			dirs = append(dirs, path)
		} else if err == nil && !done[path] {
			files = append(files, path)
		}
		return err
	})
	if err != nil {
		return err
	}
	if err := atOnce(files, syncFile); err != nil {
		return err
	}
	return atOnce(dirs, syncDir)
}

// atOnce calls one for every path, several at the same time.
func atOnce(paths []string, one func(string) error) error {
	errs := make(chan error, len(paths))
	slots := make(chan struct{}, syncsAtOnce)
	for _, p := range paths {
		slots <- struct{}{}
		go func() {
			errs <- one(p)
			<-slots
		}()
	}
	var all error
	for range paths {
		all = errors.Join(all, <-errs)
	}
	return all
}

// syncFile makes the content of a file last through a power cut.
func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
