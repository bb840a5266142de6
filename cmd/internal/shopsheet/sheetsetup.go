package shopsheet

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/words"
	"starwright/post/picture"
	"starwright/post/print"
)

// Sheet is a sheet of plywood as its program cuts it.
type Sheet struct {
	Path   string // of the program
	W, H   float64
	Parts  []geom.Contour
	Screws []geom.Box
	Bit    string      // the cutter, where the slots have another one
	Hold   [][2]string // how it is held: names and words
	Deep   string      // how far the cutter goes into what lies under the sheet
	Park   string      // where the cutter goes at the end; "" where it stays
	Board  bool        // it is a piece of board: its grain lies along X
}

// sheetSetups says how each sheet is set up on the CNC: where its zero is, what
// holds it, what lies under it. Of sheets that are held
// alike the first is drawn, where the page has room: each has a picture of its own.
func (m *maker) sheetSetups(f *print.Flow) {
	if len(m.Sheets) == 0 {
		return
	}
	const high, aRow = 42.0, 5.2 // mm
	f.Head("Sheets on the CNC")
	if m.flat() != nil {
		f.Text("Pieces of board lie as sheets do, their grain along X. Their tabs stand on the outer edges of the segments: the facets are joint faces, and half a millimetre shows there.")
	}
	f.Steps(
		"Lay a flat spoilboard under the whole sheet: the cutter goes through into it.",
		"Lay the sheet on it, its edges along X and Y, and hold it as the table below says.",
		"Set X0 Y0 over its lower left corner and Z0 on its top, with the cutter that the program names.",
		fmt.Sprintf("First run in the air, Z0 set above all clamps. Then set Z0 on the sheet: what holds it stays lower than %s over it.", m.clampHeight()),
		"Saw the tabs through when the cutter stands, and take out what hangs in the large cut-outs.",
	)
	for rest := m.Sheets; len(rest) > 0; {
		rows := rest[0].rows()
		n := slices.IndexFunc(rest, func(s Sheet) bool { return !slices.Equal(s.rows(), rows) })
		if n < 0 {
			n = len(rest)
		}
		p := m.sheetPanel(rest[0])
		f.Need(aRow * float64(len(rows)+1))
		f.Text(programsOf(rest[:n]) + ":")
		facts(f, rows...)
		if f.Left() >= high {
			f.View(p, high, m.say)
		}
		rest = rest[n:]
	}
}

// programsOf names the programs of sheets that follow each other, those of one
// kind from the first to the last.
func programsOf(sheets []Sheet) string {
	stem := func(s Sheet) string { return strings.TrimRight(strings.TrimSuffix(s.Path, ".nc"), "0123456789") }
	var out []string
	for len(sheets) > 0 {
		n := 1
		for n < len(sheets) && stem(sheets[n]) == stem(sheets[0]) {
			n++
		}
		switch first, last := sheets[0].Path, sheets[n-1].Path; n {
		case 1:
			out = append(out, first)
		case 2:
			out = append(out, first, last)
		default:
			out = append(out, first+" to "+last)
		}
		sheets = sheets[n:]
	}
	return words.List(out...)
}

// rows are the table of a sheet; sheets that follow each other and have the same
// share one.
func (s Sheet) rows() [][2]string {
	hold := slices.Clone(s.Hold)
	if s.Bit != "" {
		hold = append([][2]string{{"Cutter", s.Bit}}, hold...)
	}
	return append(hold, [2]string{"Into the spoilboard", s.Deep}, [2]string{"At the end", s.Park})
}

// sheetPanel shows a sheet from above: its zero, its parts, and where screws go.
func (m *maker) sheetPanel(s Sheet) picture.Panel {
	p := picture.Panel{Name: s.Path, Note: "hatched: screws", Room: picture.Room{Left: 12, Right: 4, Above: 2, Below: 6}}
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
	return p
}
