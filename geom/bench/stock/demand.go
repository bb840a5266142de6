package stock

import (
	"cmp"
	"slices"
	"strconv"

	"starwright/geom/problem"
)

// DefaultEffort is how many steps the search for several lengths takes for
// each of its questions before it settles for a bound, and effortTimes how
// often that it takes them for all together. 20,000 steps take a few tenths of
// a second.
const (
	DefaultEffort = 20000
	effortTimes   = 6
)

// maxEffort keeps a job from asking for hours.
const maxEffort = 1000000

func (j CutList) effort() int {
	if j.Effort <= 0 {
		return DefaultEffort
	}
	return min(j.Effort, maxEffort)
}

// demand is what is asked for, by different lengths.
type demand struct {
	lengths []int64 // different lengths in nm, longest first
	kind    []int   // of each part: its place in lengths, -1 where none is wanted
	perStar []int   // pieces of each length for one star
	extra   []int   // wanted extra pieces of each part
	stars   int     // the most stars to try for
}

// answer is what a solver found, in counts.
type answer struct {
	stars, starsBound int
	extra, extraBound []int // of each part
	cuts              packed
	exact             bool
	takenBound        int64
	steps             int
}

func newDemand(j CutList, rack []board) (*demand, error) {
	d := &demand{kind: make([]int, len(j.Parts)), extra: make([]int, len(j.Parts))}
	for _, p := range j.Parts {
		if p.PerStar+p.Extra > 0 {
			d.lengths = append(d.lengths, toNM(p.Length))
		}
	}
	slices.SortFunc(d.lengths, func(a, b int64) int { return cmp.Compare(b, a) })
	d.lengths = slices.Compact(d.lengths)
	if len(d.lengths) == 0 {
		return nil, problem.List{{Key: "parts", Got: "no pieces", Why: "there is nothing to cut", Would: "pieces for a star"}}
	}
	d.perStar = make([]int, len(d.lengths))
	for i, p := range j.Parts {
		d.kind[i], d.extra[i] = -1, p.Extra
		if p.PerStar+p.Extra > 0 {
			d.kind[i] = slices.Index(d.lengths, toNM(p.Length))
			d.perStar[d.kind[i]] += p.PerStar
		}
	}
	d.stars = d.mostStars(rack, toNM(j.Kerf))
	if j.Stars > 0 {
		d.stars = min(d.stars, j.Stars)
	}
	if n := pieces(d.counts(d.stars, d.extra)); n > MaxPieces {
		return nil, problem.List{{Key: "stars", Got: strconv.Itoa(n) + " pieces",
			Why: "more pieces than are planned at once", Would: "at most " + strconv.Itoa(MaxPieces) + " pieces, fewer boards or stars"}}
	}
	return d, nil
}

// mostStars bounds the stars by each length alone and by the room for all of
// them together.
func (d *demand) mostStars(rack []board, kerf int64) int {
	most := -1
	for k, per := range d.perStar {
		if per == 0 {
			continue
		}
		n := 0
		for _, b := range rack {
			n += b.yield(d.lengths[k], kerf)
		}
		if most < 0 || n/per < most {
			most = n / per
		}
	}
	var room, need int64
	for _, b := range rack {
		for _, r := range b.runs {
			room += r.length() + kerf
		}
	}
	for k, per := range d.perStar {
		need += int64(per) * (d.lengths[k] + kerf)
	}
	if most < 0 {
		return 0
	}
	return int(min(int64(most), room/need))
}

// yield returns how many pieces of one length the board gives.
func (b board) yield(length, kerf int64) int {
	n := 0
	for _, r := range b.runs {
		n += int((r.length() + kerf) / (length + kerf))
	}
	return n
}

// counts returns the pieces of each length for so many stars and so many extra
// pieces of each part.
func (d *demand) counts(stars int, extra []int) []int {
	out := make([]int, len(d.lengths))
	for k, per := range d.perStar {
		out[k] = stars * per
	}
	for i, k := range d.kind {
		if k >= 0 {
			out[k] += extra[i]
		}
	}
	return out
}

// name gives one piece of the length k to the first part that still wants one.
func (d *demand) name(k int, left []int) int {
	for i := range left {
		if d.kind[i] == k && left[i] > 0 {
			left[i]--
			return i
		}
	}
	return -1
}
