package mutate

import "math"

// column is the wood at one place: it stands up to h.
type column struct{ x, y, h float64 }

// columns are filed in square cells, so that a cut looks only at those near it.
type columns struct {
	cell float64
	at   map[[2]int][]column
	seen map[[2]int64]bool
}

// place adds a column unless there is one within a few thousandths.
func (c *columns) place(x, y float64) {
	k := [2]int64{int64(math.Round(x * 250)), int64(math.Round(y * 250))}
	if c.seen[k] {
		return
	}
	c.seen[k] = true
	cell := [2]int{int(math.Floor(x / c.cell)), int(math.Floor(y / c.cell))}
	c.at[cell] = append(c.at[cell], column{x, y, 0})
}

// near visits the columns that may lie within reach of a piece.
func (c *columns) near(s *seg, reach float64, visit func(*column)) {
	x0, x1 := min(s.a[0], s.b[0])-reach, max(s.a[0], s.b[0])+reach
	y0, y1 := min(s.a[1], s.b[1])-reach, max(s.a[1], s.b[1])+reach
	for x := int(math.Floor(x0 / c.cell)); x <= int(math.Floor(x1/c.cell)); x++ {
		for y := int(math.Floor(y0 / c.cell)); y <= int(math.Floor(y1/c.cell)); y++ {
			list := c.at[[2]int{x, y}]
			for i := range list {
				visit(&list[i])
			}
		}
	}
}

// A strip of wood narrower than 0.02 mm is none when it is asked how deep a cut
// is: it bends away. So a column counts for certain where it stands farther
// than certain within the edge of a cut, and for possible beyond possible.
const (
	certain  = 0.028 // mm
	possible = 0.012
)

// insets are how far within the edge of a cut its outermost columns stand, mm:
// one ring for each of the two answers, nearer than the least change.
var insets = [2]float64{0.04, 0.016}

// stand places columns where cuts can differ: along the middle and the sides
// of every piece of the cutter's way, and round its ends.
func stand(segs []seg, rad float64) *columns {
	c := &columns{cell: max(1, rad), at: map[[2]int][]column{}, seen: map[[2]int64]bool{}}
	ends := map[[2]float64]bool{}
	since := 1.0 // mm of way since the last columns beside a short piece
	ways := map[[4]float64]bool{}
	for i := range segs {
		s := &segs[i]
		if s.a[2] >= 0 && s.b[2] >= 0 {
			continue
		}
		for _, e := range [][3]float64{s.a, s.b} {
			if k := [2]float64{e[0], e[1]}; !ends[k] {
				ends[k] = true
				c.place(e[0], e[1])
				if s.ring {
					c.ring(e[0], e[1], rad-insets[0], 96)
					c.ring(e[0], e[1], rad-insets[1], 96)
					c.ring(e[0], e[1], rad/2, 12)
				}
			}
		}
		way := [4]float64{s.a[0], s.a[1], s.b[0], s.b[1]}
		if !ways[way] {
			ways[way] = true
			since += math.Hypot(s.b[0]-s.a[0], s.b[1]-s.a[1])
			if since >= 0.5 {
				c.along(s, rad)
				since = 0
			}
		}
	}
	return c
}

func (c *columns) ring(x, y, r float64, n int) {
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		c.place(x+r*math.Cos(a), y+r*math.Sin(a))
	}
}

func (c *columns) along(s *seg, rad float64) {
	l := math.Hypot(s.b[0]-s.a[0], s.b[1]-s.a[1])
	if l == 0 {
		return
	}
	nx, ny := -(s.b[1]-s.a[1])/l, (s.b[0]-s.a[0])/l
	n := int(l/0.5) + 1
	for i := 0; i <= n; i++ {
		t := float64(i) / float64(n)
		x, y := s.a[0]+t*(s.b[0]-s.a[0]), s.a[1]+t*(s.b[1]-s.a[1])
		for _, o := range [7]float64{0, rad / 2, -rad / 2, rad - insets[0], insets[0] - rad, rad - insets[1], insets[1] - rad} {
			c.place(x+o*nx, y+o*ny)
		}
	}
}

// cutColumns cuts all columns in the order of the program and looks at each
// move before it is made: how much wood it meets, how it goes down into it.
func (r *ruling) cutColumns(j *Brief, segs []seg) {
	rad := j.Cutter / 2
	cols := stand(segs, rad)
	c := newCourses(j)
	for from := 0; from < len(segs); {
		to := from
		for to < len(segs) && segs[to].move == segs[from].move {
			to++
		}
		if move := segs[from:to]; !move[0].rapid {
			r.meets(j, cols, move)
			r.course(j, c, cols, move)
			if len(move) > 1 {
				r.strips(j, cols, move)
			}
			for i := range move {
				r.bite(j, cols, &move[i])
			}
		}
		from = to
		if r.Verdict == Harmful {
			return
		}
	}
}

// meets holds a move that goes down, or is slow, against the wood that stands
// under its way before it is made.
func (r *ruling) meets(j *Brief, cols *columns, move []seg) {
	s := &move[0]
	if s.fall <= heightTol && s.feed >= j.Feed*crawlPart {
		return
	}
	wood, untouched := false, false
	for i := range move {
		p := &move[i]
		low := min(p.a[2], p.b[2])
		cols.near(p, j.Cutter/2, func(c *column) {
			if c.h <= low+outlineTol && c.h <= -outlineTol {
				return
			}
			if _, _, under := p.over(c.x, c.y, j.Cutter/2-certain); under {
				wood = wood || low < -outlineTol && c.h > low+outlineTol
				untouched = untouched || c.h > -outlineTol
			}
		})
	}
	r.sinking(j, move, wood, untouched)
}

