package dxfread

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/post/dxf"
	"starwright/toolpath/finding"
)

const (
	// limitMM is how far anything in a file may lie from where it should:
	// the contract's 0.002 mm, a twentieth of what a laser can place.
	limitMM = 0.002
	// repeatMM is the distance under which two vertices are one drawn twice:
	// well above the rounding of any file, well below any edge of a part.
	repeatMM = 0.001
	// inchRatio is how near to 25.4 a ratio counts as inches taken for
	// millimetres.
	inchRatio = 0.001
	// maxBulge is the largest bulge of an arc that a program draws the same
	// way as the next: beyond it the arc is a full circle but for 0.01 degrees.
	maxBulge = 40000
)

// Judge says what makes the file unfit to be cut, whatever it draws: structure,
// unit, extents, layers, entities that a cutter may not read, contours that are
// open, repeated, crossing, drawn twice or nested wrongly. A sound drawing
// gives none. Findings come in a fixed order, at most 1000.
func Judge(f *File) []finding.Finding {
	j := &judge{f: f, out: append([]finding.Finding(nil), f.Faults...)}
	j.header()
	j.bar()
	j.extents()
	j.layerTable()
	for i := range f.Contours {
		j.contour(&f.Contours[i])
	}
	j.strays()
	j.meetings()
	return j.out
}

// judge collects findings about one file.
type judge struct {
	f   *File
	out []finding.Finding
}

// add adds a finding and returns it to be filled in further; the pointer is
// good until the next one.
func (j *judge) add(line int, rule, block, inWood, format string, args ...any) *finding.Finding {
	return j.put(finding.Finding{
		File: j.f.Name, Line: line, Rule: rule, Block: block, What: fmt.Sprintf(format, args...), InWood: inWood,
	})
}

// put adds a finding as it is, unless there are enough.
func (j *judge) put(f finding.Finding) *finding.Finding {
	if len(j.out) >= maxFaults {
		return &f
	}
	j.out = append(j.out, f)
	return &j.out[len(j.out)-1]
}

// at makes a place for a finding.
func at(p geom.Point) *geom.Point3 { return &geom.Point3{X: p.X, Y: p.Y} }

// xy prints a place.
func xy(p geom.Point) string { return fmt.Sprintf("X %.3f Y %.3f", p.X, p.Y) }

// cuts reports whether what is drawn on a layer is cut.
func cuts(layer string) bool { return layer == dxf.Outline || layer == dxf.Hole }

// known reports whether a layer is one of the four.
func known(layer string) bool { return cuts(layer) || layer == dxf.Guide || layer == dxf.Text }

// header judges version and unit.
func (j *judge) header() {
	f := j.f
	if f.Version != "AC1009" && !hasRule(f.Faults, "structure") {
		j.add(0, "version", f.Version, "older cutter software may refuse the file or leave parts of it out",
			"$ACADVER is %q: the drawing is to be release 12, AC1009", f.Version)
	}
	switch {
	case f.UnitLine == 0:
		j.add(0, "unit", "", "read in inches, a millimetre drawing comes out 25.4 times too large",
			"no 999 comment states the unit, such as \"1 drawing unit = 1 mm\"")
	case f.UnitMM != 1 && f.UnitMM != geom.MMPerInch:
		j.add(f.UnitLine, "unit", "", "every part comes out at the wrong size",
			"one drawing unit is stated as %g mm: write 1 mm or 1 inch (25.4 mm)", f.UnitMM)
	}
	if stated := insUnit(f.InsUnits); f.UnitLine > 0 && stated != 0 && stated != f.UnitMM {
		j.add(0, "unit", "", "programs that follow the header cut every part 25.4 times too large or too small",
			"$INSUNITS %d means %g mm in a drawing unit, the 999 comment says %g mm", f.InsUnits, stated, f.UnitMM)
	}
}

func hasRule(fs []finding.Finding, rule string) bool {
	for _, f := range fs {
		if f.Rule == rule {
			return true
		}
	}
	return false
}

