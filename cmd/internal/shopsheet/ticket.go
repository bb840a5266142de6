package shopsheet

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/star"
	"starwright/geom/words"
)

// Ticket returns operator.txt: what the person at the laser or in the
// makerspace has to know, in plain text that a counter prints.
func Ticket(in Input) []byte {
	m := &maker{Input: in, u: in.Job.Units, say: in.Job.Units.Format}
	var b strings.Builder
	b.WriteString("OPERATOR'S TICKET\n" + strings.Repeat("=", ticketWide) + "\n")
	for _, s := range m.ticket() {
		b.WriteString("\n" + strings.ToUpper(s.head) + "\n")
		for _, l := range s.lines {
			for _, line := range words.Hang(l, ticketWide, "  ", "    ") {
				b.WriteString(line + "\n")
			}
		}
	}
	return []byte(b.String())
}

const ticketWide = 72 // letters; a narrow printer and a mail take it

// ticketPart is a heading of the ticket with its lines.
type ticketPart struct {
	head  string
	lines []string
}

// ticket is what both the text and the page say.
func (m *maker) ticket() []ticketPart {
	j := m.Job
	unit := "millimetres: one drawing unit is 1 mm"
	if j.Output.DXFUnits == geom.Inch {
		unit = "inches: one drawing unit is 1 in"
	}
	date := m.Date
	if date == "" {
		date = "____________"
	}
	parts := []ticketPart{
		{"Job", []string{"Job: " + m.Title, "Date: " + date, "Contact: ______________________________", "Machine: ______________________________"}},
		{"Files and unit", append([]string{
			"Format: DXF R12. Unit: " + unit + ".",
			"The folder svg has the same drawings as SVG, sizes in millimetres, layers as groups of the same names. Use one format or the other.",
			"Each file has a check bar on its layer GUIDE, with its length beside it. Measure it on the screen before you cut. If it is not that long, the import has scaled the drawing: stop.",
		}, m.ticketFiles()...)},
		{"Material", []string{
			fmt.Sprintf("Jigs: sheet %s thick, flat; plywood or MDF. Thickness as measured: ____________", m.say(j.Sheet.Thickness)),
		}},
		{"What is cut and what is never cut", []string{
			"Layers OUTLINE and HOLE are cut through: holes first, outlines last.",
			"Layers GUIDE and TEXT are never cut. Engrave TEXT if you like, or switch it off.",
			"Nothing is drawn twice; every contour is closed.",
		}},
		{"Tolerances", []string{
			"Keep true: the sloping edges of angle blocks, cradles, stands and gauges, straight within " + m.fine(0.1) + ", their angle within 0.1 degree.",
			"Not critical: outer corners, holes for screws and clamps, the back edges; " + m.fine(0.5) + " is fine there.",
		}},
		{"Kerf", []string{m.kerfLine()}},
	}
	if sp := m.splineStock(); sp != nil {
		parts[2].lines = append(parts[2].lines,
			fmt.Sprintf("Splines: stock %s thick, measured, within %s. Grain across the joint. As measured: ____________", m.u.FormatSize(sp.Thickness), m.fine(0.1)))
		parts[4].lines = append(parts[4].lines[:1:1], "Keep true: the thickness of the splines; their width within "+m.fine(0.2)+", their length within "+m.fine(0.5)+".", parts[4].lines[1])
	}
	return parts
}

// kerfLine says on which side of the lines the cut goes.
func (m *maker) kerfLine() string {
	if k := m.Job.Laser.Kerf; k != nil && *k > 0 {
		return fmt.Sprintf("The drawings dxf/laser-*.dxf have a kerf of %s made up for: cut them on the line, with the machine's own offset off. All other drawings show the true edges.", m.u.FormatFine(*k))
	}
	return "Lines are the true edges of the parts; no kerf is taken off. Set the machine to cut outside of OUTLINE and inside of HOLE by half its kerf. Without an offset parts come out smaller by half a kerf all round."
}

// ticketFiles lists the drawings to be cut from sheet: nested sheets, or the
// single parts for software that nests them.
func (m *maker) ticketFiles() []string {
	var sheets, parts []string
	for _, d := range m.Drawings {
		name := d.Path[strings.LastIndexByte(d.Path, '/')+1:]
		switch {
		case m.isStar(name): // for looking at
		case strings.HasPrefix(name, "sheet-"):
			sheets = append(sheets, fmt.Sprintf("[ ] %s: cut %d from %s", d.Path, d.Quantity, m.materialOf(name)))
		case strings.HasSuffix(name, "segment.dxf"):
			parts = append(parts, fmt.Sprintf("[ ] %s: cut only if the maker asks for it, %d from boards %s thick", d.Path, d.Quantity, m.say(m.boardOf(name))))
		default:
			parts = append(parts, fmt.Sprintf("[ ] %s: cut %d from %s", d.Path, d.Quantity, m.materialOf(name)))
		}
	}
	if len(sheets) == 0 {
		return parts
	}
	out := append([]string{"Either whole sheets, parts nested and spaced:"}, sheets...)
	out = append(out, "Or the single parts, if your software nests them. Do not cut both.")
	return append(out, parts...)
}

// isStar reports whether a drawing is one of a whole star.
func (m *maker) isStar(name string) bool {
	return slices.ContainsFunc(m.Order.Units, func(u *star.Unit) bool { return u.File("star")+".dxf" == name })
}

// splineStock returns a spline of the order, all being of one stock, or nil.
func (m *maker) splineStock() *star.Spline {
	for _, u := range m.Order.Units {
		if u.Spline != nil {
			return u.Spline
		}
	}
	return nil
}

// boardOf returns the thickness of the boards of a segment's drawing, mm.
func (m *maker) boardOf(name string) float64 {
	for _, u := range m.Order.Units {
		if u.File("segment")+".dxf" == name {
			return u.Thickness()
		}
	}
	return 0
}

// materialOf says what a drawing is cut from, by its name.
func (m *maker) materialOf(name string) string {
	sp := m.splineStock()
	if x := m.flat(); x != nil {
		for i, p := range x.Pieces {
			if name == fmt.Sprintf("sheet-segments-%d.dxf", i+1) {
				return fmt.Sprintf("board %s thick, grain along X", m.say(p.Thickness))
			}
		}
	}
	if strings.Contains(name, "splines") && sp != nil {
		return "spline stock, " + m.u.FormatSize(sp.Thickness)
	}
	return "jig sheet, " + m.say(m.Job.Sheet.Thickness)
}

// ticketPage is the ticket as a page.
func (m *maker) ticketPage() {
	f := m.doc.Section("Operator's ticket")
	f.Compact()
	for _, p := range m.ticket() {
		f.Head(p.head)
		for _, l := range p.lines {
			name, rest, _ := strings.Cut(l, ":")
			switch {
			case strings.HasPrefix(strings.TrimSpace(rest), "____"):
				f.Write(name + ":")
			case strings.HasPrefix(l, "[ ] "):
				f.Ticks(strings.TrimPrefix(l, "[ ] "))
			default:
				f.Text(l)
			}
		}
	}
}
