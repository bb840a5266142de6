package print

import (
	"bytes"
	"errors"
	"math"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"starwright/geom"
	"starwright/geom/words"
	"starwright/post/picture"
)

// writer writes pictures to the pages of a PDF, in black and greys.
//
// Pages, fonts and words are fpdf's work, which embeds a TrueType font cut down to
// the letters that are used. Lines and areas are written here, in the operators of
// ISO 32000-1, 8.5, to a thousandth of a point. A library that draws everything
// does both, and brings text shaping for all the world's scripts with it: with one,
// the program was a quarter larger, a licence in its tree asked something of
// those who hand the program on, and the clock had to be taken out of the embedded
// fonts afterwards.
type writer struct {
	pdf   *fpdf.Fpdf
	paper Paper
	buf   []byte
	// Of the picture being written: where the origin of its coordinates lies on
	// the page, and how much it is enlarged.
	origin geom.Point
	zoom   float64
}

const family = "go"

// whenever stands in the file where fpdf would ask the clock, until it is taken
// out.
var whenever = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

func newWriter(p Paper, title string) *writer {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: p.W, Ht: p.H}})
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetCatalogSort(true) // or fonts come in the order of a Go map
	pdf.SetCreationDate(whenever)
	pdf.SetModificationDate(whenever)
	pdf.SetTitle(words.ASCII(title), false)
	pdf.SetProducer("starwright", false)
	pdf.SetCreator("starwright", false)
	regular, bold := picture.Fonts()
	pdf.AddUTF8FontFromBytes(family, "", regular)
	pdf.AddUTF8FontFromBytes(family, "B", bold)
	return &writer{pdf: pdf, paper: p}
}

// page begins a page.
func (w *writer) page() { w.pdf.AddPage() }

// draw writes a picture, enlarged, with its lower left at a place of the page.
func (w *writer) draw(s *picture.Picture, at geom.Point, zoom float64) {
	w.origin, w.zoom = at.Sub(s.Page().Min.Mul(zoom)), zoom
	s.DrawWith(w)
}

// errClock says that fpdf writes its dates in another way than it did.
var errClock = errors.New("the PDF's dates are not where they were")

// bytes returns the PDF. Blanks take the place of its dates: nothing else in the
// file moves then.
func (w *writer) bytes() ([]byte, error) {
	var b bytes.Buffer
	if err := w.pdf.Output(&b); err != nil {
		return nil, err
	}
	data := b.Bytes()
	for _, name := range []string{"/CreationDate", "/ModDate"} {
		date := []byte(name + whenever.Format(" (D:20060102150405)"))
		at := bytes.LastIndex(data, date)
		if at < 0 {
			return nil, errClock
		}
		copy(data[at:], bytes.Repeat([]byte(" "), len(date)))
	}
	return data, nil
}

// Fill paints an area.
func (w *writer) Fill(area []picture.Run, c picture.Color) {
	w.begin()
	w.number(areaGrey(c))
	w.op("g")
	w.path(area)
	w.op("f")
	w.end()
}

// Stroke draws lines.
func (w *writer) Stroke(lines []picture.Run, p picture.Pen) {
	w.begin()
	w.number(lineGrey(p.Color))
	w.op("G")
	w.length(p.Width)
	w.op("w")
	if p.Round {
		w.op("1 J")
	}
	w.op("1 j")
	if len(p.Dash) > 0 {
		w.buf = append(w.buf, '[')
		for _, d := range p.Dash {
			w.length(d)
		}
		w.op("] 0 d")
	}
	w.path(lines)
	w.op("S")
	w.end()
}

// Write sets a word, in black.
func (w *writer) Write(word picture.Word) {
	style := ""
	if word.Bold {
		style = "B"
	}
	w.pdf.SetFont(family, style, word.Size*w.zoom)
	at := w.place(word.Start())
	x, y := at.X, w.paper.H-at.Y
	if word.Turn == 0 {
		w.pdf.Text(x, y, word.Letters())
		return
	}
	w.pdf.TransformBegin()
	w.pdf.TransformRotate(word.Turn.Degrees(), x, y)
	w.pdf.Text(x, y, word.Letters())
	w.pdf.TransformEnd()
}

// place returns where a point of the picture lies on the page, mm.
func (w *writer) place(p geom.Point) geom.Point { return w.origin.Add(p.Mul(w.zoom)) }

func (w *writer) begin() { w.buf = append(w.buf[:0], "q "...) }

func (w *writer) end() {
	w.buf = append(w.buf, 'Q')
	w.pdf.RawWriteStr(string(w.buf))
}

func (w *writer) op(name string) { w.buf = append(append(w.buf, name...), ' ') }

func (w *writer) number(v float64) {
	w.buf = append(strconv.AppendFloat(w.buf, math.Round(v*1000)/1000+0, 'f', -1, 64), ' ')
}

// length writes a length of the picture in points.
func (w *writer) length(mm float64) { w.number(mm * w.zoom / mmPerPt) }

func (w *writer) point(p geom.Point) {
	at := w.place(p)
	w.number(at.X / mmPerPt)
	w.number(at.Y / mmPerPt)
}

// path writes lines and arcs, these as the curves that a PDF knows.
func (w *writer) path(runs []picture.Run) {
	for _, r := range runs {
		if len(r.Curves) == 0 {
			continue
		}
		w.point(r.Curves[0].A)
		w.op("m")
		for _, c := range r.Curves {
			if !c.IsArc() {
				w.point(c.B)
				w.op("l")
				continue
			}
			w.arc(c)
		}
		if r.Closed {
			w.op("h")
		}
	}
}

// arc writes an arc as cubic curves, each over an eighth of a turn at most, where
// it leaves the circle by four millionths of the radius. The inner points lie on
// the tangents, 4/3 tan(sweep/4) of the radius from the ends; with the bulge, which
// is that tangent, this is (1-bulge²)/3 of the chord along it and 2 bulge/3 beside.
func (w *writer) arc(c geom.Curve) {
	n := math.Ceil(math.Abs(float64(c.Sweep())) / (math.Pi / 4))
	for i := range int(n) {
		p := c.Part(float64(i)/n, float64(i+1)/n)
		chord := p.B.Sub(p.A)
		along := chord.Mul((1 - p.Bulge*p.Bulge) / 3)
		aside := chord.Left().Mul(-2 * p.Bulge / 3)
		w.point(p.A.Add(along).Add(aside))
		w.point(p.B.Sub(along).Add(aside))
		w.point(p.B)
		w.op("c")
	}
}
