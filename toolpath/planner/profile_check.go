package planner

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/geom/problem"
)

// slack is how far a way may reach into what it has to keep clear of, mm: turned
// and moved outlines are rounded, and the back-plot allows two hundred times as
// much.
const slack = 1e-4

// problemSet keeps one problem for each key and part: six copies of a block
// have one fault, not six.
type problemSet struct {
	all  problem.List
	seen map[[2]string]bool
}

func (s *problemSet) add(part string, p problem.Problem) {
	k := [2]string{part, p.Key}
	if s.seen[k] {
		return
	}
	if s.seen == nil {
		s.seen = map[[2]string]bool{}
	}
	s.seen[k] = true
	s.all = append(s.all, p)
}

func (s *problemSet) list() problem.List { return s.all }

// LeastSafeZ is the lowest safe height that is offered, mm over the wood, and
// leastSheet the thinnest sheet.
const (
	LeastSafeZ = 2.0
	leastSheet = 3.0
)

// check looks at the job's numbers.
func (j SheetJob) check() problem.List {
	var ps problem.List
	u := j.Unit
	length := func(key string, v, least float64, would string) {
		if !(v > least) || math.IsInf(v, 0) {
			ps = append(ps, problem.Problem{Key: key, Got: u.Format(v), Why: fmt.Sprintf("must be above %s", u.Format(least)), Would: would})
		}
	}
	feed := func(key string, v float64, would float64) {
		if !(v > 0) || math.IsInf(v, 0) {
			ps = append(ps, problem.Problem{Key: key, Got: u.FormatFeed(v), Why: "must be above zero", Would: fmt.Sprintf("%q", u.FormatFeed(would))})
		}
	}
	length("sheet.width", j.SheetW, 0, "")
	length("sheet.height", j.SheetH, 0, "")
	length("sheet.thickness", j.Thickness, 0, "the thickness as measured")
	length("cutter.diameter", j.CutterDiameter, 0, "")
	length("cutter.depth_per_pass", j.DepthPerPass, 0, fmt.Sprintf("depth_per_pass = %q", u.Format(j.CutterDiameter/2)))
	length("machine.approach", j.Approach, 0, fmt.Sprintf("approach = %q", u.Format(2)))
	length("machine.safe_z", j.SafeZ, 0, fmt.Sprintf("safe_z = %q", u.Format(10)))
	feed("cutter.feed", j.Feed, 1200)
	feed("cutter.plunge_feed", j.PlungeFeed, 300)
	if !(j.RPM > 0) || math.IsInf(j.RPM, 0) {
		ps = append(ps, problem.Problem{Key: "cutter.spindle_rpm", Got: fmt.Sprint(j.RPM), Why: "must be above zero", Would: "spindle_rpm = 18000"})
	}
	if !(j.RampMax > 0) || j.RampMax > geom.Deg(45) {
		ps = append(ps, problem.Problem{Key: "cutter.ramp", Got: j.RampMax.Format(), Why: "must be above 0 and at most 45 deg", Would: `ramp = "5 deg"`})
	}
	if !(j.Breakthrough >= 0) || math.IsInf(j.Breakthrough, 0) {
		ps = append(ps, problem.Problem{Key: "sheet.breakthrough", Got: u.FormatFine(j.Breakthrough), Why: "must not be below zero", Would: fmt.Sprintf("breakthrough = %q", u.FormatFine(0.3))})
	}
	if len(ps) > 0 {
		return ps // what follows compares these
	}
	ps = append(ps, j.checkMachine()...)
	ps = append(ps, j.checkTabs()...)
	return append(ps, j.checkParts()...)
}

