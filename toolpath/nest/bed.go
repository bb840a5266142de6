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
