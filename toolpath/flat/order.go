package flat

import (
	"cmp"
	"slices"

	"starwright/geom"
)

// orders returns, for boards of each width, in which order the items are laid on
// them.
func (s *search) orders(boards []board, use []int, w way) map[float64][]int {
	out := map[float64][]int{}
	rates := s.rates(boards, use, w)
	for n, k := range use {
		width := boards[k].width
		if out[width] != nil {
			continue
		}
		order := make([]int, len(s.items))
		for i := range order {
			order[i] = i
		}
		lead := make([]float64, len(s.items))
		if w.suited {
			for i := range lead {
				lead[i] = rates[width][i] / later(rates, boards, use[n:], i)
			}
		}
		slices.SortStableFunc(order, func(i, j int) int {
			if w.small {
				i, j = j, i
			}
			return cmp.Or(cmp.Compare(lead[j], lead[i]), cmp.Compare(s.areas[j], s.areas[i]))
		})
		out[width] = order
	}
	return out
}

// later returns how many parts of an item a millimetre of the boards gives that
// come after those as wide as the first, of the width that gives most.
func later(rates map[float64][]float64, boards []board, use []int, item int) float64 {
	most := 0.0
	for _, k := range use {
		if boards[k].width != boards[use[0]].width {
			most = max(most, rates[boards[k].width][item])
		}
	}
	return max(most, geom.Rounding)
}

// rates returns, for boards of each width, how many parts of each item a millimetre
// of their length gives.
func (s *search) rates(boards []board, use []int, w way) map[float64][]float64 {
	if !w.suited {
		return nil
	}
	long := map[float64]float64{} // clear piece of each width
	for _, k := range use {
		for _, r := range boards[k].runs {
			long[boards[k].width] = max(long[boards[k].width], s.bed(r.End-r.Start))
		}
	}
	out := map[float64][]float64{}
	for _, k := range use {
		width := boards[k].width
		if out[width] != nil {
			continue
		}
		out[width] = make([]float64, len(s.items))
		for i, it := range s.items {
			t := s.only(i, width, long[width])
			t.left[i] = it.Count
			if p := s.cached(t); len(p.parts) > 0 {
				out[width][i] = float64(len(p.parts)) / p.length
			}
		}
	}
	return out
}
