package tryout

import (
	"fmt"
	"math"
	"testing"

	"starwright/geom"
	"starwright/geom/route"
)

// The facets of a star of five points, worked out with pencil and paper from the
// triangle: boards 100 mm wide, blanks 250 mm long. Half the angle at the centre
// is 36 degrees, so that a block of 54 turns the board until the facet runs
// square from the fence (plane geometry; 90 - 36).
const (
	board  = 100.0
	blank  = 250.0
	valley = 68.819 // 50 / tan 36, tables
	noseX  = 40.45  // 50 sin 54: the star's centre lies 50 mm beside the block's face
	noseY  = 12.0   // of the block
)

func mm(name string, v float64) route.Reading {
	return route.Reading{Name: name, Printed: fmt.Sprintf("%.2f mm", v), MM: &v, Set: true}
}

func deg(name string, v float64) route.Reading {
	return route.Reading{Name: name, Printed: fmt.Sprintf("%.2f°", v), Deg: &v, Set: true}
}

// block is an angle block as it could be read from a drawing: fence edge on the X
// axis, nose 12 mm high.
func block() Plate {
	return Plate{Outline: geom.Polygon(geom.Pt(0, 0), geom.Pt(110, 0), geom.Pt(110, noseY+110*math.Tan(54*math.Pi/180)), geom.Pt(0, noseY))}
}

// facets is the two set-ups, the second with the board turned over along its
// length.
func facets(count int) []route.Setup {
	rect := []geom.Point{{X: 0, Y: -50}, {X: blank, Y: -50}, {X: blank, Y: 50}, {X: 0, Y: 50}}
	once := []geom.Point{{}, {X: valley, Y: -50}, {X: blank, Y: -50}, {X: blank, Y: 50}, {X: 0, Y: 50}}
	twice := []geom.Point{{}, {X: valley, Y: -50}, {X: blank, Y: -50}, {X: blank, Y: 50}, {X: valley, Y: 50}}
	one := route.Setup{Name: "first facet", Kind: route.Facet, Machine: route.MitreSaw, Count: count,
		Jigs: []route.JigUse{{Key: "angle-block", Path: "dxf/jig-angle-block-54.dxf", Plates: 1}},
		Readings: []route.Reading{deg(route.ReadSaw, 0), deg(route.ReadBlock, 54), mm(route.ReadNose, noseX),
			mm(route.ReadStop, blank), mm(route.ReadReach, 127)},
		Piece: &route.Piece{Kind: route.PieceSegment, Before: rect, After: once},
		Hold:  &route.Hold{Turn: -54 * geom.Degree, X: 0, Y: -noseY - 50*math.Cos(54*math.Pi/180)},
		Cut:   &route.Cut{To: geom.Pt(0, -200), KeepLeft: true, Kerf: 2.4},
		Touches: []route.Touch{
			{What: route.TouchBlock, Edge: 2, Corner: -1, Jig: "dxf/jig-angle-block-54.dxf"},
			{What: route.TouchStop, Edge: -1, Corner: 2}},
	}
	two := one
	two.Name, two.TurnBefore = "second facet", "turn the board over along its length"
	two.Piece = &route.Piece{Kind: route.PieceSegment, Before: once, After: twice}
	hold := *one.Hold
	hold.ShowFaceDown = true
	two.Hold = &hold
	two.Touches = []route.Touch{
		{What: route.TouchBlock, Edge: 1, Corner: -1, Jig: "dxf/jig-angle-block-54.dxf"},
		{What: route.TouchStop, Edge: -1, Corner: 2}}
	return []route.Setup{jigsFor(one), blanks(rect, count), one, two}
}

// blanks cuts the blanks from a board, its squared end at the stop on the right.
func blanks(rect []geom.Point, count int) route.Setup {
	long := []geom.Point{{X: 0, Y: -50}, {X: 600, Y: -50}, {X: 600, Y: 50}, {X: 0, Y: 50}}
	return route.Setup{Name: "blanks", Kind: route.Blanks, Machine: route.MitreSaw, Count: count,
		Readings: []route.Reading{deg(route.ReadSaw, 0), mm(route.ReadStop, blank), mm(route.ReadReach, 101)},
		Piece:    &route.Piece{Kind: route.PieceSegment, Before: long, After: rect},
		Hold:     &route.Hold{Turn: 180 * geom.Degree, X: blank, Y: -50},
		Cut:      &route.Cut{To: geom.Pt(0, -120), KeepLeft: true, Kerf: 2.4},
		Touches:  []route.Touch{{What: route.TouchFence, Edge: 0, Corner: -1}, {What: route.TouchStop, Edge: 3, Corner: -1}}}
}

