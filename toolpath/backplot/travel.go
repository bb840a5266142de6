package backplot

import (
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// rapid holds a rapid against the heights of travel. A rapid never cuts, so
// none may pass at or below the surface; across the wood it keeps the safe
// height, and down it ends at the approach height. Where the program has not
// said where the cutter was before, the first move may come from anywhere.
func (r *Replay) rapid(m *toolpath.Move) {
	low := min(m.From.Z, m.To.Z)
	r.rapidLow = min(r.rapidLow, low)
	at, line := m.To, r.setBy[2]
	if m.From.Z < m.To.Z {
		at, line = m.From, r.wasBy[2]
	}
	across := !r.started || math.Abs(m.From.X-m.To.X) > zSlack || math.Abs(m.From.Y-m.To.Y) > zSlack
	r.started = true
	l := &r.Limits
	switch {
	case low <= 0:
		if r.full() {
			return
		}
		r.find(m.Line, "rapid-in-wood", fmt.Sprintf("rapid at Z %.3f, at or below the wood's surface", r.in(low)), -low, at,
			"the cutter is driven through the wood at full speed")
	case across && low < l.SafeZ-zSlack:
		if r.full() {
			return
		}
		if m.From.Z != m.To.Z {
			line = m.Line
		}
		r.find(line, "rapid-low", fmt.Sprintf("rapid across at Z %.3f, below the safe height of %.3f", r.in(low), r.in(l.SafeZ)), l.SafeZ-low, at,
			"a clamp or a proud edge in the way is hit")
	case !across && m.To.Z < m.From.Z && m.To.Z < l.Approach-zSlack:
		if r.full() {
			return
		}
		r.find(m.Line, "rapid-low", fmt.Sprintf("rapid down to Z %.3f, below the approach height of %.3f", r.in(m.To.Z), r.in(l.Approach)), l.Approach-m.To.Z, at,
			"a board a little proud of the zero is hit at full speed")
	}
}

// spindle is what is known of the spindle.
type spindle struct {
	on     bool
	line   int     // where it was started or its speed given
	waited float64 // seconds since it started
	pause  int     // where it waited last
	told   bool    // its start has been judged
	judged float64 // the speed that was last judged
	ever   bool    // its start is known at all
}

// inWood reports whether the cutter stands below the wood's surface.
func (r *Replay) inWood() bool { return r.started && r.at.Z < -Tol }

// Spindle takes in that the spindle starts, changes its speed or stops.
func (r *Replay) Spindle(line int, on bool, rpm float64) {
	if !on && r.turns.on && r.inWood() {
		r.find(line, "spindle-in-wood", fmt.Sprintf("the spindle stops with the cutter in the wood at Z %.3f", r.in(r.at.Z)), -r.at.Z, r.at,
			"the cutter jams and tears the wood, or breaks when it starts again")
	}
	if on && !r.turns.on {
		r.turns.waited, r.turns.pause, r.turns.told = 0, 0, false
	}
	r.turns.on, r.turns.line, r.turns.ever = on, line, true
}

// Dwell takes in a pause of the program.
func (r *Replay) Dwell(line int, seconds float64) {
	if seconds > 0 && r.inWood() {
		r.find(line, "dwell-in-wood", fmt.Sprintf("waits %.1f s with the cutter in the wood at Z %.3f", seconds, r.in(r.at.Z)), -r.at.Z, r.at,
			"the cutter rubs in one place and burns the wood")
	}
	if r.turns.on {
		r.turns.waited, r.turns.pause = r.turns.waited+seconds, line
	}
}

// judgeSpindle holds a cut against the spindle's speed and its time to reach
// it.
func (r *Replay) judgeSpindle(m *toolpath.Move) {
	const slack = 1.0005 // speeds are written to a whole number
	const part = 0.9     // of the time to reach its speed: what is called three seconds is not stopped with a watch
	t, l := &r.turns, &r.Limits
	line := m.Line
	if t.ever {
		line = t.line
	}
	if m.RPM != t.judged {
		t.judged = m.RPM
		if m.RPM > 0 && (m.RPM > l.RPMMax*slack || m.RPM < l.RPMMin/slack) {
			r.find(line, "speed", fmt.Sprintf("spindle at %.0f rev/min, the job allows %.0f to %.0f", m.RPM, l.RPMMin, l.RPMMax), 0, m.To, "too fast burns, too slow tears")
		}
	}
	if t.ever && !t.told {
		t.told = true
		if t.waited < l.SpinUpS*part {
			if t.pause > 0 {
				line = t.pause
			}
			r.find(line, "spin-up", fmt.Sprintf("cuts %.1f s after the spindle starts, it needs %.1f", t.waited, l.SpinUpS), 0, m.To,
				"a cutter that is not up to speed tears the wood or breaks")
		}
	}
}

// extent is how far a program moves, and which line took it beyond the
// machine's travel.
type extent struct {
	min, max geom.Point3
	room     geom.Point3
	beyond   [3]int
}

func newExtent(room geom.Point3) extent {
	i := math.Inf(1)
	return extent{min: geom.Point3{X: i, Y: i, Z: i}, max: geom.Point3{X: -i, Y: -i, Z: -i}, room: room}
}

func (e *extent) add(m *toolpath.Move) {
	e.with(m.From, m.Line)
	e.with(m.To, m.Line)
	if !m.IsArc() {
		return
	}
	for _, c := range m.Curves() {
		b := c.Bounds()
		e.with(geom.Point3{X: b.Min.X, Y: b.Min.Y, Z: m.To.Z}, m.Line)
		e.with(geom.Point3{X: b.Max.X, Y: b.Max.Y, Z: m.To.Z}, m.Line)
	}
}

func (e *extent) with(p geom.Point3, line int) {
	if p.X >= e.min.X && p.X <= e.max.X && p.Y >= e.min.Y && p.Y <= e.max.Y && p.Z >= e.min.Z && p.Z <= e.max.Z {
		return
	}
	e.min = geom.Point3{X: min(e.min.X, p.X), Y: min(e.min.Y, p.Y), Z: min(e.min.Z, p.Z)}
	e.max = geom.Point3{X: max(e.max.X, p.X), Y: max(e.max.Y, p.Y), Z: max(e.max.Z, p.Z)}
	for i, got := range e.size() {
		if room := [3]float64{e.room.X, e.room.Y, e.room.Z}[i]; room > 0 && got > room && e.beyond[i] == 0 {
			e.beyond[i] = line
		}
	}
}

func (e *extent) size() [3]float64 {
	return [3]float64{max(0, e.max.X-e.min.X), max(0, e.max.Y-e.min.Y), max(0, e.max.Z-e.min.Z)}
}

// travel holds the program's extent against the machine's.
func (r *Replay) travel() {
	size, l := r.extent.size(), r.Limits.Travel
	for i, a := range []struct {
		name string
		room float64
	}{{"X", l.X}, {"Y", l.Y}, {"Z", l.Z}} {
		if a.room <= 0 {
			continue
		}
		r.more = append(r.more, finding.AtMost("travel "+a.name, size[i], a.room, "mm"))
		if size[i] > a.room {
			r.find(r.extent.beyond[i], "travel", fmt.Sprintf("moves over %.1m in %s, the machine's travel is %.1f", r.in(size[i]), a.name, r.in(a.room)),
				size[i]-a.room, r.extent.max, "the machine runs into its end stop")
		}
	}
}
