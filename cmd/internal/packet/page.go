package packet

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/post/outline"
	"starwright/post/page"
	"starwright/toolpath"
)

// pageData is what the page pictures/backplot.html shows: programs and
// drawings as they were read back from disk.
func (w *Work) pageData(proofs []Proof) page.Data {
	d := page.Data{Title: w.Title(), Unit: w.Job.Units}
	byPath := proofsByPath(proofs)
	for i := range w.Programs {
		g := &w.Programs[i]
		d.Programs = append(d.Programs, w.pageProgram(g, byPath[g.Path]))
	}
	for i := range w.Drawings {
		f := &w.Drawings[i]
		if p := byPath[f.Path]; p.Drawing != nil {
			d.Drawings = append(d.Drawings, pageDrawing(f, p))
		}
	}
	return d
}

// pageScript is about how long the page is without its data, bytes.
const pageScript = 120 << 10

// buildPage returns the page as one file.
func (w *Work) buildPage(proofs []Proof) ([]byte, error) {
	var b bytes.Buffer
	size := pageScript
	for i := range proofs {
		size += 2 * len(proofs[i].Text)
	}
	b.Grow(size)
	if err := page.Build(&b, w.pageData(proofs)); err != nil {
		return nil, fmt.Errorf("pictures/backplot.html: %w", err)
	}
	return b.Bytes(), nil
}

func (w *Work) pageProgram(g *Program, p *Proof) page.Program {
	unit := geom.Millimetre
	if g.UnitMM == geom.Inch.MM() {
		unit = geom.Inch
	}
	out := page.Program{
		Name: g.Plan.Name, File: g.Path, Use: g.Use, Unit: unit,
		Lines: strings.Split(strings.TrimSuffix(string(p.Text), "\n"), "\n"),
		Moves: p.Moves, Times: moveTimes(p.Moves, p.Stops, g.Plan.SpinUpS, w.Job.Machine.Accel), Rapid: rapidRate, Cutter: g.Task.Cutter, SafeZ: g.Task.Limits.SafeZ,
		Stops: p.Stops, Findings: p.Findings,
	}
	if g.Sheet != nil {
		w.pageSheet(g, &out)
	} else {
		w.pageFacet(g, &out)
	}
	return out
}

// pageFacet adds the facets and slots of a slot program.
func (w *Work) pageFacet(g *Program, out *page.Program) {
	out.Surface = "the facet"
	length := g.Slot.Unit.Segment.Facet
	x0, x1 := 0.0, length
	if g.Slot.Mirror {
		x0, x1 = -length, 0
	}
	own := w.of(g.Slot.Unit).Slot
	for k := range own.Stations {
		y := float64(k) * own.Pitch
		box := geom.Box{Min: geom.Pt(x0, y), Max: geom.Pt(x1, y+g.Slot.Unit.Thickness())}
		out.Shapes = append(out.Shapes, page.Shape{Role: page.Facet, Contour: geom.Rect(box)})
	}
	for _, p := range g.Task.Pockets {
		out.Shapes = append(out.Shapes, page.Shape{Role: page.SlotOutline, Name: p.Name, Contour: p.Outline, Depth: p.Depth})
	}
	valley := x1
	if g.Slot.Mirror {
		valley = x0
	}
	mid := g.Slot.Unit.Thickness() / 2
	out.Marks = []page.Mark{
		{At: geom.Pt(0, mid), Text: "star's centre"}, {At: geom.Pt(valley, mid), Text: "valley"},
		{At: geom.Pt((x0+x1)/2, 0), Text: "show face"},
	}
}

// pageSheet adds sheet, parts, holes, tabs and screw zones.
func (w *Work) pageSheet(g *Program, out *page.Program) {
	s := g.Sheet
	out.Surface, out.Stock = "the sheet's top", s.Thickness
	through := s.Thickness + s.Breakthrough
	out.Shapes = append(out.Shapes, page.Shape{Role: page.Sheet, Contour: geom.Rect(geom.Box{Max: geom.Pt(s.SheetW, s.SheetH)})})
	for _, p := range s.Parts {
		out.Shapes = append(out.Shapes, page.Shape{Role: page.Part, Name: p.Name, Contour: p.Outline, Depth: through, At: nameSpot(p)})
		for _, h := range p.Holes {
			out.Shapes = append(out.Shapes, page.Shape{Role: page.Hole, Contour: h, Depth: through})
		}
	}
	for _, t := range g.Tabs {
		out.Shapes = append(out.Shapes, page.Shape{Role: page.Tab, Name: t.Part, Contour: tabOutline(t.At, t.Along, t.Width, s.CutterDiameter)})
	}
	for _, z := range s.ScrewZones {
		out.Shapes = append(out.Shapes, page.Shape{Role: page.ScrewZone, Contour: geom.Rect(z)})
	}
}

