package ncwrite

import (
	"errors"
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// move writes one motion, or nothing where it is shorter than the raster.
func (w *writer) move(s toolpath.Step) error {
	if err := w.checkMove(s); err != nil {
		return err
	}
	to := [3]int64{w.ticks(s.To.X), w.ticks(s.To.Y), w.ticks(s.To.Z)}
	kind := s.Kind
	var ij [2]int64
	if kind == toolpath.ArcCW || kind == toolpath.ArcCCW {
		if w.exact.XY().Dist(s.To.XY()) <= fullTurnMM {
			// A full circle ends on the very tick it starts from, on
			// whichever side of a tie its two ends were worked out.
			to[0], to[1] = w.at[0], w.at[1]
		}
		var form shape
		var err error
		ij, form, err = w.offsets(kind, w.exact.XY(), s.To.XY(), s.Center, [2]int64(w.at[:2]), [2]int64(to[:2]))
		if err != nil {
			return err
		}
		if form == shapeLine {
			kind = toolpath.Linear
		}
	}
	arc := kind == toolpath.ArcCW || kind == toolpath.ArcCCW
	if arc || to != w.at || !w.placed {
		w.motion(kind, to, ij, arc, s.Feed)
	}
	w.at, w.exact, w.placed, w.moved = to, s.To, true, true
	return nil
}

// motion writes the line of a motion. The feed gets a line of its own where
// the motion fills its line.
func (w *writer) motion(kind toolpath.Kind, to [3]int64, ij [2]int64, arc bool, feed float64) {
	b := append(w.buf[:0], kind.String()...)
	for i, letter := range [3]byte{'X', 'Y', 'Z'} {
		inPlane := i < 2
		if to[i] != w.at[i] || (inPlane && (arc || !w.placed)) {
			b = w.word(b, letter, to[i])
		}
	}
	if arc {
		b = w.word(w.word(b, 'I', ij[0]), 'J', ij[1])
	}
	if f := w.ticksBelow(feed); kind != toolpath.Rapid && f != w.feed {
		n := len(b)
		b = w.word(b, 'F', f)
		if len(b) > w.room() {
			w.line(string(b[n+1:]))
			b = b[:n]
		}
		w.feed = f
	}
	w.line(string(b))
	w.buf = b
}

// checkMove refuses a motion that cannot be written or must not be made.
func (w *writer) checkMove(s toolpath.Step) error {
	if s.Kind > toolpath.ArcCCW {
		return fmt.Errorf("unknown kind of move %d", s.Kind)
	}
	values := []float64{s.To.X, s.To.Y, s.To.Z}
	if s.Kind == toolpath.ArcCW || s.Kind == toolpath.ArcCCW {
		values = append(values, s.Center.X, s.Center.Y)
	}
	for _, v := range values {
		if !(math.Abs(v) <= reachMM) { // NaN too
			return fmt.Errorf("%s to %s has a coordinate that is no number or beyond 100 m", s.Kind, place(s.To))
		}
	}
	if s.Kind == toolpath.Rapid {
		return w.checkRapid(s)
	}
	if !w.placed {
		return fmt.Errorf("%s to %s comes before the cutter has been taken anywhere; begin with a rapid at the safe height", s.Kind, place(s.To))
	}
	if !(s.Feed <= maxFeed) || w.ticksBelow(s.Feed) <= 0 {
		return fmt.Errorf("%s to %s has a feed of %g mm/min; one such as 1200 is needed", s.Kind, place(s.To), s.Feed)
	}
	return nil
}

// checkRapid refuses a rapid across the work that is not above it.
func (w *writer) checkRapid(s toolpath.Step) error {
	to := w.ticks(s.To.Z)
	if !w.placed {
		if to < w.safe {
			return fmt.Errorf("the first rapid, to %s, ends below the safe height of %.3f mm; nobody knows yet where it starts", place(s.To), w.p.SafeZ)
		}
		return nil
	}
	across := w.ticks(s.To.X) != w.at[0] || w.ticks(s.To.Y) != w.at[1]
	if across && (to <= 0 || w.at[2] <= 0) {
		return errors.New("rapid across the work at or below its surface, from " + place(w.exact) + " to " + place(s.To) + "; retract first")
	}
	return nil
}

// place returns a place in the words of the trade.
func place(p geom.Point3) string { return fmt.Sprintf("X%.3f Y%.3f Z%.3f", p.X, p.Y, p.Z) }
