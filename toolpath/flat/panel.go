package flat

import (
	"math"
	"slices"

	"starwright/geom"
)

// laid is a part on a panel.
type laid struct {
	item, turn int
	at         geom.Point // lower left of its box
}

// panel is a piece of board with its parts.
type panel struct {
	parts  []laid
	length float64
	area   float64 // of its parts
	counts []int   // of each item
	alike  int     // the same number for panels that are the same
}

// task is what one panel is filled from.
type task struct {
	width, most float64 // most is how long it may be
	left        []int   // of each item, how many are wanted still
	order       []int   // of the items
	zones       []zone  // where it is as long as it may be
}

// manner is one way in which parts are chosen and placed.
type manner struct {
	ends  bool // by where a part ends, else by where its middle lies
	turns int  // which turning goes in which row
}

// The turnings that a manner allows.
const (
	anyTurn = iota
	headFirst
	tailFirst
	oneWay
	turnKinds
)

func (m manner) allows(p *pose) bool {
	switch m.turns {
	case headFirst:
		return p.turn == p.row%2
	case tailFirst:
		return p.turn != p.row%2
	case oneWay:
		return p.turn == 0
	}
	return true
}

// fill is a panel while it fills.
type fill struct {
	s     *search
	r     *rows
	t     *task
	parts []laid
	last  []float64  // of each pose, where the rightmost part lies so; minus infinity where none does
	used  []int      // poses that have a part
	bans  [][]banned // of each pose, nil while not worked out
	end   float64    // of the rightmost part
}

func (s *search) newFill(r *rows, t *task) *fill {
	f := &fill{s: s, r: r, t: t, last: make([]float64, len(r.poses)), bans: make([][]banned, len(r.poses))}
	for i := range f.last {
		f.last[i] = math.Inf(-1)
	}
	return f
}

// after returns where the parts that are laid let the next one in a pose begin.
func (f *fill) after(p int) float64 {
	f.s.work += len(f.used) + 1
	x := f.s.o.Margin
	for _, a := range f.used {
		x = max(x, f.last[a]+f.s.gap(f.r, a, p))
	}
	return x
}

// place returns where the next part in a pose would lie: as far left as from and
// the zones let it. It fails where that is not on the panel.
func (f *fill) place(p int, from float64) (float64, bool) {
	x := from
	if len(f.t.zones) > 0 {
		if f.bans[p] == nil {
			f.bans[p] = f.s.bans(&f.r.poses[p], f.t.zones)
		}
		for again := true; again; {
			again = false
			for _, b := range f.bans[p] {
				if b.holds(x) {
					x, again = b.to, true
				}
			}
		}
	}
	return x, x+f.r.poses[p].w+f.s.o.Margin <= f.t.most+geom.Rounding
}

// put lays a part there.
func (f *fill) put(p int, x float64) {
	q := &f.r.poses[p]
	if math.IsInf(f.last[p], -1) {
		f.used = append(f.used, p)
	}
	f.last[p] = x
	f.end = max(f.end, x+q.w)
	f.parts = append(f.parts, laid{q.item, q.turn, geom.Pt(x, q.y)})
}

// all lays as many parts as the panel takes, item by item in the task's order, each
// where it comes to lie farthest left.
func (f *fill) all(m manner) {
	for _, i := range f.t.order {
		if f.t.left[i] == 0 {
			continue
		}
		var poses []int
		for _, p := range f.r.of[i] {
			if m.allows(&f.r.poses[p]) {
				poses = append(poses, p)
			}
		}
		f.item(poses, f.t.left[i], m.ends)
	}
}

// item lays up to so many parts in the given poses, which are all of one item.
func (f *fill) item(poses []int, most int, ends bool) {
	from := make([]float64, len(poses)) // what the parts laid leave to each pose
	for k, p := range poses {
		from[k] = f.after(p)
	}
	for range most {
		best, bestX, bestAt := -1, 0.0, math.Inf(1)
		for k, p := range poses {
			x, ok := f.place(p, from[k])
			if !ok {
				continue
			}
			q := &f.r.poses[p]
			at := x + q.mid
			if ends {
				at = x + q.w + q.mid/q.w // the middle settles which of two that end alike
			}
			if at < bestAt-geom.Rounding {
				best, bestX, bestAt = p, x, at
			}
		}
		if best < 0 {
			return
		}
		f.put(best, bestX)
		f.s.work += 2 * len(poses)
		for k, p := range poses {
			from[k] = max(from[k], bestX+f.s.gap(f.r, best, p))
		}
	}
}

// panel returns the fullest panel that a task gives, the shortest of those, with
// no parts where it takes none.
func (s *search) panel(t task) panel {
	t.zones = s.zones(t.most, t.width)
	var best panel
	for kind := range rowKinds {
		r := s.rows(t.width, kind)
		for turns := range turnKinds {
			for _, ends := range []bool{false, true} {
				if kind > 0 && r.most == 1 {
					continue
				}
				f := s.newFill(r, &t)
				f.all(manner{ends, turns})
				best = s.fuller(best, f.parts, &t)
			}
		}
	}
	return s.fewParts(best, &t)
}

// fuller returns the panel, or one of the parts where these are more wood, or as
// much on a shorter panel.
func (s *search) fuller(best panel, parts []laid, t *task) panel {
	area := 0.0
	for _, p := range parts {
		area += s.areas[p.item]
	}
	if len(parts) == 0 || area < best.area*(1-geom.Rounding) {
		return best
	}
	length := s.needs(parts, t)
	if area <= best.area*(1+geom.Rounding) && length >= best.length-geom.Rounding {
		return best
	}
	counts := make([]int, len(s.items))
	for _, p := range parts {
		counts[p.item]++
	}
	return panel{parts: slices.Clone(parts), length: length, area: area, counts: counts}
}
