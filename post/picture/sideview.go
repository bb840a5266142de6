package picture

import (
	"fmt"
	"math"
	"slices"

	"starwright/geom"
)

// Heights of the view from the side, mm on the page.
const (
	sideDepth  = 12.0 // least for the cut's depth, else heights are stretched
	sideTallst = 60.0 // most for the cut's depth
	sideAbove  = 20.0 // most for the heights of travel
	sideWood   = 4.0  // wood shown below the cut
	levelRoom  = 28.0 // beside the wood, for the names of heights
)

// heights maps heights of the program to the page.
type heights struct {
	zero        float64 // Y of Z0
	below       float64 // mm on the page for a mm below Z0
	above       float64 // and above
	stretch     float64 // of below against the plan's scale
	top, bottom float64 // Y
}

func (h heights) y(z float64) float64 {
	if z > 0 {
		return h.zero + z*h.above
	}
	return h.zero + z*h.below
}

// newHeights chooses how heights are drawn: to the scale of the plan where the
// cut's depth can be seen so, else stretched by a whole number; what is above
// the wood is squeezed where it would take too much room.
func newHeights(scale, deepest, highest, top float64) heights {
	h := heights{stretch: 1, below: scale, top: top}
	if d := deepest * scale; d > 0 && d < sideDepth {
		h.stretch = math.Min(math.Ceil(sideDepth/d), 1000)
	}
	h.below = scale * h.stretch
	if deepest*h.below > sideTallst && h.stretch == 1 {
		h.below = sideTallst / deepest
		h.stretch = h.below / scale
	}
	h.above = h.below
	if highest*h.above > sideAbove {
		h.above = sideAbove / highest
	}
	h.zero = top - 3 - highest*h.above
	h.bottom = h.zero - deepest*h.below - sideWood
	return h
}

// side draws the program seen from the show face: X as in the plan above, Z
// upwards.
func (in BackPlotInput) side(s *Picture, v View, c cuts) {
	deepest, highest := in.Depth, 0.0
	for _, m := range in.Moves {
		deepest = math.Max(deepest, -m.To.Z)
		highest = math.Max(highest, m.To.Z)
	}
	h := newHeights(v.Scale, deepest, highest, s.Body(tallest).Max.Y)
	at := func(x, z float64) geom.Point { return geom.Pt(v.Point(geom.Pt(x, 0)).X, h.y(z)) }
	wood := v.Box(in.plan().bounds())
	for i, sh := range in.Shapes {
		b := v.Box(sh.Bounds())
		if i == 0 {
			wood = b
		}
	}
	s.Fill(Wood, geom.Rect(geom.Box{Min: geom.Pt(wood.Min.X, h.bottom), Max: geom.Pt(wood.Max.X, h.zero)}))
	// What each pass clears, as wide as the cutter ran level at its depth.
	above := 0.0
	for i, d := range c.depths {
		if b := c.boxes[i+1]; !b.Empty() {
			s.Fill(c.shade(i+1), geom.Rect(geom.Box{Min: at(b.Min.X-in.Cutter/2, -d), Max: at(b.Max.X+in.Cutter/2, -above)}))
		}
		above = d
	}
	for _, t := range in.Targets {
		b := t.Bounds()
		s.Outline(geom.Rect(geom.Box{Min: at(b.Min.X, -in.Depth), Max: at(b.Max.X, 0)}), Thick(Ink))
	}
	s.Line(geom.Pt(wood.Min.X, h.zero), geom.Pt(wood.Max.X, h.zero), Thick(Ink))
	in.sidePath(s, at, geom.Box{Min: geom.Pt(v.Used.Min.X, h.bottom), Max: geom.Pt(v.Used.Max.X, h.top)})
	in.sideLevels(s, h, wood, c)

	note := "heights to the same scale"
	if math.Abs(h.stretch-1) > geom.Rounding {
		note = fmt.Sprintf("heights drawn %s times as large as lengths", plain(math.Round(h.stretch*100)/100))
	}
	if h.above != h.below {
		note += ", less above the wood"
	}
	t := smallType()
	bold := t
	bold.Bold = true
	p := geom.Pt(v.Used.Min.X, h.bottom-5)
	s.Text(p, "from the side", bold)
	s.Text(p.Add(geom.Pt(bold.Width("from the side")+3, 0)), note, t)
	s.MoveCursor(p.Y - 2)
}

// sidePath draws all moves as lines in X and Z, each once, within a box of the
// page.
func (in BackPlotInput) sidePath(s *Picture, at func(x, z float64) geom.Point, within geom.Box) {
	seen := map[wayKey]bool{}
	var lines, rapids []geom.Curve
	for _, m := range in.Moves {
		e := geom.Curve{A: at(m.From.X, m.From.Z), B: at(m.To.X, m.To.Z)}
		if m.IsArc() {
			b := geom.EmptyBox()
			for _, c := range m.Curves() {
				b = b.Union(c.Bounds())
			}
			e = geom.Curve{A: at(b.Min.X, m.From.Z), B: at(b.Max.X, m.To.Z)}
		}
		if e.A == e.B || seen[keyOf(e)] {
			continue
		}
		seen[keyOf(e)] = true
		parts, _ := clip(e, within)
		if m.Cuts() {
			lines = append(lines, parts...)
		} else {
			rapids = append(rapids, parts...)
		}
	}
	s.stroke(connect(lines), pathPen(), true)
	for _, e := range rapids {
		s.Line(e.A, e.B, rapidPen())
	}
}

// sideLevels names heights at the right of the wood: those that have a name,
// and of the passes as many as there is room for, the deepest first.
func (in BackPlotInput) sideLevels(s *Picture, h heights, wood geom.Box, c cuts) {
	t := smallType()
	var taken []float64
	say := func(z float64, text string) {
		y := h.y(z)
		if slices.ContainsFunc(taken, func(o float64) bool { return math.Abs(o-y) < t.Line() }) || text == "" {
			return
		}
		taken = append(taken, y)
		s.stroke([]Run{{[]geom.Curve{{A: geom.Pt(wood.Max.X+1, y), B: geom.Pt(wood.Max.X+4, y)}}, false}}, Thin(Ink), false)
		room := s.page.Max.X - pageMargin - wood.Max.X - 5
		s.Text(geom.Pt(wood.Max.X+5, y-t.em()*capEm/2), t.Fit(text, room), t)
	}
	for _, l := range in.Levels {
		say(l.Z, l.Name)
	}
	all := depths(in.Moves)
	order := []int{len(all) - 1, 0}
	for i := 1; i < len(all)-1; i++ {
		order = append(order, i)
	}
	for _, i := range order {
		if i >= 0 && i < len(all) {
			say(-all[i], in.Deep(all[i])+" deep")
		}
	}
}
