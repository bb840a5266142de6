package cuttest

import (
	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/post/cut"
)

// Random draws a drawing that can be cut: parts in a row, some with arcs from
// flat ones to nearly whole circles, some with a hole, lines on GUIDE and words.
func Random(t *rapid.T) cut.Drawing {
	d := cut.Drawing{Name: rapid.String().Draw(t, "name"), UnitMM: rapid.SampledFrom([]float64{1, geom.MMPerInch}).Draw(t, "unit")}
	corner := geom.Pt(rapid.Float64Range(-5e3, 5e3).Draw(t, "x0"), rapid.Float64Range(-5e3, 5e3).Draw(t, "y0"))
	for i := range rapid.IntRange(1, 8).Draw(t, "parts") {
		o := corner.Add(geom.Pt(60*float64(i), 0))
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Outline, Contour: body(t, o)})
		if rapid.Bool().Draw(t, "hole") {
			d.Contours = append(d.Contours, cut.Contour{Layer: cut.Hole, Contour: hole(t, o)})
		}
		d.Lines = append(d.Lines, cut.Line{Layer: cut.Guide, A: o, B: o.Add(geom.Pt(rapid.Float64Range(1, 20).Draw(t, "length"), 0))})
	}
	d.Texts = append(d.Texts, cut.Label{Layer: cut.Text, At: corner, HeightMM: 3,
		Turn: geom.Deg(rapid.Float64Range(-360, 360).Draw(t, "text turn")), Text: "part <&\"" + rapid.String().Draw(t, "text")})
	return d.WithCheckBar()
}

// body is an outline round a place, either way round, 12 to 20 mm off.
func body(t *rapid.T, o geom.Point) geom.Contour {
	n := rapid.IntRange(3, 9).Draw(t, "corners")
	turn := rapid.Float64Range(0, 360).Draw(t, "turn")
	var c geom.Contour
	for k := range n {
		r := rapid.Float64Range(12, 20).Draw(t, "radius")
		p := o.Add(geom.Polar(r, geom.Deg(turn+360*float64(k)/float64(n))))
		c = append(c, geom.Vertex{Point: p, Bulge: rapid.SampledFrom([]float64{0, 0, 1e-9, 0.001, 0.1, -0.05}).Draw(t, "bulge")})
	}
	if rapid.Bool().Draw(t, "clockwise") {
		c = c.Reversed()
	}
	return c
}

// hole is a circle, or two arcs that do not quite make one: at most 4.5 mm off,
// where the nearest outline is 5.4.
func hole(t *rapid.T, o geom.Point) geom.Contour {
	h := geom.Circle(o, rapid.Float64Range(0.1, 3).Draw(t, "hole radius"))
	if rapid.Bool().Draw(t, "lens") {
		b := rapid.Float64Range(0.3, 1.5).Draw(t, "hole bulge")
		h[0].Bulge, h[1].Bulge = b, b
	}
	return h
}
