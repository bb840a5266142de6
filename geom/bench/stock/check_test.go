package stock

import (
	"fmt"
	"math"
)

// faults lists what is wrong with a plan as wood: it looks at the stretches
// only, in mm, with its own arithmetic.
func faults(j CutList, p Plan) []string {
	const slack = 2e-6 // mm; places are whole nanometres
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	boards, taken := 0, 0.0
	for _, b := range j.Boards {
		boards += max(b.Count, 1)
	}
	if len(p.Boards) != boards {
		say("%d boards in the plan, %d in the rack", len(p.Boards), boards)
	}
	made := make([]int, len(j.Parts))
	for _, c := range p.Boards {
		b := j.Boards[c.Board]
		if !c.Taken {
			if len(c.Stretches) > 0 {
				say("a board that stays in the rack is cut")
			}
			continue
		}
		taken += c.Length
		if c.Pieces(-1) == 0 {
			say("board %d is taken for nothing", c.Board)
		}
		at, lastPiece := 0.0, math.Inf(-1)
		for _, s := range c.Stretches {
			if math.Abs(s.Start-at) > slack || s.End <= s.Start {
				say("board %d: stretch %v does not follow %v", c.Board, s, at)
			}
			at = s.End
			if s.Kind != Piece {
				continue
			}
			made[s.Part]++
			if d := math.Abs(s.End - s.Start - j.Parts[s.Part].Length); d > slack {
				say("board %d: piece %v is off its length by %v", c.Board, s, d)
			}
			if s.Start < j.EndTrim-slack || s.End > b.Length-j.EndTrim+slack {
				say("board %d: piece %v reaches into the end trim", c.Board, s)
			}
			if s.Start-lastPiece < j.Kerf-slack {
				say("board %d: piece %v starts less than a kerf after %v", c.Board, s, lastPiece)
			}
			lastPiece = s.End
			for _, bad := range b.Bad {
				if s.Start < bad.End-slack && s.End > bad.Start+slack {
					say("board %d: piece %v lies on the bad place %v", c.Board, s, bad)
				}
			}
		}
		if math.Abs(at-b.Length) > slack {
			say("board %d: stretches end at %v", c.Board, at)
		}
	}
	for i, part := range j.Parts {
		if made[i] != p.Pieces[i] || made[i] != p.Stars*part.PerStar+p.Extra[i] {
			say("part %d: %d pieces cut, %d said, %d stars", i, made[i], p.Pieces[i], p.Stars)
		}
	}
	sum := p.PiecesLength + p.KerfLength + p.TrimLength + p.BadLength + p.RestLength
	if math.Abs(taken-p.TakenLength) > 1e-3 || math.Abs(sum-taken) > 1e-3 {
		say("boards taken %v, said %v, stretches %v", taken, p.TakenLength, sum)
	}
	return out
}

// score is a plan by the package comment's order. Bigger is better in each.
type score struct {
	stars       int
	extra       [3]int
	minusTaken  int64
	longestRest int64
}

func (s score) better(t score, andRest bool) bool {
	switch {
	case s.stars != t.stars:
		return s.stars > t.stars
	case s.extra != t.extra:
		for i := range s.extra {
			if s.extra[i] != t.extra[i] {
				return s.extra[i] > t.extra[i]
			}
		}
	case s.minusTaken != t.minusTaken:
		return s.minusTaken > t.minusTaken
	}
	return andRest && s.longestRest > t.longestRest
}

func scoreOf(p Plan) score {
	s := score{stars: p.Stars, minusTaken: -toNM(p.TakenLength), longestRest: toNM(p.LongestRest)}
	copy(s.extra[:], p.Extra)
	return s
}

// exhaustive is the slow twin for up to three parts of different lengths: it
// tries every count of every part in every run of every board, and says the
// best score. The clear runs are found anew, by walking over the board in
// steps of half a millimetre: everything here is counted in halves, and all
// lengths of the job must be whole millimetres.
func exhaustive(j CutList) score {
	type run struct{ board, length int }
	var runs []run
	var lengths []int
	for _, b := range j.Boards {
		for range max(b.Count, 1) {
			for _, l := range clearByWalking(j, b) {
				runs = append(runs, run{len(lengths), l})
			}
			lengths = append(lengths, int(b.Length))
		}
	}
	kerf := int(2 * j.Kerf)
	var best score
	first := true
	counts := make([][]int, len(runs))
	total := make([]int, len(j.Parts))
	var walk func(r int)
	judge := func() {
		s, ok := judgeCounts(j, total)
		if !ok {
			return
		}
		takenBoards := make([]bool, len(lengths))
		for r, c := range counts {
			if pieces(c) > 0 && !takenBoards[runs[r].board] {
				takenBoards[runs[r].board] = true
				s.minusTaken -= int64(lengths[runs[r].board]) * nmPerMM
			}
		}
		for r, c := range counts {
			if takenBoards[runs[r].board] {
				free := runs[r].length
				for i, n := range c {
					free -= n * (int(2*j.Parts[i].Length) + kerf)
				}
				s.longestRest = max(s.longestRest, int64(free)*nmPerMM/2)
			}
		}
		if first || s.better(best, true) {
			best, first = s, false
		}
	}
	var fill func(r, part, room int)
	fill = func(r, part, room int) {
		if part == len(j.Parts) {
			walk(r + 1)
			return
		}
		size := int(2*j.Parts[part].Length) + kerf
		for n := 0; n*size <= room; n++ {
			counts[r][part] = n
			total[part] += n
			fill(r, part+1, room-n*size)
			total[part] -= n
		}
		counts[r][part] = 0
	}
	walk = func(r int) {
		if r == len(runs) {
			judge()
			return
		}
		counts[r] = make([]int, len(j.Parts))
		fill(r, 0, runs[r].length+kerf)
	}
	walk(0)
	return best
}

// judgeCounts turns counts into the most stars and extras with nothing left
// over, false where no number of stars does that.
func judgeCounts(j CutList, total []int) (best score, ok bool) {
	most := j.Stars
	if most == 0 {
		most = pieces(total)
	}
	takes := 0
	for _, p := range j.Parts {
		takes += p.PerStar
	}
	if takes == 0 {
		most = 0
	}
	for stars := 0; stars <= most; stars++ {
		s := score{stars: stars}
		fits := true
		for i, p := range j.Parts {
			s.extra[i] = total[i] - stars*p.PerStar
			fits = fits && s.extra[i] >= 0 && s.extra[i] <= p.Extra
		}
		if fits {
			best, ok = s, true
		}
	}
	return best, ok
}

// clearByWalking returns the lengths of the clear runs in half millimetres.
func clearByWalking(j CutList, b Board) []int {
	var out []int
	n := 0
	for x := 0.0; x <= b.Length; x += 0.5 {
		good := x+0.5 <= b.Length-j.EndTrim && x >= j.EndTrim
		for _, s := range b.Bad {
			a, e := s.Start, s.End
			if short := j.Kerf - (e - a); short > 0 {
				a, e = a-short/2, e+short/2
			}
			good = good && (x >= e || x+0.5 <= a)
		}
		if good {
			n++
			continue
		}
		if n > 0 {
			out = append(out, n)
		}
		n = 0
	}
	return out
}
