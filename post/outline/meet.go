package outline

import (
	"starwright/geom"
	"starwright/post/cut"
)

const (
	// maxMeetings is how many contours that meet are named; a drawing with
	// more is wrong as a whole.
	maxMeetings = 200
	// pairsPerPiece bounds the work: how many neighbours a piece of an
	// outline may have on average before the drawing counts as a tangle. In
	// a sheet full of parts it has three or four. A small drawing may have
	// freePairs in any case.
	pairsPerPiece = 20
	freePairs     = 500_000
	// arcCost is how many pairs of straight pieces one with an arc counts as:
	// it takes so much longer to hold against each other.
	arcCost = 4
	// meetCost is the like of two pieces that do meet: no drawing that can be
	// cut has any, so a few thousand tell enough.
	meetCost = 10
	// freeCrossings is the like for the pieces that a line of sight is held
	// against to tell what lies in what, which is much less work.
	freeCrossings = 40_000_000
)

// piece is an edge of a contour that is cut.
type piece struct {
	geom.Curve
	contour, index int32
}

// meet is where two contours meet first.
type meet struct {
	a, b int32
	at   geom.Point
	lap  float64 // mm that they run on each other
}

// meetings judges contours against each other and against themselves: drawn
// twice, crossing, touching, and nested in a way that cannot be cut.
func (j *judge) meetings() {
	m := newMeetings(j.f)
	if len(m.pieces) == 0 {
		j.add(0, "empty", "", "nothing is cut", "no contour on OUTLINE or HOLE")
		return
	}
	m.duplicates(j)
	m.crossings(j)
	m.nesting(j)
	if m.tangled {
		j.add(0, "tangle", "", "", "too many pieces of outlines lie over each other to judge them all: draw each contour once")
	}
}

// meetings is the work on one file.
type meetings struct {
	f       *cut.File
	pieces  []piece
	bad     []bool     // contours that were complained of: not judged further
	count   []int32    // pieces of each contour; 0 where it is not cut
	loop    []bool     // contours that come back to their start
	boxes   []geom.Box // of each contour; empty where it is not cut
	budget  int
	work    work
	tangled bool
}

func newMeetings(f *cut.File) *meetings {
	n := len(f.Contours)
	m := &meetings{
		f: f, bad: make([]bool, n), count: make([]int32, n), loop: make([]bool, n), boxes: make([]geom.Box, n), work: maxWork,
	}
	pieces := 0
	for i := range f.Contours {
		pieces += len(f.Contours[i].Contour)
	}
	m.pieces = make([]piece, 0, pieces)
	for i := range f.Contours {
		c := &f.Contours[i]
		m.boxes[i] = geom.EmptyBox()
		if !cut.Cuts(c.Layer) || len(c.Contour) < 2 {
			continue
		}
		m.boxes[i] = c.Contour.Bounds()
		m.add(int32(i), c)
	}
	m.budget = freePairs + pairsPerPiece*len(m.pieces)
	return m
}

// add adds the pieces of a contour, but for those between repeated vertices,
// which were complained of already.
func (m *meetings) add(i int32, c *cut.FileContour) {
	n := len(c.Contour)
	m.loop[i] = c.Closed || c.Contour[0].Dist(c.Contour[n-1].Point) <= repeatMM
	for k := range c.Contour {
		e := c.Contour.Curve(k)
		if k == n-1 && !c.Closed || e.A.Dist(e.B) <= repeatMM {
			continue
		}
		m.pieces = append(m.pieces, piece{e, i, m.count[i]})
		m.count[i]++
	}
}

// spend counts n pieces that are looked at and reports whether there may be
// more.
func (m *meetings) spend(n int) bool {
	m.budget -= n
	m.tangled = m.tangled || m.budget < 0 || m.work < 0
	return !m.tangled
}

// duplicates finds contours drawn twice: they have the same lower left corner.
func (m *meetings) duplicates(j *judge) {
	corners := make([]geom.Box, len(m.boxes))
	for i, b := range m.boxes {
		corners[i] = geom.Box{Min: b.Min, Max: b.Min}
		if b.Empty() {
			corners[i] = b
		}
	}
	tree := geom.NewBoxTree(corners)
	found := 0
	for i := range corners {
		if corners[i].Empty() || m.bad[i] {
			continue
		}
		a := &m.f.Contours[i]
		tree.Each(corners[i].Grow(limitMM), func(k int) bool {
			if k <= i || m.bad[k] || gap(m.boxes[i].Max, m.boxes[k].Max) > limitMM {
				return true
			}
			b := &m.f.Contours[k]
			if _, same := m.work.sameShape(b.Contour, a.Contour, limitMM); same {
				m.bad[k] = true
				j.add(b.Line, "duplicate", b.Kind+" on "+b.Layer, "the same line is cut twice: charred edges, a wider kerf, a loose part struck again",
					"the contour of line %d is drawn a second time", a.Line).At = at(b.Contour[0].Point)
				found++
			}
			return m.spend(1) && found < maxMeetings
		})
		if found >= maxMeetings || m.tangled {
			return
		}
	}
}

