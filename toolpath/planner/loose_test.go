package planner_test

import (
	"errors"
	"math"
	"testing"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/toolpath"
	"starwright/toolpath/planner"
)

// What a cut on all sides frees is loose. Waste between parts is milled away before
// it is, and where there is too much of it the parts are refused, with what to
// change. The sizes follow from the cutter's 6 mm by hand.
func TestLooseWaste(t *testing.T) {
	square := func(x, y, w, h float64) toolpath.Part {
		return toolpath.Part{Name: "bar", Outline: geom.Rect(geom.Box{Min: geom.Pt(x, y), Max: geom.Pt(x+w, y+h)})}
	}
	// Four bars round a square of the given size, gap wide where their ends meet.
	ring := func(gap, size float64) []toolpath.Part {
		return []toolpath.Part{square(60, 60, 50+size, 30), square(60, 90+size, 50+size, 30), square(60, 90+gap, 25, size-2*gap), square(85+size, 90+gap, 25, size-2*gap)}
	}
	mouth := func(w float64) []toolpath.Part {
		p := geom.Polygon(geom.Pt(60, 60), geom.Pt(140, 60), geom.Pt(140, 140), geom.Pt(100+w/2, 140), geom.Pt(100+w/2, 120),
			geom.Pt(120, 120), geom.Pt(120, 80), geom.Pt(80, 80), geom.Pt(80, 120), geom.Pt(100-w/2, 120), geom.Pt(100-w/2, 140), geom.Pt(60, 140))
		return []toolpath.Part{{Name: "hollow", Outline: relieved(p, 3.05)}}
	}
	// Two bars side by side, so that a strip of the given width is left between their
	// cuts, no middle of a square of 1 mm in it; and bars that close its ends.
	strip := func(wide float64, ends ...toolpath.Part) []toolpath.Part {
		return append(ends, square(60, 90, 25, 60), square(85+2*6+wide, 90, 25, 60))
	}
	below, above := square(55, 60, 80, 22), square(55, 158, 80, 22)
	turned := func(parts []toolpath.Part) []toolpath.Part {
		for i, p := range parts {
			parts[i] = p.Placed(geom.Place{Turn: geom.Deg(20), Move: geom.Pt(60, -20)})
		}
		return parts
	}
	rows := []struct {
		name   string
		parts  []toolpath.Part
		key    string
		milled int // cuts that mill waste away
	}{
		{"apart by two cutters and a strip", []toolpath.Part{square(60, 60, 80, 30), square(60, 120, 80, 30)}, "", 0},
		// Of the small square two cutters are left, which is milled away; of the
		// large one more than that.
		{"bars around a small square, one cutter apart", ring(8, 30), "", 1},
		{"bars around a square, one cutter apart", ring(8, 50), "sheet.spacing", 0},
		{"a strip as thin as paper, closed at both ends", strip(0.2, below, above), "", 1},
		{"the same, which hangs at one end", strip(0.2, below), "", 0},
		{"a closed strip of less than a splinter's wood", strip(0.05, below, above), "", 0},
		{"a closed strip of a cutter's width", strip(6, below, above), "", 1},
		{"one that shows in many crumbs", turned(strip(0.8, below, above)), "", 1},
		{"one of more than four passes", strip(22, below, above), "sheet.spacing", 0},
		{"bars that lie askew, without tabs", turned(strip(10, below)), "", 0},
		{"a part larger than what is left of its sheet, without tabs", []toolpath.Part{square(15, 15, 190, 190)}, "", 0},
		{"a mouth of two cutters and a strip", mouth(16), "", 0},
		{"a mouth that one way closes", mouth(9), "cutter.diameter", 0},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			_, report, err := planner.Sheet(planner.SheetJob{
				Name: "bars", Parts: row.parts, SheetW: 220, SheetH: 220, Thickness: 9, Breakthrough: 0.3, Arcs: true, // no tabs: one that stands in the way holds the waste too
				Cutting: planner.Cutting{CutterDiameter: 6, DepthPerPass: 3, Feed: 1200, PlungeFeed: 300, RampMax: geom.Deg(5), RPM: 18000, SafeZ: 10, Approach: 1}})
			var ps problem.List
			switch {
			case err == nil && row.key != "":
				t.Errorf("planned, with a loose piece")
			case err != nil && (!errors.As(err, &ps) || ps[0].Key != row.key):
				t.Errorf("%v, want %q", err, row.key)
			}
			milled := 0
			for _, c := range report.Cuts {
				if c.Part == "" {
					milled++
				}
			}
			if milled != row.milled {
				t.Errorf("%d cuts for waste, want %d", milled, row.milled)
			}
		})
	}
}

// relieved rounds the square inside corners of a counter-clockwise outline by
// r, so that a cutter fits.
func relieved(c geom.Contour, r float64) geom.Contour {
	var out geom.Contour
	for i, v := range c {
		in, on := v.Point.Sub(c[(i+len(c)-1)%len(c)].Point).Unit(), c[(i+1)%len(c)].Point.Sub(v.Point).Unit()
		if in.Cross(on) >= 0 {
			out = append(out, v)
			continue
		}
		out = append(out, geom.Vertex{Point: v.Point.Sub(in.Mul(r)), Bulge: -math.Tan(math.Pi / 8)}, geom.Vertex{Point: v.Point.Add(on.Mul(r))})
	}
	return out
}

// A part whose tabs all hold on to waste that the cuts round it free comes loose with
// it, although the lowest place of the piece is the part's. By hand: four bars 30 mm
// wide, 7 mm apart, round a square of waste; a cutter of 6 mm closes the cuts between
// them. The south bar may have tabs on its inner edge alone, the others on their outer
// edges.
func TestPartInLooseWaste(t *testing.T) {
	bar := func(name string, x, y, w, h float64) toolpath.Part {
		return toolpath.Part{Name: name, Outline: geom.Rect(geom.Box{Min: geom.Pt(x, y), Max: geom.Pt(x+w, y+h)})}
	}
	without := func(p toolpath.Part, no func(geom.Point) bool) toolpath.Part {
		for _, e := range p.Outline.Curves() {
			if no(e.At(0.5)) {
				p.NoTab = append(p.NoTab, e)
			}
		}
		return p
	}
	parts := []toolpath.Part{
		without(bar("south", 97, 60, 83, 30), func(at geom.Point) bool { return at.Y < 90 }),
		without(bar("west", 60, 60, 30, 120), func(at geom.Point) bool { return at.X > 60 }),
		without(bar("east", 187, 60, 30, 120), func(at geom.Point) bool { return at.X < 217 }),
		without(bar("north", 60, 187, 157, 30), func(at geom.Point) bool { return at.Y < 217 }),
	}
	job := planner.SheetJob{
		Name: "frame", SheetW: 300, SheetH: 300, Thickness: 9, Breakthrough: 0.3, Arcs: true,
		Tabs:    planner.Tabs{Count: 2, Width: 6, Height: 1.5},
		Cutting: planner.Cutting{CutterDiameter: 6, DepthPerPass: 3, Feed: 1200, PlungeFeed: 300, RampMax: geom.Deg(5), RPM: 18000, SafeZ: 10, Approach: 1},
		Parts:   parts,
	}
	_, _, err := planner.Sheet(job)
	var ps problem.List
	if !errors.As(err, &ps) || ps[0].Key != "sheet.spacing" {
		t.Errorf("%v, want a wider spacing", err)
	}
}
