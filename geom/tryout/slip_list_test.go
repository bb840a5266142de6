package tryout_test

import (
	"fmt"
	"slices"

	"starwright/geom"
	"starwright/geom/route"
	"starwright/geom/tryout"
)

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
