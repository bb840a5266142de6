package flat

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"starwright/geom"
	"starwright/toolpath/nest"
)

// search holds what is known of the parts while ways to fill the boards are tried.
type search struct {
	items        []Item
	o            Options
	zoneSpacing  float64
	shapes       [][2]*shape // of each item, as given and turned by half a turn
	areas        []float64
	grown        []float64 // least area that a part takes with its spacing
	shortestPart float64
	made         map[rowKey]*rows
	panels       map[string]panel
	zoneShapes   []*shape
	sides        map[sidesKey]sides
	different    []panel // panels that differ
	work         int     // places looked at
}

func newSearch(items []Item, o Options) *search {
	s := &search{items: items, o: o, made: map[rowKey]*rows{}, panels: map[string]panel{}, sides: map[sidesKey]sides{}, shortestPart: MaxLength}
	s.zoneSpacing = nest.Options{Spacing: o.Spacing, Cutter: o.Cutter}.ZoneSpacing()
	for _, it := range items {
		c := it.Part.Outline
		s.shapes = append(s.shapes, [2]*shape{newShape(c, 0), newShape(c, 180*geom.Degree)})
		s.shortestPart = min(s.shortestPart, s.shapes[len(s.shapes)-1][0].w)
		s.areas = append(s.areas, math.Abs(c.Area()))
		s.grown = append(s.grown, nest.Grown(math.Abs(c.Area()), o.Spacing/2))
	}
	return s
}

// fits refuses parts that lie on no board.
func (s *search) fits(boards []board) error {
	for i, it := range s.items {
		if it.Count > 0 && !s.fitsOne(i, boards) {
			return s.tooLarge(i, boards)
		}
	}
	return nil
}

// only is the task of laying one part of an item on a piece of board.
func (s *search) only(item int, width, most float64) task {
	t := task{width: width, most: most, left: make([]int, len(s.items)), order: []int{item}}
	t.left[item] = 1
	return t
}

// bed returns how long a panel may be that is cut from so much clear wood.
func (s *search) bed(clear float64) float64 {
	if s.o.BedX > 0 {
		return min(clear, s.o.BedX)
	}
	return clear
}

func (s *search) fitsOne(item int, boards []board) bool {
	for k, p := range boards {
		if k > 0 && p.kind == boards[k-1].kind {
			continue
		}
		for _, r := range p.runs {
			if s.shapes[item][0].w+2*s.o.Margin <= s.bed(r.End-r.Start)+geom.Rounding &&
				len(s.cached(s.only(item, p.width, s.bed(r.End-r.Start))).parts) > 0 {
				return true
			}
		}
	}
	return false
}

func (s *search) tooLarge(item int, boards []board) error {
	sh := s.shapes[item][0]
	e := &TooLarge{Part: s.items[item].Part.Name, Item: item, W: sh.w, H: sh.h, NeedW: sh.h + 2*s.o.Margin, BedX: s.o.BedX, BedY: s.o.BedY, Trim: 2 * s.o.EndTrim, Unit: s.o.Unit}
	for _, p := range boards {
		e.Width = max(e.Width, p.width)
		if p.width < e.NeedW-geom.Rounding {
			continue
		}
		for _, r := range p.runs {
			e.Clear = max(e.Clear, r.End-r.Start)
		}
	}
	e.NeedL = s.panel(s.only(item, e.NeedW, MaxLength)).length
	return e
}

// cached is [search.panel], worked out once for tasks that come to the same.
func (s *search) cached(t task) panel {
	key := make([]byte, 0, 64)
	key = fmt.Appendf(key, "%x %x", math.Float64bits(t.width), math.Float64bits(t.most))
	room := (t.width - 2*s.o.Margin + s.o.Spacing) * (t.most - 2*s.o.Margin + s.o.Spacing)
	left := make([]int, len(t.left))
	for _, i := range t.order {
		left[i] = min(t.left[i], max(0, int(room/s.grown[i])))
		key = fmt.Appendf(key, " %d:%d", i, left[i])
	}
	if p, ok := s.panels[string(key)]; ok {
		return p
	}
	t.left = left
	p := s.panel(t)
	p.alike = s.alike(p)
	s.panels[string(key)] = p
	return p
}

// alike returns the number of the panels that are the same as this one.
func (s *search) alike(p panel) int {
	for i, q := range s.different {
		if q.length == p.length && slices.Equal(q.parts, p.parts) {
			return i
		}
	}
	s.different = append(s.different, p)
	return len(s.different) - 1
}

