package release

import (
	"errors"
	"slices"
	"sync"
)

// ErrStopped says that the stage was over, because somebody stopped the program.
var ErrStopped = errors.New("stopped; nothing was changed")

// stages are those of this process that are in the making.
type stages struct {
	sync.Mutex
	stopped bool
	list    []*Stage
}

var inWork stages

func (in *stages) add(s *Stage) error {
	in.Lock()
	defer in.Unlock()
	if in.stopped {
		return ErrStopped
	}
	in.list = append(in.list, s)
	return nil
}

func (in *stages) drop(s *Stage) {
	in.Lock()
	defer in.Unlock()
	in.list = slices.DeleteFunc(in.list, func(other *Stage) bool { return other == s })
}

// Stop ends this process' work on packets, for a program that is about to end:
// what is in the making is thrown away, and no stage is begun any more. One
// that is being swapped in right now is let through. It returns the targets of
// both kinds.
func Stop() (thrown, released []string) {
	inWork.Lock()
	inWork.stopped = true
	list := slices.Clone(inWork.list)
	inWork.Unlock()
	for _, s := range list {
		s.Abort()
		if s.released {
			released = append(released, s.said)
		} else {
			thrown = append(thrown, s.said)
		}
	}
	return thrown, released
}
