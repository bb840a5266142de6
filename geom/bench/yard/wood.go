package yard

import (
	"cmp"
	"math"
	"slices"
)

// boardType is boards that are alike, in units.
type boardType struct {
	length, width int64
	runs          []run // clear wood
	count         int
	area          float64 // of a whole board, units²
	from          []int   // places in the list of boards, one for each board
	copies        []int   // and which copy of it
	mixes         [][]int // sets of strip widths that lie side by side, nothing fitting beside them
}

type run struct{ start, end int64 }

// wood is the boards and pieces of one thickness and wood.
type wood struct {
	of         []int // place of a piece in the ask
	len, wide  []int64
	need       []int
	kerf, rip  int64
	boards     []boardType
	widths     []int64 // of strips, the widest first
	thickUnits int64
}

func (w *wood) thick() float64 { return float64(w.thickUnits) * unit * unit * unit }

func (w *wood) pieces() int {
	n := 0
	for _, k := range w.need {
		n += k
	}
	return n
}

// maxMixes is how many sets of strips of one board are looked at.
const maxMixes = 4000

func (a Ask) newWood(kind kindOf, list []Board, left []int, endless bool) *wood {
	w := &wood{kerf: units(a.Kerf), rip: units(a.RipKerf), thickUnits: kind.thickness}
	total := 0
	for i, p := range a.Pieces {
		if (kindOf{units(p.Thickness), p.Wood}) != kind || left[i] == 0 {
			continue
		}
		w.of = append(w.of, i)
		w.len, w.wide, w.need = append(w.len, units(p.Length)), append(w.wide, units(p.Width)), append(w.need, left[i])
		total += left[i]
		if !slices.Contains(w.widths, units(p.Width)) {
			w.widths = append(w.widths, units(p.Width))
		}
	}
	slices.SortFunc(w.widths, func(x, y int64) int { return cmp.Compare(y, x) })
	for i, b := range list {
		if (kindOf{units(b.Thickness), b.Wood}) != kind {
			continue
		}
		n := max(b.Count, 1)
		if endless {
			n = total
		}
		w.add(b, i, n, endless, units(a.EndTrim))
	}
	w.boards = slices.DeleteFunc(w.boards, func(b boardType) bool { return !w.holdsAny(&b) })
	for i := range w.boards {
		w.boards[i].mixes = w.mixesOf(w.boards[i].width)
	}
	return w
}

// add puts boards into the type that they are of.
func (w *wood) add(b Board, place, n int, endless bool, trim int64) {
	t := boardType{length: units(b.Length), width: units(b.Width), count: n}
	t.area = float64(t.length) * float64(t.width)
	t.runs = clear(b, trim, w.kerf)
	at := slices.IndexFunc(w.boards, func(o boardType) bool {
		return o.length == t.length && o.width == t.width && slices.Equal(o.runs, t.runs)
	})
	if at < 0 {
		w.boards, at = append(w.boards, t), len(w.boards)
	} else if !endless {
		w.boards[at].count += n
	}
	o := &w.boards[at]
	if endless {
		o.from, o.copies = []int{place}, nil
		return
	}
	for k := range n {
		o.from, o.copies = append(o.from, place), append(o.copies, k+1)
	}
}

// clear returns the clear runs of a board.
func clear(b Board, trim, kerf int64) []run {
	bad := make([]run, 0, len(b.Bad))
	for _, s := range b.Bad {
		r := run{units(s.Start), units(s.End)}
		if short := kerf - (r.end - r.start); short > 0 { // the blade that takes it out is wider
			r.start, r.end = r.start-short/2, r.end+(short+1)/2
		}
		bad = append(bad, r)
	}
	slices.SortStableFunc(bad, func(x, y run) int { return cmp.Compare(x.start, y.start) })
	at, end := trim, units(b.Length)-trim
	var out []run
	for _, r := range bad {
		if r.start > at {
			out = append(out, run{at, min(r.start, end)})
		}
		at = max(at, r.end)
	}
	if at < end {
		out = append(out, run{at, end})
	}
	return slices.DeleteFunc(out, func(r run) bool { return r.end <= r.start })
}

func (w *wood) holdsAny(b *boardType) bool {
	for i := range w.len {
		if w.wide[i] <= b.width && slices.ContainsFunc(b.runs, func(r run) bool { return r.end-r.start >= w.len[i] }) {
			return true
		}
	}
	return false
}

// mixesOf returns the sets of strips that a width gives: how many of each width,
// none of which could be more or wider.
func (w *wood) mixesOf(width int64) [][]int {
	var out [][]int
	mix := make([]int, len(w.widths))
	var try func(k int, room int64)
	try = func(k int, room int64) {
		if len(out) >= maxMixes {
			return
		}
		if k == len(w.widths) {
			if least := w.widths[len(w.widths)-1] + w.rip; room < least && !w.widens(mix, room) {
				out = append(out, slices.Clone(mix))
			}
			return
		}
		for n := int(room / (w.widths[k] + w.rip)); n >= 0; n-- {
			mix[k] = n
			try(k+1, room-int64(n)*(w.widths[k]+w.rip))
		}
		mix[k] = 0
	}
	try(0, width+w.rip)
	return out
}

// widens reports whether a strip of a mix could be the next wider one: what
// fits in the narrow one fits in that too.
func (w *wood) widens(mix []int, room int64) bool {
	for k := 1; k < len(mix); k++ {
		if mix[k] > 0 && w.widths[k-1]-w.widths[k] <= room {
			return true
		}
	}
	return false
}

// ceilTo returns the least multiple of step that is no less than v, up to
// rounding.
func ceilTo(v, step float64) float64 {
	if step <= 0 {
		return v
	}
	const slack = 1e-7
	return math.Ceil(v/step-slack) * step
}
