package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"
)

// How the bar is drawn.
const (
	barTick  = 200 * time.Millisecond // between two drawings
	barFirst = 5                      // ticks before the first: work of less than a second shows no bar
	barWidth = 30                     // of the bar itself, letters
)

// bar says on a terminal how far a long piece of work is. A nil bar says
// nothing and can be used all the same.
type bar struct {
	out  io.Writer
	stop chan struct{} // closed to end it
	once sync.Once     // for closing it
	gone chan struct{} // closed when it has ended

	mu          sync.Mutex
	what        string
	done, total int

	drawn int // letters that stand on the line
}

// progress returns a bar on standard error, or nil where nobody would look at
// it: with --json, and where standard error is not a terminal.
func (a *app) progress() *bar {
	if a.json || !isTerminal(a.err) {
		return nil
	}
	t := time.NewTicker(barTick)
	b := newBar(a.err, t.C)
	go func() {
		<-b.gone
		t.Stop()
	}()
	a.bar.Store(b)
	return b
}

// isTerminal reports whether what is written to w is seen by somebody as it
// is written.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// newBar returns a bar that is drawn at each tick but the first ones.
func newBar(out io.Writer, ticks <-chan time.Time) *bar {
	b := &bar{out: out, stop: make(chan struct{}), gone: make(chan struct{})}
	go b.draw(ticks)
	return b
}

// tell takes in how far the work is. It does not draw, so it costs next to
// nothing.
func (b *bar) tell(what string, done, total int) {
	if b == nil {
		return
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	// Steps of two workers may come in the wrong order.
	if what == b.what && total == b.total && done < b.done && done > 0 {
		return
	}
	b.what, b.done, b.total = what, done, total
}

// end erases the bar. What is printed afterwards begins on a clean line.
func (b *bar) end() {
	if b == nil {
		return
	}
	b.once.Do(func() { close(b.stop) })
	<-b.gone
}

// draw draws the bar until it is ended.
func (b *bar) draw(ticks <-chan time.Time) {
	defer close(b.gone)
	for n := 1; ; n++ {
		select {
		case <-b.stop:
			b.put("")
			return
		case <-ticks:
			if n > barFirst {
				b.put(b.line())
			}
		}
	}
}

// line returns the bar as text, empty where no work has been told of.
func (b *bar) line() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.total <= 0 {
		return ""
	}
	full := min(max(b.done, 0), b.total)
	cells := full * barWidth / b.total
	return fmt.Sprintf("[%s%s] %3d %% %s", strings.Repeat("#", cells), strings.Repeat("-", barWidth-cells), 100*full/b.total, b.what)
}

// put writes a text over what stands on the line, with blanks over the rest:
// every terminal knows the carriage return, not every one knows more.
func (b *bar) put(text string) {
	if text == "" && b.drawn == 0 {
		return
	}
	blanks := strings.Repeat(" ", max(0, b.drawn-len(text)))
	out := "\r" + text + blanks
	if text == "" {
		out += "\r"
	}
	io.WriteString(b.out, out)
	b.drawn = len(text)
}
