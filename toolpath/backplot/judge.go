package backplot

import (
	"fmt"
	"math"
	"slices"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// judge collects what the replay of one program shows.
type judge struct {
	Task
	field    *field
	findings []finding.Finding
	extent   span3
	bite     float64 // deepest wood taken by a move
	rapidLow float64 // lowest end of a rapid
	feedMax  float64
	sinkMax  float64
	outside  float64 // farthest cut outside an outline, or into a part
	deepest  float64 // farthest cut below the floor
	standing float64 // most wood left where it should be gone
	more     []finding.Check
}

// Judge replays the moves of one program and holds them against its task.
func Judge(t Task, moves []toolpath.Move) Result {
	j := &judge{Task: t, field: newField(t.Cutter / 2), rapidLow: math.Inf(1), extent: newSpan3()}
	if t.Sheet != nil {
		sheet := *t.Sheet
		sheet.Parts = slices.Clone(sheet.Parts)
		for i := range sheet.Parts {
			sheet.Parts[i].prepare()
		}
		j.Sheet = &sheet
	}
	for i, m := range moves {
		j.extent.add(m)
		if m.Kind == toolpath.Rapid {
			j.rapid(m)
		} else {
			j.cut(m)
		}
		for _, s := range sweeps(m, i) {
			if m.Cuts() {
				j.engage(m, s)
			}
			j.gouge(m, s)
			j.field.add(s)
		}
	}
	for k := range j.Pockets {
		j.rest(&j.Pockets[k], moves)
	}
	if j.Sheet != nil {
		j.sheetRest(moves)
	}
	j.travel()
	return Result{j.findings, j.checks()}
}

// find files a finding at a move.
func (j *judge) find(m toolpath.Move, rule, what string, by float64, at geom.Point3, inWood string) {
	f := finding.Finding{File: j.File, Line: m.Line, Rule: rule, What: what, ByMM: by, At: &at, InWood: inWood}
	if j.Block != nil && m.Line > 0 {
		f.Block = j.Block(m.Line)
	}
	j.findings = append(j.findings, f)
}

// rapid holds a rapid against the heights of travel. A rapid never cuts, so
// none may pass at or below the surface; across the wood it keeps the safe
// height, and down it ends at the approach height.
func (j *judge) rapid(m toolpath.Move) {
	low := math.Min(m.From.Z, m.To.Z)
	j.rapidLow = math.Min(j.rapidLow, low)
	at := m.To
	if m.From.Z < m.To.Z {
		at = m.From
	}
	across := m.From.XY().Dist(m.To.XY()) > zSlack
	switch {
	case low <= 0:
		j.find(m, "rapid-in-wood", fmt.Sprintf("rapid at Z %.3f, at or below the wood's surface", low), -low, at,
			"the cutter is driven through the wood at full speed")
	case across && low < j.Limits.SafeZ-zSlack:
		j.find(m, "rapid-low", fmt.Sprintf("rapid across at Z %.3f, below the safe height of %.3f", low, j.Limits.SafeZ), j.Limits.SafeZ-low, at,
			"a clamp or a proud edge in the way is hit")
	case !across && m.To.Z < m.From.Z && m.To.Z < j.Limits.Approach-zSlack:
		j.find(m, "rapid-low", fmt.Sprintf("rapid down to Z %.3f, below the approach height of %.3f", m.To.Z, j.Limits.Approach), j.Limits.Approach-m.To.Z, at,
			"a board a little proud of the zero is hit at full speed")
	}
}

// cut holds a move at feed against feeds and speeds.
func (j *judge) cut(m toolpath.Move) {
	const slack = 1.0005 // feeds are written to a whole number or a decimal
	l := j.Limits
	j.feedMax = math.Max(j.feedMax, m.Feed)
	if m.Feed > l.Feed*slack {
		j.find(m, "feed-high", fmt.Sprintf("feed %.0f mm/min, the job allows %.0f", m.Feed, l.Feed), 0, m.To, "the cutter is overloaded, burns or breaks")
	}
	if m.RPM > 0 && (m.RPM > l.RPMMax*slack || m.RPM < l.RPMMin/slack) {
		j.find(m, "speed", fmt.Sprintf("spindle at %.0f rev/min, the job allows %.0f to %.0f", m.RPM, l.RPMMin, l.RPMMax), 0, m.To, "too fast burns, too slow tears")
	}
}

// engage asks what wood a move meets, before its own cut is counted.
func (j *judge) engage(m toolpath.Move, s sweep) {
	limit := len(j.field.sweeps)
	if s.low() >= -Tol {
		return
	}
	if depth := j.tooDeep(s, limit); depth > 0 {
		j.bite = math.Max(j.bite, depth)
		j.find(m, "bite", fmt.Sprintf("takes %.3f mm of wood at once, the job's passes take %.3f", depth, j.Limits.StepDown),
			depth-j.Limits.StepDown, m.To, "the cutter is loaded deeper than the job allows")
	} else {
		j.bite = math.Max(j.bite, math.Min(j.Limits.StepDown, -s.low()))
	}
	fall := m.From.Z - m.To.Z
	if fall <= zSlack || j.field.covered(s.axis, s.low()+Tol, limit) {
		return
	}
	run := m.Length()
	flat := math.Sqrt(math.Max(0, run*run-fall*fall))
	sink := m.Feed * fall / run
	j.sinkMax = math.Max(j.sinkMax, sink)
	const slack = 1.002 // of feeds and angles, for rounding in files
	switch {
	case flat < zSlack:
		j.find(m, "plunge", fmt.Sprintf("straight plunge of %.3f mm into the wood", math.Min(fall, -m.To.Z)), fall, m.To,
			"the cutter's end rubs and burns instead of cutting")
	case math.Atan2(fall, flat) > float64(j.Limits.RampMax)*slack+1e-4:
		j.find(m, "ramp-steep", fmt.Sprintf("goes down at %.1f°, the job's ramps at most at %.1f°", geom.Angle(math.Atan2(fall, flat)).Degrees(), j.Limits.RampMax.Degrees()),
			0, m.To, "the cutter's end rubs and burns instead of cutting")
	}
	if sink > j.Limits.PlungeFeed*slack {
		j.find(m, "plunge-feed", fmt.Sprintf("sinks at %.0f mm/min, the job allows %.0f", sink, j.Limits.PlungeFeed), 0, m.To,
			"the cutter is pushed into the wood faster than it clears chips")
	}
}

// tooDeep returns how deep a bite the sweep takes where that is more than the
// step allows, 0 otherwise. A sloping sweep is asked as if all of it were at
// its deepest, and cut in halves where that is too strict.
func (j *judge) tooDeep(s sweep, limit int) float64 {
	level := s.low() + j.Limits.StepDown + Tol
	if level >= 0 || j.field.covered(s.axis, level, limit) {
		return 0
	}
	if math.Abs(s.zA-s.zB) > Tol/2 {
		return math.Max(j.tooDeep(s.part(0, 0.5), limit), j.tooDeep(s.part(0.5, 1), limit))
	}
	// How high the wood stands: bisected between the step and the surface.
	lo, hi := level, 0.0
	for hi-lo > Tol/10 {
		mid := (lo + hi) / 2
		if j.field.covered(s.axis, mid, limit) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi - s.low()
}

// covered reports whether no wood above z stands under the cutter anywhere
// along the axis.
func (f *field) covered(axis geom.Curve, z float64, limit int) bool {
	// A way that was gone before, even in pieces, leaves nothing.
	if len(f.open(axis, sliver, z, limit)) == 0 {
		return true
	}
	return len(f.standing(sweptRegion(axis, f.r-sliver), z, 0, limit)) == 0
}

// gouge holds a sweep against what must stay.
func (j *judge) gouge(m toolpath.Move, s sweep) {
	axis, ok := s.below(-Tol)
	if !ok {
		return
	}
	if j.Sheet != nil {
		j.sheetGouge(m, s, axis)
		return
	}
	k, out := 0, math.Inf(1)
	for i := range j.Pockets {
		if d := outsideOf(j.Pockets[i].Outline, axis, j.field.r); d < out {
			k, out = i, d
		}
	}
	if len(j.Pockets) == 0 {
		return
	}
	p := &j.Pockets[k]
	j.outside = math.Max(j.outside, out)
	if out > Tol {
		from, to := worst(axis, func(q geom.Point) float64 { return outsideAt(p.Outline, q, j.field.r) })
		at := geom.Point3{X: from.X, Y: from.Y, Z: s.low()}
		where := ""
		if p.Where != nil {
			where = " " + p.Where(from)
		}
		j.find(m, "gouge", fmt.Sprintf("cuts %.3f mm outside the outline of the %s (limit %.3f)", out, p.Name, Tol), out, at,
			fmt.Sprintf("cuts %.2f mm too far%s, %s", out, where, fromTo(from, to)))
	}
	if deep := -p.Depth - s.low(); deep > j.deepest {
		j.deepest = deep
	}
	if deep := -p.Depth - s.low(); deep > Tol {
		j.find(m, "floor", fmt.Sprintf("cuts %.3f mm below the floor of the %s (limit %.3f)", deep, p.Name, Tol), deep, m.To,
			fmt.Sprintf("the %s comes out %.2f mm too deep", p.Name, deep))
	}
}

// travel holds the program's extent against the machine's.
func (j *judge) travel() {
	for _, a := range []struct {
		name      string
		got, room float64
	}{
		{"X", j.extent.max.X - j.extent.min.X, j.Limits.Travel.X},
		{"Y", j.extent.max.Y - j.extent.min.Y, j.Limits.Travel.Y},
		{"Z", j.extent.max.Z - j.extent.min.Z, j.Limits.Travel.Z},
	} {
		if a.room <= 0 {
			continue
		}
		got := math.Max(0, a.got)
		j.more = append(j.more, finding.AtMost("travel "+a.name, got, a.room, "mm"))
		if got > a.room {
			j.find(toolpath.Move{}, "travel", fmt.Sprintf("moves over %.1f mm in %s, the machine's travel is %.1f", got, a.name, a.room), got-a.room, geom.Point3{},
				"the machine runs into its end stop")
		}
	}
}

// checks returns the figures of the proof.
func (j *judge) checks() []finding.Check {
	low := j.rapidLow
	if math.IsInf(low, 1) {
		low = j.Limits.SafeZ
	}
	outside, limit := "cut outside outline", Tol
	if j.Sheet != nil {
		outside, limit = "cut into parts", PartTol
	}
	out := []finding.Check{
		finding.AtMost(outside, math.Max(0, j.outside), limit, "mm"),
		finding.AtMost("cut below floor", math.Max(0, j.deepest), Tol, "mm"),
		finding.AtMost("left standing", j.standing, Tol, "mm"),
		finding.AtMost("deepest bite", j.bite, j.Limits.StepDown+Tol, "mm"),
		{Name: "lowest rapid", Value: low, Limit: 0, Unit: "mm", Pass: low > 0},
		finding.AtMost("fastest feed", j.feedMax, j.Limits.Feed*1.0005, "mm/min"),
		finding.AtMost("fastest sinking", j.sinkMax, j.Limits.PlungeFeed*1.002, "mm/min"),
	}
	return append(out, j.more...)
}

// span3 is the extent of a program.
type span3 struct{ min, max geom.Point3 }

func newSpan3() span3 {
	i := math.Inf(1)
	return span3{geom.Point3{X: i, Y: i, Z: i}, geom.Point3{X: -i, Y: -i, Z: -i}}
}

func (s *span3) add(m toolpath.Move) {
	b := geom.EmptyBox().With(m.From.XY())
	for _, c := range m.Curves() {
		b = b.Union(c.Bounds())
	}
	s.min = geom.Point3{X: math.Min(s.min.X, b.Min.X), Y: math.Min(s.min.Y, b.Min.Y), Z: min(s.min.Z, m.From.Z, m.To.Z)}
	s.max = geom.Point3{X: math.Max(s.max.X, b.Max.X), Y: math.Max(s.max.Y, b.Max.Y), Z: max(s.max.Z, m.From.Z, m.To.Z)}
}
