package shopsheet

import (
	"fmt"
	"slices"

	"starwright/geom"
	"starwright/post/picture"
)

// Sheet is a sheet of plywood as its program cuts it.
type Sheet struct {
	Path   string // of the program
	W, H   float64
	Parts  []geom.Contour
	Screws []geom.Box
	Hold   [][2]string // how it is held: names and words
	Deep   string      // how far the cutter goes into what lies under the sheet
	Park   string      // where the cutter goes at the end; "" where it stays
}

// sheetSetups is the page on which each sheet is set up on the CNC: where its
// zero is, what holds it, what lies under it.
func (m *maker) sheetSetups() {
	if len(m.Sheets) == 0 {
		return
	}
	const high, slack = 62.0, 2.0 // mm
	f := m.doc.Section("Sheets on the CNC")
	f.Compact()
	f.Steps(
		"Lay a flat spoilboard that covers the whole sheet: the cutter goes through the sheet and into it.",
		"Lay the sheet on it, its edges along X and Y, and hold it as its table says. Look from the side: nothing stands as high as the clamps' limit.",
		"Set X0 Y0 over the lower left corner of the sheet and Z0 on its top, with the cutter that the program names.",
		fmt.Sprintf("Run the program in the air first, Z0 set above all clamps; then set Z0 on the sheet. Everything that holds the sheet stays lower than %s over its top.", m.clampHeight()),
		"Saw the tabs through when the cutter stands, and take out what hangs in the large cut-outs.",
	)
	for rest := m.Sheets; len(rest) > 0; rest = rest[min(2, len(rest)):] {
		f.Need(high + slack)
		if len(rest) > 1 {
			f.Beside(m.sheetPanel(rest[0]), m.sheetPanel(rest[1]), 0.5, high, m.say)
		} else {
			f.View(m.sheetPanel(rest[0]), high, m.say)
		}
	}
	for rest := m.Sheets; len(rest) > 0; {
		rows := rest[0].rows()
		n := slices.IndexFunc(rest, func(s Sheet) bool { return !slices.Equal(s.rows(), rows) })
		if n < 0 {
			n = len(rest)
		}
		title := rest[0].Path
		if n > 1 {
			title += " to " + rest[n-1].Path
		}
		f.Head(title)
		facts(f, rows...)
		rest = rest[n:]
	}
}

// rows are the table of a sheet; sheets that follow each other and have the same
// share one.
func (s Sheet) rows() [][2]string {
	return append(slices.Clone(s.Hold), [2]string{"Into the spoilboard", s.Deep}, [2]string{"At the end", s.Park})
}

// sheetPanel shows a sheet from above: its zero, its parts, and where screws go.
func (m *maker) sheetPanel(s Sheet) picture.Panel {
	p := picture.Panel{Name: s.Path, Note: "hatched: screws", Room: picture.Room{Left: 8, Right: 4, Above: 2, Below: 6}}
	if len(s.Screws) == 0 {
		p.Note = "no screws"
	}
	p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Rect(geom.Box{Max: geom.Pt(s.W, s.H)}), Look: picture.Board})
	for _, c := range s.Parts {
		p.Shapes = append(p.Shapes, picture.Shape{Contour: c, Look: picture.Facet})
	}
	for _, z := range s.Screws {
		p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Rect(z), Look: picture.Zone})
	}
	p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Circle(geom.Point{}, s.W*0.01), Look: picture.Solid})
	p.Labels = []picture.Label{{At: geom.Point{}, Text: "X0 Y0", Away: geom.Pt(-1, -1)}}
	p.Dims = []picture.Dim{
		{A: geom.Pt(0, 0), B: geom.Pt(s.W, 0), Side: picture.Below},
		{A: geom.Pt(0, 0), B: geom.Pt(0, s.H), Side: picture.Left},
	}
	return p
}
