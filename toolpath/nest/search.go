package nest

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/toolpath"
)

// The budget of each line of tries, counted in tests of one line against one
// shape so that it is the same on every machine. The first order is always
// tried whole. Fifty times as much saves one sheet in sixty.
const (
	workLeast = 60_000 // some thousandths of a second
	workEach  = 5_000  // more for each part
	mostTries = 100
)

func (s *search) budget() int { return workLeast + workEach*len(s.items) }

// search holds what is known of the parts while orders are tried.
type search struct {
	items  []Item
	o      Options
	turns  [][]turned // of each item
	apart  table
	kinds  int    // of shapes, each turning counted
	zones  []hull // grown by the spacing
	lean   bool   // prefer places to the left, too
	work   int
	memory *memory
}

// layout is one try: for each sheet, what lies where.
type layout struct {
	sheets [][]placed
	height float64 // used of the last sheet
}

type placed struct {
	item, turn int
	move       geom.Point // lower left of the turned part's box
}

// better reports whether a is a better layout than b.
func (a layout) better(b layout) bool {
	if len(a.sheets) != len(b.sheets) {
		return len(a.sheets) < len(b.sheets)
	}
	return a.height < b.height-geom.Rounding
}

func newSearch(b *Batch, o Options) (*search, error) {
	s := &search{items: b.items, o: o, memory: &b.memory[0]}
	for i := range b.memory {
		b.memory[i].begin()
	}
	grow := disc(o.ZoneSpacing())
	for _, z := range o.Zones {
		h := newHull(geom.Rect(z).Flatten(1))
		s.zones = append(s.zones, h.grownBy(&grow))
	}
	first, faulty := s.firsts()
	all := s.turnings(b, first)
	for i, k := range first {
		if k < i {
			s.turns = append(s.turns, s.turns[k])
			continue
		}
		for t := range all[i] {
			all[i][t].kind, all[i][t].offZones = s.kinds, newBetween(s.zones, all[i][t].back, s.memory)
			s.kinds++
		}
		fits, err := s.fitting(s.items[i], all[i])
		if err != nil {
			return nil, err
		}
		s.turns = append(s.turns, fits)
	}
	s.apart = make(table, s.kinds)
	return s, faulty
}

// firsts returns of each item the number of the first of its shape, up to an item
// that has no outline.
func (s *search) firsts() ([]int, error) {
	var out []int
	for i, it := range s.items {
		if err := checkOutline(it.Part); err != nil {
			return out, err
		}
		if k := s.alike(i); k >= 0 {
			out = append(out, k)
			continue
		}
		out = append(out, i)
	}
	return out, nil
}

// turnings returns the turnings of each item that is the first of its shape. Their
// shapes are worked out side by side, for nothing can be laid out before.
func (s *search) turnings(b *Batch, first []int) [][]turned {
	out := make([][]turned, len(first))
	var next atomic.Int64
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(first); i = int(next.Add(1)) - 1 {
				if first[i] == i {
					b.shapes[i], out[i] = turnings(s.items[i], s.o.Spacing, b.shapes[i])
				}
			}
		})
	}
	wait.Wait()
	return out
}

func checkOutline(p toolpath.Part) error {
	ok := len(p.Outline) >= 2 && math.Abs(p.Outline.Area()) > 0
	for _, v := range p.Outline {
		ok = ok && v.Finite() && !math.IsNaN(v.Bulge) && !math.IsInf(v.Bulge, 0)
	}
	if !ok {
		return problem.List{{Key: p.Name, Why: "has no outline that could be laid out"}}
	}
	return nil
}

// alike returns the number of an earlier item of the same shape, -1 if none.
func (s *search) alike(i int) int {
	same := func(a, b float64) bool { return math.Abs(a-b) < geom.Rounding }
	a := s.items[i]
	for k := range i {
		b := s.items[k]
		if len(a.Part.Outline) == len(b.Part.Outline) && slices.Equal(a.Turns, b.Turns) &&
			slices.EqualFunc(a.Part.Outline, b.Part.Outline, func(v, w geom.Vertex) bool {
				return same(v.X, w.X) && same(v.Y, w.Y) && same(v.Bulge, w.Bulge)
			}) {
			return k
		}
	}
	return -1
}

