package flat

import (
	"math"

	"starwright/geom"
)

// pose is one way in which a part may lie across a panel.
type pose struct {
	item, turn, row int
	y               float64 // of its box's lower side
	*shape
}

// rows are the heights at which the parts may lie on panels of one width, and how
// near they may then come to each other.
type rows struct {
	width float64
	poses []pose
	of    [][]int   // numbers of the poses of each item
	gaps  []float64 // of each pair of poses, NaN while not worked out
	most  int       // rows of the item that has most
}

// rowKinds is how many spreads of rows are tried; edgeRows are one along each edge
// of the panel.
const (
	rowKinds = 4
	edgeRows = rowKinds
)

// rowCount returns how many rows a part gets that is h high where it may be moved
// across by room. Parts head to tail reach into each other by half their height:
// so many rows, one more where they are squeezed along the board for it, one less,
// and so many as lie beside each other without reaching in.
func rowCount(room, h, spacing float64, kind int) int {
	if room <= geom.Rounding {
		return 1
	}
	if kind == edgeRows {
		return 2
	}
	half := int(2*room/(h+spacing)+geom.Rounding) + 1
	return max(1, [rowKinds]int{half, half + 1, half - 1, int(room/(h+spacing)+geom.Rounding) + 1}[kind])
}

// rows returns the rows of panels of a width, made where they are missing.
func (s *search) rows(width float64, kind int) *rows {
	key := rowKey{width, kind}
	if r := s.made[key]; r != nil {
		return r
	}
	r := &rows{width: width, of: make([][]int, len(s.items))}
	for i, it := range s.items {
		h := s.shapes[i][0].h
		room := width - 2*s.o.Margin - h
		if room < -geom.Rounding || it.Count == 0 {
			continue
		}
		n := rowCount(room, h, s.o.Spacing, kind)
		r.most = max(r.most, n)
		for row := range n {
			y := s.o.Margin
			if n > 1 {
				y += room * float64(row) / float64(n-1)
			}
			for turn, sh := range s.shapes[i] {
				r.of[i] = append(r.of[i], len(r.poses))
				r.poses = append(r.poses, pose{i, turn, row, y, sh})
			}
		}
	}
	r.gaps = make([]float64, len(r.poses)*len(r.poses))
	for i := range r.gaps {
		r.gaps[i] = math.NaN()
	}
	s.made[key] = r
	return r
}

type rowKey struct {
	width float64
	kind  int
}

// gap returns how far right of pose a pose b has to lie.
func (s *search) gap(r *rows, a, b int) float64 {
	g := &r.gaps[a*len(r.poses)+b]
	if math.IsNaN(*g) {
		p, q := &r.poses[a], &r.poses[b]
		*g = gap(p.shape, q.shape, q.y-p.y, s.o.Spacing)
	}
	return *g
}