// strips looks for narrow strips that an arc meets, before any piece of it has
// brushed them away with its rim.
func (r *ruling) strips(j *Brief, cols *columns, move []seg) {
	for i := range move {
		s := &move[i]
		cols.near(s, j.Cutter/2, func(c *column) {
			if c.h-min(s.a[2], s.b[2]) <= j.Pass {
				return
			}
			if z, _, under := s.over(c.x, c.y, j.Cutter/2-possible); under && z < -outlineTol && c.h-z > j.Pass+outlineTol {
				r.add(Either, "line %d: a bite of %.3f mm, maybe into a narrow strip", s.line, c.h-z)
			}
		})
	}
}

// bite cuts a piece of a move, and looks at how deep a bite it takes.
func (r *ruling) bite(j *Brief, cols *columns, s *seg) {
	rad, low := j.Cutter/2, min(s.a[2], s.b[2])
	bite, maybe := 0.0, 0.0
	cols.near(s, rad, func(c *column) {
		if c.h <= low {
			return // gone already
		}
		if z, _, under := s.over(c.x, c.y, rad-possible); under {
			maybe = max(maybe, c.h-z)
		}
		if z, _, under := s.over(c.x, c.y, rad-certain); under {
			bite = max(bite, c.h-z)
		}
		if _, lowest, under := s.over(c.x, c.y, rad); under {
			c.h = min(c.h, lowest)
		}
	})
	if low < -outlineTol {
		r.over(bite-j.Pass, outlineTol, s.line, "bite deeper than the pass by")
		if maybe-j.Pass > outlineTol {
			r.add(Either, "line %d: a bite of %.3f mm into a narrow strip", s.line, maybe)
		}
	}
}

// over returns at what height the cutter comes over a place, and the lowest
// height it has there; false where it does not.
func (s *seg) over(x, y, rad float64) (first, lowest float64, ok bool) {
	if min(s.a[0], s.b[0])-x > rad || x-max(s.a[0], s.b[0]) > rad || min(s.a[1], s.b[1])-y > rad || y-max(s.a[1], s.b[1]) > rad {
		return 0, 0, false
	}
	dx, dy := s.b[0]-s.a[0], s.b[1]-s.a[1]
	px, py := s.a[0]-x, s.a[1]-y
	l2 := dx*dx + dy*dy
	c := px*px + py*py - rad*rad
	if l2 == 0 {
		return min(s.a[2], s.b[2]), min(s.a[2], s.b[2]), c <= 0
	}
	half := px*dx + py*dy
	disc := half*half - l2*c
	if disc < 0 {
		return 0, 0, false
	}
	t0, t1 := (-half-math.Sqrt(disc))/l2, (-half+math.Sqrt(disc))/l2
	if t1 < 0 || t0 > 1 {
		return 0, 0, false
	}
	t0, t1 = max(0, t0), min(1, t1)
	z0, z1 := s.a[2]+t0*(s.b[2]-s.a[2]), s.a[2]+t1*(s.b[2]-s.a[2])
	return z0, min(z0, z1), true
}

// By how much a ramp may be steeper than the job has it, for the decimals of a file
// turn a slope a little; and how near to that the answer is open. Degrees.
const (
	rampTol  = 0.006
	rampNear = 0.01
)

// sinking holds a move that goes down, or only rubs, against the job: wood
// says that it meets any, untouched that the surface stands somewhere on its
// way.
func (r *ruling) sinking(j *Brief, move []seg, wood, untouched bool) {
	s, end := &move[0], move[len(move)-1].b[2]
	least := j.Feed
	if s.fall > heightTol {
		least = min(least, j.Plunge*s.run/s.fall)
	}
	if s.radius > 0 && j.Accel > 0 { // a turn of that radius at v asks for v²/r
		least = math.Min(least, 60*math.Sqrt(j.Accel*s.radius))
	}
	if wood && s.feed < least*crawlPart {
		r.add(Harmful, "line %d: feed %.1f in wood: the cutter rubs", s.line, s.feed)
	}
	if s.fall <= heightTol || end >= j.Approach-heightTol {
		return
	}
	if !wood && !(end >= -outlineTol && untouched) {
		return
	}
	flat := math.Sqrt(max(0, s.run*s.run-s.fall*s.fall))
	if wood {
		deg := math.Atan2(s.fall, flat) * 180 / math.Pi
		switch limit := j.RampDeg*sinkTol + rampTol; {
		case flat < heightTol:
			r.add(Harmful, "line %d: straight plunge into wood", s.line)
		case deg > limit+rampNear:
			r.add(Harmful, "line %d: goes down at %.3f degrees", s.line, deg)
		case deg > limit-rampNear:
			r.add(Either, "line %d: goes down at %.3f degrees", s.line, deg)
		}
	}
	switch sink := s.feed * s.fall / s.run; {
	case sink > j.Plunge*sinkTol*1.001:
		r.add(Harmful, "line %d: sinks at %.1f mm/min", s.line, sink)
	case sink > j.Plunge*sinkTol*0.9995:
		r.add(Either, "line %d: sinks at %.1f mm/min", s.line, sink)
	}
}
