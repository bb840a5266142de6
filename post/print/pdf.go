package print

import (
	"fmt"

	"starwright/geom"
	"starwright/post/picture"
)

// PDF is a PDF in the making.
type PDF struct {
	Title string // of the job; stands at every foot
	Date  string // as it is printed; "" leaves a line to write on
	Paper Paper
	pages []*page
}

// page is one page: what flows over it, and views that are drawn enlarged.
type page struct {
	base  *picture.Picture
	views []view
	foot  bool // is written
}

// view is a drawing on a page: a sheet of its own, enlarged, its lower left at
// a place of the page.
type view struct {
	sheet *picture.Picture
	at    geom.Point
	zoom  float64
}

// New starts a document.
func New(p Paper, title, date string) *PDF {
	return &PDF{Title: title, Date: date, Paper: p}
}

// Pages returns how many pages there are so far.
func (d *PDF) Pages() int { return len(d.pages) }

// Words returns the words of each page, drawings included, in the order they
// were set.
func (d *PDF) Words() [][]string {
	out := make([][]string, len(d.pages))
	for i, p := range d.pages {
		sheets := []*picture.Picture{p.base}
		for _, v := range p.views {
			sheets = append(sheets, v.sheet)
		}
		for _, s := range sheets {
			for _, w := range s.Words() {
				out[i] = append(out[i], w.Text)
			}
		}
	}
	return out
}

// Faults lists what is wrong with the pages: words over words, labels that found
// no free place. A test asks; a page with a fault is still a page.
func (d *PDF) Faults() []string {
	var out []string
	for i, p := range d.pages {
		faults := p.base.Faults()
		for _, v := range p.views {
			faults = append(faults, v.sheet.Faults()...)
		}
		for _, f := range faults {
			out = append(out, fmt.Sprintf("page %d: %s", i+1, f))
		}
	}
	return out
}

func (d *PDF) addPage() *page {
	p := &page{base: picture.NewPage(d.Paper.W, d.Paper.H, d.Title)}
	d.pages = append(d.pages, p)
	return p
}

// Bytes returns the PDF. The same content makes the same bytes. Nothing can be
// added afterwards: the feet say how many pages there are.
func (d *PDF) Bytes() ([]byte, error) {
	if len(d.pages) == 0 {
		d.addPage()
	}
	w := newWriter(d.Paper, d.Title)
	for i, p := range d.pages {
		if !p.foot {
			d.foot(p, i+1)
		}
		p.foot = true
		w.page()
		w.draw(p.base, geom.Point{}, 1)
		for _, v := range p.views {
			w.draw(v.sheet, v.at, v.zoom)
		}
	}
	b, err := w.bytes()
	if err != nil {
		return nil, fmt.Errorf("the pages cannot be written: %w", err)
	}
	return b, nil
}

// foot writes job name, date and page number.
func (d *PDF) foot(p *page, number int) {
	t := picture.Type{Size: footSize, Color: picture.Ink}
	left, right := marginLeft, d.Paper.W-marginRight
	y := marginFoot
	p.base.Line(geom.Pt(left, y+5.5), geom.Pt(right, y+5.5), picture.Thin(picture.Ink))
	n := fmt.Sprintf("page %d of %d", number, len(d.pages))
	date := "Date: " + d.Date
	if d.Date == "" {
		date = "Date:"
	}
	const dateWide, ruleLong = 46.0, 30.0
	pageWide := t.Width("page 00 of 00")
	dateAt := right - pageWide - 6 - dateWide
	p.base.Text(geom.Pt(left, y), t.Fit(d.Title, dateAt-6-left), t)
	p.base.Text(geom.Pt(dateAt, y), date, t)
	if d.Date == "" {
		x := dateAt + t.Width(date) + 2
		p.base.Line(geom.Pt(x, y-0.8), geom.Pt(x+ruleLong, y-0.8), picture.Thin(picture.Ink))
	}
	t.Align = picture.AlignRight
	p.base.Text(geom.Pt(right, y), n, t)
}