func jigsFor(s route.Setup) route.Setup {
	return route.Setup{Name: "jigs", Kind: route.CutJigs, Machine: route.CNC, Count: 1, Jigs: s.Jigs}
}

func pencilWant() Want {
	return Want{Plates: map[string]Plate{"dxf/jig-angle-block-54.dxf": block()},
		Units: []Unit{{Points: 5, Count: 1, Segment: []geom.Point{{}, {X: valley, Y: -50}, {X: valley + 50/math.Tan(18*math.Pi/180)}, {X: valley, Y: 50}}}}}
}

// faults returns what the facets' set-ups are found guilty of; what comes after
// them is missing here.
func faults(b *bench) []Figure {
	return b.report.Faults()
}

func TestPencil(t *testing.T) {
	b := carryOut(route.Route{Setups: facets(5)}, pencilWant(), Slips{})
	for _, f := range faults(b) {
		t.Errorf("%v", f)
	}
	p := b.faceted(0)
	if p == nil || p.count != 5 {
		t.Fatalf("pieces with two facets: %+v", p)
	}
	if a, facet, _ := seated(p.shape); math.Abs(a.Degrees()-72) > 0.001 || math.Abs(facet-85.065) > 0.01 { // 50 / sin 36, tables
		t.Errorf("the facets meet at %.4f degrees and are %.3f mm long", a.Degrees(), facet)
	}
}

// A block or saw that is off opens the last joint the way that the triangle says:
// a board turned further from the fence gets a smaller angle at the centre, and
// the joint stands open at the valley. Ten facets that are off by e leave 10 e.
// Turned the other way the last segment stays out at the centre: its other facet
// strikes a valley corner, from which the gap spans that angle (law of sines).
func TestGapOfAnError(t *testing.T) {
	for _, e := range []float64{0.07, -0.07} {
		for name, slips := range map[string]Slips{"block": {Block: geom.Deg(e)}} {
			gap, ok := lastGap(route.Route{Setups: facets(5)}, pencilWant(), slips, 0)
			want := 85.065 * geom.Deg(10*e).Sin()
			if e < 0 {
				want /= geom.Deg(72).Sin()
			}
			if !ok || math.Abs(gap-want) > 0.02 {
				t.Errorf("%s off by %v degrees: gap %.3f mm, want %.3f", name, e, gap, want)
			}
		}
	}
}

// Each slip is one that a printed sheet could have.
func TestPencilSlips(t *testing.T) {
	slips := map[string]func(s []route.Setup){
		"complement of the block":  func(s []route.Setup) { s[2].Readings[1] = deg(route.ReadBlock, 36) },
		"saw turned":               func(s []route.Setup) { s[2].Readings[0] = deg(route.ReadSaw, 2); s[2].Swing = route.Left },
		"saw turned, no way told":  func(s []route.Setup) { s[2].Readings[0] = deg(route.ReadSaw, 2) },
		"not turned over":          func(s []route.Setup) { s[3].Hold.ShowFaceDown = false },
		"stop at the other end":    func(s []route.Setup) { s[2].Touches[1].Corner = 3 },
		"other end at the stop":    func(s []route.Setup) { s[2].Touches[1] = route.Touch{What: route.TouchStop, Edge: 3, Corner: -1} },
		"stop 0.5 mm off":          func(s []route.Setup) { s[2].Readings[3] = mm(route.ReadStop, blank+0.5) },
		"nose 0.5 mm off":          func(s []route.Setup) { s[2].Readings[2] = mm(route.ReadNose, noseX-0.5) },
		"other edge on the block":  func(s []route.Setup) { s[2].Touches[0].Edge = 0 },
		"other side kept":          func(s []route.Setup) { s[2].Cut.KeepLeft = false },
		"kerf on the kept side":    func(s []route.Setup) { s[2].Cut.Kerf = -2.4 },
		"reach too short":          func(s []route.Setup) { s[2].Readings[4] = mm(route.ReadReach, 60) },
		"jig missing":              func(s []route.Setup) { s[2].Jigs = nil },
		"jig of another name":      func(s []route.Setup) { s[2].Touches[0].Jig = "dxf/other.dxf" },
		"jig cut after use":        func(s []route.Setup) { s[0], s[2] = s[2], s[0] },
		"second before first":      func(s []route.Setup) { s[2], s[3] = s[3], s[2] },
		"one piece short":          func(s []route.Setup) { s[2].Count = 4 },
		"one blank short":          func(s []route.Setup) { s[1].Count = 4 },
		"blanks after the facets":  func(s []route.Setup) { s[1], s[2] = s[2], s[1] },
		"print and number differ":  func(s []route.Setup) { s[2].Readings[3].Printed = "205.00 mm" },
		"a number without a print": func(s []route.Setup) { s[2].Readings[3].Printed = "" },
		"two of one name":          func(s []route.Setup) { s[3].Name = s[2].Name },
	}
	for name, slip := range slips {
		s := facets(5)
		slip(s)
		if b := carryOut(route.Route{Setups: s}, pencilWant(), Slips{}); len(faults(b)) == 0 {
			t.Errorf("%s: not found", name)
		}
	}
}