// fitTol is by how much a part may be larger than the room and still lie in
// it, mm: rounding.
const fitTol = geom.Touch

// fitting returns the turnings in which a part fits on an empty sheet.
func (s *search) fitting(it Item, ts []turned) ([]turned, error) {
	u := s.o.usable()
	var out []turned
	var near *TooLarge
	for i := range ts {
		t := &ts[i]
		over := TooLarge{Part: it.Part.Name, W: t.w, H: t.h, RoomW: u.W(), RoomH: u.H(), Unit: s.o.Unit, sheet: s.o,
			OverX: math.Max(0, t.w-u.W()), OverY: math.Max(0, t.h-u.H())}
		if over.OverX <= fitTol && over.OverY <= fitTol {
			over.OverX, over.OverY = 0, 0
			b := s.newBed()
			_, ok := b.find(t)
			s.memory.keep(b)
			if ok {
				out = append(out, *t)
				continue
			}
		}
		if near == nil || over.OverX+over.OverY < near.OverX+near.OverY {
			near = &over
		}
	}
	if len(out) == 0 {
		return nil, near
	}
	return out, nil
}

// workers is how many lines of tries run side by side. Each has its own orders
// and budget, so that the result does not depend on the machine.
const workers = 2

// run tries orders and returns the best layout.
func (s *search) run(ctx context.Context, memory *[workers]memory) layout {
	var got [workers]layout
	var wait sync.WaitGroup
	for w := range workers {
		own := *s
		own.lean, own.memory = w%2 == 1, &memory[w]
		wait.Go(func() { got[w] = own.tries(ctx, w) })
	}
	wait.Wait()
	best := got[0]
	for _, l := range got[1:] {
		if l.better(best) {
			best = l
		}
	}
	return best
}

// tries tries every workers-th order from the given one, until there are as
// few sheets as can be or the budget is spent.
func (s *search) tries(ctx context.Context, first int) layout {
	const least = 2 // tries, even where the first already has the fewest sheets
	var best layout
	bound := max(1, s.bound())
	for n := 0; n < mostTries; n++ {
		l, whole := s.try(ctx, s.order(first+n*workers), n > 0)
		if whole && (n == 0 || l.better(best)) {
			best = l
		}
		if ctx.Err() != nil || s.work > s.budget() || n >= least && len(best.sheets) <= bound {
			break
		}
	}
	return best
}

// order returns the k-th order to try: large parts first by several measures,
// then these with some chance in them.
func (s *search) order(k int) []int {
	measures := []func(i int) float64{
		func(i int) float64 { return math.Abs(s.items[i].Part.Outline.Area()) },
		func(i int) float64 { return math.Max(s.turns[i][0].w, s.turns[i][0].h) },
		func(i int) float64 { return s.turns[i][0].w * s.turns[i][0].h },
		func(i int) float64 { return math.Min(s.turns[i][0].w, s.turns[i][0].h) },
	}
	out := make([]int, len(s.items))
	for i := range out {
		out[i] = i
	}
	m := measures[k/workers%len(measures)]
	weight := make([]float64, len(out))
	// A plain congruential sequence (Knuth's MMIX constants) stands for
	// chance: the same on every run.
	state := uint64(k)*2862933555777941757 + 3037000493
	for i := range out {
		weight[i] = m(i)
		if k >= workers*len(measures) {
			state = state*6364136223846793005 + 1442695040888963407
			weight[i] *= 1 + 0.6*float64(state>>40)/float64(1<<24)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(weight[b], weight[a]) })
	return out
}

// try lays the parts out in the given order, each on the first sheet that has
// room. It gives up when the context ends and, where it may, when the budget is
// spent.
func (s *search) try(ctx context.Context, order []int, giveUp bool) (layout, bool) {
	var beds []*bed
	defer func() { s.memory.keep(beds...) }()
	for _, i := range order {
		done := false
		for _, b := range beds {
			if done = b.put(i); done {
				break
			}
		}
		if !done {
			b := s.newBed()
			b.put(i)
			beds = append(beds, b)
		}
		if giveUp && s.work > s.budget() || ctx.Err() != nil {
			return layout{}, false
		}
	}
	l := layout{}
	for _, b := range beds {
		l.sheets = append(l.sheets, b.parts)
		l.height = b.height()
	}
	return l, true
}
