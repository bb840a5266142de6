package planner

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/problem"
)

// sheetPlan is a sheet while it is planned.
type sheetPlan struct {
	boxes []geom.Box // round the parts; nil until asked for
	SheetJob
	r, slope, depth float64
	ops             [3][]operation // by kind
	problems        problemSet
	asked           bool // for a thinner cutter
	*room
}

// operation is one cut with the ways to begin it.
type operation struct {
	Cut
	part   int
	edge   int // of the part: -1 the outline, else the cut-out
	label  string
	cut    contourCut
	rings  []contourCut // in place of cut where one cut has several ways, one after the other
	turns  []int        // of the helices of a round hole with arcs
	tabs   []Tab
	begins stop
	slug   geom.Contour // the way round what tabs are to hold, nil where there is no such thing
	run    func(w *walk, begin int)
}

// part plans all cuts of a part.
func (p *sheetPlan) part(i int) {
	part := p.Parts[i]
	for k, h := range part.Holes {
		if o, r, ok := round(h); ok {
			p.roundHole(i, k, o, r)
			continue
		}
		what := fmt.Sprintf("cut-out %d of %s", k+1, part.Name)
		w, err := OffsetIn(h, p.r)
		if p.reached(part.Name, what, h, w, err, LargestIn) {
			p.contour(i, k, CutInner, what, w)
		}
	}
	what := "the outline of " + part.Name
	w, err := OffsetOut(part.Outline, p.r)
	if p.reached(part.Name, what, part.Outline, w, err, LargestOut) {
		p.contour(i, -1, CutOutline, what, w)
	}
}

// reached files a problem where the cutter cannot cut all of a contour.
func (p *sheetPlan) reached(part, what string, c geom.Contour, w Way, err error, largest func(geom.Contour, float64) float64) bool {
	u := p.Unit
	if err == nil && crossesItself(c) {
		err = errWay
	}
	if err != nil {
		most := min(2*largest(c, p.r), p.CutterDiameter*2/3)
		p.problems.add(part, problem.Problem{Key: "cutter.diameter", Got: u.FormatSize(p.CutterDiameter),
			Why:   fmt.Sprintf("the cutter does not go round %s: %v", what, err),
			Would: fmt.Sprintf("diameter = %q or thinner", u.FormatFloor(max(leastCutter, most, p.CutterDiameter/3)))})
		return false
	}
	if len(w.Missed) == 0 {
		return true
	}
	m := w.Missed[0]
	for _, o := range w.Missed {
		if o.By > m.By {
			m = o
		}
	}
	pr := problem.Problem{Key: "cutter.diameter", Got: u.Format(p.CutterDiameter)}
	if len(w.Loops) == 0 {
		pr.Why = fmt.Sprintf("the cutter does not fit into %s at %s", what, place(u, c.Bounds().Center()))
	} else {
		pr.Why = fmt.Sprintf("the cutter does not reach all of %s: at %s it leaves %s of wood", what, place(u, m.At), u.FormatFine(m.By))
	}
	if most := 2 * largest(c, p.r); most >= leastCutter {
		pr.Would = fmt.Sprintf("diameter = %q or thinner", u.FormatFloor(most))
	}
	p.problems.add(part, pr)
	return false
}

// roundHole plans a round hole.
func (p *sheetPlan) roundHole(i, k int, o geom.Point, r float64) {
	u, part := p.Unit, p.Parts[i]
	h, least, ok := planHole(o, r, p.depth, p.CutterDiameter, p.DepthPerPass, p.slope)
	if !ok {
		pr := problem.Problem{Key: "cutter.diameter", Got: u.Format(p.CutterDiameter),
			Why: fmt.Sprintf("hole %d of %s, at %s, is %s wide; for the cutter to ramp down in it, it would have to be %s",
				k+1, part.Name, place(u, o), u.FormatFine(2*r), u.Format(u.Ceil(2*least)))}
		fits := func(ramp geom.Angle) bool {
			h, _, ok := planHole(o, r, p.depth, p.CutterDiameter, p.DepthPerPass, ramp.Tan())
			return ok && (p.Arcs || p.track(polygonOf(geom.Circle(o, h.rings[0]))).lapFall(ramp.Tan()) >= p.depth/maxTurns)
		}
		if ramp := Steeper(p.RampMax, fits); ramp != "" {
			pr.Key, pr.Got, pr.Would = "cutter.ramp", p.RampMax.Format(), fmt.Sprintf("ramp = %q", ramp)
		} else if d := u.Below(2 * (r - least + p.r)); d >= leastCutter && p.holeFits(o, r, d) {
			pr.Would = fmt.Sprintf("diameter = %q or thinner", u.FormatExact(d))
		} else {
			pr.Would = p.thinner(part)
		}
		p.problems.add(part.Name, pr)
		return
	}
	op := operation{Cut: Cut{Kind: CutHole, Part: part.Name}, part: i, edge: k,
		label: fmt.Sprintf("hole %d of %s", k+1, part.Name)}
	if p.roundCut(&op, h) {
		p.ops[CutHole] = append(p.ops[CutHole], op)
	}
}

