package picture

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// BackPlotInput is what the picture of a program shows: the moves as they were
// read from the file, over what they were to do. Lengths are mm, in the
// coordinates of the program.
type BackPlotInput struct {
	Title string
	Sub   string // a sentence or two: which file, what it cuts, what the check said
	Say   Say
	Deep  Say // prints depths of passes; nil for Say

	Moves  []toolpath.Move
	Cutter float64 // diameter

	Shapes  []Shape        // the wood and what lies on it, drawn below the cuts
	Targets []geom.Contour // what gets cleared or cut out, drawn over the cuts
	Tabs    []geom.Contour // what holds parts in the sheet, drawn over the cuts
	Lines   []Path
	Dims    []Dim
	Labels  []Label
	Keys    []Key  // of the shapes, for the legend
	Target  string // what the targets are, for the legend: "slot as asked for"

	Side   bool    // draw the view from the side below the view from above
	Depth  float64 // that the targets are cut to, for the view from the side
	Levels []Level // heights with a name

	Facts    []Fact // stand beside the view from above
	Findings []finding.Finding
	Notes    []string
}

// Level is a height (mm) with a name: 0 "Z0: the facet".
type Level struct {
	Z    float64
	Name string
}

// Sizes of a back-plot, mm on the page.
const (
	planHigh   = 165.0 // most, of the view from above
	factsWide  = 58.0
	listedMost = 12 // findings that are listed and flagged
)

// BackPlot returns the picture of a program that was read back: the path of the
// cutter, the wood it takes, lighter where it is shallow and darker where it is
// deep, rapids apart from cuts, and findings as numbered flags that are listed
// below.
func BackPlot(in BackPlotInput) *Picture {
	s := NewPicture(in.Title)
	s.Heading(in.Title, in.Sub)
	if in.Deep == nil {
		in.Deep = in.Say
	}
	p := in.plan()
	c := newCuts(in.Moves, p.bounds().Grow(geom.Touch))
	in.Moves = c.moves
	body := s.Body(planHigh)
	view := body
	if len(in.Facts) > 0 {
		view.Max.X -= factsWide + 4
	}
	p.over = func(s *Picture, v View) { in.drawCuts(s, v, c) }
	p.marks = func(s *Picture, v View, within geom.Box) { in.marks(s, v, c, within) }
	v := s.Draw(p, view, in.Say)
	if len(in.Facts) > 0 {
		s.Facts(geom.Pt(body.Max.X-factsWide, body.Max.Y-2), factsWide, in.Facts)
	}
	if in.Side {
		in.side(s, v, c)
	}
	s.Legend(in.legend(c))
	in.list(s)
	s.Notes(in.Notes...)
	if c.beyond > 0 {
		s.Notes(fmt.Sprintf("%d moves lead out of the picture.", c.beyond))
	}
	s.Trim()
	return s
}

// plan returns the view from above without the cuts.
func (in BackPlotInput) plan() Panel {
	p := Panel{Name: "from above", Shapes: in.Shapes, Dims: in.Dims, Labels: in.Labels, Lines: in.Lines,
		Room: Room{Left: 12, Right: 12, Above: 8, Below: 8}}
	if in.Side {
		p.Room.Right = levelRoom
	}
	for _, d := range in.Dims {
		if d.Side == Below {
			p.Room.Below = 0 // their rows leave room enough
		}
	}
	p.frame = geom.EmptyBox()
	for _, t := range in.Targets {
		p.frame = p.frame.Union(t.Bounds())
	}
	// The frame holds the whole way of the cutter, so that a cut that went
	// astray is seen; but one that went to the other end of the machine does
	// not shrink the work to a dot.
	near := p.bounds()
	near = near.Grow(math.Max(near.W(), near.H()) / 2)
	for _, m := range in.Moves {
		for _, q := range []geom.Point{m.From.XY(), m.To.XY()} {
			if near.Holds(geom.Box{Min: q, Max: q}) {
				p.frame = p.frame.Union(geom.Box{Min: q, Max: q}.Grow(in.Cutter / 2))
			}
		}
	}
	return p
}

