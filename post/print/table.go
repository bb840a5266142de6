package print

import (
	"starwright/geom"
	"starwright/post/picture"
)

// Column is a column of a table.
type Column struct {
	Head  string
	Wide  float64 // share of the width that is left beside the narrow columns; 0 for as wide as its words
	Right bool    // numbers
	Tick  bool    // a box to tick instead of words
}

// cellGap is the free room between two columns, mm.
const cellGap = 3.5

// Table writes rows under each other with a line between them. A row stays on
// one page; the heads are repeated on each.
func (f *Flow) Table(cols []Column, rows [][]string) { f.table(cols, rows, f.size) }

// SmallTable is [Flow.Table] in smaller letters, for lists that are looked
// things up in rather than worked from.
func (f *Flow) SmallTable(cols []Column, rows [][]string) { f.table(cols, rows, smallSize) }

func (f *Flow) table(cols []Column, rows [][]string, size float64) {
	t, bold := lettering(size, false), lettering(size, true)
	wide := f.columnWidths(cols, rows, t, bold)
	headed := false
	for _, c := range cols {
		headed = headed || c.Head != ""
	}
	head := func() {
		if !headed {
			return
		}
		cells := make([]string, len(cols))
		for i, c := range cols {
			cells[i] = c.Head
		}
		f.row(cols, wrapCells(cells, wide, bold), wide, bold, false)
		f.rule(picture.Medium(picture.Ink))
	}
	start := 2.0
	for i, r := range rows {
		cells := wrapCells(r, wide, t)
		high := rowHigh(cells, t)
		if i == 0 {
			f.Need(high + start*lineOf(bold) + 3)
			head()
		} else if f.Left() < high {
			f.newPage(f.title + " (continued)")
			head()
		}
		f.row(cols, cells, wide, t, true)
		f.rule(picture.Pen{Color: picture.Grey, Width: 0.15})
	}
	f.y -= afterText
}

// columnWidths gives narrow columns the width of their words and shares what is
// left.
func (f *Flow) columnWidths(cols []Column, rows [][]string, t, bold picture.Type) []float64 {
	wide := make([]float64, len(cols))
	left, shares := f.width()-cellGap*float64(len(cols)-1), 0.0
	for i, c := range cols {
		switch {
		case c.Wide > 0:
			shares += c.Wide
			continue
		case c.Tick:
			wide[i] = max(boxSide, bold.Width(c.Head))
		default:
			wide[i] = bold.Width(c.Head)
			for _, r := range rows {
				if i < len(r) {
					wide[i] = max(wide[i], t.Width(r[i]))
				}
			}
			wide[i] = min(wide[i], f.width()/2)
		}
		left -= wide[i]
	}
	for i, c := range cols {
		if c.Wide > 0 {
			wide[i] = max(15, left*c.Wide/shares)
		}
	}
	return wide
}

func wrapCells(cells []string, wide []float64, t picture.Type) [][]string {
	out := make([][]string, len(wide))
	const slack = 0.01 // mm, so that a column as wide as its words holds them
	for i := range wide {
		if i < len(cells) {
			out[i] = t.Wrap(cells[i], wide[i]+slack)
		}
	}
	return out
}

// rowPad is the free room above and below the words of a row together, mm.
const rowPad = 1.8

func rowHigh(cells [][]string, t picture.Type) float64 {
	n := 1
	for _, c := range cells {
		n = max(n, len(c))
	}
	return float64(n)*lineOf(t) + rowPad
}

// row writes one row whose cells were broken into lines.
func (f *Flow) row(cols []Column, cells [][]string, wide []float64, t picture.Type, ticks bool) {
	x := marginLeft
	em := t.Size * mmPerPt
	first := f.y - rowPad/2 - em*capEm - (lineOf(t)-em)/2
	for i, c := range cols {
		u := t
		at := x
		if c.Right {
			u.Align, at = picture.AlignRight, x+wide[i]
		}
		if c.Tick && ticks {
			f.tickBox(geom.Pt(x, f.y-rowPad/2-lineOf(t)/2))
		} else {
			for k, l := range cells[i] {
				f.page.base.Text(geom.Pt(at, first-float64(k)*lineOf(t)), l, u)
			}
		}
		x += wide[i] + cellGap
	}
	f.y -= rowHigh(cells, t)
}

func (f *Flow) rule(p picture.Pen) {
	f.page.base.Line(geom.Pt(marginLeft, f.y), geom.Pt(f.right(), f.y), p)
}
