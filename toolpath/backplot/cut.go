package backplot

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

const (
	// feedSlack is the factor by which a feed may exceed the job's: feeds are
	// written to a whole number or a decimal.
	feedSlack = 1.0005

	// zRounding is by how much a move may fall less in its file than it was
	// planned to, mm: half the last digit at either end, an inch having four.
	// It matters for ramps in pieces of a tenth of a millimetre.
	zRounding = 0.0026
	// sinkSlack is the same for the feed of sinking and for slopes, which also
	// carry the rounding of the coordinates.
	sinkSlack = 1.002

	// crawl is the part of the feed that the job has there, below which a cut
	// rubs: tables of chip loads give ranges whose ends lie some factor of two
	// apart. Common practice, no source.
	crawl = 0.5
)

// steepest returns how far a ramp may fall for each mm that it runs.
func steepest(most geom.Angle) float64 {
	const slack = 1e-4 // radians; what the decimals of the file make of a slope
	if a := float64(most)*sinkSlack + slack; a < math.Pi/2 {
		return math.Tan(a)
	}
	return math.Inf(1)
}

// feedFault remembers which feed was last found wrong: a feed stays in force,
// and the line that gives it is named once.
type feedFault struct{ high, low float64 }

// cut holds a move at feed against feeds and speeds.
func (r *Replay) cut(m *toolpath.Move) {
	if !r.started {
		r.started = true
	}
	l := &r.Limits
	r.feedMax = max(r.feedMax, m.Feed)
	if m.Feed > l.Feed*feedSlack && m.Feed != r.fed.high {
		r.fed.high = m.Feed
		r.find(m.Line, "feed-high", fmt.Sprintf("feed %.0m/min, the job allows %.0f", r.in(m.Feed), r.in(l.Feed)), 0, m.To,
			"the cutter is overloaded, burns or breaks")
	}
	if m.RPM != r.turns.judged || r.turns.ever && !r.turns.told {
		r.judgeSpindle(m)
	}
	if fall := m.From.Z - m.To.Z; fall > zSlack && r.count < MaxFindings {
		r.sink(m, fall)
	}
}

// sink holds a move that goes down against ramp angle and feed of sinking.
// Below the approach height the wood may stand a little proud, so that the
// feed counts there too; where the wood has been cut away already nothing
// does.
func (r *Replay) sink(m *toolpath.Move, fall float64) {
	l := &r.Limits
	if m.To.Z >= l.Approach-zSlack {
		return
	}
	run := m.Length()
	feed := m.Feed * fall / run
	flat := math.Sqrt(max(0, run*run-fall*fall))
	plunge := flat < zSlack
	steep := !plunge && fall > flat*r.steepest
	inWood := m.To.Z < -Tol
	if feed <= r.sinkMax && feed <= l.PlungeFeed*sinkSlack && !(inWood && (plunge || steep)) {
		return // nothing to find, whatever stands there
	}
	if r.gone(min(m.To.Z+Tol, -Tol)) {
		return
	}
	r.sinkMax = max(r.sinkMax, feed)
	line := m.Line
	switch {
	case inWood && plunge:
		r.find(line, "plunge", fmt.Sprintf("straight plunge of %.3m into the wood", r.in(min(fall, -m.To.Z))), min(fall, -m.To.Z), m.To,
			"the cutter's end rubs and burns instead of cutting")
	case inWood && steep:
		r.find(line, "ramp-steep", fmt.Sprintf("goes down at %.2f°, the job's ramps at most at %.2f°", geom.Angle(math.Atan2(fall, flat)).Degrees(), l.RampMax.Degrees()),
			0, m.To, "the cutter's end rubs and burns instead of cutting")
	}
	if feed > l.PlungeFeed*sinkSlack {
		r.find(line, "plunge-feed", fmt.Sprintf("sinks at %.0m/min, the job allows %.0f", r.in(feed), r.in(l.PlungeFeed)), 0, m.To,
			"the cutter is pushed into the wood faster than it clears chips")
	}
}

// gone reports whether the present move meets no wood above z.
func (r *Replay) gone(z float64) bool {
	for i := range r.buf {
		if !r.field.covered(r.buf[i].axis, z) {
			return false
		}
	}
	return true
}

