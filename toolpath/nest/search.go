package nest

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"

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
	items []Item
	o     Options
	turns [][]turned // of each item
	sums  *sums
	kinds int    // of shapes, each turning counted
	zones []hull // grown by the spacing
	lean  bool   // prefer places to the left, too
	work  int
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

func newSearch(items []Item, o Options) (*search, error) {
	s := &search{items: items, o: o, sums: &sums{of: map[[2]int][]hull{}}}
	grow := disc(o.ZoneSpacing())
	for _, z := range o.Zones {
		s.zones = append(s.zones, newHull(geom.Rect(z).Flatten(1)).plus(grow))
	}
	for i, it := range items {
		if err := checkOutline(it.Part); err != nil {
			return nil, err
		}
		if k := s.alike(i); k >= 0 {
			s.turns = append(s.turns, s.turns[k])
			continue
		}
		ts, ok := turnings(it, o.Spacing)
		if !ok {
			return nil, problem.List{{Key: it.Part.Name, Why: "has no turning in which it could lie"}}
		}
		for t := range ts {
			ts[t].kind = s.kinds
			s.kinds++
		}
		fits, err := s.fitting(it, ts)
		if err != nil {
			return nil, err
		}
		s.turns = append(s.turns, fits)
	}
	return s, nil
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
	for _, t := range ts {
		over := TooLarge{Part: it.Part.Name, W: t.w, H: t.h, RoomW: u.W(), RoomH: u.H(), Unit: s.o.Unit, sheet: s.o,
			OverX: math.Max(0, t.w-u.W()), OverY: math.Max(0, t.h-u.H())}
		if over.OverX <= fitTol && over.OverY <= fitTol {
			over.OverX, over.OverY = 0, 0
			if _, ok := newBed(s).find(t); ok {
				out = append(out, t)
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
func (s *search) run(ctx context.Context) layout {
	var got [workers]layout
	var wait sync.WaitGroup
	for w := range workers {
		own := *s
		own.lean = w%2 == 1
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
	for _, i := range order {
		done := false
		for _, b := range beds {
			if done = b.put(i); done {
				break
			}
		}
		if !done {
			b := newBed(s)
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

// sums are the shapes that keep two turned parts apart, by their kinds. All
// lines of tries share them: they do not depend on which line asks first.
type sums struct {
	sync.Mutex
	of map[[2]int][]hull
}

// get returns what is kept under a key, made where it is missing.
func (s *sums) get(key [2]int, from, to []hull) []hull {
	s.Lock()
	out, ok := s.of[key]
	s.Unlock()
	if ok {
		return out
	}
	out = make([]hull, 0, len(from)*len(to))
	for _, p := range from {
		for _, q := range to {
			out = append(out, p.plus(q))
		}
	}
	s.Lock()
	s.of[key] = out
	s.Unlock()
	return out
}

// outOfZones returns the shapes round the screw zones that the lower left of a
// turned part may not enter.
func (s *search) outOfZones(t *turned) []hull {
	return s.sums.get([2]int{-1, t.kind}, s.zones, t.back)
}

// sum returns the shapes that the lower left of a turned part b may not enter
// when a lies at the origin, spacing included.
func (s *search) sum(a, b *turned) []hull {
	return s.sums.get([2]int{a.kind, b.kind}, a.grown, b.back)
}