// bar judges the check bar: that it is there, and that it and the unit comment
// say the same.
func (j *judge) bar() {
	f := j.f
	if f.Bar == nil {
		j.add(0, "check-bar", "", "nobody can tell with a rule whether the file was read in the right unit",
			"no check bar on GUIDE: a line with ticks across its ends and a text with its length")
		return
	}
	b := f.Bar
	drawn := b.Units * f.Scale()
	switch ratio := drawn / b.StatedMM; {
	case near(ratio, geom.MMPerInch):
		j.add(b.Line, "scale", "", "every part comes out 25.4 times too large",
			"the check bar is stated as %g mm and measures %.3f mm: the drawing is 25.4 times too large for its unit", b.StatedMM, drawn)
	case near(ratio, 1/geom.MMPerInch):
		j.add(b.Line, "scale", "", "every part comes out 25.4 times too small",
			"the check bar is stated as %g mm and measures %.3f mm: the drawing is 25.4 times too small for its unit", b.StatedMM, drawn)
	case math.Abs(drawn-b.StatedMM) > limitMM:
		j.add(b.Line, "check-bar", "", "a rule laid on the bar misleads",
			"the check bar is stated as %g mm and measures %.3f mm", b.StatedMM, drawn).ByMM = math.Abs(drawn - b.StatedMM)
	}
}

// near reports whether a ratio is another but for rounding.
func near(ratio, want float64) bool { return math.Abs(ratio/want-1) <= inchRatio }

// extents compares the header's extents with what is drawn.
func (j *judge) extents() {
	f := j.f
	if !f.HasExtents {
		j.add(0, "extents", "", "", "the header has no $EXTMIN and $EXTMAX")
		return
	}
	b := geom.EmptyBox()
	for i := range f.Contours {
		b = b.Union(bounds(f.Contours[i].Contour))
	}
	for _, l := range f.Lines {
		b = b.With(l.A).With(l.B)
	}
	for _, t := range f.Texts {
		b = b.With(t.At)
	}
	for _, o := range f.Others {
		for _, c := range o.Curves {
			b = b.Union(c.Bounds())
		}
	}
	if b.Empty() {
		return
	}
	off := math.Max(gap(f.ExtMin, b.Min), gap(f.ExtMax, b.Max))
	if off > limitMM {
		j.add(f.ExtLine, "extents", "", "a program that places the sheet by the header places it wrong",
			"the header's extents are %s to %s, what is drawn reaches from %s to %s",
			xy(f.ExtMin), xy(f.ExtMax), xy(b.Min), xy(b.Max)).ByMM = off
	}
}

// gap returns the larger of the differences in X and in Y.
func gap(p, q geom.Point) float64 { return math.Max(math.Abs(p.X-q.X), math.Abs(p.Y-q.Y)) }

// bounds returns a contour's box without building its pieces.
func bounds(c geom.Contour) geom.Box {
	b := geom.EmptyBox()
	for i := range c {
		if c[i].Bulge == 0 {
			b = b.With(c[i].Point) // the next vertex is added in its turn
		} else {
			b = b.Union(edge(c, i).Bounds())
		}
	}
	return b
}

// edge returns the piece of a contour that leaves vertex i.
func edge(c geom.Contour, i int) geom.Curve {
	k := i + 1
	if k == len(c) {
		k = 0
	}
	return geom.Curve{A: c[i].Point, B: c[k].Point, Bulge: c[i].Bulge}
}

// layerTable judges layers that are off, frozen, or used without a record.
func (j *judge) layerTable() {
	listed := map[string]bool{}
	for _, l := range j.f.Layers {
		listed[l.Name] = true
		switch {
		case !known(l.Name):
		case l.Colour < 0:
			j.add(l.Line, "layer", l.Name, "what is drawn on it is not cut", "layer %s is off (colour %d)", l.Name, l.Colour)
		case l.Flags&1 != 0:
			j.add(l.Line, "layer", l.Name, "what is drawn on it is not cut", "layer %s is frozen (flags %d)", l.Name, l.Flags)
		}
	}
	if len(listed) == 0 {
		return // release 12 makes layers as they are used
	}
	for i := range j.f.Contours {
		if c := &j.f.Contours[i]; known(c.Layer) && !listed[c.Layer] {
			listed[c.Layer] = true // said once
			j.add(c.Line, "layer", c.Entity+" on "+c.Layer, "strict software refuses the file", "layer %s is used and not in the layer table", c.Layer)
		}
	}
}
