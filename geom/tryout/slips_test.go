package tryout_test

import (
	"fmt"
	"slices"
	"testing"

	"starwright/geom"
	"starwright/geom/route"
	"starwright/geom/tryout"
)

// slip changes one set-up of a route, or the route, as a slip of whoever writes
// one would; false where it has nothing to do with it.
type slip struct {
	name   string
	change func(r *route.Route, w *tryout.Want, i int) bool
}

// of makes a slip of a change to one set-up.
func of(name string, change func(s *route.Setup) bool) slip {
	return slip{name, func(r *route.Route, _ *tryout.Want, i int) bool { return change(&r.Setups[i]) }}
}

// sawn reports whether a set-up saws an outline on the machine.
func sawn(s *route.Setup) bool { return s.Cut != nil && s.Machine == route.MitreSaw }

// length adds to a printed length.
func length(name string, by float64) func(*route.Setup) bool {
	return func(s *route.Setup) bool {
		for k, r := range s.Readings {
			if r.Name == name && r.MM != nil {
				v := *r.MM + by
				s.Readings = slices.Clone(s.Readings)
				s.Readings[k].MM, s.Readings[k].Printed = &v, fmt.Sprintf("%.3f mm", v)
				return true
			}
		}
		return false
	}
}

// degrees sets a printed angle to another one.
func degrees(name string, to func(float64) float64) func(*route.Setup) bool {
	return func(s *route.Setup) bool {
		for k, r := range s.Readings {
			if r.Name == name && r.Deg != nil {
				v := to(*r.Deg)
				if v == *r.Deg {
					return false
				}
				s.Readings = slices.Clone(s.Readings)
				s.Readings[k].Deg, s.Readings[k].Printed = &v, fmt.Sprintf("%.3f°", v)
				return true
			}
		}
		return false
	}
}

func drop(name string) func(*route.Setup) bool {
	return func(s *route.Setup) bool {
		n := len(s.Readings)
		s.Readings = slices.DeleteFunc(slices.Clone(s.Readings), func(r route.Reading) bool { return r.Name == name })
		return len(s.Readings) < n
	}
}

// touches changes the contacts of one kind.
func touches(what string, change func(s *route.Setup, t *route.Touch) bool) func(*route.Setup) bool {
	return func(s *route.Setup) bool {
		s.Touches = slices.Clone(s.Touches)
		for k := range s.Touches {
			if s.Touches[k].What == what && change(s, &s.Touches[k]) {
				return true
			}
		}
		return false
	}
}

func plus(by float64) func(float64) float64 { return func(v float64) float64 { return v + by } }

// copied gives a set-up its own parts, so that a slip does not reach the next.
func copied(s *route.Setup) {
	if s.Cut != nil {
		c := *s.Cut
		s.Cut = &c
	}
	if s.Hold != nil {
		h := *s.Hold
		s.Hold = &h
	}
	if s.Piece != nil {
		p := *s.Piece
		p.Before, p.After = slices.Clone(p.Before), slices.Clone(p.After)
		s.Piece = &p
	}
	if s.Slot != nil {
		x := *s.Slot
		s.Slot = &x
	}
	if s.Join != nil {
		j := *s.Join
		j.Parts = slices.Clone(j.Parts)
		s.Join = &j
	}
	s.Jigs = slices.Clone(s.Jigs)
}

// edge is the next edge of the piece.
func nextEdge(s *route.Setup, t *route.Touch) bool {
	if t.Edge < 0 {
		return false
	}
	t.Edge = (t.Edge + 1) % len(s.Piece.Before)
	return true
}

