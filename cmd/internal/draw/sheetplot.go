package draw

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/post/picture"
	"starwright/toolpath"
	"starwright/toolpath/finding"
	"starwright/toolpath/planner"
)

// SheetProgram is a program that cuts parts from sheet, as it was read back
// from its file. Lengths are mm, places in the program's coordinates.
type SheetProgram struct {
	Title        string
	File         string // path within the packet
	Verdict      string // one sentence: what the check said
	W, H         float64
	Thickness    float64
	Breakthrough float64 // into the spoilboard
	Parts        []toolpath.Part
	Zones        []geom.Box // screw zones
	Tabs         []planner.Tab
	SafeZ        float64 // what clamps stay under
	Cutter       float64 // diameter
	Moves        []toolpath.Move
	Findings     []finding.Finding
}

// Sheet returns the back-plot of a sheet program: sheet, parts with their
// names, holes, tabs, the way of the cutter and its travel.
func Sheet(p SheetProgram, unit geom.Unit) *picture.Picture {
	w := lengthsIn(unit)
	in := picture.BackPlotInput{
		Title: p.Title, Say: w.say, Deep: w.exact, Moves: p.Moves, Cutter: p.Cutter, Findings: p.Findings,
		Sub:    fmt.Sprintf("Read back from %s. Cutter %s.", p.File, w.exact(p.Cutter)),
		Target: "outline of a part or hole",
		Keys:   []picture.Key{{Text: "sheet", Look: picture.Board}, {Text: "part", Look: picture.Facet}},
	}
	if p.Verdict != "" {
		in.Sub += " " + p.Verdict
	}
	sheet := geom.Box{Max: geom.Pt(p.W, p.H)}
	in.Shapes = append(in.Shapes, picture.Shape{Contour: geom.Rect(sheet), Look: picture.Board})
	for _, z := range p.Zones {
		in.Shapes = append(in.Shapes, picture.Shape{Contour: geom.Rect(z), Look: picture.Zone})
	}
	if len(p.Zones) > 0 {
		in.Keys = append(in.Keys, picture.Key{Text: "screws, keep out", Look: picture.Zone})
	}
	kinds := p.kinds()
	for i, part := range p.Parts {
		in.Shapes = append(in.Shapes, picture.Shape{Contour: part.Outline, Holes: part.Holes, Look: picture.Facet})
		in.Targets = append(append(in.Targets, part.Outline), part.Holes...)
		number := i + 1
		if len(kinds) > 0 {
			number = 1 + slices.IndexFunc(kinds, func(k partKind) bool { return k.name == kindName(part.Name) })
		}
		in.Labels = append(in.Labels, picture.Label{At: part.Outline.Bounds().Center(), In: part.Outline, NotIn: part.Holes,
			Text: fmt.Sprint(number), Mark: picture.On, Spare: len(kinds) > 0})
	}
	for _, t := range p.Tabs {
		in.Tabs = append(in.Tabs, tabShape(t, p.Cutter))
	}
	in.Dims = []picture.Dim{
		{A: geom.Pt(0, 0), B: geom.Pt(p.W, 0), Side: picture.Below},
		{A: geom.Pt(0, 0), B: geom.Pt(0, p.H), Side: picture.Left},
	}
	in.Facts = sheetFacts(p, w)
	return picture.BackPlot(in)
}

// mostRows is how many parts are named one by one.
const mostRows = 18

// partKind is how often a sheet holds a part.
type partKind struct {
	name  string
	count int
}

// kinds returns the kinds of part in the order of their first; none where there
// are so few parts that each has a number of its own.
func (p SheetProgram) kinds() []partKind {
	if len(p.Parts) <= mostRows {
		return nil
	}
	var out []partKind
	for _, part := range p.Parts {
		name := kindName(part.Name)
		i := slices.IndexFunc(out, func(k partKind) bool { return k.name == name })
		if i < 0 {
			i, out = len(out), append(out, partKind{name: name})
		}
		out[i].count++
	}
	return out
}

// kindName is a part's name without the count at its end: spline 3 of 40.
func kindName(name string) string {
	words := strings.Fields(name)
	if n := len(words); n > 3 && words[n-2] == "of" {
		return strings.TrimSuffix(strings.Join(words[:n-3], " "), ",")
	}
	return name
}

// tabShape returns the wood of a tab: its width along the cut, the cutter's
// diameter across.
func tabShape(t planner.Tab, cutter float64) geom.Contour {
	a, b := t.Along.Mul(t.Width/2), t.Along.Left().Mul(cutter/2)
	return geom.Polygon(t.At.Sub(a).Sub(b), t.At.Add(a).Sub(b), t.At.Add(a).Add(b), t.At.Sub(a).Add(b))
}

func sheetFacts(p SheetProgram, w lengths) []picture.Fact {
	facts := []picture.Fact{
		picture.Head("The sheet"),
		{Name: "thickness", Value: w.say(p.Thickness)},
		{Name: "cut into the spoilboard", Value: w.say(p.Breakthrough)},
		{Name: "clamps lower than", Value: w.exact(p.SafeZ)},
	}
	if n := len(p.Zones); n > 0 {
		facts = append(facts, picture.Fact{Name: "screws, hatched", Value: fmt.Sprint(n)})
	} else {
		facts = append(facts, picture.Fact{Name: "held by", Value: "tape or vacuum"})
	}
	if len(p.Tabs) > 0 {
		facts = append(facts, picture.Fact{Name: "tabs, in all", Value: fmt.Sprint(len(p.Tabs))},
			picture.Fact{Name: "tab width", Value: w.say(p.Tabs[0].Width)},
			picture.Fact{Name: "tab height", Value: w.say(p.Tabs[0].Height)})
	}
	facts = append(facts, picture.Head("The parts"))
	for i, k := range p.kinds() {
		if i == mostRows {
			return append(facts, picture.Fact{Name: "and more"})
		}
		facts = append(facts, picture.Fact{Name: fmt.Sprintf("%d  %s", i+1, k.name), Value: fmt.Sprintf("%d of", k.count)})
	}
	if len(p.Parts) > mostRows {
		return facts
	}
	for i, part := range p.Parts {
		facts = append(facts, picture.Fact{Name: fmt.Sprintf("%d  %s", i+1, part.Name)})
	}
	return facts
}