// holeFits reports whether a cutter of some diameter ramps down in a round hole.
func (p *sheetPlan) holeFits(o geom.Point, r, diameter float64) bool {
	_, _, ok := planHole(o, r, p.depth, diameter, p.DepthPerPass, p.slope)
	return ok
}

// roundByLines plans a round hole for a machine without arcs: each ring is a
// closed way like any other.
func (p *sheetPlan) roundByLines(op *operation) bool {
	var tracks []track
	for _, way := range op.Way {
		tracks = append(tracks, newTrack(polygonOf(way).Curves(), false))
	}
	return p.oneByOne(op, tracks)
}

// oneByOne plans closed ways that are cut one after the other.
func (p *sheetPlan) oneByOne(op *operation, tracks []track) bool {
	var cuts []contourCut
	for _, t := range tracks {
		c := p.levels(contourCut{track: t})
		if !p.rampable(*op, c) {
			return false
		}
		cuts = append(cuts, c)
	}
	op.rings = cuts
	first, last := cuts[0].startAt(0, p.slope), cuts[len(cuts)-1].startAt(0, p.slope)
	op.begins.from = []geom.Point{cuts[0].point(first.from)}
	op.begins.to = []geom.Point{cuts[len(cuts)-1].point(last.to)}
	op.run = func(w *walk, _ int) {
		for _, c := range cuts {
			w.cut(c, c.startAt(0, w.slope))
		}
	}
	return true
}

// polygonOf returns the regular polygon of the fewest sides that stands for a
// circle: its corners lie outside by no more than the middles of its sides lie
// inside, chordTol.
func polygonOf(circle geom.Contour) geom.Contour {
	o, r := circle.Bounds().Center(), circle.Bounds().W()/2
	n, off := 3.0, 0.0
	for ; ; n++ {
		c := math.Cos(math.Pi / n)
		if off = r * (1 - c) / (1 + c); off <= chordTol {
			break
		}
	}
	turn := 360 * geom.Degree / geom.Angle(n)
	if circle.Area() < 0 {
		turn = -turn
	}
	var out geom.Contour
	for k := range int(n) {
		out = append(out, geom.Vertex{Point: o.Add(geom.Polar(r+off, geom.Angle(k)*turn))})
	}
	return out
}

// rampable files a problem where a way is so short that ramps would take more
// than maxTurns laps.
func (p *sheetPlan) rampable(op operation, c contourCut) bool {
	if c.lapFall(p.slope) >= p.depth/maxTurns {
		return true
	}
	if op.part < 0 { // waste, of which the maker knows nothing
		return false
	}
	would := ""
	if ramp := Steeper(p.RampMax, func(a geom.Angle) bool { return c.lapFall(a.Tan()) >= p.depth/maxTurns }); ramp != "" {
		would = fmt.Sprintf("ramp = %q", ramp)
	} else if d := p.thinner(p.Parts[op.part]); d != "" {
		would = "[cutter] " + d
	}
	p.problems.add(op.Part, problem.Problem{Key: "cutter.ramp", Got: p.RampMax.Format(),
		Why:   fmt.Sprintf("%s leaves the cutter a way of only %s, too short for ramps that flat", op.label, p.Unit.FormatFine(c.length)),
		Would: would})
	return false
}

// sided turns a conventional way round where the job wants climb cutting.
func (p *sheetPlan) sided(c geom.Contour) geom.Contour {
	if p.Climb {
		return c.Reversed()
	}
	return c
}

// levels sets the heights of the passes of a cut: equal, no deeper than asked
// and no deeper than one lap can ramp.
func (p *sheetPlan) levels(c contourCut) contourCut {
	n, each := Passes(p.depth, p.DepthPerPass)
	if f := c.lapFall(p.slope); each > f && f > 0 {
		n, each = Passes(p.depth, f)
	}
	for k := 1; k <= n; k++ {
		c.levels = append(c.levels, -float64(k)*each)
	}
	c.levels[n-1] = -p.depth
	return c
}

// contour plans the cut of a closed way.
func (p *sheetPlan) contour(i, edge int, kind CutKind, what string, w Way) {
	part := p.Parts[i]
	for _, loop := range w.Loops {
		way := p.sided(loop)
		c := p.levels(contourCut{track: p.track(way)})
		op := operation{Cut: Cut{Kind: kind, Part: part.Name, Way: []geom.Contour{way}}, part: i, edge: edge, label: what, cut: c}
		if !p.rampable(op, c) {
			return
		}
		if kind == CutInner && !p.cutOut(&op, loop) {
			return
		}
		p.ops[kind] = append(p.ops[kind], op)
	}
}

