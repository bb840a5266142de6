package picture

import (
	"math"
	"slices"

	"starwright/geom"
	"starwright/toolpath"
)

// maxShades is how many depths get a shade of their own; eyes see no more.
const maxShades = 7

// cuts is the way of a cutter sorted for drawing.
type cuts struct {
	depths []float64 // of the passes, shallow to deep, mm
	pieces []piece   // in the wood, in the order of the program
	moves  []toolpath.Move
	used   []bool     // which shades occur: 0 less than the first pass, then the passes
	boxes  []geom.Box // of all pieces of a shade, hidden ones too
	frame  geom.Box
	beyond int // pieces that leave the picture
}

// piece is a stretch of the way that reached one of the depths all along.
type piece struct {
	geom.Curve
	shade int
}

// depthTol is by how much (mm) a move may miss a pass's depth and still count
// as that pass.
const depthTol = 0.002

// newCuts sorts the moves that are seen within a box of the plane. Of a piece
// that leaves it only what lies inside is kept.
func newCuts(moves []toolpath.Move, frame geom.Box) cuts {
	c := cuts{depths: depths(moves), frame: frame}
	c.moves = moves
	if i := slices.IndexFunc(moves, func(m toolpath.Move) bool { return !finite(m) }); i >= 0 {
		c.moves = slices.DeleteFunc(slices.Clone(moves), func(m toolpath.Move) bool { return !finite(m) })
		c.beyond = len(moves) - len(c.moves)
	}
	c.pieces = make([]piece, 0, len(c.moves)+len(c.moves)/4)
	for _, m := range c.moves {
		if m.Cuts() {
			c.split(m)
		}
	}
	kept := make([]piece, 0, len(c.pieces))
	for _, p := range c.pieces {
		parts, whole := clip(p.Curve, frame)
		if !whole {
			c.beyond++
		}
		for _, e := range parts {
			kept = append(kept, piece{e, p.shade})
		}
	}
	c.pieces = kept
	c.used = make([]bool, len(c.depths)+1)
	c.boxes = make([]geom.Box, len(c.used))
	for i := range c.boxes {
		c.boxes[i] = geom.EmptyBox()
	}
	for _, p := range c.pieces {
		c.boxes[p.shade] = c.boxes[p.shade].Union(p.Bounds())
	}
	c.pieces = deepest(c.pieces)
	for _, p := range c.pieces {
		c.used[p.shade] = true
	}
	return c
}

func finite(m toolpath.Move) bool {
	return m.From.XY().Finite() && m.To.XY().Finite() && m.Center.Finite() && geom.Pt(m.From.Z, m.To.Z).Finite() && geom.Pt(float64(m.Sweep), 0).Finite()
}

// depths returns the depths at which the cutter ran level, shallow to deep, at
// most as many as there are shades.
func depths(moves []toolpath.Move) []float64 {
	var all []float64
	for _, m := range moves {
		if m.Cuts() && m.To.Z < -depthTol && math.Abs(m.From.Z-m.To.Z) < depthTol && m.Length() > 0 {
			all = append(all, math.Round(-m.To.Z*1000)/1000)
		}
	}
	slices.Sort(all)
	all = slices.CompactFunc(all, func(a, b float64) bool { return math.Abs(b-a) < depthTol })
	if len(all) <= maxShades {
		return all
	}
	out := make([]float64, maxShades) // evenly, the deepest among them
	for i := range out {
		out[i] = all[(i+1)*len(all)/maxShades-1]
	}
	return out
}

// reached returns how many of the passes' depths a height is as deep as.
func (c *cuts) reached(z float64) int {
	n := 0
	for n < len(c.depths) && -z >= c.depths[n]-depthTol {
		n++
	}
	return n
}

// split adds the pieces of a move, parted where a ramp passes the depth of a
// pass.
func (c *cuts) split(m toolpath.Move) {
	if m.From.XY() == m.To.XY() && !m.IsArc() { // straight up or down
		if low := math.Min(m.From.Z, m.To.Z); low < 0 {
			c.pieces = append(c.pieces, piece{geom.Curve{A: m.To.XY(), B: m.To.XY()}, c.reached(low)})
		}
		return
	}
	curves := m.Curves()
	for i, e := range curves {
		n := float64(len(curves))
		z0 := m.From.Z + (m.To.Z-m.From.Z)*float64(i)/n
		z1 := m.From.Z + (m.To.Z-m.From.Z)*float64(i+1)/n
		ts := []float64{0, 1}
		for _, d := range append([]float64{0}, c.depths...) {
			// A depth that an end misses by rounding only is that end's.
			if t := (-d - z0) / (z1 - z0); t > 0 && t < 1 && math.Abs(d+z0) > depthTol && math.Abs(d+z1) > depthTol {
				ts = append(ts, t)
			}
		}
		slices.Sort(ts)
		for j := 1; j < len(ts); j++ {
			mid := z0 + (z1-z0)*(ts[j-1]+ts[j])/2
			if mid < 0 && ts[j] > ts[j-1] {
				c.pieces = append(c.pieces, piece{e.Part(ts[j-1], ts[j]), c.reached(mid)})
			}
		}
	}
}

// wayKey names a stretch whichever way it is run, to a thousandth of a mm.
type wayKey [5]int64

func keyOf(e geom.Curve) wayKey {
	if e.B.X < e.A.X || e.B.X == e.A.X && e.B.Y < e.A.Y {
		e = e.Reversed()
	}
	k := func(v float64) int64 { return int64(math.Round(v * 1000)) }
	return wayKey{k(e.A.X), k(e.A.Y), k(e.B.X), k(e.B.Y), k(e.Bulge * 100)}
}

