// Package dxfwrite writes a drawing as an ASCII DXF file of release 12
// (AC1009): comments, HEADER, TABLES, an empty BLOCKS, ENTITIES, EOF; closed
// POLYLINEs with bulges, LINEs and TEXT, no handles. What it writes is as the
// DXF reference of release 12 has it, with the numbers in fixed point.
//
// The writer adds nothing of its own and mends nothing: what package draft
// refuses is not written, not a byte of it. It does not prove what it wrote; that
// is dxfread's work, which shares no code with it.
package dxfwrite

import (
	"fmt"
	"io"

	"starwright/geom"
	"starwright/geom/words"
	"starwright/post/cut"
	"starwright/post/draft"
)

// commentWidth is the most letters in one comment line.
const commentWidth = 70

// layers lists each layer with its colour number. The colours (red, azure,
// green, grey in the usual palette) keep a contrast of 3:1 on white and on
// black both, since reading programs have either ground.
var layers = [...]struct {
	name   string
	colour int
}{
	{cut.Outline, 1},
	{cut.Hole, 150},
	{cut.Guide, 94},
	{cut.Text, 252},
}

// Write writes the drawing to w, or an error and nothing where the drawing
// cannot be cut as it stands. It holds no more than a part of the file at a
// time.
func Write(w io.Writer, d cut.Drawing) error {
	p, err := newPrinter(d)
	if err != nil {
		return err
	}
	p.w, p.buf = w, make([]byte, 0, partSize+partSlack)
	p.drawing(d)
	p.flush()
	return p.err
}

// Bytes returns the drawing's file. The same drawing gives the same bytes.
func Bytes(d cut.Drawing) ([]byte, error) {
	p, err := newPrinter(d)
	if err != nil {
		return nil, err
	}
	p.buf = make([]byte, 0, sizeOf(d))
	p.drawing(d)
	return p.buf, nil
}

// Sizes of what is written at a time, in bytes.
const (
	partSize  = 64 << 10
	partSlack = 4 << 10 // an entity that begins within a part seldom has more
)

// printer is the file under construction. It is made for a drawing that has
// been found fit to write, so nothing but w can fail.
type printer struct {
	buf  []byte
	dec  decimals
	grid draft.Grid // last digits in a millimetre
	box  geom.Box

	w   io.Writer // nil where buf is to hold it all
	err error     // the first of w
}

// newPrinter returns a printer for the drawing, or says why it cannot be
// written.
func newPrinter(d cut.Drawing) (*printer, error) {
	p := &printer{}
	switch d.UnitMM {
	case 1:
		p.dec, p.grid = mmDecimals, draft.Grid(mmDecimals.pow)
	case geom.MMPerInch:
		p.dec, p.grid = inchDecimals, draft.Grid(inchDecimals.pow/geom.MMPerInch)
	default:
		return nil, fmt.Errorf("drawing %q: %v mm in a drawing unit: write 1 (mm) or 25.4 (in)", d.Name, d.UnitMM)
	}
	p.box = d.Bounds()
	return p, draft.Check(d, p.grid, label)
}

// drawing prints the whole file.
func (p *printer) drawing(d cut.Drawing) {
	p.comments(d)
	p.header(p.box)
	p.tables()
	p.section("BLOCKS")
	p.endSection()
	p.section("ENTITIES")
	p.entities(d)
	p.endSection()
	p.word(0, "EOF")
}

// flush hands what is printed to the writer.
func (p *printer) flush() {
	if p.err == nil {
		_, p.err = p.w.Write(p.buf)
	}
	p.buf = p.buf[:0]
}

// sizeOf returns about how many bytes the file takes.
func sizeOf(d cut.Drawing) int {
	n := 2000 + 200*len(d.Lines) + 250*len(d.Texts) + 80*len(d.Comments)
	for _, c := range d.Contours {
		n += 120 + 80*len(c.Contour)
	}
	return n
}

// code starts a pair: the group code in three columns, on a line of its own.
func (p *printer) code(c int) {
	if c < len(codes) {
		p.buf = append(p.buf, codes[c][:]...)
		return
	}
	p.buf = append(appendUint(p.buf, uint64(c)), '\n')
}

