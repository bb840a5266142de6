package picture

import (
	"math"

	"github.com/tdewolff/canvas"

	"starwright/geom"
)

// render draws all items in order.
func (s *Picture) render(r canvas.Renderer, text func(canvas.Renderer, Word, canvas.Matrix)) {
	if _, err := loadFaces(); err != nil {
		return
	}
	move := canvas.Identity.Translate(-s.page.Min.X, -s.page.Min.Y)
	for _, it := range s.items {
		if it.word != nil {
			text(r, *it.word, move)
			continue
		}
		if p := path(it.runs); !p.Empty() {
			r.RenderPath(p, it.style(), move)
		}
	}
}

// path returns runs as one path, arcs as true arcs.
func path(runs []run) *canvas.Path {
	p := &canvas.Path{}
	for _, r := range runs {
		if len(r.curves) == 0 {
			continue
		}
		p.MoveTo(r.curves[0].A.X, r.curves[0].A.Y)
		for _, c := range r.curves {
			if c.IsArc() {
				rad := c.Radius()
				p.ArcTo(rad, rad, 0, math.Abs(c.Bulge) > 1, c.Bulge > 0, c.B.X, c.B.Y)
			} else {
				p.LineTo(c.B.X, c.B.Y)
			}
		}
		if r.closed {
			p.Close()
		}
	}
	return p
}

// style returns how the item is drawn. Dashes are given to canvas in line
// widths.
func (it item) style() canvas.Style {
	st := canvas.DefaultStyle
	paint := canvas.Paint{Color: it.pen.Color.RGBA8()}
	if it.fill {
		st.Fill = paint
		return st
	}
	st.Fill = canvas.Paint{}
	st.Stroke = paint
	st.StrokeWidth = it.pen.Width
	st.StrokeJoiner = canvas.RoundJoin
	if it.pen.Round {
		st.StrokeCapper = canvas.RoundCap
	}
	for _, d := range it.pen.Dash {
		st.Dashes = append(st.Dashes, d/it.pen.Width)
	}
	return st
}

// pathText draws a word as the outlines of its letters.
func pathText(r canvas.Renderer, w Word, m canvas.Matrix) {
	f := w.face()
	p := &canvas.Path{}
	u := geom.Polar(w.em()/f.em, w.Turn)
	o := w.start()
	at := func(q geom.Point) (float64, float64) {
		q = micronPoint(o.Add(u.Mul(q.X)).Add(u.Left().Mul(q.Y)))
		return q.X, q.Y
	}
	for _, ch := range w.Text {
		g := f.glyph(ch)
		for _, st := range g.strokes {
			x, y := at(st.p)
			switch st.op {
			case 'M':
				p.MoveTo(x, y)
			case 'L':
				p.LineTo(x, y)
			case 'Q':
				cx, cy := at(st.c)
				p.QuadTo(cx, cy, x, y)
			case 'Z':
				p.Close()
			}
		}
		o = o.Add(u.Mul(g.advance))
	}
	if !p.Empty() {
		st := canvas.DefaultStyle
		st.Fill = canvas.Paint{Color: w.Color.RGBA8()}
		r.RenderPath(p, st, m)
	}
}

// Texts keeps words that were shaped for a writer that sets them as text, so
// that each is shaped once however often it stands in a document.
type Texts struct{ shaped map[textKey]*canvas.Text }

type textKey struct {
	text  string
	size  float64
	bold  bool
	color Color
}

// Canvas returns a picture as a canvas with its origin at the lower left, its words
// as text for writers that embed fonts, so that they can be selected and
// searched; those that t has already are not shaped again.
func (t *Texts) Canvas(s *Picture) *canvas.Canvas {
	w, h := s.Size()
	c := canvas.New(w, h)
	s.render(c, t.set)
	return c
}

// set draws a word as text.
func (t *Texts) set(r canvas.Renderer, w Word, m canvas.Matrix) {
	k := textKey{w.Text, w.Size, w.Bold, w.Color}
	line := t.shaped[k]
	if line == nil {
		if t.shaped == nil {
			t.shaped = map[textKey]*canvas.Text{}
		}
		line = canvas.NewTextLine(w.face().font.Face(w.Size, w.Color.RGBA8()), w.Text, canvas.Left)
		t.shaped[k] = line
	}
	o := w.start()
	r.RenderText(line, m.Translate(o.X, o.Y).Rotate(w.Turn.Degrees()))
}
