package picture

import (
	"math"
	"slices"
	"strconv"

	"starwright/geom"
)

// Say prints a length (mm) for people, with its unit.
type Say func(mm float64) string

// View says where a model lies on the page and how large. X and Y share the
// scale.
type View struct {
	Scale float64 // mm on the page for a mm of the model
	Move  geom.Point
	Used  geom.Box // of the page, with dimensions and caption
}

// Point returns where a place of the model lies on the page.
func (v View) Point(p geom.Point) geom.Point { return p.Mul(v.Scale).Add(v.Move) }

// Contour returns a contour of the model as it lies on the page.
func (v View) Contour(c geom.Contour) geom.Contour {
	out := make(geom.Contour, len(c))
	for i, p := range c {
		out[i] = geom.Vertex{Point: v.Point(p.Point), Bulge: p.Bulge}
	}
	return out
}

// Curves returns curves of the model as they lie on the page.
func (v View) Curves(cs []geom.Curve) []geom.Curve {
	out := make([]geom.Curve, len(cs))
	for i, c := range cs {
		out[i] = geom.Curve{A: v.Point(c.A), B: v.Point(c.B), Bulge: c.Bulge}
	}
	return out
}

// Box returns a box of the model as it lies on the page.
func (v View) Box(b geom.Box) geom.Box {
	return geom.Box{Min: v.Point(b.Min), Max: v.Point(b.Max)}
}

// tidyScale returns the scale rounded down to two digits of "1 : n" or "n : 1".
func tidyScale(k float64) float64 {
	if !(k > 0) || math.IsInf(k, 0) {
		return 1
	}
	const slack = geom.Rounding // a number that has two digits stays as it is
	if k >= 1 {
		return twoDigits(k, math.Floor, slack)
	}
	return 1 / twoDigits(1/k, math.Ceil, -slack)
}

func twoDigits(v float64, round func(float64) float64, slack float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return round(v/step+slack) * step
}

// scaleWords prints a scale: "1 : 2.7", "3 : 1".
func scaleWords(k float64) string {
	n := func(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }
	if k >= 1 {
		return n(k) + " : 1"
	}
	return "1 : " + n(1/k)
}

// barLengths are the lengths (mm) a scale bar may have: round ones in
// millimetres and in inches.
func barLengths() []float64 {
	out := []float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000}
	for _, in := range []float64{1.0 / 16, 1.0 / 8, 1.0 / 4, 1.0 / 2, 1, 2, 4, 6, 12, 24, 48, 96, 240, 480} {
		out = append(out, in*geom.MMPerInch)
	}
	return out
}

// barLength returns the length (mm of the model) of a scale bar of at most 50
// mm on the page, and no longer than most with its words. Of those that fit it
// takes the one that is shortest in words, so that an inch job has a bar of
// whole inches; then the one nearest to 30 mm on the page.
func barLength(scale, most float64, say Say) float64 {
	best, words, page := 0.0, 0, 0.0
	lengths := barLengths()
	slices.Sort(lengths)
	for _, l := range lengths {
		on, text := l*scale, say(l)
		if on < 14 || on > 50 || on+barText+smallType().Width(text) > most {
			continue
		}
		n := len(text)
		if best == 0 || n < words || n == words && math.Abs(on-30) < math.Abs(page-30) {
			best, words, page = l, n, on
		}
	}
	return best
}

const barText = 1.5 // mm between a scale bar and its words

func smallType() Type { return Type{Size: SizeSmall, Color: Ink} }

// scaleBar draws a bar of a round length with its left end at p, no farther
// than right, and returns where it ends.
func (s *Picture) scaleBar(p geom.Point, right, scale float64, say Say) float64 {
	l := barLength(scale, right-p.X, say)
	if l == 0 {
		return p.X
	}
	const parts, high = 4, 1.3
	for i := range parts {
		b := geom.Box{Min: p.Add(geom.Pt(l*scale*float64(i)/parts, 0)), Max: p.Add(geom.Pt(l*scale*float64(i+1)/parts, high))}
		c := White
		if i%2 == 0 {
			c = Ink
		}
		s.Fill(c, geom.Rect(b))
	}
	end := p.Add(geom.Pt(l*scale, 0))
	s.Outline(geom.Rect(geom.Box{Min: p, Max: end.Add(geom.Pt(0, high))}), Thin(Ink))
	t := smallType()
	at := end.Add(geom.Pt(barText, high/2-t.em()*capEm/2))
	s.Text(at, say(l), t)
	return at.X + t.Width(say(l))
}

// caption writes name, scale, scale bar and note of a panel in one line from p
// to right, leaving out what has no room.
func (s *Picture) caption(p geom.Point, right float64, panel Panel, scale float64, say Say) {
	t := smallType()
	put := func(text string, t Type) {
		if text != "" && p.X+t.Width(text) <= right {
			s.Text(p, text, t)
			p.X += t.Width(text) + 3
		}
	}
	bold := t
	bold.Bold = true
	put(panel.Name, bold)
	put("scale "+scaleWords(scale*panel.zoom()), t)
	p.X = s.scaleBar(p.Add(geom.Pt(0, 0.3)), right, scale, say) + 3
	put(panel.Note, t)
}