// codes holds the lines of the codes below 100. Read only.
var codes = func() (lines [100][4]byte) {
	for c := range lines {
		lines[c] = [4]byte{' ', ' ', byte('0' + c%10), '\n'}
		if c >= 10 {
			lines[c][1] = byte('0' + c/10)
		}
	}
	return lines
}()

func (p *printer) word(c int, s string) {
	p.code(c)
	p.buf = append(append(p.buf, s...), '\n')
}

func (p *printer) number(c, n int) {
	p.code(c)
	p.buf = append(appendUint(p.buf, uint64(n)), '\n')
}

// fixed writes a value that is a whole number of last digits of d.
func (p *printer) fixed(c int, d decimals, n int64) {
	p.code(c)
	p.buf = append(d.append(p.buf, n), '\n')
}

// place writes a point under the codes c, c+10 and c+20 (Z, always 0).
func (p *printer) place(c int, q draft.Cell) {
	p.fixed(c, p.dec, q.X)
	p.fixed(c+10, p.dec, q.Y)
	p.code(c + 20)
	p.buf = append(p.buf, "0.0\n"...)
}

func (p *printer) section(name string) {
	p.word(0, "SECTION")
	p.word(2, name)
}

func (p *printer) endSection() { p.word(0, "ENDSEC") }

// comments says what is drawn and in which unit: release 12 has no header
// variable for the unit.
func (p *printer) comments(d cut.Drawing) {
	unit := "1 drawing unit = 1 mm"
	if d.UnitMM == geom.MMPerInch {
		unit = "1 drawing unit = 1 inch (25.4 mm)"
	}
	for _, s := range append([]string{d.Name, unit}, d.Comments...) {
		for _, line := range words.Wrap(words.ASCII(s), commentWidth) {
			p.word(999, line)
		}
	}
}

func (p *printer) header(b geom.Box) {
	p.section("HEADER")
	p.word(9, "$ACADVER")
	p.word(1, "AC1009")
	for _, v := range [...]struct {
		name string
		at   geom.Point
	}{{"$EXTMIN", b.Min}, {"$EXTMAX", b.Max}} {
		p.word(9, v.name)
		p.place(10, p.grid.Cell(v.at))
	}
	for _, v := range [...]struct {
		name string
		at   geom.Point
	}{{"$LIMMIN", b.Min}, {"$LIMMAX", b.Max}} {
		p.word(9, v.name)
		q := p.grid.Cell(v.at)
		p.fixed(10, p.dec, q.X)
		p.fixed(20, p.dec, q.Y)
	}
	p.endSection()
}

// tables writes the line type that the layers name, the layers, and the
// letters' style.
func (p *printer) tables() {
	p.section("TABLES")
	p.table("LTYPE", 1)
	p.word(0, "LTYPE")
	p.word(2, "CONTINUOUS")
	p.number(70, 0)
	p.word(3, "Solid line")
	p.number(72, 65) // alignment, always the letter A
	p.number(73, 0)
	p.fixed(40, p.dec, 0)
	p.word(0, "ENDTAB")

	p.table("LAYER", len(layers))
	for _, l := range layers {
		p.word(0, "LAYER")
		p.word(2, l.name)
		p.number(70, 0)
		p.number(62, l.colour)
		p.word(6, "CONTINUOUS")
	}
	p.word(0, "ENDTAB")

	p.table("STYLE", 1)
	p.word(0, "STYLE")
	p.word(2, "STANDARD")
	p.number(70, 0)
	p.fixed(40, p.dec, 0) // height: as each text says
	p.fixed(41, p.dec, int64(p.dec.pow))
	p.fixed(50, p.dec, 0)
	p.number(71, 0)
	p.fixed(42, p.dec, int64(barTextMM*float64(p.grid)))
	p.word(3, "txt")
	p.word(4, "")
	p.word(0, "ENDTAB")
	p.endSection()
}

// barTextMM is the last height used, which a STYLE must name.
const barTextMM = 2.5

func (p *printer) table(name string, n int) {
	p.word(0, "TABLE")
	p.word(2, name)
	p.number(70, n)
}
