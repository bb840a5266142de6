package ncwrite

import (
	"fmt"
	"slices"

	"starwright/toolpath"
)

// Numbers that controllers take: of a line by NISTIR 6556 §3.3.1, of a program
// from memory.
const (
	lineNumberMost    = 99999
	programNumberMost = 9999
	numberRoom        = len("N99999 ")
)

// omitted are the words that may be left out for a controller that does not know
// them: what they say is in force anyway, or is set by hand.
var omitted = []string{"S", "G17", "G40", "G54", "G80", "G94"}

// checkController refuses what cannot be written for any controller.
func checkController(c *toolpath.Controller) error {
	if c.Number < 0 || c.Number > programNumberMost {
		return fmt.Errorf("program number %d; 1 to %d can be written", c.Number, programNumberMost)
	}
	if !(c.PathMM >= 0 && c.PathMM < 1) || c.PathMM > 0 && c.ExactPath {
		return fmt.Errorf("a path tolerance of %g mm cannot be written; one such as 0.01 without exact path can", c.PathMM)
	}
	for _, word := range c.Unknown {
		if !slices.Contains(omitted, word) {
			return fmt.Errorf("a program without %s cannot be written; these may be left out: %v", word, omitted)
		}
	}
	return nil
}

// raw writes a line without a number.
func (w *writer) raw(s string) {
	w.out.WriteString(s)
	if w.p.For.CRLF {
		w.out.WriteByte('\r')
	}
	w.out.WriteByte('\n')
}

// line writes one block.
func (w *writer) line(s string) {
	if w.p.For.LineNumbers {
		s = fmt.Sprintf("N%d %s", w.blocks%lineNumberMost+1, s)
		w.blocks++
	}
	w.raw(s)
}

// room is how many characters a block may have.
func (w *writer) room() int {
	if w.p.For.LineNumbers {
		return lineMax - numberRoom
	}
	return lineMax
}

// comment writes text as one comment line or several.
func (w *writer) comment(text string) {
	for _, s := range comments(text) {
		switch w.p.For.Comments {
		case toolpath.Parentheses:
			w.raw("(" + s + ")")
		case toolpath.Semicolon:
			w.raw("; " + s)
		}
	}
}

// begin writes what stands before everything else.
func (w *writer) begin() {
	if w.p.For.Percent {
		w.raw("%")
	}
	if n := w.p.For.Number; n > 0 {
		w.raw(fmt.Sprintf("O%04d", n))
	}
}

// path says how arcs are given and how close the path is kept.
func (w *writer) path() {
	c := &w.p.For
	if c.Centres {
		w.line("G91.1")
	}
	if c.ExactPath {
		w.line("G61")
	}
	if c.PathMM > 0 {
		w.line("G64 P" + string(appendFixed(nil, max(1, w.ticksBelow(c.PathMM)), w.decimals)))
	}
}

// dwell writes a wait of so many milliseconds.
func (w *writer) dwell(ms int64) {
	switch {
	case ms <= 0:
	case w.p.For.Dwell == toolpath.DwellSeconds:
		w.line("G4 P" + string(appendFixed(nil, ms, 3)))
	case w.p.For.Dwell == toolpath.DwellMilliseconds:
		w.line(fmt.Sprintf("G4 P%d", ms))
	}
}

// end writes the end of the program.
func (w *writer) end() {
	if w.p.For.EndM30 {
		w.line("M30")
	} else {
		w.line("M2")
	}
	if w.p.For.Percent {
		w.raw("%")
	}
}