// checkMachine holds sheet and cutter against each other and the machine.
func (j SheetJob) checkMachine() problem.List {
	var ps problem.List
	u := j.Unit
	if depth := j.Thickness + j.Breakthrough; j.CutLength > 0 && depth > j.CutLength+geom.Rounding {
		p := problem.Problem{Key: "sheet.thickness", Got: u.Format(j.Thickness),
			Why:   fmt.Sprintf("with %s into the spoilboard the cut is %s deep, the cutter's edge is only %s long", u.FormatFine(j.Breakthrough), u.FormatFine(depth), u.Format(j.CutLength)),
			Would: fmt.Sprintf("[cutter] cut_length = %q, of a longer cutter", u.Format(u.Ceil(depth)))}
		if thin := j.CutLength - j.Breakthrough; thin >= leastSheet {
			p.Would = fmt.Sprintf("thickness = %q or a cutter with cut_length = %q", u.FormatFloor(thin), u.Format(u.Ceil(depth)))
		}
		ps = append(ps, p)
	}
	if j.SafeZ < j.Approach {
		ps = append(ps, problem.Problem{Key: "machine.safe_z", Got: u.Format(j.SafeZ), Why: fmt.Sprintf("lies below the approach height of %s", u.Format(j.Approach)),
			Would: fmt.Sprintf("safe_z = %q", u.Format(u.Ceil(j.Approach)))})
	}
	for _, a := range []struct {
		key, axis  string
		got, limit float64
	}{
		{"sheet.width", "X", j.SheetW, j.Travel.X},
		{"sheet.height", "Y", j.SheetH, j.Travel.Y},
	} {
		if a.limit > 0 && a.got > a.limit+geom.Rounding {
			ps = append(ps, problem.Problem{Key: a.key, Got: u.Format(a.got), Why: fmt.Sprintf("the machine travels only %s in %s", u.Format(a.limit), a.axis),
				Would: fmt.Sprintf("%s = %q", a.key[len("sheet."):], u.FormatFloor(a.limit))})
		}
	}
	if need := j.SafeZ + j.Thickness + j.Breakthrough; j.Travel.Z > 0 && need > j.Travel.Z+geom.Rounding {
		p := problem.Problem{Key: "machine.safe_z", Got: u.Format(j.SafeZ),
			Why: fmt.Sprintf("with a cut of %s that is %s in Z, the machine travels only %s", u.FormatFine(need-j.SafeZ), u.FormatFine(need), u.Format(j.Travel.Z))}
		least := math.Max(LeastSafeZ, j.Approach+0.1)
		if room := j.Travel.Z - j.Thickness - j.Breakthrough; u.Below(room) >= least {
			p.Would = fmt.Sprintf("safe_z = %q", u.FormatFloor(room))
		} else if thin := u.Floor(j.Travel.Z - j.Breakthrough - u.Ceil(least)); thin >= leastSheet {
			p.Would = fmt.Sprintf("[sheet] thickness = %q", u.Format(thin))
		}
		ps = append(ps, p)
	}
	return ps
}

// checkTabs looks at the sizes of tabs; whether they fit is seen on the parts.
func (j SheetJob) checkTabs() problem.List {
	var ps problem.List
	u, t := j.Unit, j.Tabs
	if t.Count < 0 || t.Count > 1000 {
		return problem.List{{Key: "tabs.count", Got: fmt.Sprint(t.Count), Why: "must be 0 to 1000", Would: "count = 4"}}
	}
	if t.Count == 0 {
		return nil
	}
	if !(t.Width > 0) || math.IsInf(t.Width, 0) {
		ps = append(ps, problem.Problem{Key: "tabs.width", Got: u.Format(t.Width), Why: "must be above zero", Would: fmt.Sprintf("width = %q", u.Format(6))})
	}
	// A tab as high as the sheet is no tab: nothing would be cut there.
	const leastOver = 0.2 // mm of wood taken off above a tab
	if !(t.Height > 0) || t.Height > j.Thickness-leastOver {
		ps = append(ps, problem.Problem{Key: "tabs.height", Got: u.Format(t.Height), Why: fmt.Sprintf("must be above zero and less than the sheet's thickness of %s", u.Format(j.Thickness)),
			Would: fmt.Sprintf("height = %q", u.Format(math.Min(1.5, u.Floor(j.Thickness/2))))})
	}
	return ps
}

