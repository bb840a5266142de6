package page

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// Bounds of what a page can hold: beyond them a browser gives up.
const (
	maxMoves = 2_000_000 // of all programs
	maxLines = 4_000_000
	maxTime  = 1e6 // seconds of one move, eleven days
	maxUnit  = 1e6 // mm of a drawing's unit, a kilometre
)

// check says what in the data cannot be shown: numbers that are none, or so
// large that no machine has them, and moves that fit no line.
func check(d Data) error {
	moves, lines := 0, 0
	for _, p := range d.Programs {
		moves, lines = moves+len(p.Moves), lines+len(p.Lines)
		if err := checkProgram(p); err != nil {
			return fmt.Errorf("back-plot page: program %s: %w", p.Name, err)
		}
	}
	for _, w := range d.Drawings {
		if err := checkDrawing(w); err != nil {
			return fmt.Errorf("back-plot page: drawing %s: %w", w.Name, err)
		}
	}
	if moves > maxMoves || lines > maxLines {
		return fmt.Errorf("back-plot page: %d moves on %d lines are more than a browser can show; %d and %d are the most: cut smaller batches",
			moves, lines, maxMoves, maxLines)
	}
	return nil
}

func checkProgram(p Program) error {
	if err := believable(p.Cutter, p.SafeZ, p.Stock, p.Rapid); err != nil {
		return fmt.Errorf("cutter, heights or rapid speed: %w", err)
	}
	if p.Cutter < 0 || p.Rapid < 0 || p.Stock < 0 {
		return fmt.Errorf("cutter %g mm, rapid speed %g mm/min and stock %g mm must not be below zero", p.Cutter, p.Rapid, p.Stock)
	}
	if len(p.Times) != 0 && len(p.Times) != len(p.Moves) {
		return fmt.Errorf("%d times for %d moves", len(p.Times), len(p.Moves))
	}
	for i, s := range p.Times {
		if !(s >= 0 && s <= maxTime) {
			return fmt.Errorf("move %d takes %g seconds; 0 to %g can be shown", i+1, s, maxTime)
		}
	}
	line := 1
	for i, m := range p.Moves {
		if m.Line < line || m.Line > len(p.Lines) {
			return fmt.Errorf("move %d stands on line %d; lines %d to %d are left for it", i+1, m.Line, line, len(p.Lines))
		}
		line = m.Line
		if err := checkMove(m); err != nil {
			return fmt.Errorf("line %d: %w", m.Line, err)
		}
	}
	for _, s := range p.Shapes {
		if err := checkContour(s.Contour, s.Depth); err != nil {
			return fmt.Errorf("%s %s: %w", s.Role, s.Name, err)
		}
		if s.At != nil {
			if err := believable(s.At.X, s.At.Y, s.At.Room); err != nil {
				return fmt.Errorf("name of %s %s: %w", s.Role, s.Name, err)
			}
		}
	}
	for _, m := range p.Marks {
		if err := believable(m.At.X, m.At.Y); err != nil {
			return fmt.Errorf("mark %q: %w", m.Text, err)
		}
	}
	return checkFindings(p.Findings)
}

func checkFindings(fs []finding.Finding) error {
	for _, f := range fs {
		at := geom.Point3{}
		if f.At != nil {
			at = *f.At
		}
		if err := believable(at.X, at.Y, at.Z, f.ByMM); err != nil {
			return fmt.Errorf("finding %q: %w", f.What, err)
		}
	}
	return nil
}

func checkMove(m toolpath.Move) error {
	if m.Kind > toolpath.ArcCCW {
		return fmt.Errorf("unknown kind of move %d", m.Kind)
	}
	const mostTurn = 1000 // radians; one block turns at most once
	if !(math.Abs(float64(m.Sweep)) <= mostTurn) {
		return fmt.Errorf("an arc of %g radians", float64(m.Sweep))
	}
	return believable(m.From.X, m.From.Y, m.From.Z, m.To.X, m.To.Y, m.To.Z, m.Center.X, m.Center.Y, m.Feed, m.RPM)
}

func checkDrawing(w Drawing) error {
	if !(w.UnitMM >= 0 && w.UnitMM <= maxUnit) {
		return fmt.Errorf("a unit of %g mm", w.UnitMM)
	}
	for _, c := range w.Contours {
		if err := checkContour(c.Contour, 0); err != nil {
			return fmt.Errorf("contour on %s: %w", c.Layer, err)
		}
	}
	for _, l := range w.Lines {
		if err := believable(l.A.X, l.A.Y, l.B.X, l.B.Y); err != nil {
			return fmt.Errorf("line on %s: %w", l.Layer, err)
		}
	}
	for _, t := range w.Texts {
		if err := believable(t.At.X, t.At.Y, t.Height, float64(t.Turn)); err != nil {
			return fmt.Errorf("text on %s: %w", t.Layer, err)
		}
	}
	if w.Bar != nil {
		if err := believable(w.Bar.A.X, w.Bar.A.Y, w.Bar.B.X, w.Bar.B.Y, w.Bar.Stated); err != nil {
			return fmt.Errorf("check bar: %w", err)
		}
	}
	return checkFindings(w.Findings)
}

func checkContour(c geom.Contour, depth float64) error {
	for _, v := range c {
		if err := believable(v.X, v.Y, v.Bulge, depth); err != nil {
			return err
		}
	}
	return nil
}

// believable refuses numbers that are none or beyond a million, be they mm,
// mm/min or rev/min.
func believable(vs ...float64) error {
	const most = 1e6
	for _, v := range vs {
		if !(math.Abs(v) <= most) {
			return fmt.Errorf("%g is no number that can be shown; up to %.0f can", v, most)
		}
	}
	return nil
}
