package flat

import (
	"cmp"
	"context"
	"math"
	"math/bits"
	"slices"

	"starwright/geom"
)

const (
	// fewBoards is up to how many boards every choice of them is looked at, the
	// shortest first.
	fewBoards = 12

	// workMost bounds the search, in places looked at: about a tenth of a second.
	// The first ways are tried whole.
	workMost = 8_000_000

	// triesMost bounds how many choices of boards are filled.
	triesMost = 60
)

// ways are tried one after the other; of two that come to the same the first is
// kept.
var ways = []way{{}, {even: true}, {narrow: true}, {suited: true}, {suited: true, narrow: true}, {narrow: true, even: true},
	{small: true}, {small: true, narrow: true}}

// run returns the best answer found.
func (s *search) run(ctx context.Context, boards []board) *answer {
	all := make([]int, len(boards))
	for i := range all {
		all[i] = i
	}
	best := s.try(ctx, boards, all, ways)
	if best.missing > 0 || ctx.Err() != nil {
		return best
	}
	if len(boards) <= fewBoards {
		return s.choose(ctx, boards, best)
	}
	return s.thin(ctx, boards, best)
}

// try fills the given boards in each of the ways.
func (s *search) try(ctx context.Context, boards []board, use []int, ways []way) *answer {
	var best *answer
	for i, w := range ways {
		if ctx.Err() != nil && best != nil || i > 1 && s.work > workMost {
			break
		}
		if w.small && best.missing == 0 {
			break // it is there for boards that do not suffice
		}
		if a := s.on(ctx, boards, use, w); best == nil || a.better(best) {
			best = a
		}
	}
	return best
}

// sizes returns how long a choice of boards is, a bit for each, and what parts with
// their spacing have room for on it, mm².
func (s *search) sizes(boards []board, choice uint) (length, area float64) {
	for m := choice; m != 0; m &= m - 1 {
		p := &boards[bits.TrailingZeros(m)]
		length += p.length
		area += s.room(p)
	}
	return length, area
}

// choose tries every choice of boards that is shorter than the best so far and
// large enough, the shortest first, until one gives all parts.
func (s *search) choose(ctx context.Context, boards []board, best *answer) *answer {
	need := s.needArea(best)
	type choice struct {
		mask   uint
		length float64
	}
	var all []choice
	for mask := uint(1); mask < 1<<len(boards); mask++ {
		length, area := s.sizes(boards, mask)
		if near(length, best.taken) < 0 && area >= need {
			all = append(all, choice{mask, length})
		}
	}
	slices.SortStableFunc(all, func(a, b choice) int {
		return cmp.Or(near(a.length, b.length), cmp.Compare(a.mask, b.mask))
	})
	done := map[string]bool{}
	for tries, c := range all {
		if tries >= triesMost || s.work > workMost || ctx.Err() != nil {
			break
		}
		var use []int
		var key []byte
		for m := c.mask; m != 0; m &= m - 1 {
			k := bits.TrailingZeros(m)
			use = append(use, k)
			key = append(key, byte(boards[k].kind), byte(boards[k].kind>>8))
		}
		if done[string(key)] { // boards alike
			continue
		}
		done[string(key)] = true
		if a := s.try(ctx, boards, use, ways); a.better(best) {
			return a
		}
	}
	return best
}

// thin leaves out boards of a large rack, or puts a shorter one in the place of
// another, as long as all parts are still laid.
func (s *search) thin(ctx context.Context, boards []board, best *answer) *answer {
	for tries := 0; tries < triesMost; {
		use, spare := s.taken(boards, best)
		better := false
		for _, out := range s.emptiest(boards, best, use) {
			rest := slices.DeleteFunc(slices.Clone(use), func(k int) bool { return k == out })
			for n := -1; n < len(spare) && !better; n++ {
				in := rest
				if n >= 0 {
					if boards[spare[n]].length >= boards[out].length-geom.Rounding || n > 0 && boards[spare[n]].kind == boards[spare[n-1]].kind {
						continue
					}
					in = append(slices.Clone(rest), spare[n])
				}
				if s.roomOf(boards, in) < s.needArea(best) {
					continue
				}
				if tries++; tries > triesMost || s.work > workMost || ctx.Err() != nil {
					return best
				}
				if a := s.on(ctx, boards, in, best.way); a.better(best) {
					best, better = a, true
				}
			}
			if better {
				break
			}
		}
		if !better {
			return best
		}
	}
	return best
}

