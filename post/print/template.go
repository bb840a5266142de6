package print

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/post/picture"
)

// Template is a shape in true size, mm.
type Template struct {
	Title   string
	Note    string // a few sentences below the title
	Outline geom.Contour
	Holes   []geom.Contour
	Guides  []geom.Contour  // never cut: dashed
	Axes    [][2]geom.Point // straight lines that are never cut: dashed
	Labels  []TemplateLabel
}

// TemplateLabel is words at a place of a template, centred on it; "\n" breaks
// the line. Those of a point stand beside it, clear of all lines, on each page
// that shows the point.
type TemplateLabel struct {
	At     geom.Point
	Text   string
	Point  bool
	Inside bool // of a point's words: they stand within the outline, or on no sheet where it has no room
}

// Sizes of a template's page, mm.
const (
	barRoom   = 19.0 // for the check bars
	overlap   = 14.0 // of neighbouring tiles
	markRound = 3.0  // radius of a register mark
	flatTol   = 0.01 // of arcs drawn as chords, a hundredth of a millimetre
	maxTiles  = 12   // along each side
)

// Lengths of the check bars, mm.
const (
	metricBar = 100.0
	inchBar   = 4 * geom.MMPerInch
	barHigh   = 2.5
)

// Template prints a shape in true size on as many pages as it takes. Where it
// takes several, neighbours overlap, and register marks say how they lie on
// each other.
func (d *PDF) Template(t Template) error {
	f := d.Section(t.Title)
	f.Compact()
	f.Text(t.Note)
	window := geom.Box{Min: geom.Pt(marginLeft, f.bottom()+barRoom), Max: geom.Pt(f.right(), f.y-2)}
	t = t.turned(window)
	b := t.Outline.Bounds()
	nx, ny := tiles(b.W(), window.W()), tiles(b.H(), window.H())
	if nx > maxTiles || ny > maxTiles {
		return fmt.Errorf("%s is too large to be printed in true size: it takes %d pages", t.Title, nx*ny)
	}
	// The shape lies in the middle of all tiles together.
	full := geom.Pt(float64(nx-1)*(window.W()-overlap)+window.W(), float64(ny-1)*(window.H()-overlap)+window.H())
	origin := b.Center().Sub(full.Mul(0.5))
	for row := range ny {
		for col := range nx {
			if row+col > 0 {
				f = d.Section(t.Title)
				f.Compact()
			}
			// Rows are counted from the top.
			at := origin.Add(geom.Pt(float64(col)*(window.W()-overlap), float64(ny-1-row)*(window.H()-overlap)))
			k := tile{s: f.page.base, window: window, move: window.Min.Sub(at)}
			if nx > 1 {
				k.seam = overlap
			}
			if ny > 1 {
				k.rise = overlap
			}
			k.draw(t)
			if nx*ny > 1 {
				k.seams(col, row, nx, ny)
				f.tileName(col, row, nx, ny)
			}
			f.checkBars()
		}
	}
	return nil
}

// tiles returns how many pages a length takes.
func tiles(length, window float64) int {
	if length <= window {
		return 1
	}
	return 1 + int(geom.Steps(length-window, window-overlap))
}

// turned returns the template turned by a quarter where that takes fewer pages.
func (t Template) turned(window geom.Box) Template {
	count := func(w, h float64) int { return tiles(w, window.W()) * tiles(h, window.H()) }
	b := t.Outline.Bounds()
	if count(b.W(), b.H()) <= count(b.H(), b.W()) {
		return t
	}
	p := geom.Place{Turn: 90 * geom.Degree}
	all := func(cs []geom.Contour) []geom.Contour {
		out := make([]geom.Contour, len(cs))
		for i, c := range cs {
			out[i] = p.Contour(c)
		}
		return out
	}
	t.Outline, t.Holes, t.Guides = p.Contour(t.Outline), all(t.Holes), all(t.Guides)
	axes := make([][2]geom.Point, len(t.Axes))
	for i, a := range t.Axes {
		axes[i] = [2]geom.Point{p.Point(a[0]), p.Point(a[1])}
	}
	t.Axes = axes
	labels := make([]TemplateLabel, len(t.Labels))
	for i, l := range t.Labels {
		labels[i] = TemplateLabel{p.Point(l.At), l.Text, l.Point, l.Inside}
	}
	t.Labels = labels
	return t
}

