package backplot

import (
	"cmp"
	"math"
	"slices"

	"starwright/geom"
)

// rows cuts a sheet into rows from its lower edge up and finds the pieces of
// wood that hang together: each row is the sheet's width less the exact chords
// of all that is swept. Two stretches of neighbouring rows belong together
// where they lie over each other by more than a sliver. A cut is never passed
// over, for rows are closer than the cutter is wide; a bridge may be that runs
// along the rows and is thinner than they are apart, which is why a piece only
// counts as loose where rows the other way find it loose too.
type rows struct {
	w, h, step, r float64
	store         *store
	swept         []int32 // the strips: numbers of sweeps, or below 0 ^n for number n of parts
	parts         []strip // of arcs, and of slopes that are not all deep enough
	across        bool    // X and Y are exchanged
	parent        []int32
	wood          []piece // of each stretch, by its number
	last          []stretch
	cuts          rowCuts
	sought        []geom.Point
	found         []int32 // the stretch that each place sought lies in, -1 for none
}

// strip is a straight piece of the cutter's way, and the line that cut it.
type strip struct {
	a, b geom.Point
	line int32
}

// stretch is the wood of one row from a to b.
type stretch struct {
	a, b   float64
	number int32
}

// piece is wood that hangs together.
type piece struct {
	area   float64    // mm², as the rows show it
	at     geom.Point // a place in it, in the middle one of its stretches
	border bool       // it reaches the sheet's edge
	line   int32      // the last of the cuts along it
	root   int32      // number of the stretch that stands for it
}

// cutLength is the chord of an arc's strips off the arc, mm.
const cutLength = 0.005

// newRows takes in what is swept at or below a height. The rows are step apart.
// Most strips are whole sweeps, which stay where they are: a million short lines
// copied to be sorted would take more memory than they do.
func newRows(f *field, size geom.Point, step, z float64, across bool) *rows {
	s := &rows{w: size.X, h: size.Y, step: step, r: f.r, store: &f.store, across: across}
	if across {
		s.w, s.h = s.h, s.w
	}
	s.swept = make([]int32, 0, f.store.n)
	for i := range int32(f.store.n) {
		sw := f.store.at(i)
		axis, ok := sw.below(z)
		if !ok {
			continue
		}
		if axis.Bulge == 0 && axis == sw.axis {
			s.swept = append(s.swept, i)
			continue
		}
		n := axis.Chords(cutLength)
		for k := range n {
			s.swept = append(s.swept, ^int32(len(s.parts)))
			s.parts = append(s.parts, strip{axis.At(float64(k) / float64(n)), axis.At(float64(k+1) / float64(n)), sw.line})
		}
	}
	return s
}

// strip returns a strip as the rows lie.
func (s *rows) strip(i int32) (c strip) {
	if i < 0 {
		c = s.parts[^i]
	} else {
		sw := s.store.at(i)
		c = strip{sw.axis.A, sw.axis.B, sw.line}
	}
	if s.across {
		c.a, c.b = geom.Pt(c.a.Y, c.a.X), geom.Pt(c.b.Y, c.b.X)
	}
	return c
}

// work is about how many chords the rows have to be cut with.
func (s *rows) work() float64 {
	sum := 0.0
	for _, i := range s.swept {
		c := s.strip(i)
		sum += (min(s.h, math.Abs(c.a.Y-c.b.Y)+2*s.r))/s.step + 1
	}
	return sum
}

// scan looks at all rows. Strips are taken in by the first row that they may
// reach.
func (s *rows) scan() {
	n := int(math.Ceil(s.h / s.step))
	s.step = s.h / float64(n)
	first := s.byRow(n)
	var near []strip
	for k := range n {
		y := (float64(k) + 0.5) * s.step
		for _, i := range s.swept[first[k]:first[k+1]] {
			near = append(near, s.strip(i))
		}
		near = slices.DeleteFunc(near, func(c strip) bool { return max(c.a.Y, c.b.Y)+s.r < y })
		s.row(y, near, k == 0 || k == n-1)
	}
}

