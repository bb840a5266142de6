//go:build reference

package backplot

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
)

// sketch is a random program and a rectangle, as the outside reader gets them.
type sketch struct {
	R    float64
	Z    float64 // the height that is asked about
	Cuts []cutSketch
	Box  [4]float64
	// what our boundaries enclose, mm2
	Swept, Rest float64
}

// cutSketch is one cut as chords, and its centre where it is an arc.
type cutSketch struct {
	Pts    [][3]float64
	Center *[2]float64
}

// shapelyAreas works out both areas its own way: cuts as polylines of fine
// chords, clipped at the height, each grown by the cutter's radius. Arcs are
// not left to its buffer, which first straightens lines by a hundredth of the
// radius: they become ring sectors with a disc at each end.
const shapelyAreas = `
import json, math, sys
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union
def clip(p, z):
    out = []
    for a, b in zip(p, p[1:]):
        (x0, y0, z0), (x1, y1, z1) = a, b
        if z0 > z and z1 > z:
            continue
        def at(t): return (x0+t*(x1-x0), y0+t*(y1-y0))
        for q in (at((z-z0)/(z1-z0)) if z0 > z else at(0), at((z-z0)/(z1-z0)) if z1 > z else at(1)):
            if not out or out[-1] != q:
                out.append(q)
    return out
def sector(q, c, r):
    def off(p, d):
        l = math.hypot(p[0]-c[0], p[1]-c[1])
        k = max(0.0, l+d) / l
        return (c[0]+(p[0]-c[0])*k, c[1]+(p[1]-c[1])*k)
    return Polygon([off(p, r) for p in q] + [off(p, -r) for p in reversed(q)]).buffer(0)
for s in json.load(sys.stdin):
    parts = []
    for c in s["Cuts"]:
        q = clip(c["Pts"], s["Z"])
        if q and c["Center"]:
            parts += [Point(p).buffer(s["R"], resolution=400) for p in (q[0], q[-1])]
            if len(q) > 1:
                parts.append(sector(q, c["Center"], s["R"]))
        elif q:
            parts.append((Point(q[0]) if len(q) == 1 else LineString(q)).buffer(s["R"], resolution=400))
    u = unary_union(parts)
    print(u.area, box(*s["Box"]).difference(u).area)
`

// Swept area and rest of random programs agree with shapely to 0.01 mm2.
func TestReferenceSweptArea(t *testing.T) {
	const seed, programs = 20261125, 60
	rnd := rand.New(rand.NewPCG(seed, 1))
	var all []sketch
	for range programs {
		all = append(all, randomSketch(rnd))
	}
	in, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("/usr/bin/python3", "-c", shapelyAreas)
	cmd.Stdin = strings.NewReader(string(in))
	var stderr strings.Builder
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("shapely: %v\n%s", err, stderr.String())
	}
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")
	if len(lines) != programs {
		t.Fatalf("shapely answers %d times of %d", len(lines), programs)
	}
	const limit = 0.01 // mm2
	worst := 0.0
	for i, l := range lines {
		var swept, rest float64
		if _, err := fmt.Sscan(l, &swept, &rest); err != nil {
			t.Fatal(err)
		}
		d := math.Max(math.Abs(swept-all[i].Swept), math.Abs(rest-all[i].Rest))
		worst = math.Max(worst, d)
		if d > limit {
			t.Errorf("program %d of seed %d: swept %.4f, shapely %.4f; rest %.4f, shapely %.4f mm2", i, seed, all[i].Swept, swept, all[i].Rest, rest)
		}
	}
	t.Logf("largest difference %.5f mm2", worst)
}

// randomSketch draws a program of lines, arcs and ramps and works out its
// areas from the boundaries that the field finds.
func randomSketch(rnd *rand.Rand) sketch {
	s := sketch{R: 1 + 3*rnd.Float64(), Z: -0.5 - 2*rnd.Float64()}
	f := newField(s.R)
	at := func() geom.Point3 {
		return geom.Point3{X: 30 * rnd.Float64(), Y: 20 * rnd.Float64(), Z: -3 * rnd.Float64()}
	}
	p := at()
	for range 1 + rnd.IntN(12) {
		m := toolpath.Move{Kind: toolpath.Linear, From: p, To: at()}
		if rnd.IntN(3) == 0 {
			m.To.Z = m.From.Z
		}
		if rnd.IntN(3) == 0 {
			c := geom.Curve{A: m.From.XY(), B: m.To.XY(), Bulge: 2*rnd.Float64() - 1}
			m.Kind, m.Center, m.Sweep = toolpath.ArcCCW, c.Center(), c.Sweep()
			if c.Bulge < 0 {
				m.Kind = toolpath.ArcCW
			}
		}
		for _, w := range sweeps(nil, &m) {
			f.add(w, f.retraced(&w.axis))
		}
		c := cutSketch{Pts: chords(m)}
		if m.IsArc() {
			c.Center = &[2]float64{m.Center.X, m.Center.Y}
		}
		s.Cuts = append(s.Cuts, c)
		p = m.To
	}
	s.Box = [4]float64{5, 5, 5 + 20*rnd.Float64(), 5 + 12*rnd.Float64()}
	region := contourRegion(geom.Rect(geom.Box{Min: geom.Pt(s.Box[0], s.Box[1]), Max: geom.Pt(s.Box[2], s.Box[3])}))
	s.Swept, s.Rest = f.areas(region, s.Z)
	return s
}

