package cuttest

import (
	"starwright/geom"
	"starwright/post/cut"
)

// Plate is a sound drawing to spoil: an outline with a rounded end, a slot and a
// round hole in it, a second part beside it, a joint line, words and a check bar.
func Plate(unitMM float64) cut.Drawing {
	body := geom.Polygon(geom.Pt(0, 0), geom.Pt(80, 0), geom.Pt(80, 40), geom.Pt(0, 40))
	body[1].Bulge = 1
	return cut.Drawing{
		Name:   "Test plate",
		UnitMM: unitMM,
		Contours: []cut.Contour{
			{Layer: cut.Outline, Contour: body},
			{Layer: cut.Hole, Contour: geom.RoundedRect(geom.Box{Min: geom.Pt(10, 10), Max: geom.Pt(40, 16)}, 3)},
			{Layer: cut.Hole, Contour: geom.Circle(geom.Pt(80, 20), 5)},
			{Layer: cut.Outline, Contour: geom.Polygon(geom.Pt(110, 0), geom.Pt(140, 0), geom.Pt(125, 30))},
		},
		Lines: []cut.Line{{Layer: cut.Guide, A: geom.Pt(0, 25), B: geom.Pt(70, 25)}},
		Texts: []cut.Label{{Layer: cut.Text, At: geom.Pt(5, 30), HeightMM: 3, Text: "plate"}},
	}.WithCheckBar()
}

// Washer is a small drawing with everything in it: straight sides, arcs, a
// circle, a line and words. Its right end is a half circle of 10 mm.
func Washer(unitMM float64) cut.Drawing {
	plate := geom.Polygon(geom.Pt(0, 0), geom.Pt(40, 0), geom.Pt(40, 20), geom.Pt(0, 20))
	plate[1].Bulge = 1
	return cut.Drawing{
		Name:     "Gauge plate, 3 mm",
		UnitMM:   unitMM,
		Comments: []string{"Cut the hole first; the part falls out last."},
		Contours: []cut.Contour{
			{Layer: cut.Outline, Contour: plate},
			{Layer: cut.Hole, Contour: geom.Circle(geom.Pt(40, 10), 3.2)},
		},
		Lines: []cut.Line{{Layer: cut.Guide, A: geom.Pt(0, 10), B: geom.Pt(30, 10)}},
		Texts: []cut.Label{{Layer: cut.Text, At: geom.Pt(2, 2), HeightMM: 3, Text: "36°"}},
	}.WithCheckBar()
}

// Many is how many outlines [Long] has.
const Many = 20000

// Long is the drawing of the speed figures: so many closed outlines of four
// corners.
func Long() cut.Drawing {
	d := cut.Drawing{Name: "speed", UnitMM: 1}
	for i := range Many {
		x, y := float64(i%200)*12.345678, float64(i/200)*23.456789
		d.Contours = append(d.Contours, cut.Contour{Layer: cut.Outline, Contour: geom.Polygon(
			geom.Pt(x, y), geom.Pt(x+10.123456, y+0.5), geom.Pt(x+10.5, y+20.25), geom.Pt(x+0.125, y+20.75))})
	}
	return d.WithCheckBar()
}
