package nest

import "starwright/geom"

// memory is what a line of tries works in, kept from one try to the next and from one
// layout of a batch to the next: memory that is touched for the first time takes
// longer than what is done in it.
type memory struct {
	beds     []*bed
	views    []*view
	marks    slab[mark] // of the beds of one try
	ys, tops []float64
	rest     []later
	links    []link

	// Of all tries of one layout:
	betweens slab[between]
	sums     slab[sum]
	hulls    slab[hull]
	points   slab[geom.Point]
}

// begin takes back what an earlier layout has taken.
func (m *memory) begin() {
	m.betweens.free()
	m.sums.free()
	m.hulls.free()
	m.points.free()
}

// keep takes back all beds of a try, all but their parts.
func (m *memory) keep(beds ...*bed) {
	for _, b := range beds {
		for _, v := range b.views {
			if v != nil {
				m.views = append(m.views, v)
			}
		}
		m.beds = append(m.beds, b)
	}
	m.marks.free()
}

func (m *memory) newView(from float64) *view {
	const usual = 6 // parts on a bed, and the screw zones
	v := &view{}
	if n := len(m.views); n > 0 {
		v, m.views = m.views[n-1], m.views[:n-1]
	}
	if v.bans == nil {
		v.bans = make([]cluster, 0, usual)
	}
	*v = view{bans: v.bans[:0], wall: v.wall[:0], from: from}
	return v
}

// slab is memory that is handed out piece by piece and taken back as a whole.
type slab[T any] struct {
	blocks   [][]T
	at, used int // the block that is handed out, and how much of it was
}

// slabLen is how many things a block holds at least.
const slabLen = 256

// take hands out n things, which hold what they held.
func (s *slab[T]) take(n int) []T {
	for ; s.at < len(s.blocks); s.at, s.used = s.at+1, 0 {
		if b := s.blocks[s.at]; s.used+n <= len(b) {
			s.used += n
			return b[s.used-n : s.used : s.used]
		}
	}
	s.blocks = append(s.blocks, make([]T, max(n, slabLen)))
	s.used = n
	return s.blocks[s.at][:n:n]
}

// free takes all back.
func (s *slab[T]) free() { s.at, s.used = 0, 0 }
