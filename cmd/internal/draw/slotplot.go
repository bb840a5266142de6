package draw

import (
	"fmt"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/post/picture"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// SlotProgram is a slot program as it was read back from its file. Lengths are
// mm, places in the program's coordinates.
type SlotProgram struct {
	Title     string
	File      string // path within the packet
	Verdict   string // one sentence: what the check said
	Unit      *star.Unit
	Thickness float64
	Mirror    bool // X falls from the star's centre to the valley
	Stations  int  // segments side by side, at least 1
	Pitch     float64
	SafeZ     float64 // what clamps stay under
	Cutter    float64 // diameter
	Moves     []toolpath.Move
	Findings  []finding.Finding
}

// Slots returns the back-plot of a slot program: the facet as the machine sees
// it, the slot as asked for, the way of the cutter and the wood it takes, and
// the passes from the side.
func Slots(p SlotProgram, unit geom.Unit) *picture.Picture {
	w := lengthsIn(unit)
	u, t := p.Unit, p.Unit.Slot
	in := picture.BackPlotInput{
		Title: p.Title, Say: w.say, Deep: w.exact, Moves: p.Moves, Cutter: p.Cutter, Side: true,
		Target: "slot as asked for", Findings: p.Findings,
		Keys:   []picture.Key{{Text: "facet of the segment", Look: picture.Facet}},
		Levels: []picture.Level{{Z: 0, Name: "Z0: the facet"}},
	}
	in.Sub = fmt.Sprintf("Read back from %s. Cutter %s.", p.File, w.exact(p.Cutter))
	if p.SafeZ > 0 {
		in.Sub += fmt.Sprintf(" Clamps lower than %s over the facet.", w.exact(p.SafeZ))
	}
	if p.Verdict != "" {
		in.Sub += " " + p.Verdict
	}
	if t == nil {
		return picture.BackPlot(in)
	}
	in.Depth = t.Depth
	flip := func(q geom.Point) geom.Point {
		if p.Mirror {
			q.X = -q.X
		}
		return q
	}
	contour := func(c geom.Contour) geom.Contour {
		if p.Mirror {
			c = geom.Place{Mirror: true, Turn: 180 * geom.Degree}.Contour(c).CCW()
		}
		return c
	}
	f := u.Segment.Facet
	for k := range max(1, p.Stations) {
		at := geom.Place{Move: geom.Pt(0, float64(k)*p.Pitch)}
		in.Shapes = append(in.Shapes, picture.Shape{Contour: at.Contour(contour(geom.Rect(geom.Box{Max: geom.Pt(f, p.Thickness)}))), Look: picture.Facet})
		in.Targets = append(in.Targets, at.Contour(contour(t.Outline())))
	}
	top := float64(max(1, p.Stations)-1)*p.Pitch + p.Thickness
	out := flip(geom.Pt(1, 0))
	in.Labels = []picture.Label{
		{At: flip(geom.Pt(0, p.Thickness/2)), Text: "star's\ncentre", Away: out.Mul(-1)},
		{At: flip(geom.Pt(f, p.Thickness/2)), Text: "valley", Away: out},
		{At: flip(geom.Pt(f*0.6, 0)), Text: "show face, against the fence", Away: geom.Pt(0, -1)},
		{At: flip(geom.Pt(f*0.5, top)), Text: "back", Away: geom.Pt(0, 1)},
	}
	in.Dims = slotDims(t, f, p.Thickness, flip, p.Mirror)
	if p.Stations > 1 {
		side := picture.Right
		if p.Mirror {
			side = picture.Left
		}
		in.Dims = append(in.Dims, picture.Dim{A: flip(geom.Pt(f, 0)), B: flip(geom.Pt(f, p.Pitch)), Side: side})
	}
	return picture.BackPlot(in)
}

// slotDims returns the dimensions of a slot on its facet: along it from the
// star's centre, across it from the show face.
func slotDims(t *star.Slot, facet, thickness float64, flip func(geom.Point) geom.Point, mirror bool) []picture.Dim {
	center, valley := picture.Left, picture.Right
	if mirror {
		center, valley = valley, center
	}
	lo, hi := t.FromFace-t.Width/2, t.FromFace+t.Width/2
	return []picture.Dim{
		{A: flip(geom.Pt(0, 0)), B: flip(geom.Pt(t.Start, t.FromFace)), Side: picture.Below},
		{A: flip(geom.Pt(0, 0)), B: flip(geom.Pt(t.End, t.FromFace)), Side: picture.Below},
		{A: flip(geom.Pt(0, 0)), B: flip(geom.Pt(facet, 0)), Side: picture.Below},
		{A: flip(geom.Pt(0, 0)), B: flip(geom.Pt(t.Start, t.FromFace)), Side: center},
		{A: flip(geom.Pt(t.End, lo)), B: flip(geom.Pt(t.End, hi)), Side: valley},
		{A: flip(geom.Pt(facet, 0)), B: flip(geom.Pt(facet, thickness)), Side: valley},
	}
}
