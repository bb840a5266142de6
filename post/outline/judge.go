package outline

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/toolpath/finding"
)

const (
	// maxFaults is how many findings are kept of a file; more tell nobody
	// anything.
	maxFaults = 1000
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

// Judge says what makes the file unfit to be cut, whatever it draws: what its
// reader found wrong, a check bar that is missing or misleads, layers that are
// none of the four, contours that are open, repeated, crossing, drawn twice or
// nested wrongly, and whatever else lies on a layer that is cut. A sound drawing
// gives none. Findings come in a fixed order, at most 1000.
func Judge(f *cut.File) []finding.Finding {
	j := &judge{f: f}
	for _, x := range f.Faults {
		j.put(x)
	}
	for _, x := range f.Form {
		j.put(x)
	}
	j.bar()
	for i := range f.Contours {
		j.contour(&f.Contours[i])
	}
	j.strays()
	j.meetings()
	return j.out
}

// judge collects findings about one file.
type judge struct {
	f   *cut.File
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
func xy(f *cut.File, p geom.Point) string {
	return fmt.Sprintf("X %.3f Y %.3f", in(f, p.X), in(f, p.Y))
}

// in is a length (mm) as findings print it.
func in(f *cut.File, mm float64) geom.Measure { return geom.Measure{MM: mm, Unit: f.Unit} }

// bar judges the check bar: that it is there, and that it and the unit comment
// say the same.
func (j *judge) bar() {
	f := j.f
	b := FindBar(f)
	if b == nil {
		j.add(0, "check-bar", "", "nobody can tell with a rule whether the file was read in the right unit",
			"no check bar on GUIDE: a line with ticks across its ends and a text with its length")
		return
	}
	drawn := b.Units * f.Scale()
	switch ratio := drawn / b.StatedMM; {
	case near(ratio, geom.MMPerInch):
		j.add(b.Line, "scale", "", "every part comes out 25.4 times too large",
			"the check bar is stated as %s and measures %.3m: the drawing is 25.4 times too large for its unit", j.f.Unit.FormatFine(b.StatedMM), in(j.f, drawn))
	case near(ratio, 1/geom.MMPerInch):
		j.add(b.Line, "scale", "", "every part comes out 25.4 times too small",
			"the check bar is stated as %s and measures %.3m: the drawing is 25.4 times too small for its unit", j.f.Unit.FormatFine(b.StatedMM), in(j.f, drawn))
	case math.Abs(drawn-b.StatedMM) > limitMM:
		j.add(b.Line, "check-bar", "", "a rule laid on the bar misleads",
			"the check bar is stated as %s and measures %.3m", j.f.Unit.FormatFine(b.StatedMM), in(j.f, drawn)).ByMM = math.Abs(drawn - b.StatedMM)
	}
}

// near reports whether a ratio is another but for rounding.
func near(ratio, want float64) bool { return math.Abs(ratio/want-1) <= inchRatio }

// gap returns the larger of the differences in X and in Y.
func gap(p, q geom.Point) float64 { return math.Max(math.Abs(p.X-q.X), math.Abs(p.Y-q.Y)) }