// slips are all kinds, each harmful wherever it applies.
var slips = []slip{
	// angles
	of("complement of the block's angle", degrees(route.ReadBlock, func(v float64) float64 { return 90 - v })),
	of("block a degree off", degrees(route.ReadBlock, plus(1))),
	of("complement of the saw's setting", func(s *route.Setup) bool {
		return s.Setting > 0 && degrees(route.ReadSaw, func(v float64) float64 { return 90 - v })(s)
	}),
	of("saw half a degree off", func(s *route.Setup) bool { return s.Swing != "" && degrees(route.ReadSaw, plus(0.5))(s) }),
	of("saw turned where it should be square", func(s *route.Setup) bool {
		return s.Swing == "" && degrees(route.ReadSaw, plus(2))(s)
	}),
	of("saw swung to the other side", func(s *route.Setup) bool {
		switch s.Swing {
		case route.Left:
			s.Swing = route.Right
		case route.Right:
			s.Swing = route.Left
		default:
			return false
		}
		return true
	}),
	of("no word which way the arm goes", func(s *route.Setup) bool { was := s.Swing; s.Swing = ""; return was != "" }),
	of("saw's setting not printed", func(s *route.Setup) bool { return sawn(s) && drop(route.ReadSaw)(s) }),
	of("block's angle not printed", drop(route.ReadBlock)),
	// lengths
	of("stop a millimetre too far", func(s *route.Setup) bool { return sawn(s) && length(route.ReadStop, 1)(s) }),
	of("stop a millimetre too near", func(s *route.Setup) bool { return sawn(s) && length(route.ReadStop, -1)(s) }),
	of("stop not printed", func(s *route.Setup) bool { return sawn(s) && drop(route.ReadStop)(s) }),
	of("nose a millimetre too far", length(route.ReadNose, 1)),
	of("nose a millimetre too near", length(route.ReadNose, -1)),
	of("nose not printed", drop(route.ReadNose)),
	of("reach too short", func(s *route.Setup) bool { return sawn(s) && length(route.ReadReach, -12)(s) }),
	of("mark on the edge off", func(s *route.Setup) bool { return s.Method == route.ByHand && length(route.ReadAlong, 1.5)(s) }),
	of("mark on the edge not printed", func(s *route.Setup) bool { return s.Method == route.ByHand && drop(route.ReadAlong)(s) }),
	of("mark across the end off", length(route.ReadAcross, 1)),
	of("print and number differ", func(s *route.Setup) bool {
		for k, r := range s.Readings {
			if r.MM != nil {
				s.Readings = slices.Clone(s.Readings)
				s.Readings[k].Printed = fmt.Sprintf("%.1f mm", *r.MM+3)
				return true
			}
		}
		return false
	}),
	of("a number without a print", func(s *route.Setup) bool {
		if len(s.Readings) == 0 {
			return false
		}
		s.Readings = slices.Clone(s.Readings)
		s.Readings[0].Printed = ""
		return true
	}),
	// how the work is held
	of("not turned over", func(s *route.Setup) bool {
		if !sawn(s) || !s.Hold.ShowFaceDown {
			return false
		}
		s.Hold.ShowFaceDown = false
		return true
	}),
	of("turned over where the show face stays up", func(s *route.Setup) bool {
		if !sawn(s) || s.Hold.ShowFaceDown || s.Kind == route.Blanks {
			return false // a blank looks the same from both sides
		}
		s.Hold.ShowFaceDown = true
		return true
	}),
	of("another edge against the fence", func(s *route.Setup) bool {
		return s.Kind != route.Blanks && touches(route.TouchFence, nextEdge)(s)
	}),
	of("another edge against the block", touches(route.TouchBlock, nextEdge)),
	of("another edge in the notch", touches(route.TouchCradle, nextEdge)),
	of("stop at the other end", func(s *route.Setup) bool {
		return s.Kind != route.Blanks && sawn(s) && touches(route.TouchStop, func(s *route.Setup, t *route.Touch) bool {
			n := len(s.Piece.Before)
			if t.Edge >= 0 {
				t.Edge = (t.Edge + n/2) % n
			} else {
				t.Corner = (t.Corner + n/2) % n
			}
			return true
		})(s)
	}),
	of("no stop", func(s *route.Setup) bool {
		n := len(s.Touches)
		s.Touches = slices.DeleteFunc(slices.Clone(s.Touches), func(t route.Touch) bool { return t.What == route.TouchStop })
		return sawn(s) && len(s.Touches) < n
	}),
	of("lies elsewhere than its contacts say", func(s *route.Setup) bool {
		if !sawn(s) {
			return false
		}
		s.Hold.X += 1
		return true
	}),
	of("lies turned against its contacts", func(s *route.Setup) bool {
		if !sawn(s) {
			return false
		}
		s.Hold.Turn += 1 * geom.Degree
		return true
	}),
	// the cut
	of("the other side kept", func(s *route.Setup) bool {
		if s.Cut == nil || s.Method == route.ByHand {
			return false
		}
		s.Cut.KeepLeft = !s.Cut.KeepLeft
		return true
	}),
	of("kerf on the kept side", func(s *route.Setup) bool {
		if s.Cut == nil {
			return false
		}
		s.Cut.Kerf = -s.Cut.Kerf
		return true
	}),
	of("line of cut beside the blade", func(s *route.Setup) bool {
		if s.Cut == nil {
			return false
		}
		d := s.Cut.To.Sub(s.Cut.From).Unit().Left()
		s.Cut.From, s.Cut.To = s.Cut.From.Add(d), s.Cut.To.Add(d)
		return true
	}),
	of("cut ends too soon", func(s *route.Setup) bool {
		if !sawn(s) {
			return false
		}
		d := s.Cut.To.Sub(s.Cut.From).Unit()
		s.Cut.To = s.Cut.From.Add(d.Mul(0.6 * s.Cut.Reach))
		return true
	}),
	of("piece after is not what comes out", func(s *route.Setup) bool {
		if s.Cut == nil {
			return false
		}
		s.Piece.After[len(s.Piece.After)-1] = s.Piece.After[len(s.Piece.After)-1].Add(geom.Pt(0.6, 0.6))
		return true
	}),
	// jigs
	of("left cradle for right", func(s *route.Setup) bool {
		was, to := "tip-cradle-left", "tip-cradle-right"
		swapped := false
		s.Touches = slices.Clone(s.Touches)
		for k := range s.Touches {
			p := s.Touches[k].Jig
			for _, w := range [][2]string{{was, to}, {to, was}} {
				if p == "dxf/jig-"+w[0]+".dxf" {
					s.Touches[k].Jig = "dxf/jig-" + w[1] + ".dxf"
					s.Jigs[0].Path = s.Touches[k].Jig
					swapped = true
					break
				}
			}
		}
		return swapped
	}),
	of("a jig that is not among those of the set-up", func(s *route.Setup) bool {
		was := len(s.Jigs) > 0 && s.Jigs[0].Path != "" && s.Kind != route.CutJigs && slices.ContainsFunc(s.Touches, func(t route.Touch) bool { return t.Jig != "" })
		s.Jigs = nil
		return was
	}),
	{"a jig that the packet lacks", func(r *route.Route, w *tryout.Want, i int) bool {
		s := &r.Setups[i]
		if s.Kind == route.CutJigs || len(s.Jigs) == 0 || s.Jigs[0].Path == "" {
			return false
		}
		plates := map[string]tryout.Plate{}
		for k, p := range w.Plates {
			if k != s.Jigs[0].Path {
				plates[k] = p
			}
		}
		w.Plates = plates
		return true
	}},
	of("a plate too few", func(s *route.Setup) bool {
		if s.Kind == route.CutJigs || len(s.Jigs) == 0 || s.Jigs[0].Path == "" {
			return false
		}
		s.Jigs[0].Plates += 5
		return true
	}),
	of("jigs not cut", func(s *route.Setup) bool {
		was := s.Kind == route.CutJigs
		if was {
			s.Jigs = nil
		}
		return was
	}),
	{"the notch of a cradle half a degree off", func(r *route.Route, w *tryout.Want, i int) bool {
		s := &r.Setups[i]
		return bent(s, w, route.TouchCradle)
	}},
	// counts
	of("one piece short", func(s *route.Setup) bool {
		if s.Cut == nil || s.Kind == route.Blanks || s.Count < 2 {
			return false
		}
		s.Count--
		return true
	}),
	of("done no times", func(s *route.Setup) bool { s.Count = 0; return true }),
	of("more than there are", func(s *route.Setup) bool {
		if s.Cut == nil || s.Kind == route.Blanks {
			return false
		}
		s.Count += 1000
		return true
	}),
	of("a slot short", func(s *route.Setup) bool { s.Count--; return s.Slot != nil }),
	of("a spline short", func(s *route.Setup) bool { s.Count--; return s.Kind == route.Splines }),
	// order
	{"two set-ups exchanged", func(r *route.Route, _ *tryout.Want, i int) bool {
		if i+1 >= len(r.Setups) {
			return false
		}
		a, b := &r.Setups[i], &r.Setups[i+1]
		if a.Cut == nil || b.Cut == nil || a.Unit != b.Unit || a.Piece.Kind != b.Piece.Kind || a.Stage != b.Stage {
			return false
		}
		r.Setups[i], r.Setups[i+1] = *b, *a
		return true
	}},
	{"a set-up left out", func(r *route.Route, _ *tryout.Want, i int) bool {
		s := &r.Setups[i]
		if s.Cut == nil && s.Slot == nil && s.Kind != route.Splines && s.Kind != route.GluePairs && s.Kind != route.TestFit {
			return false
		}
		if s.Kind == route.TestFit && s.Count == 1 && !several(r, s.Unit) {
			return false // a single star is its own test
		}
		r.Setups = slices.Delete(r.Setups, i, i+1)
		return true
	}},
	{"the test fit after the batch", func(r *route.Route, _ *tryout.Want, i int) bool {
		s := r.Setups[i]
		if s.Kind != route.TestFit || !several(r, s.Unit) {
			return false
		}
		r.Setups = append(slices.Delete(r.Setups, i, i+1), s)
		return true
	}},
	{"glued before the slots", func(r *route.Route, _ *tryout.Want, i int) bool {
		s := r.Setups[i]
		if s.Kind != route.GlueHalves {
			return false
		}
		for k := range r.Setups {
			if r.Setups[k].Slot != nil && r.Setups[k].Unit == s.Unit {
				r.Setups = slices.Insert(slices.Delete(r.Setups, i, i+1), k, s)
				return true
			}
		}
		return false
	}},
	{"two set-ups of one name", func(r *route.Route, _ *tryout.Want, i int) bool {
		if i == 0 {
			return false
		}
		r.Setups[i].Name = r.Setups[0].Name
		return true
	}},
	// slots
	of("slot in the other facet", func(s *route.Setup) bool {
		if s.Slot == nil {
			return false
		}
		s.Slot.Edge = 3 - s.Slot.Edge
		return true
	}),
	of("hands exchanged", func(s *route.Setup) bool {
		if s.Slot == nil {
			return false
		}
		if s.Slot.Hand == route.Left {
			s.Slot.Hand = route.Right
		} else {
			s.Slot.Hand = route.Left
		}
		return true
	}),
	{"slot from the other face", func(r *route.Route, w *tryout.Want, i int) bool {
		s := &r.Setups[i]
		if s.Slot == nil {
			return false
		}
		s.Slot.FromFace += 1.5 // what is left of the thickness, where it is not the middle
		return true
	}},
	of("slot starts elsewhere", func(s *route.Setup) bool {
		if s.Slot == nil {
			return false
		}
		s.Slot.Start += 1
		return true
	}),
	of("slot too deep", func(s *route.Setup) bool {
		if s.Slot == nil {
			return false
		}
		s.Slot.Depth += 1
		return true
	}),
	of("bit too high", func(s *route.Setup) bool { return s.Slot != nil && length(route.ReadBitHeight, 0.5)(s) }),
	of("router fence off", func(s *route.Setup) bool { return s.Slot != nil && length(route.ReadFence, 0.5)(s) }),
	of("router's start stop off", length(route.ReadStopStart, 1)),
	of("router's end stop off", length(route.ReadStopEnd, 1)),
	of("program of the other hand", func(s *route.Setup) bool {
		if s.Slot == nil || s.Slot.Program == "" {
			return false
		}
		s.Slot.Program = "gcode/other.nc"
		return true
	}),
	// glue
	of("pairs laid together wrong", func(s *route.Setup) bool {
		if s.Join == nil || s.Join.Makes != route.PiecePair {
			return false
		}
		s.Join.Parts[0].At.Move = s.Join.Parts[0].At.Move.Add(geom.Pt(1.5, 0))
		return true
	}),
	of("two first off-cuts for a pair", func(s *route.Setup) bool {
		if s.Join == nil || s.Join.Makes != route.PiecePair {
			return false
		}
		s.Join.Parts[1].Kind = s.Join.Parts[0].Kind
		return true
	}),
	of("off-cuts thrown away", func(s *route.Setup) bool {
		if s.Piece == nil || s.Piece.Falls == "" {
			return false
		}
		s.Piece.Falls = ""
		return true
	}),
}

