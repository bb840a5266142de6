package picture

import (
	"math"

	"github.com/srwiley/rasterx"
	"golang.org/x/image/math/fixed"

	"starwright/geom"
)

// pngBrush draws a picture into an image.
//
// Lines become areas by rasterx, which knows pens, dashes, joins and caps and
// nothing of fonts, files or screens. Pixels are this package's own work (see
// [coverage]): scanx, which comes with rasterx, needs a window system's images, and
// the vector rasteriser of x/image goes over the whole page for each line.
type pngBrush struct {
	to     *coverage
	corner geom.Point // the picture's upper left
	k      float64    // pixels in a millimetre
}

// flat is how far a chord may lie from its curve, in pixels.
const flat = 0.03

func (b *pngBrush) dot(p geom.Point) dot {
	at := func(v float64) int { return int(math.Round(v * b.k * parts)) }
	return dot{at(p.X - b.corner.X), at(b.corner.Y - p.Y)}
}

// Fill paints an area.
func (b *pngBrush) Fill(area []Run, c Color) {
	for _, r := range area {
		pts := b.chords(r)
		for i, p := range pts {
			b.to.edge(p, pts[(i+1)%len(pts)])
		}
	}
	b.to.paint(c.RGBA8())
}

// Stroke draws lines.
func (b *pngBrush) Stroke(lines []Run, p Pen) {
	d := rasterx.NewDasher(0, 0, &strokeEdges{to: b.to})
	end := rasterx.ButtCap
	if p.Round {
		end = rasterx.RoundCap
	}
	var dashes []float64
	for _, v := range p.Dash {
		dashes = append(dashes, v*b.k*parts/64)
	}
	d.SetStroke(fixed.Int26_6(math.Round(p.Width*b.k*parts)), 0, end, end, rasterx.RoundGap, rasterx.Round, dashes, 0)
	for _, r := range lines {
		pts := b.chords(r)
		if len(pts) == 0 {
			continue
		}
		d.Start(pts[0].fixed())
		for _, p := range pts[1:] {
			d.Line(p.fixed())
		}
		d.Stop(r.Closed)
		if len(p.Dash) == 0 {
			turns(&d.Filler, pts, r.Closed, p.Width*b.k*parts/2)
		}
	}
	b.to.paint(p.Color.RGBA8())
}

// turns adds the round ends where a line goes back the way it came, as a cutter
// does in a slot: rasterx takes such a corner for none.
func turns(f *rasterx.Filler, pts []dot, closed bool, half float64) {
	const none = 300 // what rasterx takes for no corner, and a little
	n := len(pts)
	for i, p := range pts {
		if !closed && (i == 0 || i == n-1) {
			continue
		}
		from, to := p.to(pts[(i+n-1)%n]).Mul(-1), p.to(pts[(i+1)%n])
		if from.Dot(to) >= 0 || math.Abs(from.Unit().Cross(to.Unit()))*half*half > none {
			continue
		}
		side := from.Unit().Mul(half)
		a, d := p.fixed(), dot{int(math.Round(side.Y)), int(math.Round(-side.X))}.fixed()
		rasterx.RoundCap(f, a, d)
		f.Start(a.Sub(d))
		f.Line(a.Add(d))
	}
}

func (d dot) to(e dot) geom.Point { return geom.Pt(float64(e.x-d.x), float64(e.y-d.y)) }

// chords returns a line as the corners of a polygon.
func (b *pngBrush) chords(r Run) []dot {
	var out []dot
	add := func(p geom.Point) {
		if s := b.dot(p); len(out) == 0 || out[len(out)-1] != s {
			out = append(out, s)
		}
	}
	for i, c := range r.Curves {
		if i == 0 {
			add(c.A)
		}
		for n, k := c.Chords(flat/b.k), 1; k <= n; k++ {
			add(c.At(float64(k) / float64(n)))
		}
	}
	return out
}

// Write draws the outlines of a word's letters.
func (b *pngBrush) Write(w Word) {
	f := w.face()
	u := geom.Polar(w.em()/f.em, w.Turn)
	o := w.Start()
	for _, ch := range w.Text {
		g := f.glyph(ch)
		at := func(q geom.Point) geom.Point { return o.Add(u.Mul(q.X)).Add(u.Left().Mul(q.Y)) }
		var first, last geom.Point
		for _, st := range g.strokes {
			p := at(st.p)
			switch st.op {
			case 'M':
				first = p
			case 'L':
				b.to.edge(b.dot(last), b.dot(p))
			case 'Q':
				b.parabola(last, at(st.c), p)
			case 'Z':
				p = first
				b.to.edge(b.dot(last), b.dot(p))
			}
			last = p
		}
		o = o.Add(u.Mul(g.advance))
	}
	b.to.paint(w.Color.RGBA8())
}

// parabola adds a curve of a letter's outline in chords. It lies a quarter of
// |p-2c+q| from one chord, and n times n times nearer to n of them.
func (b *pngBrush) parabola(p, c, q geom.Point) {
	bend := p.Sub(c).Add(q.Sub(c)).Len() * b.k / 4
	n := max(1, math.Ceil(math.Sqrt(bend/flat)))
	from := b.dot(p)
	for i := 1.0; i <= n; i++ {
		t := i / n
		to := b.dot(p.Lerp(c, t).Lerp(c.Lerp(q, t), t))
		b.to.edge(from, to)
		from = to
	}
}

// fixed returns the dot for rasterx: what is a 64th of a pixel there is a part
// of a pixel here, so that widths and directions come out finer.
func (d dot) fixed() fixed.Point26_6 {
	return fixed.Point26_6{X: fixed.Int26_6(d.x), Y: fixed.Int26_6(d.y)}
}

// strokeEdges takes from rasterx the edges of a stroke.
type strokeEdges struct {
	rasterx.Scanner // what asks for colours and sizes is never called
	to              *coverage
	at              dot
}

func (e *strokeEdges) Start(p fixed.Point26_6) { e.at = dot{int(p.X), int(p.Y)} }

func (e *strokeEdges) Line(p fixed.Point26_6) {
	next := dot{int(p.X), int(p.Y)}
	e.to.edge(e.at, next)
	e.at = next
}

// These three are called when rasterx sets itself up.
func (e *strokeEdges) SetBounds(int, int) {}
func (e *strokeEdges) SetWinding(bool)    {}
func (e *strokeEdges) Clear()             {}