// drawCuts draws swept wood, targets, the cutter's path and rapids.
func (in BackPlotInput) drawCuts(s *Picture, v View, c cuts) {
	c.sweep(s, v, in.Cutter)
	for _, t := range in.Tabs {
		s.shape(v.Contour(t), nil, Tab.looks())
	}
	for _, t := range in.Targets {
		s.Outline(v.Contour(t), Cleared.looks().pen)
	}
	c.path(s, v)
	c.rapids(s, v)
}

// marks sets what stands at places of the program: its zero, its ends, and the
// flags of findings.
func (in BackPlotInput) marks(s *Picture, v View, c cuts, within geom.Box) {
	if o := v.Point(geom.Point{}); within.Holds(geom.Box{Min: o, Max: o}) {
		s.originMark(o)
	}
	c.ends(s, v, within)
	for i, f := range in.Findings {
		if i == listedMost {
			break
		}
		if f.At != nil && f.At.XY().Finite() {
			if at := v.Point(f.At.XY()); within.Holds(geom.Box{Min: at, Max: at}) {
				s.flag(at, i+1, within)
			}
		}
	}
}

// originMark shows where X0 Y0 lies.
func (s *Picture) originMark(o geom.Point) {
	const r = 1.4
	s.Fill(White, geom.Circle(o, r))
	half := geom.Contour{{Point: o}, {Point: o.Add(geom.Pt(r, 0)), Bulge: math.Tan(math.Pi / 8)}, {Point: o.Add(geom.Pt(0, r))}}
	for _, turn := range []geom.Angle{0, 180 * geom.Degree} {
		at := geom.Place{Turn: turn, Move: o}
		s.Fill(Ink, at.Contour(geom.Place{Move: o.Mul(-1)}.Contour(half)))
	}
	s.Outline(geom.Circle(o, r), Thin(Ink))
}

// legend returns the keys of a back-plot.
func (in BackPlotInput) legend(c cuts) []Key {
	keys := append([]Key{}, in.Keys...)
	if len(in.Targets) > 0 && in.Target != "" {
		keys = append(keys, Key{Text: in.Target, Look: Cleared})
	}
	for i, used := range c.used {
		// From the side all passes are seen, from above only what no deeper
		// one ran along again.
		if !used && !(in.Side && i > 0) {
			continue
		}
		text := "cut on the way down"
		if i > 0 {
			text = "cut " + in.Deep(c.depths[i-1]) + " deep"
		}
		col := c.shade(i)
		keys = append(keys, Key{Text: text, sample: func(s *Picture, b geom.Box) { s.Fill(col, geom.Rect(b)) }})
	}
	line := func(text string, p Pen) {
		keys = append(keys, Key{Text: text, sample: func(s *Picture, b geom.Box) {
			s.Line(geom.Pt(b.Min.X, b.Center().Y), geom.Pt(b.Max.X, b.Center().Y), p)
		}})
	}
	line("way of the cutter's centre", pathPen())
	line("rapid, above the wood", rapidPen())
	if len(in.Tabs) > 0 {
		keys = append(keys, Key{Text: "tab", Look: Tab})
	}
	keys = append(keys, Key{Text: "X0 Y0", sample: func(s *Picture, b geom.Box) { s.originMark(b.Center()) }})
	return keys
}

// list writes the findings with the numbers of their flags.
func (in BackPlotInput) list(s *Picture) {
	if len(in.Findings) == 0 {
		return
	}
	b := s.Body(tallest)
	t := Type{Size: SizeText, Color: Ink}
	bold := Type{Size: SizeText, Color: Red, Bold: true}
	y := s.cursor - t.em() - 2
	s.Text(geom.Pt(b.Min.X, y), fmt.Sprintf("Findings: %d", len(in.Findings)), bold)
	const indent = 9
	for i, f := range in.Findings {
		y -= t.Line() + 0.8
		if i == listedMost {
			s.Text(geom.Pt(b.Min.X+indent, y), fmt.Sprintf("and %d more", len(in.Findings)-listedMost), t)
			break
		}
		s.Text(geom.Pt(b.Min.X, y), fmt.Sprint(i+1), bold)
		text := f.What
		if f.Line > 0 {
			text = fmt.Sprintf("line %d: %s", f.Line, text)
		}
		if f.Block != "" {
			text += "  [" + f.Block + "]"
		}
		y = s.Paragraph(geom.Pt(b.Min.X+indent, y), text, b.W()-indent, t)
	}
	s.MoveCursor(y - 2)
}
