package packet

import (
	"io"
	"sync/atomic"
)

// Progress hears how far a stretch of work has come: done of total, in steps
// of about equal length. It is called from several goroutines and has to be
// quick; nil reports nothing. Nothing that is made depends on it.
type Progress func(what string, done, total int)

// stretch counts the steps of one stretch of work on several files.
type stretch struct {
	tell  Progress
	what  string
	total int
	done  atomic.Int64
}

// perFile is into how many steps a file is divided, so that a single long one
// is seen to go on.
const perFile = 100

// begin begins a stretch of work on so many files.
func (w *Work) begin(what string, files int) *stretch {
	s := &stretch{tell: w.watch, what: what, total: files * perFile}
	s.step(0)
	return s
}

// step tells that so many steps more are done.
func (s *stretch) step(n int) {
	done := s.done.Add(int64(n))
	if s.tell != nil {
		s.tell(s.what, int(done), s.total)
	}
}

// file tells that one more file is done.
func (s *stretch) file() { s.step(perFile) }

// one begins one file of the stretch.
func (s *stretch) one() *watched { return &watched{s: s} }

// watched is one file of a stretch of work, which reports some of its steps.
type watched struct {
	s    *stretch
	told int

	r          io.Reader
	read, size int
}

// over returns r, a text of so many bytes, which tells of the file's steps as
// it is read, all but the last. Of a file that nobody watches, nil, it is r itself.
func (w *watched) over(r io.Reader, size int) io.Reader {
	if w == nil {
		return r
	}
	w.r, w.size = r, max(1, size)
	return w
}

// Read reads on and tells how far that is.
func (w *watched) Read(p []byte) (int, error) {
	n, err := w.r.Read(p)
	w.read += n
	if steps := min(perFile-1, w.read*perFile/w.size); steps > w.told {
		w.s.step(steps - w.told)
		w.told = steps
	}
	return n, err
}

// finish tells of the steps that are left.
func (w *watched) finish() {
	w.s.step(perFile - w.told)
	w.told = perFile
}
