package toolpath

import (
	"fmt"
	"math"

	"starwright/geom"
)

// SheetJob is a sheet of placed parts to be cut through. Lengths are mm, feeds
// mm/min; the sheet's lower left corner is at 0,0 and its top at Z 0.
type SheetJob struct {
	Name   string
	Header []string
	Unit   geom.Unit // in which problems are said

	Parts          []Part // as they lie on the sheet
	SheetW, SheetH float64
	Thickness      float64
	Breakthrough   float64     // how far the last pass goes into the spoilboard
	ScrewZones     []geom.Box  // kept free of parts and of the cutter
	Travel         geom.Point3 // of the machine; a zero axis is not limited

	CutterDiameter float64
	CutLength      float64 // of the cutter's edge; 0 where it is not known
	DepthPerPass   float64 // most; passes are equal
	Feed           float64
	PlungeFeed     float64 // most the cutter may sink per minute
	RampMax        geom.Angle
	RPM, SpinUpS   float64
	SafeZ          float64 // height of travel
	Approach       float64 // height where a rapid down ends
	Climb          bool    // side of cut; conventional without it
	Arcs           bool    // G2 and G3; lines within 0.01 mm without it
	Tabs           Tabs
}

// CutKind says what a cut frees. Cuts of one kind are made before the next.
type CutKind uint8

// The kinds of cut, in the order in which they are made.
const (
	CutHole    CutKind = iota // a round hole
	CutInner                  // another cut-out
	CutOutline                // the outline; the part hangs in its tabs
)

// String returns the kind in the words of the bench.
func (k CutKind) String() string { return [...]string{"hole", "cut-out", "outline"}[k] }

// Cut is one cut as it was planned.
type Cut struct {
	Kind  CutKind
	Part  string
	Way   []geom.Contour // of the cutter's centre
	Loose bool           // a piece inside comes loose
}

// SheetReport says what a sheet's program does.
type SheetReport struct {
	Passes      int     // of an outline
	PassDepth   float64 // mm
	Cuts        []Cut   // in the order in which they are made
	Tabs        []Tab
	CutMM       float64 // length at feed
	TravelMM    float64 // length of travel between the cuts
	TravelBound float64 // what no order of them could undercut, see Blocks
	Blocks      int     // moves of the program
}

// PlanSheet plans the program of one sheet: round holes first, then other
// cut-outs, then outlines. The error is of type [Problems].
func PlanSheet(j SheetJob) (Program, SheetReport, error) {
	if ps := j.check(); len(ps) > 0 {
		return Program{}, SheetReport{}, ps
	}
	p := &sheetPlan{SheetJob: j, r: j.CutterDiameter / 2, slope: j.RampMax.Tan(), depth: j.Thickness + j.Breakthrough}
	for i := range j.Parts {
		p.part(i)
	}
	p.neighbours()
	if ps := p.problems.list(); len(ps) > 0 {
		return Program{}, SheetReport{}, ps
	}
	return p.program()
}

// sheetPlan is a sheet while it is planned.
type sheetPlan struct {
	SheetJob
	r, slope, depth float64
	ops             [3][]operation // by kind
	problems        problemSet
}

// operation is one cut with the ways to begin it.
type operation struct {
	Cut
	part   int
	edge   int // of the part: -1 the outline, else the cut-out
	label  string
	tabs   []Tab
	begins stop
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
		p.problems.add(part, Problem{Key: part, Why: fmt.Sprintf("%s cannot be cut: %v", what, err)})
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
	pr := Problem{Key: "cutter.diameter", Got: u.Format(p.CutterDiameter)}
	if len(w.Loops) == 0 {
		pr.Why = fmt.Sprintf("the cutter does not fit into %s at %s", what, place(u, c.Bounds().Center()))
	} else {
		pr.Why = fmt.Sprintf("the cutter does not reach all of %s: at %s it leaves %s of wood", what, place(u, m.At), u.FormatFine(m.By))
	}
	if most := u.Floor(2 * largest(c, p.r)); most > 0 {
		pr.Would = fmt.Sprintf("diameter = %q or thinner", u.Format(most))
	} else {
		pr.Would = "no round cutter reaches a sharp inside corner; a relief there"
	}
	p.problems.add(part, pr)
	return false
}

// roundHole plans a round hole.
func (p *sheetPlan) roundHole(i, k int, o geom.Point, r float64) {
	u, part := p.Unit, p.Parts[i]
	h, least, ok := planHole(o, r, p.depth, p.CutterDiameter, p.DepthPerPass, p.slope)
	if !ok {
		pr := Problem{Key: "cutter.diameter", Got: u.Format(p.CutterDiameter),
			Why: fmt.Sprintf("hole %d of %s, at %s, is %s wide; for the cutter to ramp down in it, it would have to be %s",
				k+1, part.Name, place(u, o), u.FormatFine(2*r), u.Format(u.Ceil(2*least)))}
		if fits := u.Floor(2 * (r - least + p.r)); fits > 0 {
			pr.Would = fmt.Sprintf("diameter = %q or thinner", u.Format(fits))
		}
		p.problems.add(part.Name, pr)
		return
	}
	op := operation{Cut: Cut{Kind: CutHole, Part: part.Name, Loose: h.loose}, part: i, edge: k,
		label: fmt.Sprintf("hole %d of %s", k+1, part.Name)}
	for _, q := range h.rings {
		op.Way = append(op.Way, p.sided(geom.Circle(o, q).Reversed()))
	}
	if !p.Arcs {
		if !p.roundByLines(&op) {
			return
		}
	} else {
		const quarters = 4
		for q := range quarters {
			from, to := h.ends(geom.Angle(q) * 90 * geom.Degree)
			op.begins.from, op.begins.to = append(op.begins.from, from), append(op.begins.to, to)
		}
		kind := ArcCW
		if p.Climb {
			kind = ArcCCW
		}
		op.run = func(w *walk, begin int) { w.bore(h, geom.Angle(begin)*90*geom.Degree, kind) }
	}
	p.ops[CutHole] = append(p.ops[CutHole], op)
}

