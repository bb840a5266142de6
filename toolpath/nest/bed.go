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
	views map[int]*view // by kind of turned part
}

// view is what a bed looks like to one kind of turned part: the shapes that
// its lower left corner may not enter, and how far up it was looked already.
// A bed only gets fuller, so what had no room once never has again.
type view struct {
	bans []ban
	seen int     // parts whose shapes are in bans
	from float64 // lowest height that may have room
	full bool
}

// ban is a shape on the bed. The shape is shared, not copied, by all parts
// that are alike.
type ban struct {
	*hull
	at  geom.Point
	box geom.Box // on the bed
}

func banOf(h *hull, at geom.Point) ban {
	return ban{h, at, geom.Box{Min: h.box.Min.Add(at), Max: h.box.Max.Add(at)}}
}

// across is [hull.across] on the bed.
func (b *ban) across(y float64) (from, to float64) {
	from, to = b.hull.across(y - b.at.Y)
	return from + b.at.X, to + b.at.X
}

// upright is [hull.upright] on the bed.
func (b *ban) upright(x float64) (from, to float64, ok bool) {
	from, to, ok = b.hull.upright(x - b.at.X)
	return from + b.at.Y, to + b.at.Y, ok
}

func newBed(s *search) *bed { return &bed{s: s, views: map[int]*view{}} }

// leanShare is how much a part's place across counts beside its height, where
// an order is tried with a lean to the left.
const leanShare = 0.2

// put lays an item on the bed, in the turning in which its middle comes to lie
// lowest, if there is room.
func (b *bed) put(item int) bool {
	best, found := placed{item: item}, false
	var bestLow, bestLeft float64
	for t := range b.s.turns[item] {
		tt := b.s.turns[item][t]
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

// view brings the view of a kind up to date.
func (b *bed) view(t turned) *view {
	v := b.views[t.kind]
	if v == nil {
		v = &view{from: b.s.o.Margin}
		kept := b.s.outOfZones(&t)
		for i := range kept {
			v.bans = append(v.bans, banOf(&kept[i], geom.Point{}))
		}
		b.views[t.kind] = v
	}
	for ; v.seen < len(b.parts); v.seen++ {
		p := b.parts[v.seen]
		sum := b.s.sum(&b.s.turns[p.item][p.turn], &t)
		for i := range sum {
			v.bans = append(v.bans, banOf(&sum[i], p.move))
		}
	}
	return v
}

// find returns the place for a turned part: the lowest height at which a row
// has room, there the leftmost, then slid down and left as far as it goes.
func (b *bed) find(t turned) (geom.Point, bool) {
	v := b.view(t)
	if v.full {
		return geom.Point{}, false
	}
	u := b.s.o.usable()
	room := geom.Box{Min: u.Min, Max: geom.Pt(u.Max.X-t.w, u.Max.Y-t.h)}
	room.Max.X, room.Max.Y = math.Max(room.Max.X, room.Min.X), math.Max(room.Max.Y, room.Min.Y)
	for _, y := range v.rows(room) {
		x, ok := b.row(v, room, y)
		if !ok {
			continue
		}
		v.from = y
		return b.slide(v, room, geom.Pt(x, y)), true
	}
	v.full = true
	return geom.Point{}, false
}

// rowStep is how close rows that are tried lie to one another at least, mm:
// what is found is slid down afterwards.
const rowStep = 1.0

// rows returns the heights to try, from the lowest that may have room: where
// shapes end, and between them an even spread.
func (v *view) rows(room geom.Box) []float64 {
	const spread = 50
	ys := append(make([]float64, 0, len(v.bans)+spread+2), v.from)
	for i := range v.bans {
		if y := v.bans[i].box.Max.Y; y > v.from && y < room.Max.Y {
			ys = append(ys, y)
		}
	}
	for i := 0; i <= spread; i++ {
		if y := room.Min.Y + room.H()*float64(i)/spread; y > v.from {
			ys = append(ys, y)
		}
	}
	slices.Sort(ys)
	n := 1
	for i, y := range ys[1:] {
		// One just above another is left out: what has room there mostly has
		// room in the next, too, and slides down. The last is always tried.
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
	ban      *ban // nil once it was cut
}

// row returns the leftmost free place at height y. Shapes are cut by the row only
// where their boxes hold the place that is free so far: the first ones, which are
// the largest, mostly carry it past the rest.
func (b *bed) row(v *view, room geom.Box, y float64) (float64, bool) {
	var buf [64]later
	rest := buf[:0]
	b.s.work += len(v.bans)
	x, most := room.Min.X, room.Max.X+fitTol
	for i := range v.bans {
		h := &v.bans[i]
		if y <= h.box.Min.Y+fitTol || y >= h.box.Max.Y-fitTol || h.box.Max.X <= x {
			continue
		}
		if h.box.Min.X > x {
			rest = append(rest, later{h.box.Min.X, h.box.Max.X, h})
			continue
		}
		from, to := h.across(y)
		from, to = from+fitTol, to-fitTol
		switch {
		case to <= x || from > room.Max.X:
		case from > x-fitTol:
			rest = append(rest, later{from, to, nil})
		default:
			if x = to + fitTol; x > most {
				return room.Max.X, false
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
			if l.ban != nil {
				from, to := l.ban.across(y)
				*l = later{from + fitTol, to - fitTol, nil}
			}
			if l.from <= x-fitTol && l.to > x {
				x, again = l.to+fitTol, true
			}
		}
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
	b.s.work += len(v.bans)
	for i := range v.bans {
		from, to, ok := v.bans[i].upright(p.X)
		switch {
		case !ok || to-from <= 2*fitTol || from >= p.Y-2*fitTol:
		case to <= p.Y+2*fitTol:
			y = math.Max(y, math.Min(p.Y, to))
		default: // p lies at its flank, inside it by a rounding
			y = p.Y
		}
	}
	return y
}

// push returns the leftmost place to which p can move.
func (b *bed) push(v *view, room geom.Box, p geom.Point) float64 {
	x := room.Min.X
	b.s.work += len(v.bans)
	for i := range v.bans {
		h := &v.bans[i]
		if p.Y <= h.box.Min.Y+fitTol || p.Y >= h.box.Max.Y-fitTol {
			continue
		}
		from, to := h.across(p.Y)
		switch {
		case from >= p.X-2*fitTol:
		case to <= p.X+2*fitTol:
			x = math.Max(x, math.Min(p.X, to))
		default:
			x = p.X
		}
	}
	return x
}