// taken returns the boards that an answer cuts into, and those that it leaves,
// the shortest first.
func (s *search) taken(boards []board, a *answer) (use, spare []int) {
	cut := map[int]bool{}
	for _, p := range a.panels {
		cut[p.board] = true
	}
	for k := range boards {
		if cut[k] {
			use = append(use, k)
		} else {
			spare = append(spare, k)
		}
	}
	slices.SortStableFunc(spare, func(i, j int) int { return cmp.Compare(boards[i].length, boards[j].length) })
	return use, spare
}

// emptiest returns the boards in use, those first of which least is used, few
// enough to try.
func (s *search) emptiest(boards []board, a *answer, use []int) []int {
	share := map[int]float64{}
	for _, p := range a.panels {
		share[p.board] += p.area / s.room(&boards[p.board])
	}
	out := slices.Clone(use)
	slices.SortStableFunc(out, func(i, j int) int { return cmp.Compare(share[i], share[j]) })
	const first = 6
	return out[:min(first, len(out))]
}

// room returns the area in which parts grown by half their spacing may lie on a
// board, at most. A panel gives its margins, less the spacing; where that is less
// than nothing, cuts between panels give some, and no panel is shorter than a part.
func (s *search) room(p *board) float64 {
	more := s.o.Spacing - 2*s.o.Margin
	across := p.width + more
	along := 0.0
	for _, r := range p.runs {
		along += max(0, r.End-r.Start+more)
		if cut := more - s.o.Kerf; cut > 0 {
			along += cut * (r.End - r.Start) / s.shortestPart
		}
	}
	return max(0, across) * along
}

func (s *search) roomOf(boards []board, use []int) float64 {
	area := 0.0
	for _, k := range use {
		area += s.room(&boards[k])
	}
	return area
}

// needArea returns the area that the parts of an answer take at least, each with
// half of the spacing round it.
func (s *search) needArea(a *answer) float64 {
	area := 0.0
	for i, n := range a.left {
		area += float64(s.items[i].Count-n) * s.grown[i]
	}
	return area * (1 - geom.Rounding)
}

// bound returns a length of boards below which no layout of the parts is: boards
// are counted by what they give for their length, the best first, the last one in
// part. Of few boards every choice is counted, whole.
func (s *search) bound(laid []int, boards []board) float64 {
	need := 0.0
	for i, n := range laid {
		need += float64(n) * s.grown[i] * (1 - geom.Rounding)
	}
	if need == 0 {
		return 0
	}
	if len(boards) <= fewBoards {
		least := math.Inf(1)
		for mask := uint(1); mask < 1<<len(boards); mask++ {
			length, area := s.sizes(boards, mask)
			if area >= need {
				least = min(least, length)
			}
		}
		return least
	}
	order := make([]*board, len(boards))
	for k := range boards {
		order[k] = &boards[k]
	}
	gives := func(p *board) float64 { return s.room(p) / p.length }
	slices.SortStableFunc(order, func(p, q *board) int { return cmp.Compare(gives(q), gives(p)) })
	length, least := 0.0, math.Inf(1)
	for k := range boards {
		if s.room(&boards[k]) > 0 {
			least = min(least, boards[k].length)
		}
	}
	for _, p := range order {
		if r := s.room(p); r < need {
			need -= r
			length += p.length
			continue
		}
		length += need / gives(p)
		break
	}
	return max(length, least)
}