// checkParts looks whether the parts lie on the sheet.
func (j SheetJob) checkParts() problem.List {
	var ps problemSet
	u, sheet := j.Unit, geom.Box{Max: geom.Pt(j.SheetW, j.SheetH)}
	for _, p := range j.Parts {
		b := p.Outline.Bounds()
		if len(p.Outline) < 2 || !b.Min.Finite() || !b.Max.Finite() {
			ps.add(p.Name, problem.Problem{Key: p.Name, Why: "has no outline"})
			continue
		}
		if !sheet.Grow(geom.Touch).Holds(b) {
			key, got, would := "sheet.width", j.SheetW, b.Max.X
			if b.Max.X <= j.SheetW+geom.Touch {
				key, got, would = "sheet.height", j.SheetH, b.Max.Y
			}
			ps.add(p.Name, problem.Problem{Key: key, Got: u.Format(got), Why: fmt.Sprintf("%s reaches beyond the sheet, to %s", p.Name, place(u, b.Max)), Would: u.Format(u.Ceil(would))})
		}
	}
	return ps.list()
}

// noRoom says which of width and count of the tabs does not fit an outline, or
// whether the parts lie too close to each other for tabs between them.
func (p *sheetPlan) noRoom(op *operation, way track, g ground, room int) problem.Problem {
	u, t := p.Unit, p.Tabs
	alone := g
	alone.tree, alone.edges = nil, nil
	_, without := placeTabs(way, alone, t)
	apart := fmt.Sprintf("spacing = %q under [sheet]", u.Format(u.Ceil(TabSpacing(p.CutterDiameter))))
	if room > 0 {
		pr := problem.Problem{Key: "tabs.count", Got: fmt.Sprint(t.Count),
			Why:   fmt.Sprintf("%s has straight runs, clear of corners, seats and other cuts, for %d tabs of %s", op.label, room, u.Format(t.Width)),
			Would: fmt.Sprintf("count = %d or narrower tabs", room)}
		if without >= t.Count {
			pr.Would = fmt.Sprintf("count = %d or %s", room, apart)
		}
		return pr
	}
	if without > 0 {
		return problem.Problem{Key: "sheet.spacing",
			Why:   fmt.Sprintf("%s lies so close to other parts or the sheet's edge that tabs find no scrap to hold on to", op.label),
			Would: apart}
	}
	wide := t
	lo, hi := 0.0, t.Width // the widest of which one fits
	for range 40 {
		wide.Width, wide.Count = (lo+hi)/2, 1
		if _, n := placeTabs(way, alone, wide); n > 0 {
			lo = wide.Width
		} else {
			hi = wide.Width
		}
	}
	pr := problem.Problem{Key: "tabs.width", Got: u.FormatSize(t.Width),
		Why: fmt.Sprintf("%s has no straight run, clear of corners and seats, that is wide enough: a tab takes its width and the cutter's diameter of %s",
			op.label, u.Format(p.CutterDiameter))}
	if most := u.Below(lo); most >= 1 {
		pr.Would = fmt.Sprintf("width = %q", u.FormatExact(most))
	} else {
		pr.Would = "count = 0, where something else holds the parts"
	}
	return pr
}

// neighbours looks whether any cut touches wood of another part, another
// contour of its own part, or a screw zone.
func (p *sheetPlan) neighbours() {
	type owner struct{ part, edge int }
	n := 0
	for i := range p.Parts {
		n += len(p.Parts[i].Outline)
		for _, h := range p.Parts[i].Holes {
			n += len(h)
		}
	}
	edges, owners, boxes := make([]geom.Curve, 0, n), make([]owner, 0, n), make([]geom.Box, 0, n)
	add := func(part, edge int, c geom.Contour) {
		for i := range c {
			e := c.Curve(i)
			edges, owners, boxes = append(edges, e), append(owners, owner{part, edge}), append(boxes, e.Bounds())
		}
	}
	for i, part := range p.Parts {
		add(i, -1, part.Outline)
		for k, h := range part.Holes {
			add(i, k, h)
		}
	}
	tree := geom.NewBoxTree(boxes)
	for _, ops := range p.ops {
		for i := range ops {
			op := &ops[i]
			op.eachCurve(func(c geom.Curve) {
				tree.Each(c.Bounds().Grow(p.r), func(i int) bool {
					if owners[i] != (owner{op.part, op.edge}) {
						if d := geom.CurveDist(c, edges[i]); d < p.r-slack {
							p.tooNear(op, p.Parts[owners[i].part].Name, edges[i], d)
							return false
						}
					}
					return true
				})
				p.zones(op, c)
			})
		}
	}
	p.stacked()
}

