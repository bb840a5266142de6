package backplot

import (
	"fmt"
	"math"
	"sync/atomic"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// Replay takes in the moves of one program, one by one, and holds them against
// its task. Its methods are called in the order in which things happen.
type Replay struct {
	Task
	field    *field
	pockets  []pocket
	parts    []part
	keepouts []outline

	steepest   float64 // fall of a ramp for each mm of its run, at most
	shallowest float64 // height of the highest of all floors

	findings []finding.Finding
	count    int
	said     map[fault]bool
	saidTo   int // the last line of those

	at       geom.Point3
	line     int // of the last move
	started  bool
	setBy    [3]int // the lines that last changed X, Y and Z
	wasBy    [3]int // the same before the present move
	buf      []sweep
	behind   sweep // what of the present cut lies behind the cutter
	turns    spindle
	fed      feedFault
	extent   extent
	load     int // loads begun
	print    uint64
	clean    bool // the load before left nothing standing
	budget   budget
	moves    int  // taken in so far
	beyond   int  // sweeps measured after the findings were full
	repeated int  // cuts that repeat one at fault
	tangled  bool // too many cuts lie over each other
	astray   bool // the cutter is low where there is nothing to cut
	tree     *geom.BoxTree
	room     geom.Box     // where the program may go, seen from above
	glance   Glance       // what a scout says of the present move
	enough   *atomic.Bool // nothing that its scout could say is asked any more; nil without one
	near     geom.Point   // a place of the cutter's way, and how far an outline is from it at most
	nearBy   float64

	bite     float64 // deepest wood taken by a move
	rapidLow float64 // lowest end of a rapid
	feedMax  float64
	sinkMax  float64
	outside  float64 // farthest cut outside an outline, or into a part
	deepest  float64 // farthest cut below the floor
	standing float64 // most wood left where it should be gone
	more     []finding.Check
}

// fault is what two findings have in common where one of them is enough.
type fault struct {
	rule string
	line int
}

// New begins the replay of one program.
func New(t Task) *Replay {
	r := &Replay{Task: t, field: newField(t.Cutter / 2), rapidLow: math.Inf(1), extent: newExtent(t.Limits.Travel), said: map[fault]bool{}, load: 1, nearBy: math.Inf(1), budget: usualBudget()}
	r.shallowest, r.steepest = math.Inf(-1), steepest(t.Limits.RampMax)
	r.room = geom.EmptyBox()
	for _, w := range t.Over {
		r.room = r.room.Union(w.Grow(farMM))
	}
	for _, p := range t.Pockets {
		r.shallowest = max(r.shallowest, -p.Depth)
		r.pockets = append(r.pockets, pocket{Pocket: p, outline: newOutline(p.Outline)})
	}
	if t.Sheet != nil {
		for _, p := range t.Sheet.Parts {
			r.parts = append(r.parts, newPart(p))
		}
		for _, k := range t.Sheet.Keepouts {
			r.keepouts = append(r.keepouts, newOutline(k))
		}
		r.shallowest = r.floor()
	}
	return r
}

// Move takes in a move. The move is not kept.
func (r *Replay) Move(m *toolpath.Move) {
	r.moves++
	r.follow(m)
	r.extent.add(m)
	r.buf = sweeps(r.buf[:0], m)
	if m.Kind == toolpath.Rapid {
		r.rapid(m)
	} else {
		r.cut(m)
	}
	old := r.old(&r.buf[0])
	r.low(m, old)
	r.far(m)
	for i := range r.buf {
		if s := &r.buf[i]; s.low() < 0 && !r.spent() {
			if i > 0 {
				old = r.old(s)
			}
			r.sweep(m, s, old)
		}
	}
	r.at, r.line = m.To, m.Line
}

// follow keeps book of which line last changed each axis, so that a fault in a
// coordinate is laid at the line that gives it.
func (r *Replay) follow(m *toolpath.Move) {
	if !r.started {
		for k, line := range r.setBy {
			if line == 0 {
				r.setBy[k] = m.Line
			}
		}
	}
	r.wasBy = r.setBy
	if m.From.X != m.To.X {
		r.setBy[0] = m.Line
	}
	if m.From.Y != m.To.Y {
		r.setBy[1] = m.Line
	}
	if m.From.Z != m.To.Z {
		r.setBy[2] = m.Line
	}
}

// Given takes in that a line before the first move gave one of its axes: 0 for
// X, 1 for Y, 2 for Z.
func (r *Replay) Given(line, axis int) {
	if !r.started {
		r.setBy[axis] = line
	}
}

// HeightLine returns the line that gave the height at which the cutter is, 0
// before the first.
func (r *Replay) HeightLine() int { return r.setBy[2] }

// spent reports whether no more is asked of the wood: the findings are full, and as
// many sweeps as are allowed were measured after that. Nothing that is cut is filed
// any more.
func (r *Replay) spent() bool {
	return r.count >= MaxFindings && r.beyond >= r.budget.maxBeyond
}

// old returns the last cut along the very way of a piece of a move that cuts.
func (r *Replay) old(s *sweep) *sweep {
	if s.low() >= 0 || r.spent() {
		return nil
	}
	if r.glance.fresh {
		r.field.unseen(&s.axis)
		return nil
	}
	return r.field.retraced(&s.axis)
}

// sweep holds one piece of a move against the wood, and takes that wood away.
// Much of what a program cuts runs along a way that was cut before, where
// little is left to ask: old is the last cut along it.
func (r *Replay) sweep(m *toolpath.Move, s, old *sweep) {
	r.runs(m, s, old)
	if s.level() {
		if old != nil && old.level() && old.clear && r.again(s, old) && m.Feed >= r.Limits.Feed*crawl {
			old.zA, old.zB = min(old.zA, s.zA), min(old.zB, s.zB)
			if old.zA == s.zA {
				old.line = s.line
			}
			return
		}
	}
	if r.tooTangled(m.Line) || r.oldFault(s, old) {
		return
	}
	if r.count >= MaxFindings {
		if !r.spent() {
			r.beyond++
			r.gouge(m, s, old)
		}
		return
	}
	// A cut that should not be there at all has been named, and is asked no
	// more.
	if s.clear = r.gouge(m, s, old); m.Cuts() && (s.clear || s.low() >= -Tol) {
		r.engage(m, s, old)
	}
	r.field.add(*s, old)
}

// again reports whether a cut along the same way as one that is known to keep
// to the outlines needs no further look: it takes no deeper bite than others
// have, and keeps the floor.
func (r *Replay) again(s, old *sweep) bool {
	return old.zA-s.zA <= r.bite+biteStep && r.bite <= r.Limits.StepDown+Tol && s.zA >= r.floor()
}

// floor is the least height that no cut goes below, wherever it is.
func (r *Replay) floor() float64 {
	if r.Sheet != nil {
		return -r.Sheet.Thickness - r.Sheet.Breakthrough
	}
	z := math.Inf(-1)
	for i := range r.pockets {
		z = math.Max(z, -r.pockets[i].Depth)
	}
	return z
}

// Stop takes in a stop for the operator, at which fresh work is put in where
// the task has several loads.
func (r *Replay) Stop(line int) {
	if r.started && r.at.Z < r.Limits.SafeZ-zSlack {
		r.find(line, "stop-low", fmt.Sprintf("stops for the operator with the cutter at Z %.3f, below the safe height of %.3f", r.at.Z, r.Limits.SafeZ),
			r.Limits.SafeZ-r.at.Z, r.at, "the work cannot be changed without touching the cutter")
	}
	if r.Loads < 2 || r.field.store.n == 0 {
		return
	}
	r.parked(line, "stops")
	r.endLoad()
	r.field.reset()
	r.load++
}

// endLoad looks at what the cuts so far have left. A load that was cut just
// like the one before leaves the same.
func (r *Replay) endLoad() {
	if len(r.pockets) == 0 || r.count >= MaxFindings || r.tangled {
		return
	}
	print := r.field.fingerprint()
	if r.clean && r.print == print {
		return
	}
	before := r.count
	for k := range r.pockets {
		r.rest(&r.pockets[k])
	}
	r.print, r.clean = print, r.count == before
}

// Finish ends the replay and says what was found.
func (r *Replay) Finish() Result {
	r.endLoad()
	r.parked(r.line, "ends")
	if want := max(1, r.Loads); len(r.pockets) > 0 && r.load != want {
		r.find(r.line, "loads", fmt.Sprintf("the work is cut %d times, the job fills the stations %d times in one program", r.load, want), 0, r.at,
			"pieces are left uncut, or cut twice")
	}
	if r.Sheet != nil && r.count < MaxFindings && !r.tangled {
		r.sheetRest()
	}
	r.travel()
	return Result{r.findings, r.count, r.checks()}
}

// find files a finding at a line. One of a kind is enough for a line.
func (r *Replay) find(line int, rule, what string, by float64, at geom.Point3, inWood string) {
	if r.said[fault{rule, line}] {
		return
	}
	r.count++
	if len(r.findings) >= MaxFindings {
		return
	}
	r.said[fault{rule, line}], r.saidTo = true, max(r.saidTo, line)
	f := finding.Finding{File: r.File, Line: line, Rule: rule, What: what, ByMM: by, At: &at, InWood: inWood}
	if r.Block != nil && line > 0 {
		f.Block = r.Block(line)
	}
	r.findings = append(r.findings, f)
}

// in is a length (mm) as findings print it.
func (r *Replay) in(mm float64) geom.Measure { return geom.Measure{MM: mm, Unit: r.Unit} }

// full reports whether no more findings are kept, and if so counts one. It
// saves working out the words of a finding that nobody will read.
func (r *Replay) full() bool {
	if len(r.findings) < MaxFindings {
		return false
	}
	r.count++
	return true
}

// counted reports whether no more findings are kept. It then counts the fault, once
// a line as [Replay.find] does.
func (r *Replay) counted(rule string, line int) bool {
	if len(r.findings) < MaxFindings {
		return false
	}
	if line > r.saidTo || !r.said[fault{rule, line}] {
		r.count++
	}
	return true
}

// checks returns the figures of the proof.
func (r *Replay) checks() []finding.Check {
	low := r.rapidLow
	if math.IsInf(low, 1) {
		low = r.Limits.SafeZ
	}
	outside, limit := "cut outside outline", Tol
	if r.Sheet != nil {
		outside, limit = "cut into parts", PartTol
	}
	out := []finding.Check{
		finding.AtMost(outside, math.Max(0, r.outside), limit, "mm"),
		finding.AtMost("cut below floor", math.Max(0, r.deepest), Tol, "mm"),
		finding.AtMost("left standing", r.standing, r.standTol(), "mm"),
		finding.AtMost("deepest bite", r.bite, r.Limits.StepDown+Tol, "mm"),
		{Name: "lowest rapid", Value: low, Limit: 0, Unit: "mm", Pass: low > 0},
		finding.AtMost("fastest feed", r.feedMax, r.Limits.Feed*feedSlack, "mm/min"),
		finding.AtMost("fastest sinking", r.sinkMax, r.Limits.PlungeFeed*sinkSlack, "mm/min"),
	}
	return append(out, r.more...)
}

// standTol is how much may be left standing.
func (r *Replay) standTol() float64 {
	if r.Sheet != nil {
		return PartTol
	}
	return Tol
}
