package picture

import (
	"strconv"
	"sync"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"starwright/geom"
)

// mmPerPoint is one point in millimetres: 1/72 in.
const mmPerPoint = geom.MMPerInch / 72

// face is one font with the outlines of the letters used so far.
type face struct {
	font *canvas.Font
	em   float64 // font units in an em

	mu     sync.Mutex
	glyphs map[rune]*glyph
}

// glyph is a letter in font units, Y up.
type glyph struct {
	id      uint16
	advance float64
	strokes []stroke
	svg     string // the same outline as SVG path data
}

// stroke is one step of a letter's outline. TrueType outlines know straight
// lines and parabolas only.
type stroke struct {
	op   byte // M, L, Q or Z
	c, p geom.Point
}

type faces struct{ regular, bold *face }

// loadFaces reads the two fonts, which are part of the program, once.
var loadFaces = sync.OnceValues(func() (*faces, error) {
	regular, err := newFace(goregular.TTF, canvas.FontRegular)
	if err != nil {
		return nil, err
	}
	bold, err := newFace(gobold.TTF, canvas.FontBold)
	if err != nil {
		return nil, err
	}
	return &faces{regular, bold}, nil
})

func newFace(ttf []byte, style canvas.FontStyle) (*face, error) {
	f, err := canvas.LoadFont(ttf, 0, style)
	if err != nil {
		return nil, err
	}
	return &face{font: f, em: float64(f.Head.UnitsPerEm), glyphs: map[rune]*glyph{}}, nil
}

// glyph returns the letter for r, or a question mark where the font has none.
func (f *face) glyph(r rune) *glyph {
	f.mu.Lock()
	defer f.mu.Unlock()
	if g, ok := f.glyphs[r]; ok {
		return g
	}
	id := f.font.GlyphIndex(r)
	if id == 0 {
		id = f.font.GlyphIndex('?')
	}
	o := &outliner{}
	// The fonts are those the program was built with: an error here could only
	// leave a letter blank.
	_ = f.font.GlyphPath(o, id, 0, 0, 0, 1, font.NoHinting)
	g := &glyph{id, float64(f.font.GlyphAdvance(id)), o.strokes, string(o.svg)}
	f.glyphs[r] = g
	return g
}

// width returns how wide the text is in ems. The fonts have no kerning, so
// that it is the sum of its letters.
func (f *face) width(s string) float64 {
	w := 0.0
	for _, r := range s {
		w += f.glyph(r).advance
	}
	return w / f.em
}

// outliner takes down a letter's outline as the font hands it out.
type outliner struct {
	strokes []stroke
	svg     []byte
}

func (o *outliner) add(op byte, c, p geom.Point) {
	o.strokes = append(o.strokes, stroke{op, c, p})
	o.svg = append(o.svg, op)
	pts := []geom.Point{p}
	switch op {
	case 'Z':
		pts = nil
	case 'Q':
		pts = []geom.Point{c, p}
	}
	for i, q := range pts {
		if i > 0 {
			o.svg = append(o.svg, ' ')
		}
		o.svg = strconv.AppendFloat(o.svg, q.X, 'f', -1, 64)
		o.svg = append(o.svg, ' ')
		o.svg = strconv.AppendFloat(o.svg, q.Y, 'f', -1, 64)
	}
}

func (o *outliner) MoveTo(x, y float64)         { o.add('M', geom.Point{}, geom.Pt(x, y)) }
func (o *outliner) LineTo(x, y float64)         { o.add('L', geom.Point{}, geom.Pt(x, y)) }
func (o *outliner) QuadTo(cx, cy, x, y float64) { o.add('Q', geom.Pt(cx, cy), geom.Pt(x, y)) }
func (o *outliner) Close()                      { o.add('Z', geom.Point{}, geom.Point{}) }

// CubeTo is asked for by the font library; these fonts have no such curves.
func (o *outliner) CubeTo(_, _, _, _, x, y float64) { o.LineTo(x, y) }
