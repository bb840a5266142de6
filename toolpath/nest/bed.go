package nest

import (
	"math"
	"slices"

	"starwright/geom"
)

// bed is one sheet while it fills.
type bed struct {
	s     *search
	parts []placed
	views []*view // by kind of turned part, nil where none was asked for
}

// view is what a bed looks like to one kind of turned part: the shapes that
// its lower left corner may not enter, and how far up it was looked already.
// A bed only gets fuller, so what had no room once never has again.
type view struct {
	bans []cluster // round each part
	many int       // how many shapes there are
	seen int       // parts whose shapes are in bans
	from float64   // lowest height that may have room
	wall []ban     // what closed the last row that had no room, see [view.closes]
	full bool
}

// cluster is the shapes round one part of a bed. They are shared, not copied, by all
// parts that are alike.
type cluster struct {
	off   *between
	at    geom.Point
	marks []mark // of each shape
}

// mark is the sides of a shape that the last row crossed, see [ban.ends]; 0 where
// none did. A hull has its lowest corner there, from which no left side starts.
type mark struct{ right, left int32 }

// ban is one shape on the bed.
type ban struct {
	sum  *sum
	mark *mark
	at   geom.Point
}

func (c *cluster) ban(k int) ban { return ban{&c.off.sums[k], &c.marks[k], c.at} }

func newCluster(off *between, at geom.Point, m *memory) cluster {
	marks := m.marks.take(len(off.sums))
	clear(marks)
	return cluster{off, at, marks}
}

func moved(b geom.Box, by geom.Point) geom.Box {
	return geom.Box{Min: b.Min.Add(by), Max: b.Max.Add(by)}
}

// box is the box round all of them on the bed, and boxOf that of one.
func (c *cluster) box() geom.Box { return moved(c.off.box, c.at) }

func (c *cluster) boxOf(k int) geom.Box { return moved(c.off.sums[k].box, c.at) }

// across is [hull.across] on the bed.
func (b *ban) across(y float64, m *memory) (from, to float64) {
	from, to = b.sum.hull(m).across(y - b.at.Y)
	return from + b.at.X, to + b.at.X
}

// ends and begins are the two ends of [ban.across] for the rows of a view, each of
// which lies above the last: the side that one crosses is looked for from the side
// that the last one crossed. Most rows need the end alone.
func (b *ban) ends(y float64, m *memory) float64 {
	h := b.sum.hull(m)
	y -= b.at.Y
	i := int(b.mark.right)
	for i+1 < h.top && h.pts[i+1].Y <= y {
		i++
	}
	b.mark.right = int32(i)
	return xAt(h.pts[i], h.pts[i+1], y) + b.at.X
}

func (b *ban) begins(y float64, m *memory) float64 {
	h := b.sum.hull(m)
	y -= b.at.Y
	n, i := len(h.pts), int(b.mark.left)
	if i == 0 {
		i = n - 1
	}
	for i > h.top && h.pts[i].Y < y {
		i--
	}
	b.mark.left = int32(i)
	next := i + 1
	if next == n {
		next = 0
	}
	return xAt(h.pts[i], h.pts[next], y) + b.at.X
}

// cut is where a row enters and leaves a shape, by fitTol within it at either end.
func (b *ban) cut(y float64, m *memory) (from, to float64) {
	return b.begins(y, m) + fitTol, b.ends(y, m) - fitTol
}

// upright is [hull.upright] on the bed.
func (b *ban) upright(x float64, m *memory) (from, to float64, ok bool) {
	x -= b.at.X
	if x <= b.sum.box.Min.X || x >= b.sum.box.Max.X {
		return 0, 0, false
	}
	from, to, ok = b.sum.hull(m).upright(x)
	return from + b.at.Y, to + b.at.Y, ok
}