func chords(m toolpath.Move) [][3]float64 {
	out := [][3]float64{{m.From.X, m.From.Y, m.From.Z}}
	n := 1
	if m.IsArc() {
		n = 1200
	}
	cs := m.Curves()
	for i, c := range cs {
		for k := 1; k <= n; k++ {
			q := c.At(float64(k) / float64(n))
			t := (float64(i) + float64(k)/float64(n)) / float64(len(cs))
			out = append(out, [3]float64{q.X, q.Y, m.From.Z + t*(m.To.Z-m.From.Z)})
		}
	}
	return out
}

// areas adds up, by Green's theorem, what the boundary of the swept area
// encloses, and what the boundary of the wood left in the region does. Each
// sweep counts as a millionth of a millimetre wider than the one before, so
// that of boundaries that run on each other one counts.
func (f *field) areas(g region, z float64) (swept, rest float64) {
	var axes []geom.Curve
	for i := range int32(f.store.n) {
		if a, ok := f.store.at(i).below(z); ok {
			axes = append(axes, a)
		}
	}
	const wider = 1e-6
	free := func(e geom.Curve, but int) []geom.Curve {
		left := []span{{0, 1}}
		q := newQuery(e)
		for i, a := range axes {
			r := f.r + wider*float64(i+1)
			if i == but {
				r -= wider / 2 // parts of its own edge may run inside of it
			}
			left = q.subtract(nil, q.crossSwept(nil, a, r), left, a, r)
		}
		var out []geom.Curve
		for _, s := range left {
			out = append(out, e.Part(s.From, s.To))
		}
		return out
	}
	for i, a := range axes {
		for _, e := range rim(a, f.r+wider*float64(i+1)) {
			for _, c := range free(e, i) {
				// The swept side is the one towards the axis.
				m := c.At(0.5)
				left := c.At(0.501).Sub(c.At(0.499)).Left()
				if left.Dot(a.Nearest(m).Sub(m)) < 0 {
					c = c.Reversed()
				}
				swept += green(c)
				q := newQuery(c)
				var ts []float64
				for _, b := range g.edge {
					ts = q.cross(ts, carrierOf(b))
				}
				for _, s := range splitAt(ts) {
					if p := c.Part(s.From, s.To); g.holds(p.At(0.5)) {
						rest += green(p.Reversed())
					}
				}
			}
		}
	}
	for _, e := range g.edge {
		for _, c := range free(e, -1) {
			rest += green(c)
		}
	}
	return swept, rest
}

// rim is the boundary of a swept disc without the halves of its end discs that
// lie within and touch its sides, which a sum would count in part.
func rim(a geom.Curve, r float64) []geom.Curve {
	if !a.IsArc() {
		return capsule(nil, a, r)
	}
	o, ra, turn := a.Center(), a.Radius(), math.Copysign(1, a.Bulge)
	at := func(p geom.Point, rr float64) geom.Point { return o.Add(p.Sub(o).Mul(rr / ra)) }
	out := []geom.Curve{
		{A: at(a.A, ra+r), B: at(a.B, ra+r), Bulge: a.Bulge},
		{A: at(a.B, ra+r), B: at(a.B, ra-r), Bulge: turn},
		{A: at(a.A, ra-r), B: at(a.A, ra+r), Bulge: turn},
	}
	if ra > r {
		out = append(out, geom.Curve{A: at(a.B, ra-r), B: at(a.A, ra-r), Bulge: -a.Bulge})
	}
	return out
}

// green is a curve's part of the integral of (x dy - y dx)/2.
func green(c geom.Curve) float64 {
	v := c.A.Cross(c.B) / 2
	if c.IsArc() {
		s, r := float64(c.Sweep()), c.Radius()
		v += r * r * (s - math.Sin(s)) / 2
	}
	return v
}