// nameSpot returns where in a part's wood there is most room for its name, to the
// side before up and down; nil where nothing is cut out of the part.
func nameSpot(p toolpath.Part) *page.Spot {
	if len(p.Holes) == 0 {
		return nil
	}
	const tries = 40 // along each side
	around := rim{points: rimPoints(p)}
	b, best := p.Outline.Bounds(), &page.Spot{}
	for i := range tries * tries {
		at := geom.Pt(b.Min.X+(float64(i%tries)+0.5)/tries*b.W(), b.Min.Y+(float64(i/tries)+0.5)/tries*b.H())
		room, more := around.room(at, best.Room)
		if more && p.Outline.Contains(at) && !slices.ContainsFunc(p.Holes, func(h geom.Contour) bool { return h.Contains(at) }) {
			*best = page.Spot{Point: at, Room: room}
		}
	}
	return best
}

// rimPoints returns points close to each other along a part's outline and its holes.
func rimPoints(p toolpath.Part) []geom.Point {
	const fine = 0.1 // mm
	var points []geom.Point
	for _, c := range append([]geom.Contour{p.Outline}, p.Holes...) {
		for _, e := range c.Curves() {
			n := e.Chords(fine) + int(e.Length()/2)
			for i := range n {
				points = append(points, e.At(float64(i)/float64(n)))
			}
		}
	}
	return points
}

// rim is the points that a name keeps away from. The one that was in the way last
// is asked first: it is most likely in the way of the next place beside it too.
type rim struct {
	points []geom.Point
	last   int
}

// room returns how far a place is from the rim, to the side; up and down count for
// more, as a name is longer than high. False, and no more is known, where that is
// not more than least.
func (r *rim) room(at geom.Point, least float64) (float64, bool) {
	const wide = 8.0 // a name is about so many times as long as it is high
	from := func(q geom.Point) float64 { return max(math.Abs(q.X-at.X), wide*math.Abs(q.Y-at.Y)) }
	if from(r.points[r.last]) <= least {
		return 0, false
	}
	room := math.Inf(1)
	for i, q := range r.points {
		if room = min(room, from(q)); room <= least {
			r.last = i
			return 0, false
		}
	}
	return room, true
}

// tabOutline is a tab seen from above: its width along the cut, the cutter's
// diameter across it.
func tabOutline(at, along geom.Point, width, across float64) geom.Contour {
	u, v := along.Mul(width/2), along.Left().Mul(across/2)
	return geom.Polygon(at.Sub(u).Sub(v), at.Add(u).Sub(v), at.Add(u).Add(v), at.Sub(u).Add(v))
}

// pageDrawing turns a DXF as it was read into what the page shows. A whole star is
// shown as it hangs and as its picture shows it, one tip up; in the file it lies with
// that tip along X.
func pageDrawing(d *Drawing, p *Proof) page.Drawing {
	f, use, lie := p.Drawing, d.Use, geom.Place{}
	box := geom.Box{}
	for i, c := range f.Contours {
		if b := c.Contour.Bounds(); i == 0 {
			box = b
		} else {
			box = box.Union(b)
		}
	}
	aside := func(at geom.Point) bool { return at.Y < box.Min.Y } // the check bar, which stays where it is
	if d.upright {
		lie, use = geom.Place{Turn: 90 * geom.Degree}, d.Use+"; shown with a tip up, which lies along X in the file"
	}
	name := strings.TrimSuffix(strings.TrimPrefix(d.Path, "dxf/"), ".dxf")
	out := page.Drawing{Name: name, File: d.Path, Use: use, UnitMM: f.Scale(), Findings: p.Findings}
	for _, c := range f.Contours {
		out.Contours = append(out.Contours, page.LayerContour{Layer: c.Layer, Contour: lie.Contour(c.Contour)})
	}
	for _, l := range f.Lines {
		a, b := lie.Point(l.A), lie.Point(l.B)
		if aside(l.A) && aside(l.B) {
			a, b = l.A, l.B
		}
		out.Lines = append(out.Lines, page.LayerLine{Layer: l.Layer, A: a, B: b})
	}
	for _, t := range f.Texts {
		at := lie.Point(t.At)
		if aside(t.At) {
			at = t.At
		}
		out.Texts = append(out.Texts, page.LayerText{Layer: t.Layer, At: at, Height: t.HeightMM, Text: t.Text})
	}
	if bar := outline.FindBar(f); bar != nil {
		out.Bar = &page.Bar{A: bar.A, B: bar.B, Stated: bar.StatedMM}
	}
	return out
}
