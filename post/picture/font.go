package picture

import (
	"strconv"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"starwright/geom"
)

// mmPerPoint is one point in millimetres: 1/72 in.
const mmPerPoint = geom.MMPerInch / 72

// Fonts returns the two fonts, TrueType, for those who set words as text: in any
// other they would not be as wide as was measured.
func Fonts() (regular, bold []byte) { return goregular.TTF, gobold.TTF }

// face is one font with the outlines of the letters used so far.
type face struct {
	em float64 // font units in an em

	mu     sync.Mutex
	font   *sfnt.Font
	buf    sfnt.Buffer
	glyphs map[rune]*glyph
}

// glyph is a letter in font units, Y up.
type glyph struct {
	lacks   bool // the font has none; it is a question mark
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
	regular, err := newFace(goregular.TTF)
	if err != nil {
		return nil, err
	}
	bold, err := newFace(gobold.TTF)
	if err != nil {
		return nil, err
	}
	return &faces{regular, bold}, nil
})

func newFace(ttf []byte) (*face, error) {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, err
	}
	return &face{font: f, em: float64(f.UnitsPerEm()), glyphs: map[rune]*glyph{}}, nil
}

// glyph returns the letter for r, or a question mark where the font has none.
func (f *face) glyph(r rune) *glyph {
	f.mu.Lock()
	defer f.mu.Unlock()
	if g, ok := f.glyphs[r]; ok {
		return g
	}
	// The fonts are those the program was built with: an error here could only
	// leave a letter blank.
	id, _ := f.font.GlyphIndex(&f.buf, r)
	g := &glyph{lacks: id == 0}
	if g.lacks {
		id, _ = f.font.GlyphIndex(&f.buf, '?')
	}
	// At as many pixels to the em as there are font units, these are the pixels.
	size := fixed.I(int(f.em))
	wide, _ := f.font.GlyphAdvance(&f.buf, id, size, font.HintingNone)
	g.advance = units(wide)
	segments, _ := f.font.LoadGlyph(&f.buf, id, size, nil)
	g.outline(segments)
	f.glyphs[r] = g
	return g
}

// has reports whether the font has a letter.
func (f *face) has(r rune) bool { return !f.glyph(r).lacks }

func units(v fixed.Int26_6) float64 { return float64(v) / 64 }

// width returns how wide the text is in ems. The fonts have no kerning, so
// that it is the sum of its letters.
func (f *face) width(s string) float64 {
	w := 0.0
	for _, r := range s {
		w += f.glyph(r).advance
	}
	return w / f.em
}

// outline takes down a letter's outline. The font hands it out with Y down, and
// closes a contour by a step back to where it began.
func (g *glyph) outline(segments sfnt.Segments) {
	var svg []byte
	add := func(op byte, c, p geom.Point) {
		g.strokes = append(g.strokes, stroke{op, c, p})
		svg = append(svg, op)
		pts := []geom.Point{p}
		switch op {
		case 'Z':
			pts = nil
		case 'Q':
			pts = []geom.Point{c, p}
		}
		for i, q := range pts {
			if i > 0 {
				svg = append(svg, ' ')
			}
			svg = strconv.AppendFloat(svg, q.X, 'f', -1, 64)
			svg = append(svg, ' ')
			svg = strconv.AppendFloat(svg, q.Y, 'f', -1, 64)
		}
	}
	at := func(p fixed.Point26_6) geom.Point { return geom.Pt(units(p.X), units(-p.Y)) }
	var none, first geom.Point
	for i, s := range segments {
		last := i+1 == len(segments) || segments[i+1].Op == sfnt.SegmentOpMoveTo
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			first = at(s.Args[0])
			add('M', none, first)
		case sfnt.SegmentOpLineTo:
			if p := at(s.Args[0]); !last || p != first { // else Z draws it
				add('L', none, p)
			}
		case sfnt.SegmentOpQuadTo:
			add('Q', at(s.Args[0]), at(s.Args[1]))
		}
		if last {
			add('Z', none, none)
		}
	}
	g.svg = string(svg)
}