// deepest leaves out stretches that a deeper pass runs along again, which
// nobody would see.
func deepest(ps []piece) []piece {
	best := map[wayKey]int{}
	for i, p := range ps {
		if j, ok := best[keyOf(p.Curve)]; !ok || ps[j].shade < p.shade {
			best[keyOf(p.Curve)] = i
		}
	}
	var out []piece
	for i, p := range ps {
		if best[keyOf(p.Curve)] == i {
			out = append(out, p)
		}
	}
	return out
}

// shade returns the colour of wood that was cut to the i-th depth.
func (c *cuts) shade(i int) Color {
	const light, dark Color = 0xe9eff3, 0x7f99b0
	return light.mix(dark, float64(i)/math.Max(1, float64(len(c.depths))))
}

func pathPen() Pen { return Pen{Color: Ink, Width: 0.18} }

func rapidPen() Pen { return Pen{Color: Rust, Width: 0.25, Dash: []float64{1.6, 1.2}} }

// sweep paints the wood that the cutter takes, shallow first.
func (c *cuts) sweep(s *Picture, v View, cutter float64) {
	for i := range c.used {
		var ps []geom.Curve
		for _, p := range c.pieces {
			if p.shade == i {
				ps = append(ps, p.Curve)
			}
		}
		pen := Pen{Color: c.shade(i), Width: cutter * v.Scale, Round: true}
		s.stroke(connect(v.Curves(ps)), pen, true)
	}
}

// path draws the way of the cutter's centre in the wood.
func (c *cuts) path(s *Picture, v View) {
	ps := make([]geom.Curve, len(c.pieces))
	for i, p := range c.pieces {
		ps[i] = p.Curve
	}
	s.stroke(connect(v.Curves(ps)), pathPen(), true)
}

// connect joins pieces that follow each other to connected lines. A piece of
// no length becomes a dot of almost none, which a round pen draws as a disc.
func connect(cs []geom.Curve) []Run {
	const dot = 0.002 // mm on the page
	var out []Run
	for _, c := range cs {
		if c.A.Dist(c.B) < dot && c.Bulge == 0 {
			c.B = c.A.Add(geom.Pt(dot, 0))
		}
		if n := len(out); n > 0 {
			last := out[n-1].Curves
			if last[len(last)-1].B.Dist(c.A) < dot {
				out[n-1].Curves = append(last, c)
				continue
			}
		}
		out = append(out, Run{[]geom.Curve{c}, false})
	}
	return out
}

// rapids draws the travel, each way once.
func (c *cuts) rapids(s *Picture, v View) {
	seen := map[wayKey]bool{}
	for _, m := range c.moves {
		e := geom.Curve{A: m.From.XY(), B: m.To.XY()}
		if m.Cuts() || e.Length() < depthTol || seen[keyOf(e)] {
			continue
		}
		seen[keyOf(e)] = true
		parts, _ := clip(e, c.frame)
		for _, e := range parts {
			s.Line(v.Point(e.A), v.Point(e.B), rapidPen())
		}
	}
}

// ends marks where the program starts and ends.
func (c *cuts) ends(s *Picture, v View, within geom.Box) {
	if len(c.moves) == 0 {
		return
	}
	first, last := v.Point(c.moves[0].To.XY()), v.Point(c.moves[len(c.moves)-1].To.XY())
	mark := func(at geom.Point, text string) {
		if within.Holds(geom.Box{Min: at, Max: at}) {
			s.Fill(White, geom.Circle(at, 1.0))
			s.Outline(geom.Circle(at, 1.0), Medium(Rust))
			s.label(at, Label{Text: text, Mark: Arrow, Color: Rust}, within)
		}
	}
	const same = 1.0 // mm on the page
	if first.Dist(last) < same {
		mark(first, "start and end")
		return
	}
	mark(first, "start")
	mark(last, "end")
}

// clip returns what of a curve lies within a box, and whether that is all of
// it. Arcs that leave the box become chords.
func clip(e geom.Curve, b geom.Box) (in []geom.Curve, whole bool) {
	if b.Holds(e.Bounds()) {
		return []geom.Curve{e}, true
	}
	const tol = 0.05 // mm
	n := 1
	if e.IsArc() {
		n = min(e.Chords(tol), 400)
	}
	from := e.A
	for i := 1; i <= n; i++ {
		to := e.At(float64(i) / float64(n))
		if t0, t1, ok := clipLine(from, to, b); ok {
			in = append(in, geom.Curve{A: from.Lerp(to, t0), B: from.Lerp(to, t1)})
		}
		from = to
	}
	return in, false
}

// clipLine returns which part of the way from p to q lies within a box (Liang
// and Barsky, "A new concept and method for line clipping", 1984).
func clipLine(p, q geom.Point, b geom.Box) (t0, t1 float64, ok bool) {
	t0, t1 = 0, 1
	d := q.Sub(p)
	for _, side := range [4][2]float64{{-d.X, p.X - b.Min.X}, {d.X, b.Max.X - p.X}, {-d.Y, p.Y - b.Min.Y}, {d.Y, b.Max.Y - p.Y}} {
		switch by, room := side[0], side[1]; {
		case by == 0 && room < 0:
			return 0, 0, false
		case by < 0:
			t0 = math.Max(t0, room/by)
		case by > 0:
			t1 = math.Min(t1, room/by)
		}
	}
	return t0, t1, t0 < t1
}
