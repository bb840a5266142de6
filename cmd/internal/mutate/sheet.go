package mutate

import (
	"math"
	"sync"
)

// Sheet is work cut through from a sheet on a spoilboard.
type Sheet struct {
	W, H, Thickness float64
	Parts           []Part
	Keepouts        [][][2]float64
	TabCount        int // on each part; 0 where something else holds them
	TabWidth        float64
	TabHeight       float64

	once  sync.Once
	mu    sync.Mutex
	known map[[4]float64]float64 // what was worked out for a piece of way
	edges map[[2]int][]wall
}

// Part is a part as polygons, arcs as chords.
type Part struct {
	Outline  [][2]float64
	Holes    [][][2]float64
	SlugTabs []int          // for each hole, how many hold what it frees
	Tabs     int            // how many hold it
	Seats    [][][2]float64 // rows of places along seats
}

// wall is an edge of a part or of a screw zone.
type wall struct{ a, b [3]float64 }

const wallCell = 4.0 // mm

// index files all walls by place.
func (s *Sheet) index() {
	s.known, s.edges = map[[4]float64]float64{}, map[[2]int][]wall{}
	add := func(poly [][2]float64) {
		for i := range poly {
			p, q := poly[i], poly[(i+1)%len(poly)]
			w := wall{[3]float64{p[0], p[1]}, [3]float64{q[0], q[1]}}
			for x := int(math.Floor(min(p[0], q[0]) / wallCell)); x <= int(math.Floor(max(p[0], q[0])/wallCell)); x++ {
				for y := int(math.Floor(min(p[1], q[1]) / wallCell)); y <= int(math.Floor(max(p[1], q[1])/wallCell)); y++ {
					s.edges[[2]int{x, y}] = append(s.edges[[2]int{x, y}], w)
				}
			}
		}
	}
	for _, p := range s.Parts {
		add(p.Outline)
		for _, h := range p.Holes {
			add(h)
		}
	}
	for _, k := range s.Keepouts {
		add(k)
	}
}

// solid reports whether a place lies in a part or a screw zone.
func (s *Sheet) solid(x, y float64) bool {
	for _, p := range s.Parts {
		in := inside(p.Outline, x, y)
		for _, h := range p.Holes {
			in = in && !inside(h, x, y)
		}
		if in {
			return true
		}
	}
	for _, k := range s.Keepouts {
		if inside(k, x, y) {
			return true
		}
	}
	return false
}

// inside is the even-odd rule.
func inside(poly [][2]float64, x, y float64) bool {
	in := false
	for i := range poly {
		p, q := poly[i], poly[(i+1)%len(poly)]
		if (p[1] > y) != (q[1] > y) && x < p[0]+(y-p[1])*(q[0]-p[0])/(q[1]-p[1]) {
			in = !in
		}
	}
	return in
}

// reach returns how far a cutter of radius rad reaches into a part or a screw
// zone along a piece of way, seen from above.
func (s *Sheet) reach(a, b [3]float64, rad float64) float64 {
	s.once.Do(s.index)
	key := [4]float64{a[0], a[1], b[0], b[1]}
	s.mu.Lock()
	v, ok := s.known[key]
	s.mu.Unlock()
	if ok {
		return v
	}
	v = s.measure(a, b, rad)
	s.mu.Lock()
	s.known[key] = v
	s.mu.Unlock()
	return v
}

func (s *Sheet) measure(a, b [3]float64, rad float64) float64 {
	n := int(math.Hypot(b[0]-a[0], b[1]-a[1])/2) + 1
	for i := 0; i <= n; i++ {
		t := float64(i) / float64(n)
		if s.solid(a[0]+t*(b[0]-a[0]), a[1]+t*(b[1]-a[1])) {
			return rad // or more
		}
	}
	d2 := math.Inf(1)
	x0, x1 := min(a[0], b[0])-rad, max(a[0], b[0])+rad
	y0, y1 := min(a[1], b[1])-rad, max(a[1], b[1])+rad
	for x := int(math.Floor(x0 / wallCell)); x <= int(math.Floor(x1/wallCell)); x++ {
		for y := int(math.Floor(y0 / wallCell)); y <= int(math.Floor(y1/wallCell)); y++ {
			for _, w := range s.edges[[2]int{x, y}] {
				d2 = min(d2, segDist2(&a, &b, w.a[0], w.a[1]), segDist2(&a, &b, w.b[0], w.b[1]),
					segDist2(&w.a, &w.b, a[0], a[1]), segDist2(&w.a, &w.b, b[0], b[1]))
				if crossing(a, b, w.a, w.b) {
					return rad
				}
			}
		}
	}
	return rad - math.Sqrt(d2)
}

func crossing(a, b, c, d [3]float64) bool {
	side := func(p, q, r [3]float64) float64 {
		return (q[0]-p[0])*(r[1]-p[1]) - (q[1]-p[1])*(r[0]-p[0])
	}
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}

// sheetEdges holds the cutter's way against parts, screw zones, the sheet's
// edge and the spoilboard.
func (r *ruling) sheetEdges(j *Brief, segs []seg) {
	rad, s := j.Cutter/2, j.Sheet
	for i := range segs {
		a, b, ok := segs[i].below(-outlineTol)
		if !ok {
			continue
		}
		r.over(-min(a[2], b[2])-j.Depth, outlineTol, segs[i].line, "into the spoilboard")
		over := max(-min(a[0], b[0]), -min(a[1], b[1]), max(a[0], b[0])-s.W, max(a[1], b[1])-s.H) - rad
		r.over(over, partTol, segs[i].line, "beyond the sheet")
		if r.Verdict == Harmful {
			return
		}
		r.over(s.reach(a, b, rad), partTol, segs[i].line, "into a part or screw zone")
		if r.Verdict == Harmful {
			return
		}
	}
}