func (s *search) newBed() *bed {
	b := &bed{}
	if n := len(s.memory.beds); n > 0 {
		b, s.memory.beds = s.memory.beds[n-1], s.memory.beds[:n-1]
	}
	b.s, b.parts = s, nil
	b.views = slices.Grow(b.views[:0], s.kinds)[:s.kinds]
	clear(b.views)
	return b
}

// leanShare is how much a part's place across counts beside its height, where
// an order is tried with a lean to the left.
const leanShare = 0.2

// put lays an item on the bed, in the turning in which its middle comes to lie
// lowest, if there is room.
func (b *bed) put(item int) bool {
	best, found := placed{item: item}, false
	var bestLow, bestLeft float64
	for t := range b.s.turns[item] {
		tt := &b.s.turns[item][t]
		p, ok := b.find(tt)
		if !ok {
			continue
		}
		low, left := p.Y+tt.mid.Y, p.X+tt.mid.X
		if b.s.lean {
			low += leanShare * left
		}
		if !found || low < bestLow-fitTol || low < bestLow+fitTol && left < bestLeft-fitTol {
			found, bestLow, bestLeft = true, low, left
			best.turn, best.move = t, p
		}
	}
	if found {
		b.parts = append(b.parts, best)
	}
	return found
}

// height returns up to where the bed is used.
func (b *bed) height() float64 {
	top := 0.0
	for _, p := range b.parts {
		top = math.Max(top, p.move.Y+b.s.turns[p.item][p.turn].h)
	}
	return top
}

// view brings the view of a kind up to date, unless it is full.
func (b *bed) view(t *turned) *view {
	v := b.views[t.kind]
	if v != nil && v.full {
		return v
	}
	if v == nil {
		v = b.s.memory.newView(b.s.o.Margin)
		v.add(t.offZones, geom.Point{}, b.s.memory)
		b.views[t.kind] = v
	}
	for ; v.seen < len(b.parts); v.seen++ {
		p := b.parts[v.seen]
		v.add(b.s.apart.of(&b.s.turns[p.item][p.turn], t, b.s.memory), p.move, b.s.memory)
	}
	return v
}

// add adds shapes that lie at a place.
func (v *view) add(off *between, at geom.Point, m *memory) {
	v.bans, v.many = append(v.bans, newCluster(off, at, m)), v.many+len(off.sums)
}

// find returns the place for a turned part: the lowest height at which a row
// has room, there the leftmost, then slid down and left as far as it goes.
func (b *bed) find(t *turned) (geom.Point, bool) {
	v := b.view(t)
	if v.full {
		return geom.Point{}, false
	}
	u := b.s.o.usable()
	room := geom.Box{Min: u.Min, Max: geom.Pt(u.Max.X-t.w, u.Max.Y-t.h)}
	room.Max.X, room.Max.Y = math.Max(room.Max.X, room.Min.X), math.Max(room.Max.Y, room.Min.Y)
	for ys := v.rows(room, b.s.memory); len(ys) > 0; ys = ys[1:] {
		shut := v.shut(room, ys, b.s.memory)
		b.s.work += shut * v.many
		if ys = ys[shut:]; len(ys) == 0 {
			break
		}
		b.s.work += v.many
		if x, ok := b.row(v, room, ys[0]); ok {
			v.from = ys[0]
			return b.slide(v, room, geom.Pt(x, ys[0])), true
		}
	}
	v.full = true
	return geom.Point{}, false
}

// rowStep is how close rows that are tried lie to one another at least, mm:
// what is found is slid down afterwards.
const rowStep = 1.0

// rows returns the heights to try, from the lowest that may have room: where
// shapes end, and between them an even spread. They are good until the next call.
func (v *view) rows(room geom.Box, m *memory) []float64 {
	tops := m.tops[:0]
	for i := range v.bans {
		c := &v.bans[i]
		for i := range c.off.sums {
			if y := c.off.sums[i].box.Max.Y + c.at.Y; y > v.from && y < room.Max.Y {
				tops = append(tops, y)
			}
		}
	}
	slices.Sort(tops)
	m.tops = tops
	ys := append(m.ys[:0], v.from)
	const spread = 50
	for i := 0; i <= spread; i++ {
		y := room.Min.Y + room.H()*float64(i)/spread
		if y <= v.from {
			continue
		}
		for len(tops) > 0 && tops[0] < y {
			ys, tops = append(ys, tops[0]), tops[1:]
		}
		ys = append(ys, y)
	}
	ys = append(ys, tops...)
	m.ys = ys
	return thinned(ys)
}