// eachCurve calls visit for each piece of the ways.
func (op *operation) eachCurve(visit func(geom.Curve)) {
	for _, w := range op.Way {
		for i := range w {
			visit(w.Curve(i))
		}
	}
}

func (p *sheetPlan) tooNear(op *operation, other string, e geom.Curve, d float64) {
	u := p.Unit
	p.problems.add(op.Part, problem.Problem{Key: "sheet.spacing",
		Why:   fmt.Sprintf("the cut along %s runs %s into %s at %s", op.label, u.FormatFine(p.r-d), other, place(u, e.At(0.5))),
		Would: fmt.Sprintf("%q between parts", u.Format(u.Ceil(p.CutterDiameter)))})
}

// zones looks whether a piece of a cut enters a screw zone.
func (p *sheetPlan) zones(op *operation, c geom.Curve) {
	near := c.Bounds().Grow(p.r)
	for _, z := range p.ScrewZones {
		if !near.Overlaps(z) {
			continue
		}
		in := z.Holds(geom.EmptyBox().With(c.A))
		for _, e := range geom.Rect(z).Curves() {
			in = in || geom.CurveDist(c, e) < p.r-slack
		}
		if in {
			p.problems.add(op.Part, problem.Problem{Key: "sheet.screw_zones",
				Why:   fmt.Sprintf("the cut along %s enters the screw zone at %s", op.label, place(p.Unit, z.Center())),
				Would: "screw_zones = false, or another place for the part,"})
		}
	}
}

// stacked looks for parts that lie in one another's wood, and for cut-outs that
// lie outside of their part.
func (p *sheetPlan) stacked() {
	boxes := make([]geom.Box, len(p.Parts))
	for i, part := range p.Parts {
		boxes[i] = part.Outline.Bounds()
	}
	tree := geom.NewBoxTree(boxes)
	for i, part := range p.Parts {
		for k, h := range part.Holes {
			if len(h) > 0 && !part.Outline.Contains(h[0].Point) {
				p.problems.add(part.Name, problem.Problem{Key: part.Name, Why: fmt.Sprintf("its cut-out %d lies outside of its outline, at %s", k+1, place(p.Unit, h[0].Point))})
			}
		}
		at := part.Outline[0].Point
		tree.Each(geom.EmptyBox().With(at), func(k int) bool {
			if k == i || !p.Parts[k].Outline.Contains(at) {
				return true
			}
			for _, h := range p.Parts[k].Holes {
				if h.Contains(at) {
					return true
				}
			}
			p.problems.add(part.Name, problem.Problem{Key: part.Name, Why: fmt.Sprintf("lies in the wood of %s at %s", p.Parts[k].Name, place(p.Unit, at))})
			return true
		})
	}
}

// crossesItself reports whether two pieces of a contour meet other than as
// neighbours at their corner.
func crossesItself(c geom.Contour) bool {
	boxes := make([]geom.Box, len(c))
	for i := range c {
		boxes[i] = c.Curve(i).Bounds()
	}
	tree, n, bad := geom.NewBoxTree(boxes), len(c), false
	for i := 0; i < n && !bad; i++ {
		tree.Each(boxes[i], func(j int) bool {
			if j <= i {
				return true
			}
			most := 0
			if j == i+1 {
				most++
			}
			if i == 0 && j == n-1 {
				most++
			}
			bad = len(geom.Intersections(c.Curve(i), c.Curve(j))) > most
			return !bad
		})
	}
	return bad
}

// place says where on the sheet a point lies.
func place(u geom.Unit, p geom.Point) string {
	return fmt.Sprintf("X %s, Y %s on the sheet", u.Format(p.X), u.Format(p.Y))
}
