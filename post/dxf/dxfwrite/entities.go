package dxfwrite

import (
	"starwright/post/cut"
	"starwright/post/draft"
)

// entities prints everything that is drawn: contours, then lines, then texts.
func (p *printer) entities(d cut.Drawing) {
	for _, c := range d.Contours {
		p.contour(c)
		p.part()
	}
	for _, l := range d.Lines {
		p.start("LINE", l.Layer)
		p.place(10, p.grid.Cell(l.A))
		p.place(11, p.grid.Cell(l.B))
		p.part()
	}
	for _, t := range d.Texts {
		p.text(t)
		p.part()
	}
}

// part hands a part of the file on, where it is not kept whole.
func (p *printer) part() {
	if p.w != nil && len(p.buf) >= partSize {
		p.flush()
	}
}

// start begins an entity on a layer.
func (p *printer) start(entity, layer string) {
	p.word(0, entity)
	p.word(8, layer)
}

// contour prints a closed POLYLINE with its vertices.
func (p *printer) contour(c cut.Contour) {
	p.start("POLYLINE", c.Layer)
	p.number(66, 1) // vertices follow
	p.place(10, draft.Cell{})
	p.number(70, 1) // closed
	for _, v := range c.Contour {
		p.start("VERTEX", c.Layer)
		p.place(10, p.grid.Cell(v.Point))
		if b := bulgeDecimals.units(v.Bulge); b != 0 {
			p.fixed(42, bulgeDecimals, b)
		}
	}
	p.start("SEQEND", c.Layer)
}

func (p *printer) text(t cut.Label) {
	p.start("TEXT", t.Layer)
	p.place(10, p.grid.Cell(t.At))
	p.fixed(40, p.dec, max(1, p.grid.Steps(t.HeightMM)))
	p.word(1, label(t.Text))
	p.fixed(50, mmDecimals, mmDecimals.units(t.Turn.Normal().Degrees()))
	p.word(7, "STANDARD")
}