// byRow sorts the strips by the first of n rows whose middle their lower edge does
// not lie above, and returns where each row's begin. A row and its strips are few
// numbers, so that they are counted and not compared.
func (s *rows) byRow(n int) (first []int32) {
	row := make([]int32, len(s.swept))
	first = make([]int32, n+2)
	for j, i := range s.swept {
		c := s.strip(i)
		foot := min(c.a.Y, c.b.Y) - s.r
		k := max(0, int(math.Ceil(min(foot/s.step-0.5, float64(n)))))
		for k < n && (float64(k)+0.5)*s.step < foot { // what rounding made of it
			k++
		}
		row[j] = int32(min(k, n))
		first[row[j]+1]++
	}
	for k := range n {
		first[k+1] += first[k]
	}
	sorted, at := make([]int32, len(s.swept)), slices.Clone(first)
	for j, k := range row {
		sorted[at[k]] = s.swept[j]
		at[k]++
	}
	s.swept = sorted
	return first
}

// row finds the stretches of one row and joins them to those of the last.
func (s *rows) row(y float64, near []strip, edge bool) {
	s.cuts.clear(s.w)
	for _, c := range near {
		if at, ok := chord(c.a, c.b, s.r, y); ok {
			s.cuts.add(cutSpan{at, c.line})
		}
	}
	var out []stretch
	s.cuts.gaps(func(x, to float64, line int32) {
		at := geom.Pt((x+to)/2, y)
		if s.across {
			at = geom.Pt(at.Y, at.X)
		}
		number := int32(len(s.parent))
		s.parent = append(s.parent, number)
		s.wood = append(s.wood, piece{(to - x) * s.step, at, edge || x == 0 || to == s.w, line, number})
		s.seek(x, to, y, number)
		out = append(out, stretch{x, to, number})
	})
	s.meet(out)
	s.last = out
}

// look asks for the stretches that places lie in.
func (s *rows) look(places []piece) {
	for _, p := range places {
		s.sought, s.found = append(s.sought, p.at), append(s.found, -1)
	}
}

// seek notes which of the places sought lie in a stretch.
func (s *rows) seek(a, b, y float64, number int32) {
	for i, p := range s.sought {
		if s.across {
			p = geom.Pt(p.Y, p.X)
		}
		if math.Abs(p.Y-y) <= s.step/2 && p.X >= a && p.X <= b {
			s.found[i] = number
		}
	}
}

// meet joins the stretches of a row to those of the last.
func (s *rows) meet(row []stretch) {
	for i, k := 0, 0; i < len(row) && k < len(s.last); {
		if min(row[i].b, s.last[k].b)-max(row[i].a, s.last[k].a) > sliver {
			a, b := s.find(row[i].number), s.find(s.last[k].number)
			s.parent[max(a, b)] = min(a, b)
		}
		if row[i].b < s.last[k].b {
			i++
		} else {
			k++
		}
	}
}

// find returns the number that stands for a stretch's piece.
func (s *rows) find(i int32) int32 {
	for s.parent[i] != i {
		s.parent[i] = s.parent[s.parent[i]]
		i = s.parent[i]
	}
	return i
}

// pieces sums up what hangs together: first what reaches the sheet's edge, the
// largest of that before all.
func (s *rows) pieces() []piece {
	place := map[int32]int{}
	var all []piece
	var of [][]int32 // its stretches, row by row
	for i := range s.wood {
		root := s.find(int32(i))
		n, ok := place[root]
		if !ok {
			n = len(all)
			place[root] = n
			all, of = append(all, piece{root: root}), append(of, nil)
		}
		w, p := &s.wood[i], &all[n]
		p.area, p.border, p.line = p.area+w.area, p.border || w.border, max(p.line, w.line)
		of[n] = append(of[n], int32(i))
	}
	for n := range all {
		all[n].at = s.wood[of[n][len(of[n])/2]].at // the first one may lie on a part's very edge
	}
	slices.SortStableFunc(all, func(a, b piece) int {
		if a.border != b.border {
			if a.border {
				return -1
			}
			return 1
		}
		return cmp.Compare(b.area, a.area)
	})
	return all
}
