package page

import (
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"io"
	"math"
	"strings"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// The steps in which the page holds numbers. A step of length is far below
// what a program can say (0.001 mm, 0.0001 in) and what an eye can see.
const (
	lengthStep = 1e-4 // mm
	angleStep  = 1e-7 // radians: 0.01 mm at a radius of 100 m
	rateStep   = 1e-3 // mm/min and rev/min
	timeStep   = 1e-5 // seconds
)

// maxShown is how many letters of a line of a file the page shows.
const maxShown = 300

// The document as the page's script reads it: title, unit, programs and
// drawings.
type (
	program struct {
		Name     string            `json:"name"`
		File     string            `json:"file"`
		Use      string            `json:"use"`
		Unit     string            `json:"unit"`
		Text     string            `json:"text"` // lines joined by \n
		Count    int               `json:"count"`
		Moves    string            `json:"moves"`
		Times    string            `json:"times,omitempty"`
		Rapid    float64           `json:"rapid"`
		Cutter   float64           `json:"cutter"`
		SafeZ    float64           `json:"safe_z"`
		Stock    float64           `json:"stock"`
		Surface  string            `json:"surface"`
		Shapes   []shape           `json:"shapes"`
		Marks    []mark            `json:"marks"`
		Stops    []int             `json:"stops"`
		Findings []finding.Finding `json:"findings"`
	}
	shape struct {
		Role  string    `json:"role"`
		Name  string    `json:"name,omitempty"`
		At    []float64 `json:"at,omitempty"` // X, Y, room
		Depth float64   `json:"depth"`
		C     outline   `json:"c"`
	}
	mark struct {
		At   pair   `json:"at"`
		Text string `json:"text"`
	}
	drawing struct {
		Name     string            `json:"name"`
		File     string            `json:"file"`
		Use      string            `json:"use"`
		UnitMM   float64           `json:"unit_mm"`
		Contours []layerContour    `json:"contours"`
		Lines    []layerLine       `json:"lines"`
		Texts    []layerText       `json:"texts"`
		Bar      *bar              `json:"bar"`
		Findings []finding.Finding `json:"findings"`
	}
	layerContour struct {
		Layer string  `json:"layer"`
		C     outline `json:"c"`
	}
	layerLine struct {
		Layer string `json:"layer"`
		A     pair   `json:"a"`
		B     pair   `json:"b"`
	}
	layerText struct {
		Layer  string  `json:"layer"`
		At     pair    `json:"at"`
		Height float64 `json:"height"`
		Turn   float64 `json:"turn"` // radians
		Text   string  `json:"text"`
	}
	bar struct {
		A      pair    `json:"a"`
		B      pair    `json:"b"`
		Stated float64 `json:"stated"`
	}
	pair    [2]float64
	outline [][3]float64 // x, y, bulge
)

// encode writes the data, which has been checked, as the document, one program
// and one drawing after the other: the whole is large.
func encode(w io.Writer, d Data) error {
	e := encoder{w: w, json: json.NewEncoder(w)}
	e.raw(`{"title":`)
	e.value(plain(d.Title))
	e.raw(`,"unit":`)
	e.value(d.Unit.String())
	e.raw(`,"programs":[`)
	for i, p := range d.Programs {
		e.next(i, encodeProgram(p))
	}
	e.raw(`],"drawings":[`)
	for i, w := range d.Drawings {
		e.next(i, encodeDrawing(w))
	}
	e.raw(`]}`)
	return e.err
}

// encoder writes until something goes wrong.
type encoder struct {
	w    io.Writer
	json *json.Encoder
	err  error
}

func (e *encoder) raw(s string) {
	if e.err == nil {
		_, e.err = io.WriteString(e.w, s)
	}
}

func (e *encoder) value(v any) {
	if e.err == nil {
		e.err = e.json.Encode(v)
	}
}

// next writes the i-th element of a list.
func (e *encoder) next(i int, v any) {
	if i > 0 {
		e.raw(",")
	}
	e.value(v)
}

func encodeProgram(p Program) program {
	out := program{Name: plain(p.Name), File: plain(p.File), Use: plain(p.Use), Unit: p.Unit.String(),
		Text: joined(p.Lines), Count: len(p.Moves), Moves: packMoves(p.Moves), Rapid: p.Rapid, Cutter: p.Cutter,
		SafeZ: p.SafeZ, Stock: p.Stock, Surface: plain(p.Surface), Stops: append([]int{}, p.Stops...),
		Shapes: make([]shape, len(p.Shapes)), Marks: make([]mark, len(p.Marks)), Findings: findings(p.Findings)}
	if len(p.Times) > 0 {
		out.Times = packTimes(p.Times)
	}
	for i, s := range p.Shapes {
		out.Shapes[i] = shape{Role: string(s.Role), Name: plain(s.Name), Depth: s.Depth, C: corners(s.Contour)}
		if s.At != nil {
			out.Shapes[i].At = []float64{round(s.At.X), round(s.At.Y), round(s.At.Room)}
		}
	}
	for i, m := range p.Marks {
		out.Marks[i] = mark{At: place(m.At), Text: plain(m.Text)}
	}
	return out
}

func encodeDrawing(w Drawing) drawing {
	out := drawing{Name: plain(w.Name), File: plain(w.File), Use: plain(w.Use), UnitMM: w.UnitMM,
		Contours: make([]layerContour, len(w.Contours)), Lines: make([]layerLine, len(w.Lines)),
		Texts: make([]layerText, len(w.Texts)), Findings: findings(w.Findings)}
	for i, c := range w.Contours {
		out.Contours[i] = layerContour{Layer: plain(c.Layer), C: corners(c.Contour)}
	}
	for i, l := range w.Lines {
		out.Lines[i] = layerLine{Layer: plain(l.Layer), A: place(l.A), B: place(l.B)}
	}
	for i, t := range w.Texts {
		out.Texts[i] = layerText{Layer: plain(t.Layer), At: place(t.At), Height: round(t.Height),
			Turn: float64(t.Turn), Text: plain(t.Text)}
	}
	if w.Bar != nil {
		out.Bar = &bar{A: place(w.Bar.A), B: place(w.Bar.B), Stated: w.Bar.Stated}
	}
	return out
}

func findings(fs []finding.Finding) []finding.Finding {
	out := make([]finding.Finding, len(fs))
	for i, f := range fs {
		f.File, f.Block, f.What, f.InWood = plain(f.File), plain(f.Block), plain(f.What), plain(f.InWood)
		out[i] = f
	}
	return out
}

// round puts a length on the page's raster, so that it prints short.
func round(mm float64) float64 { return math.Round(mm/lengthStep)/(1/lengthStep) + 0 }

func place(p geom.Point) pair { return pair{round(p.X), round(p.Y)} }

func corners(c geom.Contour) outline {
	out := make(outline, len(c))
	for i, v := range c {
		out[i] = [3]float64{round(v.X), round(v.Y), v.Bulge}
	}
	return out
}

// plain makes text fit to be shown: no control letters, none that turn the
// direction of writing, and no more than [maxShown] of them.
func plain(s string) string {
	odd := func(r rune) bool { return r < ' ' || r > '~' }
	if len(s) <= maxShown && strings.IndexFunc(s, odd) < 0 {
		return s // as nearly all is
	}
	var b strings.Builder
	n := 0
	for _, r := range s {
		if n == maxShown {
			b.WriteRune('…')
			break
		}
		switch {
		case r < ' ' && r != '\t', r >= 0x7f && r < 0xa0, // control
			r >= 0x200b && r <= 0x200f, r >= 0x2028 && r <= 0x202e, // invisible, line ends, direction
			r >= 0x2060 && r <= 0x206f, r == 0xfeff:
			r = '\ufffd'
		case r == '\t':
			r = ' '
		}
		b.WriteRune(r)
		n++
	}
	return b.String()
}

func joined(lines []string) string {
	shown := make([]string, len(lines))
	for i, l := range lines {
		shown[i] = plain(strings.TrimSuffix(l, "\r"))
	}
	return strings.Join(shown, "\n")
}

// Flags in the first number of a packed move, above its two bits of kind.
const (
	flagFrom = 4 << iota // it starts elsewhere than the last one ended
	flagFeed             // its feed differs from the last one's
	flagRPM              // its spindle speed does
)

// packMoves writes moves as base64 of variable-length numbers (7 bits a byte,
// low ones first; signed ones zigzag), each as the difference to the last in
// the page's steps: about nine bytes a move. For each: kind and flags, line,
// the start where it is not the last end, the end, of an arc the centre from
// the start and the sweep, then feed and speed where they change.
func packMoves(moves []toolpath.Move) string {
	var b []byte
	num := func(d int64) { b = binary.AppendVarint(b, d) }
	steps := func(v, step float64) int64 { return int64(math.Round(v / step)) }
	at := [3]int64{}
	goTo := func(p geom.Point3) {
		for i, v := range [3]float64{p.X, p.Y, p.Z} {
			s := steps(v, lengthStep)
			num(s - at[i])
			at[i] = s
		}
	}
	line, feed, rpm := 0, int64(0), int64(0)
	for _, m := range moves {
		f, r := steps(m.Feed, rateStep), steps(m.RPM, rateStep)
		head := uint64(m.Kind)
		if at != [3]int64{steps(m.From.X, lengthStep), steps(m.From.Y, lengthStep), steps(m.From.Z, lengthStep)} {
			head |= flagFrom
		}
		if f != feed {
			head |= flagFeed
		}
		if r != rpm {
			head |= flagRPM
		}
		b = binary.AppendUvarint(b, head)
		num(int64(m.Line - line))
		line = m.Line
		if head&flagFrom != 0 {
			goTo(m.From)
		}
		goTo(m.To)
		if m.IsArc() {
			num(steps(m.Center.X-m.From.X, lengthStep))
			num(steps(m.Center.Y-m.From.Y, lengthStep))
			num(steps(float64(m.Sweep), angleStep))
		}
		if head&flagFeed != 0 {
			num(f - feed)
			feed = f
		}
		if head&flagRPM != 0 {
			num(r - rpm)
			rpm = r
		}
	}
	return base64.StdEncoding.EncodeToString(b)
}

// packTimes writes the seconds of each move in the same way.
func packTimes(seconds []float64) string {
	var b []byte
	for _, s := range seconds {
		b = binary.AppendVarint(b, int64(math.Round(s/timeStep)))
	}
	return base64.StdEncoding.EncodeToString(b)
}
