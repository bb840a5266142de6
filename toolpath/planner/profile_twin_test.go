package planner_test

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/planner"
)

// wood is the slow, obvious twin of the proof: a sheet as a grid of heights
// from which every move takes what its disc passes over.
type wood struct {
	cell     float64
	box      geom.Box
	nx, ny   int
	z        []float64
	r        float64
	bite     float64 // most taken by one move at one place
	faults   []string
	at       geom.Point3
	slopeMax float64 // steepest way down into wood, as a tangent
	sinkMax  float64 // fastest way down into wood, mm/min
	feedMax  float64
	lowest   float64
}

func newWood(box geom.Box, cell, r float64) *wood {
	w := &wood{cell: cell, box: box, r: r}
	w.nx, w.ny = int(box.W()/cell)+1, int(box.H()/cell)+1
	w.z = make([]float64, w.nx*w.ny)
	return w
}

func (w *wood) point(i int) geom.Point {
	return geom.Pt(w.box.Min.X+float64(i%w.nx)*w.cell, w.box.Min.Y+float64(i/w.nx)*w.cell)
}

func (w *wood) fault(format string, a ...any) {
	w.faults = append(w.faults, fmt.Sprintf(format, a...))
}

// run replays a program. Heights of travel are those of the job.
func (w *wood) run(p toolpath.Program, safe, near float64) {
	w.at = geom.Point3{Z: safe}
	for n, s := range p.Steps {
		if s.Do != toolpath.StepMove {
			continue
		}
		if s.Kind == toolpath.Rapid {
			across := w.at.XY() != s.To.XY()
			if across && (w.at.Z < safe || s.To.Z < safe) {
				w.fault("step %d: rapid across below the safe height", n)
			}
			if w.at.Z < near || s.To.Z < near {
				w.fault("step %d: rapid below the approach height", n)
			}
			w.at = s.To
			continue
		}
		w.feedMax = math.Max(w.feedMax, s.Feed)
		for _, leg := range legsOf(w.at, s) {
			took := w.take(w.at, leg)
			if fall := w.at.Z - leg.Z; took && fall > 1e-12 {
				run := w.at.XY().Dist(leg.XY())
				w.slopeMax = math.Max(w.slopeMax, fall/run)
				w.sinkMax = math.Max(w.sinkMax, s.Feed*fall/math.Hypot(run, fall))
			}
			w.at = leg
			w.lowest = math.Min(w.lowest, leg.Z)
		}
	}
}

// legsOf cuts a move into straight legs; an arc into short ones that leave it
// by a thousandth of a mm.
func legsOf(from geom.Point3, s toolpath.Step) []geom.Point3 {
	if s.Kind == toolpath.Linear {
		return []geom.Point3{s.To}
	}
	a, b := from.XY().Sub(s.Center), s.To.XY().Sub(s.Center)
	sweep := float64(b.Angle() - a.Angle())
	if s.Kind == toolpath.ArcCCW {
		for sweep <= 1e-9 {
			sweep += 2 * math.Pi
		}
	} else {
		for sweep >= -1e-9 {
			sweep -= 2 * math.Pi
		}
	}
	n := int(math.Ceil(math.Abs(sweep)/(2*math.Acos(math.Max(0.5, 1-1e-3/a.Len()))))) + 1
	var out []geom.Point3
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		p := geom.Place{Turn: geom.Angle(sweep * t), Move: s.Center}.Point(a)
		out = append(out, geom.Point3{X: p.X, Y: p.Y, Z: from.Z + (s.To.Z-from.Z)*t})
	}
	return out
}

