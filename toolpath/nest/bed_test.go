package nest

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/toolpath"
)

// The plain way to find a place: each row is held against every shape, in the same
// order, and so is a part that slides.
func plainFind(b *bed, t *turned) (geom.Point, bool) {
	v := b.view(t)
	if v.full {
		return geom.Point{}, false
	}
	u := b.s.o.usable()
	room := geom.Box{Min: u.Min, Max: geom.Pt(max(u.Max.X-t.w, u.Min.X), max(u.Max.Y-t.h, u.Min.Y))}
	for _, y := range v.rows(room, b.s.memory) {
		b.s.work += v.many
		x, ok := plainRow(v, room, y, b.s.memory)
		if !ok {
			continue
		}
		v.from = y
		p := geom.Pt(x, y)
		for range 8 {
			q := geom.Pt(p.X, plainDrop(b, v, room, p))
			q.X = plainPush(b, v, room, q)
			if q.Dist(p) < settled {
				break
			}
			p = q
		}
		return p, true
	}
	v.full = true
	return geom.Point{}, false
}

// shapes calls visit for each shape of a view.
func shapes(v *view, visit func(b *ban, box geom.Box)) {
	for i := range v.bans {
		for k := range v.bans[i].off.sums {
			one := v.bans[i].ban(k)
			visit(&one, v.bans[i].boxOf(k))
		}
	}
}

func plainRow(v *view, room geom.Box, y float64, m *memory) (float64, bool) {
	type span struct{ from, to float64 }
	var rest []span
	x, most := room.Min.X, room.Max.X+fitTol
	shapes(v, func(h *ban, box geom.Box) {
		if x > most || y <= box.Min.Y+fitTol || y >= box.Max.Y-fitTol || box.Max.X <= x {
			return
		}
		from, to := h.across(y, m)
		if from, to = from+fitTol, to-fitTol; to <= x {
			return
		}
		if from > x-fitTol || box.Min.X > x {
			rest = append(rest, span{from, to})
		} else {
			x = to + fitTol
		}
	})
	for again := true; again && x <= most; {
		again = false
		for _, l := range rest {
			if l.from <= x-fitTol && l.to > x {
				x, again = l.to+fitTol, true
			}
		}
	}
	return math.Min(x, room.Max.X), x <= most
}

func plainDrop(b *bed, v *view, room geom.Box, p geom.Point) float64 {
	y := room.Min.Y
	b.s.work += v.many
	shapes(v, func(h *ban, _ geom.Box) {
		from, to, ok := h.upright(p.X, b.s.memory)
		switch {
		case !ok || to-from <= 2*fitTol || from >= p.Y-2*fitTol:
		case to <= p.Y+2*fitTol:
			y = math.Max(y, math.Min(p.Y, to))
		default:
			y = p.Y
		}
	})
	return y
}

func plainPush(b *bed, v *view, room geom.Box, p geom.Point) float64 {
	x := room.Min.X
	b.s.work += v.many
	shapes(v, func(h *ban, box geom.Box) {
		if p.Y <= box.Min.Y+fitTol || p.Y >= box.Max.Y-fitTol {
			return
		}
		from, to := h.across(p.Y, b.s.memory)
		switch {
		case from >= p.X-2*fitTol:
		case to <= p.X+2*fitTol:
			x = math.Max(x, math.Min(p.X, to))
		default:
			x = p.X
		}
	})
	return x
}

// What is left out because a wall of shapes, a cluster's box or a shape's box says so
// changes no place, to the last bit, and no count of the work.
func TestFindIsAsThePlainWay(t *testing.T) {
	closed := 0
	rapid.Check(t, func(t *rapid.T) {
		var items []Item
		for i := range rapid.IntRange(1, 12).Draw(t, "parts") {
			h := drawHull(t, fmt.Sprint("part ", i))
			c := geom.Polygon(h.pts...)
			if rapid.Bool().Draw(t, "with a bay") {
				long, high := float64(rapid.IntRange(20, 80).Draw(t, "long")), float64(rapid.IntRange(20, 60).Draw(t, "high"))
				c = geom.Polygon(geom.Pt(0, 0), geom.Pt(long, 0), geom.Pt(long, 10), geom.Pt(10, 10), geom.Pt(10, high), geom.Pt(0, high))
			}
			items = append(items, Item{Part: toolpath.Part{Name: fmt.Sprint(i), Outline: c}})
		}
		o := Options{W: 140, H: 120, Margin: 4, Spacing: float64(rapid.IntRange(1, 6).Draw(t, "spacing")), Cutter: 1}
		o.Zones = CornerZones(o.W, o.H, float64(rapid.SampledFrom([]int{0, 12}).Draw(t, "zones")))
		var beds [2]*bed
		for i := range beds {
			s, err := newSearch(NewBatch(items), o)
			if err != nil {
				t.Skip(err)
			}
			beds[i] = s.newBed()
		}
		fast, plain := beds[0], beds[1]
		for item := range items {
			for k := range fast.s.turns[item] {
				p, ok := fast.find(&fast.s.turns[item][k])
				q, also := plainFind(plain, &plain.s.turns[item][k])
				if p != q || ok != also || fast.s.work != plain.s.work {
					t.Fatalf("part %d, turning %d: %v %v by %d tests, plainly %v %v by %d", item, k, p, ok, fast.s.work, q, also, plain.s.work)
				}
				if v := fast.views[fast.s.turns[item][k].kind]; len(v.wall) > 1 {
					closed++
				}
			}
			if fast.put(item) != plain.put(item) {
				t.Fatalf("part %d lies on one bed alone", item)
			}
		}
	})
	if closed == 0 {
		t.Error("no row was closed by more than one shape")
	}
}