// crossings finds pieces that meet where they should not, one finding for each
// pair of contours.
func (m *meetings) crossings(j *judge) {
	boxes := make([]geom.Box, len(m.pieces))
	for i, p := range m.pieces {
		boxes[i] = p.Bounds()
	}
	tree := geom.NewBoxTree(boxes)
	seen := map[[2]int32]int{} // pair of contours: place in found
	var found []meet
	for i := range m.pieces {
		tree.Each(boxes[i], func(k int) bool {
			if k <= i {
				return true
			}
			p, q := m.pieces[i], m.pieces[k]
			key := [2]int32{min(p.contour, q.contour), max(p.contour, q.contour)}
			cost := 1
			if p.Bulge != 0 || q.Bulge != 0 {
				cost = arcCost
			}
			if !m.skip(key) {
				if at, lap, ok := m.meet(p, q); ok {
					cost *= meetCost
					if n, again := seen[key]; again {
						found[n].lap += lap
					} else if len(found) < maxMeetings {
						seen[key] = len(found)
						found = append(found, meet{key[0], key[1], at, lap})
					}
				}
			}
			return m.spend(cost)
		})
		if m.tangled || len(found) >= maxMeetings {
			break
		}
	}
	for _, x := range found {
		m.report(j, x)
	}
}

// skip reports whether a pair needs no look: a contour and its twin.
func (m *meetings) skip(key [2]int32) bool {
	return key[0] != key[1] && (m.bad[key[0]] || m.bad[key[1]])
}

// meet returns where two pieces meet, but for the corner that neighbours in
// one contour share.
func (m *meetings) meet(p, q piece) (at geom.Point, lap float64, ok bool) {
	pts := geom.Intersections(p.Curve, q.Curve)
	if len(pts) == 0 {
		return at, 0, false
	}
	if p.contour == q.contour {
		pts = m.withoutCorner(pts, p, q)
		if len(pts) == 0 {
			return at, 0, false
		}
	}
	return pts[0], geom.Overlap(p.Curve, q.Curve), true
}

// withoutCorner drops the points at which neighbours in a contour are joined.
func (m *meetings) withoutCorner(pts []geom.Point, p, q piece) []geom.Point {
	var corners []geom.Point
	if p.index+1 == q.index {
		corners = append(corners, p.B)
	}
	if m.loop[p.contour] && p.index == 0 && q.index == m.count[p.contour]-1 {
		corners = append(corners, p.A)
	}
	var out []geom.Point
next:
	for _, x := range pts {
		for _, c := range corners {
			if x.Dist(c) <= repeatMM {
				continue next
			}
		}
		out = append(out, x)
	}
	return out
}

// report says that two contours, or two pieces of one, meet.
func (m *meetings) report(j *judge, x meet) {
	a, b := &m.f.Contours[x.a], &m.f.Contours[x.b]
	m.bad[x.a], m.bad[x.b] = true, true
	block := b.Kind + " on " + b.Layer
	f := func(rule, inWood, format string, args ...any) {
		j.add(b.Line, rule, block, inWood, format, args...).At = at(x.at)
	}
	switch {
	case x.a == x.b && x.lap > repeatMM:
		f("self-crossing", "the same line is cut twice", "the contour runs on itself for %.3m from %s", in(m.f, x.lap), xy(m.f, x.at))
	case x.a == x.b:
		f("self-crossing", "the part falls in two, or the kerf changes sides", "the contour crosses or touches itself at %s", xy(m.f, x.at))
	case x.lap > repeatMM:
		f("overlap", "that edge is cut twice, and the kerf of one part is cut out of the other",
			"the contour and that of line %d run on each other for %.3m from %s", a.Line, in(m.f, x.lap), xy(m.f, x.at))
	default:
		f("crossing", "one cut runs into the other part", "the contour crosses or touches that of line %d at %s", a.Line, xy(m.f, x.at))
	}
}

// nesting judges which contour lies in which: counted from outside, an outline
// has as many holes round it as outlines, and a hole one outline more.
func (m *meetings) nesting(j *judge) {
	if m.tangled {
		return
	}
	m.budget = freeCrossings
	tree := geom.NewBoxTree(m.boxes)
	for i := range m.f.Contours {
		c := &m.f.Contours[i]
		if m.boxes[i].Empty() || m.bad[i] {
			continue
		}
		depth, inside, doubtful := 0, -1, false
		p := c.Contour[0].Point
		tree.Each(geom.Box{Min: p, Max: p}, func(k int) bool {
			o := &m.f.Contours[k]
			if !m.spend(len(o.Contour)) {
				return false
			}
			if k != i && o.Contains(p) {
				doubtful = doubtful || m.bad[k]
				if o.Layer == cut.Outline {
					depth++
					inside = max(inside, k)
				} else {
					depth--
				}
			}
			return true
		})
		block := c.Kind + " on " + c.Layer
		switch {
		case m.tangled:
			return
		case doubtful: // what lies round it is itself at fault
		case c.Layer == cut.Hole && depth < 1:
			j.add(c.Line, "nesting", block, "a piece is cut out of the waste, or out of what has fallen already",
				"a hole at %s that lies in no outline", xy(m.f, p)).At = at(p)
		case c.Layer == cut.Outline && depth > 0:
			j.add(c.Line, "nesting", block, "the outer part falls before its inside is cut, or the inner one is lost",
				"an outline at %s within the outline of line %d: what is cut out of a part is a HOLE", xy(m.f, p), m.f.Contours[inside].Line).At = at(p)
		}
	}
}
