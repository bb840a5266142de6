package svgread_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
)

// read reads the data of one path on OUTLINE.
func read(t *testing.T, data string) *cut.File {
	t.Helper()
	return parse(t, `<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="900mm" viewBox="0 0 900 900"><g id="OUTLINE"><path d="`+data+`"/></g></svg>`)
}

// Arcs against the standard's own words (8.3.8): of the four arcs that join two
// places with one radius, "large-arc-flag" 1 takes one of more than half a turn,
// and "sweep-flag" 1 one drawn in a "positive-angle" direction, which with Y down
// is clockwise. The middles are worked out by hand: from 0, 0 to 10, 0 with
// radius 13 the centre lies 12 beside the chord.
func TestArcs(t *testing.T) {
	for _, tt := range []struct {
		flags string
		mid   geom.Point // Y up
	}{
		{"0 0", geom.Pt(5, -1)},  // centre 5, 12: the short way below it
		{"0 1", geom.Pt(5, 1)},   // centre 5, -12
		{"1 0", geom.Pt(5, -25)}, // centre 5, -12, the long way
		{"1 1", geom.Pt(5, 25)},
	} {
		f := read(t, "M 0 0 A 13 13 0 "+tt.flags+" 10 0 Z")
		if len(f.Contours) != 1 || len(f.Faults)+len(f.Contours[0].Contour) != 2 {
			t.Fatalf("%s: %+v", tt.flags, f)
		}
		if m := f.Contours[0].Curve(0).At(0.5); m.Dist(tt.mid) > 1e-12 {
			t.Errorf("flags %s: middle at %v, want %v", tt.flags, m, tt.mid)
		}
	}
	// "F.6.6": a radius too small is made as large as it must be: a half circle.
	if m := read(t, "M 0 0 A 4.9995 4.9995 0 0 1 10 0 Z").Contours[0].Curve(0).At(0.5); m.Dist(geom.Pt(5, 5)) > 1e-12 {
		t.Errorf("middle of a half circle at %v", m)
	}
	// "F.6.2": of no radius, a straight line.
	if c := read(t, "M 0 0 A 0 5 0 0 1 10 0 L 5 5 Z").Contours[0].Curve(0); c.IsArc() {
		t.Errorf("an arc of no radius: %v", c)
	}
}

// Commands by the grammar of "8.3.9 The grammar for path data", without numbers
// that run together.
func TestCommands(t *testing.T) {
	square := "[{{0 0} 0} {{3 0} 0} {{3 -2} 0} {{0 -2} 0}]"
	for _, d := range []string{
		"M 0 0 L 3 0 L 3 2 L 0 2 Z", "M0,0L3,0L3,2L0,2Z", "M 0 0 3 0 3 2 0 2 z", "m0 0 3 0 0 2 -3 0z",
		"M 0 0 H 3 V 2 H 0 Z", "M 0 0 h 3 v 2 h -3 z", "M 0 0 H 1 3 V 2 H 0 Z", "\n\tM\n0\n,\n0 L 3 0 , 3 2 L .0e1 2. \r\n Z  ",
	} {
		f := read(t, d)
		if len(f.Faults) > 0 || len(f.Contours) != 1 || !f.Contours[0].Closed {
			t.Errorf("%q: %v, %d contours", d, f.Faults, len(f.Contours))
			continue
		}
		got := fmt.Sprint(f.Contours[0].Contour)
		if strings.Contains(d, "H 1 3") {
			got = strings.Replace(got, " {{1 0} 0}", "", 1) // a vertex within a straight side
		}
		if got != square {
			t.Errorf("%q: %v, want %v", d, got, square)
		}
	}
}

// After Z the next contour begins where the last one began (8.3.3), as a relative
// M shows.
func TestSubpaths(t *testing.T) {
	f := read(t, "M 10 10 L 20 10 L 20 20 Z m 1 2 l 5 0 l 0 -5 Z M 0 0 L 1 0")
	if len(f.Contours) != 3 || f.Contours[1].Contour[0].Point != geom.Pt(11, -12) || !f.Contours[1].Closed || f.Contours[2].Closed {
		t.Errorf("%+v", f.Contours)
	}
	if math.Abs(f.Contours[1].Area()) != 12.5 {
		t.Errorf("area %v", f.Contours[1].Area())
	}
}
