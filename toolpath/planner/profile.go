package planner

import (
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// walk is the cutter on its way: where it is, and the steps so far.
type walk struct {
	at     geom.Point3
	steps  []toolpath.Step
	feed   float64 // mm/min
	plunge float64
	slope  float64                      // steepest ramp, as a tangent
	arc    func(radius float64) float64 // the feed that an arc allows
	safe   float64                      // heights above the surface, mm
	near   float64
	cutMM  float64      // length at feed so far
	ahead  []geom.Curve // room for the pieces of the way ahead
}

// arcFeed is the feed along an arc of a radius at which it asks no more
// acceleration of the machine than that gives: v²/r.
func (j SheetJob) arcFeed(radius float64) float64 {
	if j.Accel <= 0 {
		return math.Inf(1)
	}
	return 60 * math.Sqrt(j.Accel*radius)
}

// rampFeed is the feed on a ramp as steep as allowed.
func (w *walk) rampFeed() float64 { return RampFeed(w.feed, w.plunge, 1, w.slope) }

// enter brings the cutter over a place and down to the wood's surface.
func (w *walk) enter(p geom.Point) {
	w.at = geom.Point3{X: p.X, Y: p.Y, Z: w.safe}
	w.steps = append(w.steps, toolpath.RapidTo(w.at))
	if w.near < w.safe {
		w.at.Z = w.near
		w.steps = append(w.steps, toolpath.RapidTo(w.at))
	}
	w.line(p, 0, w.plunge)
}

// leave lifts the cutter out, at feed while it is in the wood.
func (w *walk) leave() {
	w.line(w.at.XY(), w.near, w.feed)
	if w.near < w.safe {
		w.at.Z = w.safe
		w.steps = append(w.steps, toolpath.RapidTo(w.at))
	}
}

func (w *walk) line(p geom.Point, z, feed float64) {
	to := geom.Point3{X: p.X, Y: p.Y, Z: z}
	w.cutMM += w.at.Dist(to)
	w.at = to
	w.steps = append(w.steps, toolpath.FeedTo(to, feed))
}

// circle leads the cutter once round o, down to z on the way.
func (w *walk) circle(k toolpath.Kind, o geom.Point, z, feed float64) {
	turn := 2 * math.Pi * w.at.XY().Dist(o)
	feed = math.Min(feed, w.arc(w.at.XY().Dist(o)))
	w.cutMM += math.Hypot(turn, w.at.Z-z)
	w.at.Z = z
	w.steps = append(w.steps, toolpath.ArcTo(k, w.at, o, feed))
}

// curve leads the cutter along c to its end, down or up to z on the way.
func (w *walk) curve(c geom.Curve, z, feed float64) {
	if !c.IsArc() {
		w.line(c.B, z, feed)
		return
	}
	k := toolpath.ArcCW
	if c.Bulge > 0 {
		k = toolpath.ArcCCW
	}
	feed = math.Min(feed, w.arc(c.Radius()))
	w.cutMM += math.Hypot(c.Length(), w.at.Z-z)
	w.at = geom.Point3{X: c.B.X, Y: c.B.Y, Z: z}
	w.steps = append(w.steps, toolpath.ArcTo(k, w.at, c.Center(), feed))
}

// level leads the cutter along the way from s over dist at its present height.
func (w *walk) level(t track, s, dist float64) {
	w.ahead = t.pieces(w.ahead, s, dist)
	for _, c := range w.ahead {
		w.curve(c, w.at.Z, w.feed)
	}
}

// ramp leads the cutter along the way from s over dist down to z, nowhere
// steeper than allowed. dist comes from [track.rampLength].
func (w *walk) ramp(t track, s, dist, z float64) {
	w.ahead = t.pieces(w.ahead, s, dist)
	for i, c := range w.ahead {
		low := math.Max(z, w.at.Z-fallOf(c.Length(), w.slope))
		if i == len(w.ahead)-1 {
			low = z
		}
		feed := w.rampFeed()
		if low == w.at.Z {
			feed = w.feed
		}
		w.curve(c, low, feed)
	}
}

// sink takes the cutter down to z to and fro over at most room of the way
// ahead of s, and back to s: what it then leads forward at z leaves nothing.
func (w *walk) sink(t track, s, room, z float64) {
	fall := w.at.Z - z
	legs := 2
	for ; legs < maxLegs; legs += 2 {
		if _, ok := t.rampLength(s, fall/float64(legs), w.slope, room, false); ok {
			break
		}
	}
	from := w.at.Z
	dist, _ := t.rampLength(s, fall/float64(legs), w.slope, room, false)
	for i := 0; i < legs; i++ {
		low := from - fall*float64(i+1)/float64(legs)
		if i%2 == 0 {
			w.ramp(t, s, dist, low)
		} else {
			w.ramp(t, s+dist, -dist, low)
		}
	}
}

// maxLegs bounds the ramps to and fro at one tab; with room for a cutter's
// diameter between tabs there are seldom more than two.
const maxLegs = 400

// contourCut is a closed way to be cut through.
type contourCut struct {
	track
	levels []float64 // height of each pass, falling
	tabs   []float64 // middles of the tabs
	lift   float64   // length of way over which the cutter is lifted at each
	tabTop float64   // height of the tabs' top
}

// above returns how many passes lie above the tabs' top.
func (c contourCut) above() int {
	if len(c.tabs) == 0 {
		return len(c.levels)
	}
	n := 0
	for n < len(c.levels) && c.levels[n] >= c.tabTop-geom.Rounding {
		n++
	}
	return n
}

// fall returns how far a pass goes down.
func (c contourCut) fall() float64 { return -c.levels[0] }

// start is where a cut begins and ends, as lengths of the way, and the length
// of its ramps.
type start struct {
	tab            int // the first tab met by the passes that have tabs
	from, lead, to float64
}

// startAt returns the start at a place of a way without tabs.
func (c contourCut) startAt(place, slope float64) start {
	d, _ := c.rampLength(place, c.fall(), slope, c.length, false)
	return start{from: place, lead: d, to: place + d}
}

// startBehind returns the start from which the ramps end behind a tab.
func (c contourCut) startBehind(tab int, slope float64) start {
	behind := c.tabs[tab] + c.lift/2
	s := start{tab: tab, from: behind, to: behind}
	if c.above() > 0 {
		s.lead, _ = c.rampLength(behind, c.fall(), slope, c.length, true)
		s.from -= s.lead
	}
	if c.above() != len(c.levels)-1 {
		s.to -= c.lift // the last pass need not trim its first tab once more
	}
	return s
}

// cut leads the cutter through all passes. Each pass comes down by a ramp
// along the way and goes on level for the rest of one lap; the next ramp runs
// over the last one, so that what ramps leave is always the same and only the
// end has to be led over once more. Passes below the tabs' top come last.
func (w *walk) cut(c contourCut, s start) {
	w.enter(c.point(s.from))
	above := c.above()
	for k := 0; k < above; k++ {
		w.ramp(c.track, s.from, s.lead, c.levels[k])
		lap := c.length - s.lead
		if k == above-1 {
			lap = c.length // over what the ramps have left
		}
		w.level(c.track, s.from+s.lead, lap)
	}
	if above < len(c.levels) {
		w.tabPasses(c, s.tab, above)
	}
	w.leave()
}

// tabPasses cuts the passes below the tabs' top, from behind the given tab.
// Before each tab the cutter is lifted straight up, behind it it comes down by
// ramps to and fro, and then leads over their ground: the wood that is left is
// as wide as asked from its top to its foot, and nothing else is left.
func (w *walk) tabPasses(c contourCut, first, above int) {
	n := len(c.tabs)
	middle := func(j int) float64 { // of the j-th tab met, lengths rising
		k := first + j
		return c.tabs[k%n] + c.length*float64(k/n)
	}
	for k := above; k < len(c.levels); k++ {
		for j := 0; j < n; j++ {
			s := middle(j) + c.lift/2
			end := middle(j+1) - c.lift/2
			if k > above && w.at.Z > c.levels[k-1] {
				w.line(w.at.XY(), c.levels[k-1], w.plunge) // where the pass before has been
			}
			w.sink(c.track, s, end-s, c.levels[k])
			w.level(c.track, s, end-s)
			if j == n-1 && k == len(c.levels)-1 && k > above {
				break // the first tab has its height since the first of these passes
			}
			w.line(w.at.XY(), c.tabTop, w.feed)
			w.level(c.track, end, c.lift)
		}
	}
}