// placed is a panel on a board.
type placed struct {
	board int
	start float64
	width float64
	panel
}

// answer is one way to fill the boards.
type answer struct {
	panels    []placed
	left      []int // of each item, what is not laid
	missing   int
	taken     float64
	different int
	way       way
}

// better reports whether a is better by the order of the package comment.
func (a *answer) better(b *answer) bool {
	return cmp.Or(cmp.Compare(a.missing, b.missing), near(a.taken, b.taken),
		cmp.Compare(len(a.panels), len(b.panels)), cmp.Compare(a.different, b.different)) < 0
}

func near(a, b float64) int {
	if math.Abs(a-b) < geom.Rounding*MaxLength {
		return 0
	}
	return cmp.Compare(a, b)
}

// way is in which order boards are filled with what.
type way struct {
	narrow bool // boards first
	small  bool // parts first
	even   bool // clear wood is cut into panels of one length
	suited bool // parts first that boards which come later suit least
}

// on fills the boards that are given by their numbers.
func (s *search) on(ctx context.Context, boards []board, use []int, w way) *answer {
	a := &answer{}
	for _, it := range s.items {
		a.left = append(a.left, it.Count)
		a.missing += it.Count
	}
	use = slices.Clone(use)
	slices.SortStableFunc(use, func(i, j int) int {
		c := cmp.Or(cmp.Compare(boards[j].width, boards[i].width), cmp.Compare(boards[j].length, boards[i].length))
		if w.narrow {
			return -c
		}
		return c
	})
	orders := s.orders(boards, use, w)
	a.way = w
	seen := map[int]bool{}
	for _, k := range use {
		if a.missing == 0 || ctx.Err() != nil {
			break
		}
		before := len(a.panels)
		for _, r := range boards[k].runs {
			s.cut(a, &boards[k], k, r, w, orders[boards[k].width])
		}
		for _, p := range a.panels[before:] {
			seen[p.alike] = true
		}
		if len(a.panels) > before {
			a.taken += boards[k].length
		}
	}
	a.different = len(seen)
	return a
}

// cut cuts one stretch of clear wood into panels.
func (s *search) cut(a *answer, p *board, number int, r Span, w way, order []int) {
	count := 1.0 // panels that it comes to
	if s.o.BedX > 0 {
		count = max(1, geom.Steps(r.End-r.Start+s.o.Kerf, s.o.BedX+s.o.Kerf))
	}
	for at := r.Start; a.missing > 0; count = max(1, count-1) {
		most := s.bed(r.End - at)
		if w.even && count > 1 {
			// The wood goes on behind this one. What rounding up takes from the
			// last, which may be of any length, is less than a step each.
			share := (r.End - at - (count-1)*s.o.Kerf) / count
			most = min(most, geom.RoundUp(share, s.o.Step))
		}
		if most <= 2*s.o.Margin {
			return
		}
		got := s.cached(task{width: p.width, most: most, left: a.left, order: order})
		if len(got.parts) == 0 {
			return
		}
		a.panels = append(a.panels, placed{number, at, p.width, got})
		for i, n := range got.counts {
			a.left[i] -= n
			a.missing -= n
		}
		at += got.length + s.o.Kerf
	}
}

// result turns an answer into placed parts.
func (s *search) result(a *answer, boards []board) Result {
	res := Result{Laid: make([]int, len(s.items)), Missing: make([]int, len(s.items)), Taken: a.taken}
	panels := slices.Clone(a.panels)
	slices.SortStableFunc(panels, func(x, y placed) int {
		return cmp.Or(cmp.Compare(x.board, y.board), cmp.Compare(x.start, y.start))
	})
	for _, p := range panels {
		out := Panel{Board: boards[p.board].kind, Copy: boards[p.board].copy, Start: p.start, Length: p.length, Width: p.width}
		for _, l := range p.parts {
			at := s.shapes[l.item][l.turn].place
			at.Move = at.Move.Add(l.at)
			part := s.items[l.item].Part.Placed(at)
			res.Laid[l.item]++
			out.Parts = append(out.Parts, nest.Placement{Item: l.item, At: at, Part: part})
		}
		res.Panels = append(res.Panels, out)
	}
	for i, it := range s.items {
		res.Missing[i] = it.Count - res.Laid[i]
	}
	res.Bound = s.bound(res.Laid, boards)
	return res
}