// thinned leaves out rows that lie just above another: what has room there mostly
// has room in the next, too, and slides down. The last is always tried.
func thinned(ys []float64) []float64 {
	n := 1
	for i, y := range ys[1:] {
		if n > 1 && y-ys[n-1] < rowStep && i+2 < len(ys) {
			continue
		}
		ys[n] = y
		n++
	}
	return ys[:n]
}

// closed keeps what closed a row.
func (v *view) closed(w wall) {
	v.wall = v.wall[:0]
	for _, l := range w.links {
		v.wall = append(v.wall, l.ban)
	}
}

// shut returns how many of the next rows the shapes close that closed the last one.
// What they close at two heights they close between: they are convex. So it is looked
// for farther and farther up, and then back, which tells of ten rows by the few shapes
// of a wall what [bed.row] finds out of each by all.
func (v *view) shut(room geom.Box, ys []float64, m *memory) int {
	if !v.closes(room, ys[0], m) {
		return 0
	}
	last, step := 0, 1
	for ; last+step < len(ys) && v.closes(room, ys[last+step], m); step *= 2 {
		last += step
	}
	for step /= 2; step > 0; step /= 2 {
		if last+step < len(ys) && v.closes(room, ys[last+step], m) {
			last += step
		}
	}
	return last + 1
}

// closes reports whether the wall closes a row, a chain of shapes each of which begins
// where the one before it still is. It does so with a rounding to spare, so that
// [bed.row] would say the same of this row and of all between two such.
func (v *view) closes(room geom.Box, y float64, m *memory) bool {
	x := room.Min.X
	for i := range v.wall {
		b := &v.wall[i]
		if box := &b.sum.box; y <= box.Min.Y+b.at.Y+fitTol || y >= box.Max.Y+b.at.Y-fitTol {
			return false
		}
		from, to := b.across(y, m)
		if from > x-3*fitTol {
			return false
		}
		x = to - fitTol
	}
	return x > room.Max.X+2*fitTol
}

// link is a shape that carried the free place of a row past it.
type link struct {
	to  float64
	ban ban
}

// wall is the shapes that carried the free place of a row from its beginning to where
// it is, without those that it would have come as far without.
type wall struct {
	start float64
	links []link
}

// add adds the shape that carries the place on.
func (w *wall) add(from, to float64, b ban) {
	n := len(w.links)
	for ; n > 0; n-- {
		before := w.start
		if n > 1 {
			before = w.links[n-2].to
		}
		if from > before-fitTol {
			break
		}
	}
	w.links = append(w.links[:n], link{to, b})
}

// later is a shape that begins right of the place that was free when it was met:
// the ends of its box, and once it had to be cut by the row, where it does.
type later struct {
	from, to float64
	ban      ban
	cut      bool
}