// tile is one page's window onto a template.
type tile struct {
	s      *picture.Picture
	window geom.Box
	move   geom.Point // from the template to the page
	seam   float64    // left and right, where words would meet the marks
	rise   float64    // and below and above
}

func (k tile) draw(t Template) {
	cut := picture.Pen{Color: picture.Ink, Width: 0.25}
	k.contour(t.Outline, cut)
	for _, h := range t.Holes {
		k.contour(h, cut)
	}
	dashed := picture.Pen{Color: picture.Ink, Width: 0.2, Dash: []float64{3, 2}}
	for _, g := range t.Guides {
		k.contour(g, dashed)
	}
	for _, a := range t.Axes {
		if p, q, ok := clip(a[0].Add(k.move), a[1].Add(k.move), k.window); ok {
			k.s.Line(p, q, dashed)
		}
	}
	typ := lettering(smallSize, false)
	typ.Align = picture.AlignCenter
	for _, l := range t.Labels {
		if l.Point {
			k.pointLabel(t, l, typ)
			continue
		}
		k.label(l, typ)
	}
}

// pointLabel sets words beside a point, at the nearest place that no line of the
// template crosses; nowhere, where there is none on this sheet.
func (k tile) pointLabel(t Template, l TemplateLabel, typ picture.Type) {
	if at, ok := k.beside(t, l, typ.Width(l.Text)); ok {
		k.s.Text(at, l.Text, typ)
	}
}

// beside finds that place: the middle of the words' foot, so many mm wide.
func (k tile) beside(t Template, l TemplateLabel, wide float64) (foot geom.Point, ok bool) {
	const clear, below, above = 1.2, 1.0, 3.0 // mm: round the words, and of a line from its foot
	at := l.At.Add(k.move)
	if !k.window.Holds(geom.Box{Min: at, Max: at}) {
		return foot, false
	}
	room := k.window
	room.Min, room.Max = room.Min.Add(geom.Pt(k.seam, k.rise)), room.Max.Sub(geom.Pt(k.seam, k.rise))
	half := wide/2 + clear
	for _, r := range []float64{1, 2, 3, 5, 8, 12, 17, 23, 30, 40} {
		const ways = 24
		for i := range ways {
			u := geom.Polar(1, geom.Deg(360*float64(i)/ways))
			c := at.Add(geom.Pt(u.X*(r+half), u.Y*(r+(above+below)/2+clear)))
			box := geom.Box{Min: c.Sub(geom.Pt(half, (above+below)/2+clear)), Max: c.Add(geom.Pt(half, (above+below)/2+clear))}
			if room.Holds(box) && !k.crossed(t, box) && (!l.Inside || t.Outline.Contains(c.Sub(k.move))) {
				return geom.Pt(c.X, c.Y-(above+below)/2+below), true
			}
		}
	}
	return foot, false
}

// crossed reports whether a line of a template passes through a box of the page.
func (k tile) crossed(t Template, box geom.Box) bool {
	through := func(a, b geom.Point) bool {
		_, _, ok := clip(a.Add(k.move), b.Add(k.move), box)
		return ok
	}
	for _, c := range slices.Concat([]geom.Contour{t.Outline}, t.Holes, t.Guides) {
		pts := c.Flatten(flatTol)
		for i, a := range pts {
			if through(a, pts[(i+1)%len(pts)]) {
				return true
			}
		}
	}
	for _, a := range t.Axes {
		if through(a[0], a[1]) {
			return true
		}
	}
	return false
}

// label sets the lines of a label about its place. Words that a seam would cut
// stand wholly on this side of it.
func (k tile) label(l TemplateLabel, typ picture.Type) {
	const below, above = 1.0, 4.0 // mm of a line, from its foot
	lines := strings.Split(l.Text, "\n")
	p := l.At.Add(k.move)
	top := p.Y + typ.Line()*float64(len(lines)-1)/2
	low := p.Y - typ.Line()*float64(len(lines)-1)/2
	if p.X < k.window.Min.X || p.X > k.window.Max.X || low-below < k.window.Min.Y || top+above > k.window.Max.Y {
		return
	}
	for i, s := range lines {
		half := typ.Width(s) / 2
		x := math.Max(k.window.Min.X+k.seam+half, math.Min(k.window.Max.X-k.seam-half, p.X))
		k.s.Text(geom.Pt(x, top-typ.Line()*float64(i)), s, typ)
	}
}

