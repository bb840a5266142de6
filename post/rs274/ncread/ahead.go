package ncread

import (
	"bytes"
	"io"
	"sync"
)

// Taking lines apart is most of the work of reading a program, and no line needs
// another for it. A long program is read in chunks of whole lines; two of them are
// read and taken apart at a time while the machine executes those before, in order.
// Only lines that move and do nothing else are taken apart ahead; the machine does so
// with the others, whose faults may depend on what came before.

const (
	aheadMost = 4 // chunks in memory, each used again and again: fresh memory costs more than what is done in it
	aheadBy   = 2 // taken apart at a time

	// aheadSize is how much of a program a chunk holds, bytes. Half as much takes a
	// tenth longer, since the one that waits for a chunk is woken twice as often; twice as
	// much is more memory than it saves.
	aheadSize = 128 << 10

	usualLine = 20 // bytes; lines of a chunk are counted by it at first
)

// chunk is some whole lines of a program.
type chunk struct {
	text  []byte // behind it, in its capacity, lie as many bytes more as are looked at together
	lines []aheadLine
	apart chan struct{} // holds something once the lines are taken apart
}

// ahead reads a program ahead of its execution.
type ahead struct {
	inOrder chan *chunk // closed once no more chunks will come
	free    chan *chunk
	stop    chan struct{}
	work    sync.WaitGroup

	reading sync.Mutex // held while a chunk is read; it guards what follows
	r       io.Reader
	over    []byte // of a line that the last chunk did not hold all of
	ended   bool   // inOrder is closed
	rest    *lines // what is left then: no chunk ends in it
}

// readAhead begins to read ahead in chunks of a size in bytes, until close.
func readAhead(r io.Reader, size int) *ahead {
	a := &ahead{r: r, inOrder: make(chan *chunk, aheadMost), free: make(chan *chunk, aheadMost), stop: make(chan struct{})}
	for range aheadMost {
		a.free <- &chunk{text: make([]byte, size+behind), lines: make([]aheadLine, 0, size/usualLine), apart: make(chan struct{}, 1)}
	}
	for range aheadBy {
		a.work.Go(a.takeApart)
	}
	return a
}

// takeApart reads chunks and takes them apart until there are no more.
func (a *ahead) takeApart() {
	var like shapesBySize
	for c := a.next(); c != nil; c = a.next() {
		c.takeApart(&like)
		c.apart <- struct{}{}
	}
}

// next reads the next chunk, nil where there are no more.
func (a *ahead) next() *chunk {
	a.reading.Lock()
	defer a.reading.Unlock()
	if a.ended {
		return nil
	}
	select {
	case c := <-a.free:
		if a.read(c) {
			a.inOrder <- c
			return c
		}
	case <-a.stop:
	}
	a.ended = true
	close(a.inOrder)
	return nil
}

// read fills a chunk with whole lines and reports whether it could: what follows
// the last chunk is left.
func (a *ahead) read(c *chunk) bool {
	buf := c.text[:cap(c.text)-behind]
	n := copy(buf, a.over)
	got, err := io.ReadFull(a.r, buf[n:])
	n += got
	end := bytes.LastIndexByte(buf[:n], '\n') + 1
	if err != nil || end == 0 { // the last lines, or one line that fills it all; the chunk is used no more
		a.rest = newLines(io.MultiReader(bytes.NewReader(buf[:n]), goesOnAs(a.r, err)), chunkSize)
		return false
	}
	a.over = append(a.over[:0], buf[end:n]...)
	c.text = buf[:end]
	return true
}

// goesOnAs is a reader after io.ReadFull has returned an error.
func goesOnAs(r io.Reader, err error) io.Reader {
	switch err {
	case nil:
		return r
	case io.EOF, io.ErrUnexpectedEOF:
		return bytes.NewReader(nil)
	}
	return failed{err}
}

// failed is a reader that has failed.
type failed struct{ error }

func (f failed) Read([]byte) (int, error) { return 0, f.error }

// close ends what still works.
func (a *ahead) close() {
	close(a.stop)
	for range a.inOrder {
	}
	a.work.Wait()
}
