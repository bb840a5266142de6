package fitting

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"starwright/geom"
	"starwright/geom/bench/fit"
)

// Page returns the answer for people.
func (a *Answer) Page() string {
	var b strings.Builder
	s := a.Star
	fmt.Fprintf(&b, "A star of %d points from boards %s wide. Each facet stands at %s to the\nboard's middle line: %s on a saw that reads 0 for a square cut.\n",
		s.Points, a.q.Unit.FormatSize(s.BoardWidth), degrees(s.Half), degrees(s.Miter))
	if a.Reading != nil {
		a.readingPage(&b)
	}
	if len(a.Expect) > 0 {
		a.expectPage(&b)
	}
	if len(a.Finest) > 0 {
		a.finestPage(&b)
	}
	return b.String()
}

// degrees prints an angle as finely as it can be acted upon.
func degrees(v float64) string {
	s := fmt.Sprintf("%.3f", v)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".") + " deg"
}

// fine prints a small length as finely as a feeler gauge shows.
func (a *Answer) fine(mm float64) string { return a.q.Unit.FormatFine(mm) }

func head(b *strings.Builder, text string) { b.WriteString("\n" + strings.ToUpper(text) + "\n") }

// rows writes rows of cells in aligned columns.
func rows(b *strings.Builder, cells [][]string) {
	var wide []int
	for _, r := range cells {
		for i, c := range r {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], utf8.RuneCountInString(c))
		}
	}
	for _, r := range cells {
		line := " "
		for i, c := range r {
			line += " " + c + strings.Repeat(" ", wide[i]-utf8.RuneCountInString(c)+1)
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
}

func (a *Answer) readingPage(b *strings.Builder) {
	r := a.Reading
	head(b, fmt.Sprintf("%s open at the %s, %s", a.fine(r.Gap), r.At, r.Test))
	if r.Error == 0 {
		b.WriteString("  No gap: leave the saw as it is.\n")
		return
	}
	size := "too large"
	if r.Error < 0 {
		size = "too small"
	}
	way := "away from square"
	if r.TowardsSquare {
		way = "towards square"
	}
	lines := [][]string{
		{"each facet is", degrees(math.Abs(r.Error)), size},
		{fmt.Sprintf("%d facets together", 2*a.Star.Points), degrees(math.Abs(r.Sum)), ""},
		{"turn the saw by", degrees(r.TurnBy), way},
		{"that is", a.fine(r.AtPivot), "at " + a.q.Unit.FormatSize(a.Pivot) + " from the pivot"},
	}
	if a.way != nil {
		lines = lines[:2]
	}
	rows(b, lines)
	for _, s := range a.way.correction() {
		b.WriteString("  " + s + "\n")
	}
	a.truePage(b)
}

func (a *Answer) truePage(b *strings.Builder) {
	t := a.Reading.True
	head(b, "or without a new cut: true the last joint")
	how := "glue two halves and shoot both facets of each half to one straight edge"
	if a.Star.Points%2 != 0 {
		how = "glue two halves and fit the two facets of the smaller half to the larger"
	}
	fmt.Fprintf(b, "  %s:\n", how)
	nothing := "centre"
	if t.WideEnd == fit.Centre.String() {
		nothing = "valley"
	}
	rows(b, [][]string{
		{"take off", a.fine(t.TakeOff), fmt.Sprintf("at the %s of each of %d facets, running out to nothing at the %s", t.WideEnd, t.Facets, nothing)},
		{"the price", a.fine(t.Tips), "between the longest and the shortest distance of neighbouring tips"},
	})
}

func (a *Answer) expectPage(b *strings.Builder) {
	for i, sign := range []string{"too small", "too large"} {
		var cells [][]string
		for _, o := range a.Expect {
			if (o.Error < 0) == (i == 0) {
				where := "open at the " + o.At
				if o.Joints > 1 {
					where += fmt.Sprintf(", each of %d joints", o.Joints)
				}
				cells = append(cells, []string{o.Test, a.fine(o.Gap), where})
			}
		}
		if len(cells) == 0 { // an error of nothing
			continue
		}
		head(b, fmt.Sprintf("facets %s %s", degrees(a.q.SawError.Degrees()), sign))
		rows(b, cells)
	}
}

func (a *Answer) finestPage(b *strings.Builder) {
	head(b, "for gaps of "+a.fine(*a.q.Limit)+" at most, set the saw within")
	var cells [][]string
	for _, f := range a.Finest {
		cells = append(cells, []string{f.Test, degrees(f.Within), a.fine(f.AtPivot) + " at " + a.q.Unit.FormatSize(a.Pivot) + " from the pivot"})
	}
	rows(b, cells)
	b.WriteString("  Few scales are read that fine: cut one star, look, correct.\n")
}

// TestNames are the ways to look, as they are written on the command line.
func TestNames() []string { return []string{"last-joint", "halves", "one-joint", "straightedge"} }

// TestNamed returns the test of a name, and whether there is one.
func TestNamed(name string) (fit.Test, bool) {
	for i, n := range TestNames() {
		if n == name {
			return fit.Test(i), true
		}
	}
	return 0, false
}

// EndNamed returns the end of a joint of a name, and whether there is one.
func EndNamed(name string) (fit.End, bool) {
	switch strings.ToLower(name) {
	case "valley":
		return fit.Valley, true
	case "centre", "center":
		return fit.Centre, true
	}
	return 0, false
}

// UsualPivot is where a correction is given as a length if nobody says: about
// the length of a saw's fence, mm.
func UsualPivot(u geom.Unit) float64 {
	if u == geom.Inch {
		return 12 * geom.MMPerInch
	}
	return 300
}
