package yard

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// search looks at all ways to cut the boards, for the one that takes the least
// wood: the widest and longest piece that is left comes from some board, which is
// cut in some way that leaves no room for a further piece. A state that was
// reached before for as little wood is not looked at again.
type search struct {
	w      *wood
	worth  []float64
	over   []float64 // by how much the best way of a board exceeds its area, see [wood.prices]
	low    float64   // no plan takes less
	effort int
	steps  int
	order  []int // pieces, the widest and longest first

	best  float64
	found bool
	way   []used
	done  bool // all ways were looked at, or none can be better
	seen  map[string]float64
	now   []used
}

func newSearch(w *wood, worth []float64, low float64, effort int) *search {
	s := &search{w: w, worth: worth, low: low, effort: effort, seen: map[string]float64{}, done: true}
	for b := range w.boards {
		_, v := w.mostValue(b, worth)
		s.over = append(s.over, max(0, v-w.boards[b].area))
	}
	for i := range w.len {
		s.order = append(s.order, i)
	}
	slices.SortStableFunc(s.order, func(a, b int) int {
		if w.wide[a] != w.wide[b] {
			return cmp.Compare(w.wide[b], w.wide[a])
		}
		return cmp.Compare(w.len[b], w.len[a])
	})
	return s
}

func (s *search) run() {
	stock := make([]int, len(s.w.boards))
	for b := range stock {
		stock[b] = s.w.boards[b].count
	}
	s.visit(slices.Clone(s.w.need), stock, 0)
}

// ends reports whether going on can gain nothing.
func (s *search) ends() bool {
	if s.steps > s.effort {
		s.done = false
		return true
	}
	return s.found && s.best <= s.low+0.5
}

func (s *search) visit(left, stock []int, area float64) {
	first := -1
	for _, i := range s.order {
		if left[i] > 0 {
			first = i
			break
		}
	}
	if first < 0 {
		if !s.found || area < s.best-0.5 {
			s.best, s.found, s.way = area, true, slices.Clone(s.now)
		}
		return
	}
	if s.ends() {
		return
	}
	s.steps++
	least := area
	for i, n := range left {
		least += float64(n) * s.worth[i]
	}
	for b, n := range stock {
		least -= float64(n) * s.over[b]
	}
	if s.found && least >= s.best-0.5 {
		return
	}
	key := stateKey(left, stock)
	if before, was := s.seen[key]; was && before <= area {
		return
	}
	s.seen[key] = area
	for b := range s.w.boards {
		if stock[b] == 0 {
			continue
		}
		if s.found && area+s.w.boards[b].area >= s.best-0.5 {
			continue
		}
		for _, p := range s.ways(b, left, first) {
			rest := slices.Clone(left)
			for i, c := range p.counts {
				rest[i] -= c
			}
			stock[b]--
			s.now = append(s.now, used{p, 1})
			s.visit(rest, stock, area+s.w.boards[b].area)
			s.now = s.now[:len(s.now)-1]
			stock[b]++
			if s.ends() {
				return
			}
		}
	}
}

// ways returns the ways to cut a board that hold a piece: those of which none
// gives less of all pieces than another.
func (s *search) ways(b int, left []int, holds int) []pattern {
	e := &ways{search: s, t: &s.w.boards[b], board: b, holds: holds}
	for _, mix := range e.t.mixes {
		e.strips = e.strips[:0]
		for k, n := range mix {
			for range n {
				e.strips = append(e.strips, k)
			}
		}
		e.fills = make([][][]int, len(e.strips))
		e.run(0, 0, slices.Clone(left), make([]int, len(left)))
		if s.steps > s.effort {
			break
		}
	}
	if len(e.t.mixes) >= maxMixes {
		s.done = false
	}
	slices.SortStableFunc(e.out, func(x, y pattern) int {
		switch vx, vy := e.value(x), e.value(y); {
		case vx > vy:
			return -1
		case vx < vy:
			return 1
		}
		return 0
	})
	return e.out
}

// ways gathers the ways to cut one board.
type ways struct {
	*search
	t      *boardType
	board  int
	holds  int
	strips []int
	fills  [][][]int
	out    []pattern
}

func (e *ways) value(p pattern) float64 {
	v := 0.0
	for i, c := range p.counts {
		v += float64(c) * e.worth[i]
	}
	return v
}

// run fills one clear run of one strip in every way that leaves no room, and
// then the next.
func (e *ways) run(strip, r int, left, counts []int) {
	if e.search.steps > e.effort {
		return
	}
	if strip == len(e.strips) {
		if counts[e.holds] > 0 {
			e.keep(counts)
		}
		return
	}
	if r == 0 {
		e.fills[strip] = make([][]int, len(e.t.runs))
	}
	if r == len(e.t.runs) {
		e.run(strip+1, 0, left, counts)
		return
	}
	w := e.w
	wide := w.widths[e.strips[strip]]
	var fit []int
	for _, i := range e.order {
		if w.wide[i] <= wide {
			fit = append(fit, i)
		}
	}
	taken := make([]int, len(left))
	var fill func(at int, room int64)
	fill = func(at int, room int64) {
		if e.search.steps > e.effort {
			return
		}
		if at == len(fit) {
			for _, i := range fit {
				if left[i] > 0 && w.len[i]+w.kerf <= room {
					return // there is room for one more
				}
			}
			e.search.steps++
			e.fills[strip][r] = slices.Clone(taken)
			e.run(strip, r+1, left, counts)
			return
		}
		i := fit[at]
		size := w.len[i] + w.kerf
		for n := min(left[i], int(room/size)); n >= 0; n-- {
			taken[i] = n
			left[i], counts[i] = left[i]-n, counts[i]+n
			fill(at+1, room-int64(n)*size)
			left[i], counts[i] = left[i]+n, counts[i]-n
		}
		taken[i] = 0
	}
	room := e.t.runs[r].end - e.t.runs[r].start + w.kerf
	fill(0, room)
}

// keep takes a way in, unless one that is known gives as much of all pieces.
func (e *ways) keep(counts []int) {
	for i := range e.out {
		if covers(e.out[i].counts, counts) {
			return
		}
	}
	e.out = slices.DeleteFunc(e.out, func(p pattern) bool { return covers(counts, p.counts) })
	p := pattern{board: e.board, mix: slices.Clone(e.strips), counts: slices.Clone(counts)}
	for _, f := range e.fills {
		p.fills = append(p.fills, slices.Clone(f))
	}
	e.out = append(e.out, p)
}

func covers(a, b []int) bool {
	for i := range a {
		if a[i] < b[i] {
			return false
		}
	}
	return true
}

func stateKey(lists ...[]int) string {
	var key []byte
	for _, l := range lists {
		for _, n := range l {
			key = binary.LittleEndian.AppendUint16(key, uint16(n))
		}
	}
	return string(key)
}