// begin finds the ways to begin the cut of a closed way.
func (p *sheetPlan) begin(op *operation) {
	c := op.cut
	starts := p.starts(c, p.Parts[op.part].NoTab)
	for _, s := range starts {
		op.begins.from = append(op.begins.from, c.point(s.from))
		op.begins.to = append(op.begins.to, c.point(s.to))
	}
	op.run = func(w *walk, begin int) { w.cut(c, starts[begin]) }
}

// outlines places the tabs of all outlines, which takes all their ways, and
// finds where their cuts may begin.
func (p *sheetPlan) outlines() {
	g := ground{r: p.r, side: p.scrapSide(), edges: geom.Rect(geom.Box{Max: geom.Pt(p.SheetW, p.SheetH)}).Curves()}
	ops := p.ops[CutOutline]
	for i := range ops {
		g.add(&ops[i])
	}
	g.index()
	for i := range ops {
		op := &ops[i]
		g.seats = p.Parts[op.part].NoTab
		if p.Tabs.Count > 0 {
			if room, ok := p.addTabs(op, g, p.FewestTabs); !ok {
				p.problems.add(op.Part, p.noRoom(op, newTrack(op.Way[0].Curves(), true), g, room))
				continue
			}
		}
		p.begin(op)
	}
}

// scrapSide is on which side of a way the scrap lies, see [ground].
func (p *sheetPlan) scrapSide() float64 {
	if p.Climb {
		return -1
	}
	return 1
}

// addTabs places the tabs of an outline or a slug, fewer where there is no room
// for all, but no fewer than fewest; 0 allows none to be left out. It returns how
// many have room.
func (p *sheetPlan) addTabs(op *operation, g ground, fewest int) (room int, ok bool) {
	part, c := p.Parts[op.part], &op.cut
	// Tabs are placed on the way with its arcs, so that no chord of an arc
	// counts as a straight run; lengths differ by next to nothing.
	whole := newTrack(op.Way[0].Curves(), true)
	at, room := placeTabs(whole, g, p.Tabs)
	if at == nil && fewest > 0 && room >= fewest {
		fewer := p.Tabs
		fewer.Count = room
		at, _ = placeTabs(whole, g, fewer)
	}
	if at == nil {
		return room, false
	}
	if !p.Arcs {
		at = transfer(whole, c.track, at)
	}
	c.tabs, c.lift = at, p.Tabs.lift(p.r)
	c.tabTop = p.Tabs.Height + tabSpare - p.Thickness
	for _, s := range at {
		a, b := c.point(s-0.5), c.point(s+0.5)
		op.tabs = append(op.tabs, Tab{part.Name, op.edge + 1, c.point(s), b.Sub(a).Unit(), p.Tabs.Width, p.Tabs.Height})
	}
	return room, true
}

// transfer returns the same places on another track of the same way.
func transfer(a, b track, at []float64) []float64 {
	out := make([]float64, len(at))
	for i, s := range at {
		p, best := a.point(s), math.Inf(1)
		for k, c := range b.curves {
			if d := c.DistTo(p); d < best {
				best, out[i] = d, b.along[k].start+c.Param(p)*b.along[k].length
			}
		}
	}
	return out
}

// starts returns the places where a cut may begin: behind each tab, or in the
// middle of straight runs; off the seats where that can be.
func (p *sheetPlan) starts(c contourCut, seats []geom.Curve) []start {
	const most = 12 // places to choose from are enough for a short tour
	var all, good []start
	take := func(s start) {
		all = append(all, s)
		at := c.point(s.from)
		for _, q := range seats {
			if q.DistTo(at) < p.r+seatLeast {
				return
			}
		}
		good = append(good, s)
	}
	if len(c.tabs) > 0 {
		for k := range c.tabs {
			take(c.startBehind(k, p.slope))
		}
	} else {
		straight := func(e geom.Curve) bool { return !e.IsArc() && e.Length() > 2*p.r }
		step := 1
		for pass := 0; pass < 2 && len(all) == 0; pass++ {
			if pass == 1 {
				step = len(c.curves)/most + 1
			}
			for k := 0; k < len(c.curves); k += step {
				if e := c.curves[k]; pass == 1 || straight(e) {
					take(c.startAt(c.along[k].start+c.along[k].length/2, p.slope))
				}
			}
		}
	}
	if len(good) == 0 {
		good = all
	}
	if len(good) > most {
		good = good[:most]
	}
	return good
}
