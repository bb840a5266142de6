package print

import (
	"strconv"

	"starwright/geom"
	"starwright/post/picture"
)

// Sizes of letters in points, to be read at arm's length.
const (
	titleSize = 20.0
	headSize  = 14.5
	textSize  = 13.0
	smallSize = 11.0
	footSize  = 10.0
)

// Distances down the page, mm.
const (
	afterTitle = 4.0
	beforeHead = 4.5
	afterHead  = 1.2
	afterText  = 2.2
	afterItem  = 1.3
	itemIndent = 7.5
	boxSide    = 4.2 // of a box to tick
)

// Heights of letters in ems, as in the fonts used: capitals, and what hangs
// below the line.
const (
	capEm     = 0.72
	descentEm = 0.21
	mmPerPt   = geom.MMPerInch / 72
)

// Flow is a section of a document that is filled from the top down.
type Flow struct {
	doc   *PDF
	title string
	page  *page
	y     float64 // lower edge of what stands on the page, mm
	size  float64 // of the text, points
}

// Section starts a section on a new page.
func (d *PDF) Section(title string) *Flow {
	f := &Flow{doc: d, title: title, size: textSize}
	f.newPage(title)
	return f
}

// Compact sets what follows in smaller letters, for pages that are read once
// and at a table.
func (f *Flow) Compact() { f.size = smallSize }

// IsCompact reports whether the section is set in smaller letters.
func (f *Flow) IsCompact() bool { return f.size < textSize }

// tight is the part of the usual free room that small letters take.
func (f *Flow) tight() float64 {
	const compact = 0.55
	if f.size < textSize {
		return compact
	}
	return 1
}

func (f *Flow) newPage(title string) {
	f.page = f.doc.addPage()
	f.y = f.doc.Paper.H - marginTop
	t := picture.Type{Size: titleSize, Bold: true, Color: picture.Ink}
	for f.width() < t.Width(title) && t.Size > headSize {
		t.Size--
	}
	f.y -= t.Size * mmPerPt * capEm
	f.page.base.Text(geom.Pt(marginLeft, f.y), title, t)
	f.y -= 3
	f.page.base.Line(geom.Pt(marginLeft, f.y), geom.Pt(f.right(), f.y), picture.Thick(picture.Ink))
	f.y -= afterTitle
}

func (f *Flow) right() float64 { return f.doc.Paper.W - marginRight }

// width is the width of the body, mm.
func (f *Flow) width() float64 { return f.right() - marginLeft }

// bottom is the lowest Y of the body.
func (f *Flow) bottom() float64 { return marginFoot + footRoom }

// Left returns how much of the page is free, mm.
func (f *Flow) Left() float64 { return f.y - f.bottom() }

// Need goes on to a new page where less than so many mm are left.
func (f *Flow) Need(mm float64) {
	if f.Left() < mm {
		f.newPage(f.title + " (continued)")
	}
}

func lettering(size float64, bold bool) picture.Type {
	return picture.Type{Size: size, Bold: bold, Color: picture.Ink}
}

// lineOf is the height of a line of a type, mm.
func lineOf(t picture.Type) float64 { return t.Line() }

// lines writes lines from x down, breaking the page between them.
func (f *Flow) lines(x float64, ls []string, t picture.Type) {
	h := lineOf(t)
	for _, l := range ls {
		f.Need(h)
		f.page.base.Text(geom.Pt(x, f.y-t.Size*mmPerPt*capEm-(h-t.Size*mmPerPt)/2), l, t)
		f.y -= h
	}
}

// Head writes a heading within the section; it stays with what follows.
func (f *Flow) Head(text string) {
	f.Need(beforeHead + 3*lineOf(lettering(headSize, true)) + 6)
	f.y -= beforeHead * f.tight()
	f.lines(marginLeft, lettering(headSize, true).Wrap(text, f.width()), lettering(headSize, true))
	f.y -= afterHead
}

// Text writes a paragraph.
func (f *Flow) Text(text string) { f.text(text, false) }

// Strong writes a paragraph in bold letters.
func (f *Flow) Strong(text string) { f.text(text, true) }

func (f *Flow) text(text string, bold bool) {
	t := lettering(f.size, bold)
	f.lines(marginLeft, t.Wrap(text, f.width()), t)
	f.y -= afterText * f.tight()
}

// Steps writes numbered paragraphs.
func (f *Flow) Steps(steps ...string) {
	for i, s := range steps {
		f.item(s, strconv.Itoa(i+1)+".")
	}
}

// Points writes paragraphs with a dash.
func (f *Flow) Points(points ...string) {
	for _, s := range points {
		f.item(s, "–")
	}
}

// Ticks writes paragraphs with a box to tick.
func (f *Flow) Ticks(points ...string) {
	for _, s := range points {
		f.item(s, "")
	}
}

// item writes a paragraph with a mark before it, a box where that is "". Its
// first two lines stay together.
func (f *Flow) item(text, mark string) {
	t := lettering(f.size, false)
	ls := t.Wrap(text, f.width()-itemIndent)
	f.Need(lineOf(t) * float64(min(2, len(ls))))
	if mark == "" {
		f.tickBox(geom.Pt(marginLeft, f.y-lineOf(t)/2))
	} else {
		f.page.base.Text(geom.Pt(marginLeft, f.y-t.Size*mmPerPt*capEm-(lineOf(t)-t.Size*mmPerPt)/2), mark, lettering(f.size, mark != "–"))
	}
	f.lines(marginLeft+itemIndent, ls, t)
	f.y -= afterItem
}

// tickBox draws a box whose left side has its middle at p.
func (f *Flow) tickBox(p geom.Point) {
	b := geom.Box{Min: p.Add(geom.Pt(0, -boxSide/2)), Max: p.Add(geom.Pt(boxSide, boxSide/2))}
	f.page.base.Outline(geom.Rect(b), picture.Medium(picture.Ink))
}

// Write leaves named lines to write on.
func (f *Flow) Write(names ...string) {
	t := lettering(f.size, false)
	high := 9.0 * (1 + f.tight()) / 2
	for _, n := range names {
		f.Need(high)
		f.y -= high
		f.page.base.Text(geom.Pt(marginLeft, f.y+2), n, t)
		f.page.base.Line(geom.Pt(marginLeft+t.Width(n)+3, f.y+1.2), geom.Pt(f.right(), f.y+1.2), picture.Thin(picture.Ink))
	}
	f.y -= afterText
}

// Tall returns how much of a page numbered or ticked paragraphs take, mm.
func (f *Flow) Tall(items ...string) float64 {
	t := lettering(f.size, false)
	h := 0.0
	for _, s := range items {
		h += float64(len(t.Wrap(s, f.width()-itemIndent)))*lineOf(t) + afterItem
	}
	return h
}

// HeadTall is how much of a page a heading takes, mm.
func (f *Flow) HeadTall() float64 {
	return beforeHead*f.tight() + lineOf(lettering(headSize, true)) + afterHead
}