// row returns the leftmost free place at height y. Shapes are cut by the row only
// where their boxes hold the place that is free so far: the first ones, which are
// the largest, mostly carry it past the rest.
func (b *bed) row(v *view, room geom.Box, y float64) (float64, bool) {
	m := b.s.memory
	rest, w := m.rest[:0], wall{room.Min.X, m.links[:0]}
	defer func() { m.rest, m.links = rest, w.links }()
	x, most := room.Min.X, room.Max.X+fitTol
	for i := range v.bans {
		c := &v.bans[i]
		if box := &c.off.box; y <= box.Min.Y+c.at.Y+fitTol || y >= box.Max.Y+c.at.Y-fitTol || box.Max.X+c.at.X <= x {
			continue
		}
		for k := range c.off.sums {
			box := &c.off.sums[k].box
			if y <= box.Min.Y+c.at.Y+fitTol || y >= box.Max.Y+c.at.Y-fitTol || box.Max.X+c.at.X <= x {
				continue
			}
			one := c.ban(k)
			if left := box.Min.X + c.at.X; left > x {
				rest = append(rest, later{left, box.Max.X + c.at.X, one, false})
				continue
			}
			to := one.ends(y, m) - fitTol
			if to <= x {
				continue
			}
			switch from := one.begins(y, m) + fitTol; {
			case from > room.Max.X:
			case from > x-fitTol:
				rest = append(rest, later{from, to, one, true})
			default:
				x = to + fitTol
				if w.add(from, to, one); x > most {
					v.closed(w)
					return room.Max.X, false
				}
			}
		}
	}
	// Few of them lie one behind the other, so that this is sooner done than
	// sorting them.
	for again := true; again && x <= most; {
		again = false
		for i := range rest {
			l := &rest[i]
			if l.from > x || l.to <= x {
				continue
			}
			if !l.cut {
				l.from, l.to = l.ban.cut(y, m)
				l.cut = true
			}
			if l.from <= x-fitTol && l.to > x {
				x, again = l.to+fitTol, true
				w.add(l.from, l.to, l.ban)
			}
		}
	}
	if x > most {
		v.closed(w)
	}
	return math.Min(x, room.Max.X), x <= most
}

// settled is how little a part moves, down and to the left, when it has come to
// rest, mm: far below what a nest's spacing is given to.
const settled = 1e-4

// slide moves a free place down and left in turns until it rests.
func (b *bed) slide(v *view, room geom.Box, p geom.Point) geom.Point {
	for range 8 {
		q := geom.Pt(p.X, b.drop(v, room, p))
		q.X = b.push(v, room, q)
		if q.Dist(p) < settled {
			break
		}
		p = q
	}
	return p
}

// drop returns the lowest height to which p can sink.
func (b *bed) drop(v *view, room geom.Box, p geom.Point) float64 {
	y := room.Min.Y
	b.s.work += v.many
	// What lies above, or no higher than what was met, stops nothing.
	needless := func(box geom.Box) bool { return box.Min.Y >= p.Y-fitTol || box.Max.Y <= y-fitTol }
	for i := range v.bans {
		c := &v.bans[i]
		if needless(c.box()) {
			continue
		}
		for k := range c.off.sums {
			if needless(c.boxOf(k)) {
				continue
			}
			one := c.ban(k)
			from, to, ok := one.upright(p.X, b.s.memory)
			switch {
			case !ok || to-from <= 2*fitTol || from >= p.Y-2*fitTol:
			case to <= p.Y+2*fitTol:
				y = math.Max(y, math.Min(p.Y, to))
			default: // p lies at its flank, inside it by a rounding
				y = p.Y
			}
		}
	}
	return y
}

// push returns the leftmost place to which p can move.
func (b *bed) push(v *view, room geom.Box, p geom.Point) float64 {
	x := room.Min.X
	b.s.work += v.many
	// What lies right of it, or no farther right than what was met, stops nothing.
	needless := func(box geom.Box) bool {
		return p.Y <= box.Min.Y+fitTol || p.Y >= box.Max.Y-fitTol || box.Min.X >= p.X-fitTol || box.Max.X <= x-fitTol
	}
	for i := range v.bans {
		c := &v.bans[i]
		if needless(c.box()) {
			continue
		}
		for k := range c.off.sums {
			if needless(c.boxOf(k)) {
				continue
			}
			one := c.ban(k)
			from, to := one.across(p.Y, b.s.memory)
			switch {
			case from >= p.X-2*fitTol:
			case to <= p.X+2*fitTol:
				x = math.Max(x, math.Min(p.X, to))
			default:
				x = p.X
			}
		}
	}
	return x
}