// several reports whether a unit is cut in two stages.
func several(r *route.Route, unit int) bool {
	return slices.ContainsFunc(r.Setups, func(s route.Setup) bool { return s.Unit == unit && s.Stage == route.Rest })
}

// bent turns one side of a jig's notch in its drawing.
func bent(s *route.Setup, w *tryout.Want, what string) bool {
	for _, t := range s.Touches {
		p, ok := w.Plates[t.Jig]
		if t.What != what || !ok {
			continue
		}
		plates := map[string]tryout.Plate{}
		for k, q := range w.Plates {
			plates[k] = q
		}
		c := slices.Clone(p.Outline)
		turn := geom.Place{Turn: 0.5 * geom.Degree}
		for k := range c {
			c[k].Point = turn.Point(c[k].Point)
		}
		plates[t.Jig] = tryout.Plate{Outline: c, Holes: p.Holes}
		w.Plates = plates
		return true
	}
	return false
}

// sampled is of how many routes one is tried with a kind of slip where not every
// slip is: `go test -tags mutation ./geom/tryout` tries all.
const sampled = 9

// Every slip is found, wherever it applies, over stars of 4 to 12 points, both
// units, every kind of shop.
func TestSlipsAreFound(t *testing.T) {
	routes := all(t)
	if len(slips) < 40 {
		t.Errorf("only %d kinds of slips", len(slips))
	}
	tried, missed := 0, 0
	for n, k := range slips {
		here := 0
		for m, x := range routes {
			if !everySlip && (m+n)%sampled != 0 {
				continue
			}
			for i := range x.route.Setups {
				r, w := x.route, x.want
				r.Setups = slices.Clone(r.Setups)
				copied(&r.Setups[i])
				if !k.change(&r, &w, i) {
					continue
				}
				here++
				if len(tryout.Try(r, w).Faults()) == 0 {
					missed++
					if missed <= 40 {
						t.Errorf("%s: not found in %q of %s", k.name, x.route.Setups[i].Name, x.name)
					}
				}
			}
		}
		if here == 0 && everySlip {
			t.Errorf("%s: applies nowhere", k.name)
		}
		tried += here
	}
	t.Logf("%d kinds of slips, %d slips in %d routes, %d not found", len(slips), tried, len(routes), missed)
}