// What does not change the star is no fault.
func TestPencilHarmless(t *testing.T) {
	more := map[string]func(s []route.Setup){
		"the end at the stop": func(s []route.Setup) { s[2].Touches[1] = route.Touch{What: route.TouchStop, Edge: 1, Corner: -1} },
		"spare pieces":        func(s []route.Setup) { s[1].Count, s[2].Count, s[3].Count = 9, 8, 7 },
		"more reach":          func(s []route.Setup) { s[2].Readings[4] = mm(route.ReadReach, 300) },
		"a longer line":       func(s []route.Setup) { s[2].Cut.To.Y = -400 },
		"other words":         func(s []route.Setup) { s[2].Steps = []string{"Saw."} },
		"readings reordered":  func(s []route.Setup) { r := s[2].Readings; r[0], r[3] = r[3], r[0] },
		"a tenth off":         func(s []route.Setup) { s[2].Readings[3] = mm(route.ReadStop, blank+0.05) },
	}
	for name, change := range more {
		s := facets(5)
		change(s)
		b := carryOut(route.Route{Setups: s}, pencilWant(), Slips{})
		for _, f := range faults(b) {
			t.Errorf("%s: %v", name, f)
		}
	}
}

// A shim behind the block turns it as the paper's triangle says: 0.13 mm at 110 mm
// from the end it rests on is 0.07 degrees. At the nose it turns the board back
// towards the fence, so that the angle at the star's centre grows.
func TestShim(t *testing.T) {
	for _, at := range []struct {
		name string
		x    float64 // of the shim, along the fence from the line of cut
		open bool    // whether it opens the last joint at the valley
	}{{"at the nose", noseX, false}, {"at the far end", noseX + 110, true}} {
		s := facets(5)
		for i := 2; i < 4; i++ {
			s[i].Readings = append(s[i].Readings, mm(route.ReadShim, 0.13), mm(route.ReadShimAt, at.x))
		}
		gap, ok := lastGap(route.Route{Setups: s}, pencilWant(), Slips{}, 0)
		want := 85.065 * geom.Angle(10*math.Atan(0.13/110)).Sin()
		if !at.open {
			want = -want
		}
		if !ok || math.Abs(gap-want) > 0.05 {
			t.Errorf("%s: gap %.3f mm, want %.3f", at.name, gap, want)
		}
	}
}

// lastGap carries out a route on a machine that is off, and returns how far the last
// joint of a unit's star stands open, mm: above zero at the valley, below zero at
// the centre. Set-ups after the facets are not looked at.
func lastGap(r route.Route, want Want, slips Slips, unit int) (float64, bool) {
	b := carryOut(r, want, slips)
	p := b.faceted(unit)
	if p == nil {
		return 0, false
	}
	return lastJoint(p.shape, want.Units[unit].Points), true
}

// Gap is [lastGap] for the tests that look at the bench from outside.
var Gap = lastGap