// roundByLines plans a round hole for a machine without arcs: each ring is a
// closed way like any other.
func (p *sheetPlan) roundByLines(op *operation) bool {
	var cuts []contourCut
	for _, way := range op.Way {
		c := p.levels(contourCut{track: newTrack(way.Curves(), false)})
		if !p.rampable(*op, c) {
			return false
		}
		cuts = append(cuts, c)
	}
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

// rampable files a problem where a way is so short that ramps would take more
// than maxTurns laps.
func (p *sheetPlan) rampable(op operation, c contourCut) bool {
	if c.lapFall(p.slope) >= p.depth/maxTurns {
		return true
	}
	p.problems.add(op.Part, Problem{Key: "cutter.ramp", Got: p.RampMax.Format(),
		Why:   fmt.Sprintf("%s leaves the cutter a way of only %s, too short for ramps that flat", op.label, p.Unit.FormatFine(c.length)),
		Would: "a steeper ramp or a thinner cutter"})
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
		c := p.levels(contourCut{track: newTrack(way.Curves(), p.Arcs)})
		op := operation{Cut: Cut{Kind: kind, Part: part.Name, Way: []geom.Contour{way}}, part: i, edge: edge, label: what}
		if !p.rampable(op, c) {
			return
		}
		if kind == CutInner {
			slug, err := OffsetIn(loop, p.r)
			op.Loose = err == nil && len(slug.Loops) > 0
		} else if p.Tabs.Count > 0 && !p.addTabs(&op, &c) {
			return
		}
		starts := p.starts(c, part.NoTab)
		for _, s := range starts {
			op.begins.from = append(op.begins.from, c.point(s.from))
			op.begins.to = append(op.begins.to, c.point(s.to))
		}
		op.run = func(w *walk, begin int) { w.cut(c, starts[begin]) }
		p.ops[kind] = append(p.ops[kind], op)
	}
}

// addTabs places the tabs of an outline.
func (p *sheetPlan) addTabs(op *operation, c *contourCut) bool {
	part := p.Parts[op.part]
	// Tabs are placed on the way with its arcs, so that no chord of an arc
	// counts as a straight run; lengths differ by next to nothing.
	at, room := placeTabs(newTrack(op.Way[0].Curves(), true), part.NoTab, p.r, p.Tabs)
	if at == nil {
		p.problems.add(part.Name, p.noRoom(op, room))
		return false
	}
	if !p.Arcs {
		at = transfer(newTrack(op.Way[0].Curves(), true), c.track, at)
	}
	c.tabs, c.lift = at, p.Tabs.lift(p.r)
	c.tabTop = p.Tabs.Height + tabSpare - p.Thickness
	for _, s := range at {
		a, b := c.point(s-0.5), c.point(s+0.5)
		op.tabs = append(op.tabs, Tab{part.Name, c.point(s), b.Sub(a).Unit(), p.Tabs.Width, p.Tabs.Height})
	}
	return true
}

// transfer returns the same places on another track of the same way.
func transfer(a, b track, at []float64) []float64 {
	out := make([]float64, len(at))
	for i, s := range at {
		p, best := a.point(s), math.Inf(1)
		for k, c := range b.curves {
			if d := c.DistTo(p); d < best {
				best, out[i] = d, b.starts[k]+c.Param(p)*c.Length()
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
					take(c.startAt(c.starts[k]+e.Length()/2, p.slope))
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

// program puts the cuts in order and makes the program.
func (p *sheetPlan) program() (Program, SheetReport, error) {
	groups := make([][]stop, len(p.ops))
	for k, ops := range p.ops {
		for _, op := range ops {
			groups[k] = append(groups[k], op.begins)
		}
	}
	order, begin := tour(groups)
	w := &walk{feed: p.Feed, plunge: p.PlungeFeed, slope: p.slope, safe: p.SafeZ, near: p.Approach}
	rep := SheetReport{}
	rep.Passes, rep.PassDepth = Passes(p.depth, p.DepthPerPass)
	legs := make([][]leg, len(order))
	var last *leg
	for k, o := range order {
		for n, i := range o {
			op, b := p.ops[k][i], begin[k][n]
			w.steps = append(w.steps, Remark(op.remark()))
			op.run(w, b)
			l := leg{op.begins.from[b], op.begins.to[b]}
			if last != nil {
				rep.TravelMM += last.to.Dist(l.from)
			}
			last = &l
			legs[k] = append(legs[k], l)
			rep.Cuts, rep.Tabs = append(rep.Cuts, op.Cut), append(rep.Tabs, op.tabs...)
		}
	}
	rep.TravelBound, rep.CutMM = travelBound(legs), w.cutMM
	for _, s := range w.steps {
		if s.Do == StepMove {
			rep.Blocks++
		}
	}
	return Program{Name: p.Name, Header: p.Header, RPM: p.RPM, SpinUpS: p.SpinUpS, SafeZ: p.SafeZ, Steps: w.steps}, rep, nil
}

func (op operation) remark() string {
	s := op.label
	if n := len(op.tabs); n > 0 {
		s += fmt.Sprintf(", %d tabs", n)
	}
	if op.Loose {
		s += ", the piece inside comes loose"
	}
	return s
}
