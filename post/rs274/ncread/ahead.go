package ncread

import (
	"bytes"
	"io"
	"slices"
	"sync"
)

// Taking lines apart is most of the work of reading a program, and no line needs
// another for it. A long program is read in chunks of whole lines; two of them are
// taken apart at a time while the machine executes those before, in order. Only
// lines that move and do nothing else are taken apart ahead; the machine does so
// with the others, whose faults may depend on what came before.

const (
	aheadMost = 6 // chunks in memory
	aheadBy   = 2 // taken apart at a time

	usualLine = 20 // bytes; lines of a chunk are counted by it at first
)

// chunk is some whole lines of a program.
type chunk struct {
	text  []byte
	lines []aheadLine
	apart chan struct{} // closed once the lines are taken apart
}

// aheadLine is a line of a chunk.
type aheadLine struct {
	from, to int32 // its text in that of the chunk
	bare     bool  // ends with CR alone
	moves    bool  // is taken apart
	moveWords
}

// moveWords are the words of a line that only moves.
type moveWords struct {
	seen, point letters
	words       int8
	motion      code // none without a G word
	val         [len(moveLetters)]float64
}

// moveLetters are the letters of such words, G apart.
const moveLetters = "XYZIJF"

// moveSlot is where the value of a letter stands in moveWords, from 1; 0 for
// letters that are none of them, slotG for G.
var moveSlot = func() (slots [256]uint8) {
	for i, c := range moveLetters + "G" {
		slots[c], slots[c|0x20] = uint8(i+1), uint8(i+1)
	}
	return slots
}()

const slotG = uint8(len(moveLetters) + 1)

// parse takes a line apart and reports whether it is one that only moves, every
// word of it sound.
func (w *moveWords) parse(s []byte) bool {
	w.seen, w.point, w.words, w.motion = 0, 0, 0, none
	if len(s) > lineSub {
		return false
	}
	for i := 0; i < len(s); {
		slot := moveSlot[s[i]]
		if slot == 0 {
			if s[i] == ' ' {
				i++
				continue
			}
			return false
		}
		l := bit(s[i] &^ 0x20)
		v, next, point, ok := number(s, i+1)
		if !ok {
			return false
		}
		i = next
		w.words++
		if slot == slotG {
			if w.motion != none || v != 0 && v != 1 && v != 2 && v != 3 {
				return false
			}
			w.motion = code(v * 10)
			continue
		}
		if w.seen&l != 0 {
			return false
		}
		w.seen |= l
		if point {
			w.point |= l
		}
		w.val[slot-1] = v
	}
	return w.words > 0
}

// apart returns the line's words where it is taken apart, nil otherwise.
func (l *aheadLine) apart() *moveWords {
	if !l.moves {
		return nil
	}
	return &l.moveWords
}

// load makes the block that [block.parse] would have made of the line.
func (b *block) load(w *moveWords) {
	b.reset()
	b.head = false
	b.seen, b.point, b.words = w.seen, w.point, int(w.words)
	for i, v := range w.val {
		b.val[moveLetters[i]-'A'] = v
	}
	if w.motion != none {
		b.gSeen = 1 << gMotion
		b.g[gMotion] = w.motion
	}
}

// takeApart takes the lines of a chunk apart.
func (c *chunk) takeApart() {
	l := lines{buf: c.text, end: len(c.text), lf: -1, eof: true}
	c.lines = c.lines[:0]
	for {
		from := l.pos
		text, ok := l.scan()
		if !ok {
			return
		}
		c.lines = append(c.lines, aheadLine{from: int32(from), to: int32(from + len(text)), bare: l.bare})
		at := &c.lines[len(c.lines)-1]
		at.moves = at.parse(text)
	}
}

// ahead reads a program ahead of its execution.
type ahead struct {
	r       io.Reader
	inOrder chan *chunk
	free    chan *chunk
	stop    chan struct{}
	work    sync.WaitGroup
	rest    *lines // what is left once inOrder is closed: no chunk ends in it
}

// readAhead begins to read ahead in chunks of a size in bytes, until close.
func readAhead(r io.Reader, size int) *ahead {
	a := &ahead{r: r, inOrder: make(chan *chunk, aheadMost), free: make(chan *chunk, aheadMost), stop: make(chan struct{})}
	for range aheadMost {
		a.free <- &chunk{text: make([]byte, 0, size), lines: make([]aheadLine, 0, size/usualLine)}
	}
	whole := make(chan *chunk, aheadMost)
	for range aheadBy {
		a.work.Go(func() {
			for c := range whole {
				c.takeApart()
				close(c.apart)
			}
		})
	}
	a.work.Go(func() {
		defer close(a.inOrder)
		defer close(whole)
		a.split(whole)
	})
	return a
}

// split cuts the program into chunks at ends of lines, and leaves what follows the
// last of them.
func (a *ahead) split(whole chan<- *chunk) {
	var over []byte // of a line that the last chunk did not hold all of
	for {
		var c *chunk
		select {
		case c = <-a.free:
		case <-a.stop:
			return
		}
		buf := c.text[:cap(c.text)]
		n := copy(buf, over)
		got, err := io.ReadFull(a.r, buf[n:])
		n += got
		end := bytes.LastIndexByte(buf[:n], '\n') + 1
		if err != nil || end == 0 { // the last lines, or one line that fills it all
			a.rest = newLines(io.MultiReader(bytes.NewReader(slices.Clone(buf[:n])), goesOnAs(a.r, err)), chunkSize)
			return
		}
		over = append(over[:0], buf[end:n]...)
		c.text, c.apart = buf[:end], make(chan struct{})
		whole <- c
		a.inOrder <- c
	}
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