// contour draws what of a contour lies within the window, joined where it can
// be, so that dashes run on.
func (k tile) contour(c geom.Contour, pen picture.Pen) {
	pts := c.Flatten(flatTol)
	var run []geom.Curve
	flush := func() {
		if len(run) > 0 {
			k.s.Curves(run, pen)
		}
		run = nil
	}
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		p, q, ok := clip(a.Add(k.move), b.Add(k.move), k.window)
		if !ok {
			flush()
			continue
		}
		if n := len(run); n > 0 && run[n-1].B != p {
			flush()
		}
		run = append(run, geom.Curve{A: p, B: q})
	}
	flush()
}

// clip returns the part of a straight line within a box (Liang and Barsky
// 1984).
func clip(a, b geom.Point, box geom.Box) (p, q geom.Point, ok bool) {
	d := b.Sub(a)
	lo, hi := 0.0, 1.0
	for _, e := range [4][2]float64{
		{-d.X, a.X - box.Min.X}, {d.X, box.Max.X - a.X}, {-d.Y, a.Y - box.Min.Y}, {d.Y, box.Max.Y - a.Y},
	} {
		switch {
		case e[0] == 0 && e[1] < 0:
			return a, b, false
		case e[0] < 0:
			lo = math.Max(lo, e[1]/e[0])
		case e[0] > 0:
			hi = math.Min(hi, e[1]/e[0])
		}
	}
	if lo >= hi {
		return a, b, false
	}
	p, q = a, b
	if lo > 0 {
		p = a.Lerp(b, lo)
	}
	if hi < 1 {
		q = a.Lerp(b, hi)
	}
	return p, q, true
}

// seams draws the lines in the middle of each overlap, with two register marks
// on each: they come to lie on those of the neighbour.
func (k tile) seams(col, row, nx, ny int) {
	w := k.window
	dash := picture.Pen{Color: picture.Ink, Width: 0.15, Dash: []float64{1, 2}}
	for _, s := range []struct {
		is   bool
		a, b geom.Point
	}{
		{col > 0, geom.Pt(w.Min.X+overlap/2, w.Min.Y), geom.Pt(w.Min.X+overlap/2, w.Max.Y)},
		{col < nx-1, geom.Pt(w.Max.X-overlap/2, w.Min.Y), geom.Pt(w.Max.X-overlap/2, w.Max.Y)},
		{row < ny-1, geom.Pt(w.Min.X, w.Min.Y+overlap/2), geom.Pt(w.Max.X, w.Min.Y+overlap/2)},
		{row > 0, geom.Pt(w.Min.X, w.Max.Y-overlap/2), geom.Pt(w.Max.X, w.Max.Y-overlap/2)},
	} {
		if !s.is {
			continue
		}
		k.s.Line(s.a, s.b, dash)
		for _, t := range []float64{0.2, 0.8} {
			k.mark(s.a.Lerp(s.b, t))
		}
	}
}

// mark draws a register mark: a ring with a cross through it.
func (k tile) mark(o geom.Point) {
	pen := picture.Pen{Color: picture.Ink, Width: 0.15}
	const arm = markRound * 1.7
	k.s.Outline(geom.Circle(o, markRound), pen)
	k.s.Line(o.Sub(geom.Pt(arm, 0)), o.Add(geom.Pt(arm, 0)), pen)
	k.s.Line(o.Sub(geom.Pt(0, arm)), o.Add(geom.Pt(0, arm)), pen)
}

// tileName says which part of the whole a page is.
func (f *Flow) tileName(col, row, nx, ny int) {
	t := lettering(f.size, true)
	t.Align = picture.AlignRight
	name := fmt.Sprintf("row %d of %d, sheet %d of %d: lay ring on ring", row+1, ny, col+1, nx)
	f.page.base.Text(geom.Pt(f.right(), f.bottom()+barRoom-4.5), name, t)
}

// checkBars draws both bars with their lengths, at the same place of each page.
func (f *Flow) checkBars() {
	t := lettering(f.size, false)
	for i, b := range []struct {
		long float64
		name string
	}{{metricBar, "100 mm. Print at 100 %, not fitted"}, {inchBar, "4 in. Measure both before use"}} {
		at := geom.Pt(marginLeft, f.bottom()+1+float64(i)*6)
		f.page.base.Fill(picture.Ink, geom.Rect(geom.Box{Min: at, Max: at.Add(geom.Pt(b.long, barHigh))}))
		f.page.base.Text(at.Add(geom.Pt(b.long+3, 0)), b.name, t)
	}
}
