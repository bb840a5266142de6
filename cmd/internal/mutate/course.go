package mutate

import "math"

// How near to the cutter's radius a way keeps from an edge that it runs along,
// the shortest move that has a side, and how near the ends of a closed way lie, mm.
const (
	alongNear = 0.05
	sideLeast = 0.2
	closedTol = 1e-6 // far below the last digit that a program is written with
)

// courses are the ways that have been begun.
type courses struct {
	begun []bool // the outline of each part
}

func newCourses(j *Brief) *courses {
	if j.Sheet == nil {
		return &courses{}
	}
	return &courses{begun: make([]bool, len(j.Sheet.Parts))}
}

// course holds a move that meets wood against the side of cut and the order of
// cuts: within a part first, then its outline.
func (r *ruling) course(j *Brief, c *courses, cols *columns, move []seg) {
	s := &move[0]
	low := min(s.a[2], move[len(move)-1].b[2])
	if low >= -outlineTol {
		return
	}
	certain, maybe := metBy(j, cols, move)
	add := func(v Verdict, format string) {
		if !certain {
			v = Either
		}
		if certain || maybe {
			r.add(v, format, s.line)
		}
	}
	mid, way := midOf(move)
	if j.Sheet != nil {
		part, within := j.Sheet.partAt(mid, j.Cutter/2)
		if part >= 0 && within && c.begun[part] {
			add(Harmful, "line %d: cut within a part after its outline")
		}
		if part >= 0 && !within {
			c.begun[part] = true
		}
	}
	turn := len(move) > 1 && math.Hypot(move[0].a[0]-move[len(move)-1].b[0], move[0].a[1]-move[len(move)-1].b[1]) < closedTol
	if s.a[2] != move[len(move)-1].b[2] && !turn || s.run < sideLeast {
		return
	}
	right, wrong, near := j.sides(mid, way)
	switch {
	case wrong && !right && !near:
		add(Harmful, "line %d: cuts on the other side than asked")
	case wrong && !right:
		add(Either, "line %d: cuts on the other side than asked, or not along an edge")
	}
}

// metBy says whether a move meets wood for certain, or maybe in a narrow strip.
func metBy(j *Brief, cols *columns, move []seg) (certainly, maybe bool) {
	for i := range move {
		p := &move[i]
		low := min(p.a[2], p.b[2])
		cols.near(p, j.Cutter/2, func(c *column) {
			if c.h <= low+outlineTol {
				return
			}
			if _, _, under := p.over(c.x, c.y, j.Cutter/2-possible); under {
				maybe = true
			}
			if _, _, under := p.over(c.x, c.y, j.Cutter/2-certain); under {
				certainly = true
			}
		})
	}
	return certainly, maybe
}

// midOf is the middle of a move and the direction it has there.
func midOf(move []seg) (mid, way [2]float64) {
	total := 0.0
	for i := range move {
		total += math.Hypot(move[i].b[0]-move[i].a[0], move[i].b[1]-move[i].a[1])
	}
	left := total / 2
	for i := range move {
		s := &move[i]
		l := math.Hypot(s.b[0]-s.a[0], s.b[1]-s.a[1])
		if l > 0 && l >= left {
			t := left / l
			return [2]float64{s.a[0] + t*(s.b[0]-s.a[0]), s.a[1] + t*(s.b[1]-s.a[1])}, [2]float64{(s.b[0] - s.a[0]) / l, (s.b[1] - s.a[1]) / l}
		}
		left -= l
	}
	return [2]float64{move[0].a[0], move[0].a[1]}, way
}

// partAt is the part that a place is cut for: the one that it lies within a
// cut-out of, or along the outline of.
func (s *Sheet) partAt(at [2]float64, rad float64) (part int, within bool) {
	best := rad + alongNear
	part = -1
	for i, p := range s.Parts {
		for _, h := range p.Holes {
			if inside(h, at[0], at[1]) {
				return i, true
			}
		}
		if d, _, _ := nearestEdge(p.Outline, at, [2]float64{}); d < best {
			best, part = d, i
		}
	}
	return part, false
}

// nearestEdge is how far a polygon's nearest edge lies from a place, on which
// side of the way it lies (above 0: left), and how much across the way.
func nearestEdge(poly [][2]float64, at, way [2]float64) (d, left, across float64) {
	d = math.Inf(1)
	for i := range poly {
		p, q := poly[i], poly[(i+1)%len(poly)]
		dx, dy := q[0]-p[0], q[1]-p[1]
		t := 0.0
		if l2 := dx*dx + dy*dy; l2 > 0 {
			t = max(0, min(1, ((at[0]-p[0])*dx+(at[1]-p[1])*dy)/l2))
		}
		vx, vy := p[0]+t*dx-at[0], p[1]+t*dy-at[1]
		if v := math.Hypot(vx, vy); v < d {
			d, left, across = v, way[0]*vy-way[1]*vx, math.Abs(way[0]*vx+way[1]*vy)/v
		}
	}
	return d, left, across
}

// sides says whether a way through a place has wood that stays on the side that
// is asked for, or on the other, and whether that is near to a limit.
func (j *Brief) sides(at, way [2]float64) (right, wrong, near bool) {
	rad := j.Cutter / 2
	look := func(d, left, across float64) {
		off := math.Abs(d - rad)
		if off > alongNear+0.01 || across > 0.2 {
			return
		}
		near = near || off > alongNear-0.01 || across > 0.05
		if left > 0 != j.Climb {
			right = true
		} else {
			wrong = true
		}
	}
	if j.Sheet != nil {
		for _, p := range j.Sheet.Parts {
			for _, poly := range append([][][2]float64{p.Outline}, p.Holes...) {
				look(nearestEdge(poly, at, way))
			}
		}
		return right, wrong, near
	}
	for _, s := range j.Slots {
		if min(s.X1-s.X0, s.Y1-s.Y0) <= j.Cutter+2*alongNear || s.outside(at[0], at[1], rad) > 0 {
			continue
		}
		look(nearestEdge([][2]float64{{s.X0 + rad, s.Y0}, {s.X1 - rad, s.Y0}}, at, way))
		look(nearestEdge([][2]float64{{s.X0 + rad, s.Y1}, {s.X1 - rad, s.Y1}}, at, way))
		look(nearestEdge([][2]float64{{s.X0, s.Y0 + rad}, {s.X0, s.Y1 - rad}}, at, way))
		look(nearestEdge([][2]float64{{s.X1, s.Y0 + rad}, {s.X1, s.Y1 - rad}}, at, way))
	}
	return right, wrong, near
}