// take removes what a straight leg sweeps and reports whether there was any.
func (w *wood) take(from, to geom.Point3) bool {
	if math.Min(from.Z, to.Z) >= 0 {
		return false
	}
	b := geom.EmptyBox().With(from.XY()).With(to.XY()).Grow(w.r)
	x0, x1 := int((b.Min.X-w.box.Min.X)/w.cell), int((b.Max.X-w.box.Min.X)/w.cell)+1
	y0, y1 := int((b.Min.Y-w.box.Min.Y)/w.cell), int((b.Max.Y-w.box.Min.Y)/w.cell)+1
	d := to.XY().Sub(from.XY())
	leg := geom.Curve{A: from.XY(), B: to.XY()}
	qa, took := d.Dot(d), false
	for y := max(0, y0); y <= min(w.ny-1, y1); y++ {
		for x := max(0, x0); x <= min(w.nx-1, x1); x++ {
			i := y*w.nx + x
			v := from.XY().Sub(w.point(i))
			// |v + t d| <= r between t0 and t1.
			qb, qc := v.Dot(d), v.Dot(v)-w.r*w.r
			t0, t1 := 0.0, 1.0
			if qa == 0 {
				if qc > 0 {
					continue
				}
			} else {
				disc := qb*qb - qa*qc
				if disc <= 0 {
					continue
				}
				s := math.Sqrt(disc)
				t0, t1 = math.Max(0, (-qb-s)/qa), math.Min(1, (-qb+s)/qa)
				if t0 >= t1 {
					continue
				}
			}
			z := math.Min(from.Z+(to.Z-from.Z)*t0, from.Z+(to.Z-from.Z)*t1)
			if z < w.z[i]-1e-9 {
				// What only grazes the edge may be an arc's chords.
				if leg.DistTo(w.point(i)) < w.r-0.01 {
					w.bite, took = math.Max(w.bite, w.z[i]-z), true
				}
				w.z[i] = z
			}
		}
	}
	return took
}

// expect holds the wood against what a job should have left.
func (w *wood) expect(j planner.SheetJob, tabs []planner.Tab) {
	const tol = 0.02 // mm, as the kit's proof allows
	depth := j.Thickness + j.Breakthrough
	for i := range w.z {
		p := w.point(i)
		for _, part := range j.Parts {
			if !part.Outline.Bounds().Grow(w.r).Holds(geom.EmptyBox().With(p)) {
				continue
			}
			d, in := part.Outline.DistTo(p), part.Outline.Contains(p)
			hole := -1
			for k, h := range part.Holes {
				if h.Contains(p) {
					hole = k
				}
				d = math.Min(d, h.DistTo(p))
			}
			switch {
			case d <= tol:
			case in && hole < 0 && w.z[i] < 0:
				w.fault("cuts %.3f deep into %s at %v, %.3f from its edge", -w.z[i], part.Name, p, d)
			case hole >= 0 && d < w.r && w.z[i] > -depth+1e-6:
				w.fault("leaves %.3f in hole %d of %s at %v", depth+w.z[i], hole, part.Name, p)
			case !in && d < w.r:
				w.expectGap(j, tabs, p, w.z[i])
			}
		}
		if w.z[i] < -depth-1e-9 {
			w.fault("cuts %.4f below the last pass", -depth-w.z[i])
		}
	}
}

// expectGap looks at a place beside a part: cut through, or tab.
func (w *wood) expectGap(j planner.SheetJob, tabs []planner.Tab, p geom.Point, z float64) {
	const tol = 0.03 // mm: the spare width and height of tabs, and rounding
	depth := j.Thickness + j.Breakthrough
	top := j.Tabs.Height - j.Thickness
	for _, t := range tabs {
		along := math.Abs(p.Sub(t.At).Dot(t.Along))
		across := math.Abs(p.Sub(t.At).Cross(t.Along))
		if across > w.r+tol || along > t.Width/2+w.r+tol {
			continue
		}
		if along < t.Width/2 && (z < top-1e-9 || z > top+tol) {
			w.fault("tab at %v is %.3f high at %v, want %.3f", t.At, z+j.Thickness, p, j.Tabs.Height)
		}
		// Between tab and full depth lies the round of the cutter's disc.
		disc := across*across + math.Pow(math.Max(0, t.Width/2+w.r-along), 2)
		if along >= t.Width/2 && disc < (w.r-tol)*(w.r-tol) && z > -depth+1e-6 {
			w.fault("%.3f of wood stand beside the tab at %v", depth+z, t.At)
		}
		return
	}
	if z > -depth+1e-6 {
		w.fault("leaves %.3f at %v between part and scrap", depth+z, p)
	}
}