// What changes nothing in the wood passes.
func TestHarmlessChangesPass(t *testing.T) {
	harmless := []slip{
		of("other words", func(s *route.Setup) bool { s.Steps = []string{"Saw."}; return true }),
		of("more reach", func(s *route.Setup) bool { return length(route.ReadReach, 20)(s) && false }),
		of("a longer line", func(s *route.Setup) bool {
			if s.Cut == nil {
				return false
			}
			s.Cut.To = s.Cut.From.Lerp(s.Cut.To, 1.3)
			return true
		}),
		of("readings in another order", func(s *route.Setup) bool {
			s.Readings = slices.Clone(s.Readings)
			slices.Reverse(s.Readings)
			return len(s.Readings) > 1
		}),
		of("a stop a fiftieth off", func(s *route.Setup) bool { return sawn(s) && length(route.ReadStop, 0.02)(s) }),
		of("spare splines", func(s *route.Setup) bool { s.Count += 4; return s.Kind == route.Splines }),
		of("another page", func(s *route.Setup) bool { s.Page++; return true }),
		of("spare blanks", func(s *route.Setup) bool { s.Count += 3; return s.Kind == route.Blanks }),
	}
	n := 0
	for m, k := range harmless {
		for l, x := range all(t) {
			if !everySlip && (l+m)%sampled != 0 {
				continue
			}
			for i := range x.route.Setups {
				r, w := x.route, x.want
				r.Setups = slices.Clone(r.Setups)
				copied(&r.Setups[i])
				if !k.change(&r, &w, i) {
					continue
				}
				n++
				if f := tryout.Try(r, w).Faults(); len(f) > 0 {
					t.Errorf("%s in %q of %s: %+v", k.name, x.route.Setups[i].Name, x.name, f[0])
				}
			}
		}
	}
	t.Logf("%d harmless changes", n)
}
