package ncwrite

import (
	"bytes"
	"errors"
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// reachMM is the largest coordinate that is written, 100 m: anything beyond
// is a slip in the plan, not a machine.
const reachMM = 100e3

// The most that is written of a feed (mm/min), a spindle speed (rev/min) and a
// wait (seconds): no machine for wood comes near.
const (
	maxFeed = 1e6
	maxRPM  = 1e6
	maxWait = 600
)

// Bytes returns the program's text in units of unitMM millimetres: 1, or 25.4 for
// inches. The error of a program that is refused names it and the step.
func Bytes(p toolpath.Program, unitMM float64) ([]byte, error) {
	g, ok := newGrid(unitMM)
	if !ok {
		return nil, fmt.Errorf("program %s: a unit of %g mm cannot be written; 1 (millimetres) and 25.4 (inches) can", p.Name, unitMM)
	}
	if err := errors.Join(checkProgram(p), checkController(&p.For)); err != nil {
		return nil, fmt.Errorf("program %s: %w", p.Name, err)
	}
	wr := &writer{grid: g, p: p, safe: g.ticks(p.SafeZ)}
	wr.start()
	for i, s := range p.Steps {
		if err := wr.step(s); err != nil {
			return nil, fmt.Errorf("program %s: step %d: %w", p.Name, i+1, err)
		}
	}
	if !wr.moved {
		return nil, fmt.Errorf("program %s: there is no move in it", p.Name)
	}
	if wr.at[2] < wr.safe {
		return nil, fmt.Errorf("program %s: ends at Z %.3f mm, below the safe height of %.3f mm; end it with a rapid to the safe height", p.Name, wr.exact.Z, p.SafeZ)
	}
	wr.line("M5")
	wr.end()
	return wr.out.Bytes(), nil
}

// checkProgram refuses what no step can make good.
func checkProgram(p toolpath.Program) error {
	switch {
	case !(p.SafeZ > 0 && p.SafeZ <= reachMM):
		return fmt.Errorf("safe height is %g mm; it must be above the wood, such as 10", p.SafeZ)
	case !(p.RPM >= 1 && p.RPM <= maxRPM):
		return fmt.Errorf("spindle speed is %g rev/min; one such as 18000 is needed", p.RPM)
	case !(p.SpinUpS >= 0 && p.SpinUpS <= maxWait):
		return fmt.Errorf("wait for the spindle is %g s; 0 to 600 can be written, 3 is usual", p.SpinUpS)
	}
	return nil
}

// writer writes one program and knows where the cutter is.
type writer struct {
	grid
	out    bytes.Buffer
	p      toolpath.Program
	safe   int64       // safe height, ticks
	at     [3]int64    // where the cutter is, ticks
	exact  geom.Point3 // the same as planned, mm
	placed bool        // X and Y are known too
	moved  bool        // there has been a move
	feed   int64       // feed in force, ticks/min; 0 for none yet
	blocks int         // lines with a number so far
	buf    []byte      // the line being put together
}

// start writes everything up to the first step: the modes, the lift to the
// safe height and the spindle.
func (w *writer) start() {
	w.begin()
	for _, h := range w.p.Header {
		w.comment(h)
	}
	unit := "G21"
	if w.unitMM != 1 {
		unit = "G20"
	}
	for _, g := range []string{"G17", unit, "G40", "G54", "G80", "G90", "G94"} {
		if w.p.For.Knows(g) {
			w.line(g)
		}
	}
	w.path()
	w.lift()
	w.spindleOn()
}

// lift states the safe height by itself, whatever the cutter's place is: before
// all moves, and after a stop, where the operator may have moved the machine by
// hand. The next move states X and Y.
func (w *writer) lift() {
	w.buf = w.word(append(w.buf[:0], "G0"...), 'Z', w.safe)
	w.line(string(w.buf))
	w.at[2], w.exact.Z = w.safe, w.p.SafeZ
	w.placed = false
}

// spindleOn starts the spindle and waits for it.
func (w *writer) spindleOn() {
	on := "M3"
	if w.p.For.Knows("S") {
		on = fmt.Sprintf("S%d M3", int64(math.Round(w.p.RPM)))
	}
	w.line(on)
	w.dwell(int64(math.Ceil(w.p.SpinUpS * 1e3)))
}

// word appends a letter with a coordinate.
func (w *writer) word(b []byte, letter byte, ticks int64) []byte {
	return appendFixed(append(b, ' ', letter), ticks, w.decimals)
}

// step writes one step of the program.
func (w *writer) step(s toolpath.Step) error {
	switch s.Do {
	case toolpath.StepComment:
		w.comment(s.Note)
		return nil
	case toolpath.StepStop:
		return w.stop(s.Note)
	case toolpath.StepMove:
		return w.move(s)
	}
	return fmt.Errorf("unknown kind of step %d", s.Do)
}

// stop writes a pause for the operator: spindle off, why, stop, up, spindle on.
func (w *writer) stop(why string) error {
	if w.at[2] < w.safe {
		return fmt.Errorf("stops for the operator at Z %.3f mm, below the safe height of %.3f mm; retract first", w.exact.Z, w.p.SafeZ)
	}
	w.line("M5")
	w.comment(why)
	w.line("M0")
	w.lift()
	w.spindleOn()
	return nil
}