// engage asks what wood a piece of a move meets, before its own cut is
// counted: how deep a bite it takes, and whether it only rubs.
func (r *Replay) engage(m *toolpath.Move, s, old *sweep) {
	if s.low() >= -Tol {
		return
	}
	l := &r.Limits
	most := l.StepDown + Tol
	if d, ok := s.follows(old); ok && d <= most {
		r.bite = max(r.bite, min(d, -s.low())) // no deeper; how much less nobody asks
		r.rubs(m, s)
		return
	}
	bite, at := r.deeper(*s, s, 0, 1, min(r.bite+biteStep, most))
	r.field.own = nil
	r.bite = max(r.bite, bite)
	if bite > most {
		line := m.Line
		if m.From.Z == m.To.Z {
			line = r.setBy[2]
		}
		what := fmt.Sprintf("takes %.3m of wood at once, the job's passes take %.3f", r.in(bite), r.in(l.StepDown))
		if by := r.field.nearest(at, r.field.r*2, 0); by != nil && int(by.line) != line {
			what += fmt.Sprintf("; the cut before there is line %d", by.line)
		}
		r.find(line, "bite", what, bite-l.StepDown, geom.Point3{X: at.X, Y: at.Y, Z: s.low()}, "the cutter is loaded deeper than the job allows")
	}
	r.rubs(m, s)
}

// rubs holds a cut in wood against the least feed.
func (r *Replay) rubs(m *toolpath.Move, s *sweep) {
	least := r.Limits.Feed
	if m.Feed >= least*crawl {
		return // whatever may be slower here
	}
	if fall := m.From.Z - m.To.Z + zRounding; fall > 0 {
		least = min(least, r.Limits.PlungeFeed*m.Length()/fall)
	}
	if m.IsArc() && r.Limits.Accel > 0 { // v²/r
		const minute = 60
		least = min(least, minute*math.Sqrt(r.Limits.Accel*m.From.XY().Dist(m.Center)))
	}
	if m.Feed >= least*crawl || m.Feed <= 0 || m.Feed == r.fed.low || r.field.covered(s.axis, s.low()+Tol) {
		return
	}
	r.fed.low = m.Feed
	r.find(m.Line, "feed-low", fmt.Sprintf("feed %.0m/min in the wood, less than half of the job's %.0f there; %.0f or more is right", r.in(m.Feed), r.in(least), r.in(math.Ceil(least*crawl))), 0, m.To,
		"the cutter rubs and burns instead of cutting")
}

// ownLead is how far behind the cutter its own way counts as cut when it is
// asked what wood it meets, in mm: far enough for the wood ahead to be wider
// than a sliver.
const ownLead = 12 * sliver

// deeper returns how deep a bite the parts t to u of a sweep take where that
// is more than least, and where; else something not above least. A sloping
// sweep is asked as if all of it were at its deepest, and cut in halves where
// that is too strict; the way that lies behind it counts as cut.
func (r *Replay) deeper(s sweep, whole *sweep, t, u, least float64) (bite float64, at geom.Point) {
	level := s.low() + least
	if level >= 0 {
		return 0, at
	}
	r.field.own = nil
	if before := t - ownLead/whole.axis.Length(); before > 0 {
		r.behind = whole.part(0, before)
		r.field.own = &r.behind
	}
	if r.field.covered(s.axis, level) {
		return 0, at
	}
	if math.Abs(s.zA-s.zB) > Tol/4 && s.axis.Length() > sliver/2 {
		mid := (t + u) / 2
		// The deeper half first: the other one then seldom takes more.
		order := [2][2]float64{{t, mid}, {mid, u}}
		if s.zB < s.zA {
			order[0], order[1] = order[1], order[0]
		}
		for _, h := range order {
			b, p := r.deeper(whole.part(h[0], h[1]), whole, h[0], h[1], max(least, bite))
			if b > bite {
				bite, at = b, p
			}
			if bite > 2*r.Limits.StepDown {
				break // more than enough to condemn
			}
		}
		return bite, at
	}
	return r.bitten(s, level)
}

// bitten measures the bite of a sweep that is level or nearly so, between the
// given height, above which wood stands, and the surface.
func (r *Replay) bitten(s sweep, level float64) (bite float64, at geom.Point) {
	at = s.axis.At(0.5)
	lo, hi := level, 0.0
	for hi-lo > Tol/20 {
		mid := (lo + hi) / 2
		if r.field.covered(s.axis, mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	if piece, ok := r.field.standing(sweptRegion(s.axis, r.field.r-sliver), lo, 0); ok {
		at = piece.At(0.5)
	}
	return hi - s.low(), at
}
