package mutate

import (
	"encoding/binary"
	"fmt"
	"hash/fnv"
	"math"
)

// Limits of the proof, as its terms state them, in mm unless said otherwise.
// The judge has its own copies: it holds the proof to them.
const (
	outlineTol = 0.01  // of slots: outside, below the floor, left standing, bite
	partTol    = 0.02  // of parts cut from sheet
	heightTol  = 0.002 // of the heights of travel
	feedTol    = 1.0005
	sinkTol    = 1.002
	spinPart   = 0.9 // of the time to speed
	crawlPart  = 0.5 // of the feed: below it a cut rubs
	farRoom    = 25  // beyond the work and above the safe height
	leadParts  = 2   // cutter diameters: how far from an outline a cutter may be low
)

// ruling collects the worst that was found.
type ruling struct {
	Verdict
	why string
}

func (r *ruling) add(v Verdict, format string, args ...any) {
	if v > r.Verdict {
		r.Verdict, r.why = v, fmt.Sprintf(format, args...)
	}
}

// over adds what a measure in mm says that has a limit.
func (r *ruling) over(v, limit float64, at int, what string) {
	switch {
	case v > limit+Near:
		r.add(Harmful, "line %d: %s: %.4f mm, limit %.4f", at, what, v, limit)
	case v > limit-Near && limit > Near:
		r.add(Either, "line %d: %s: %.4f mm, limit %.4f", at, what, v, limit)
	}
}

// JudgeProgram says what a program does to the work, and why.
func JudgeProgram(j *Brief, text []byte) (Verdict, string) {
	run := replay(text)
	var r ruling
	if len(run.faults) > 0 {
		return Harmful, run.faults[0]
	}
	if len(run.open) > 0 {
		r.add(Either, "%s", run.open[0])
	}
	if len(run.moves) == 0 {
		return Harmful, "the program does not move"
	}
	r.machine(j, &run)
	if r.Verdict == Harmful {
		return r.Verdict, r.why
	}
	if w := j.woodOf(&run); w.Verdict > r.Verdict {
		r = w
	}
	return r.Verdict, r.why
}

// woodOf says what the moves do to the wood. It is the same whatever else the
// program says, so that it is worked out once for the same moves.
func (j *Brief) woodOf(run *run) ruling {
	h, b := fnv.New64a(), []byte(nil)
	for i := range run.moves {
		m := &run.moves[i]
		of := []float64{float64(m.g), m.sweep, float64(m.load), m.from[0], m.from[1], m.from[2], m.to[0], m.to[1], m.to[2]}
		if m.g > 0 {
			of = append(of, m.feed)
		}
		if m.g > 1 { // a full turn's ends do not tell where it goes
			of = append(of, m.o[0], m.o[1])
		}
		for _, v := range of { // to a millionth of a millimetre, and -0 is 0
			b = binary.LittleEndian.AppendUint64(b, uint64(int64(math.Round(v*1e6))))
		}
		if m.first {
			b = append(b, 1)
		}
		h.Write(b)
		b = b[:0]
	}
	key := h.Sum64()
	j.mu.Lock()
	r, ok := j.seen[key]
	j.mu.Unlock()
	if ok {
		return r
	}
	r.wood(j, run)
	j.mu.Lock()
	defer j.mu.Unlock()
	if j.seen == nil {
		j.seen = map[uint64]ruling{}
	}
	j.seen[key] = r
	return r
}

// machine holds the moves against what needs no wood to be judged.
func (r *ruling) machine(j *Brief, run *run) {
	var lo, hi [3]float64
	for k := range lo {
		lo[k], hi[k] = math.Inf(1), math.Inf(-1)
	}
	for i := range run.moves {
		m := &run.moves[i]
		if r.motion(j, m); r.Verdict == Harmful {
			return
		}
		segs := flatten(nil, m)
		r.air(j, m, segs)
		for _, s := range segs {
			for k := range lo {
				lo[k] = min(lo[k], min(s.a[k], s.b[k]))
				hi[k] = max(hi[k], max(s.a[k], s.b[k]))
			}
		}
	}
	for k, room := range j.Travel {
		if room > 0 && hi[k]-lo[k] > room {
			r.add(Harmful, "moves over %.1f mm, the machine has %.1f", hi[k]-lo[k], room)
		}
	}
	for _, w := range run.inWood {
		if w.z < -outlineTol {
			r.add(Harmful, "line %d: %s at Z %.3f", w.line, w.what, w.z)
		}
	}
	for _, at := range run.stops {
		if z := at[2]; z < j.SafeZ-heightTol {
			r.add(Harmful, "stops for the operator at Z %.3f", z)
		}
		if j.Loads > 1 {
			r.parked(j, at)
		}
	}
	if j.Loads > 1 && run.jogged > 0 {
		r.add(Harmful, "line %d: moves on from where the cutter was before the stop", run.jogged)
	}
	r.parked(j, run.moves[len(run.moves)-1].to)
	if z := run.moves[len(run.moves)-1].to[2]; z < j.SafeZ-heightTol {
		r.add(Harmful, "ends at Z %.3f, below the safe height", z)
	}
}

// parked holds where the cutter is left against where the job wants it.
func (r *ruling) parked(j *Brief, at [3]float64) {
	const tol = 1.0
	if j.Park == nil {
		return
	}
	short := j.Park.To - at[j.Park.Axis]
	if j.Park.Back {
		short = -short
	}
	r.over(short, tol, 0, "the cutter is not parked")
}

// motion holds one move against heights of travel, feeds and speeds.
func (r *ruling) motion(j *Brief, m *move) {
	low := min(m.from[2], m.to[2])
	across := m.first || math.Hypot(m.to[0]-m.from[0], m.to[1]-m.from[1]) > heightTol
	if m.first {
		low = m.to[2]
	}
	if m.g == 0 {
		switch {
		case low <= 0:
			r.add(Harmful, "line %d: rapid at Z %.3f", m.line, low)
		case across && low < j.SafeZ-heightTol:
			r.add(Harmful, "line %d: rapid across at Z %.3f, below the safe height", m.line, low)
		case !across && m.to[2] < m.from[2] && m.to[2] < j.Approach-heightTol:
			r.add(Harmful, "line %d: rapid down to Z %.3f, below the approach height", m.line, m.to[2])
		}
		return
	}
	if m.feed > j.Feed*feedTol {
		r.add(Harmful, "line %d: feed %.1f, the job allows %.1f", m.line, m.feed, j.Feed)
	}
	if m.rpm > j.RPMMax*feedTol || m.rpm < j.RPMMin/feedTol {
		r.add(Harmful, "line %d: %.0f rev/min, the job allows %.0f to %.0f", m.line, m.rpm, j.RPMMin, j.RPMMax)
	}
	if m.waited < j.SpinUp*spinPart {
		r.add(Harmful, "line %d: cuts %.2f s after the spindle starts, it needs %.2f", m.line, m.waited, j.SpinUp)
	}
}

// seg is a straight piece of a move.
type seg struct {
	a, b       [3]float64
	line, load int
	rapid      bool
	feed       float64
	radius     float64 // of the arc that it is a piece of, 0 for a line
	run, fall  float64 // of the whole move: length and descent
	move       int     // its number
	ring       bool    // wood all round its ends is looked at
}

// arcChord is how far the chords that stand for an arc leave it, mm.
const arcChord = 0.001

// smallArc is the radius, mm, below which an arc is a corner: wood beside every
// piece of it is looked at.
const smallArc = 0.2

// flatten appends a move as straight pieces.
func flatten(out []seg, m *move) []seg {
	number := 0
	if len(out) > 0 {
		number = out[len(out)-1].move + 1
	}
	flat := math.Hypot(m.to[0]-m.from[0], m.to[1]-m.from[1])
	s := seg{line: m.line, load: m.load, move: number, rapid: m.g == 0, feed: m.feed, fall: m.from[2] - m.to[2]}
	if m.g < 2 || m.sweep == 0 {
		s.a, s.b, s.run, s.ring = m.from, m.to, math.Hypot(flat, s.fall), true
		if m.first {
			s.a = s.b
		}
		return append(out, s)
	}
	rad := math.Hypot(m.from[0]-m.o[0], m.from[1]-m.o[1])
	s.run, s.radius = math.Hypot(rad*math.Abs(m.sweep), s.fall), rad
	n := int(math.Ceil(math.Abs(m.sweep)/(2*math.Acos(1-min(1, arcChord/rad))))) + 1
	start := math.Atan2(m.from[1]-m.o[1], m.from[0]-m.o[0])
	at := m.from
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		p := [3]float64{m.o[0] + rad*math.Cos(start+t*m.sweep), m.o[1] + rad*math.Sin(start+t*m.sweep), m.from[2] + t*(m.to[2]-m.from[2])}
		if i == n {
			p = m.to
		}
		s.a, s.b, at = at, p, p
		s.ring = i == 1 || i == n/2 || i == n || rad < smallArc
		out = append(out, s)
	}
	return out
}

// below clips a piece to what lies at or below a height.
func (s *seg) below(z float64) (a, b [3]float64, ok bool) {
	a, b = s.a, s.b
	if a[2] > z && b[2] > z {
		return a, b, false
	}
	cut := func(p, q [3]float64) [3]float64 {
		t := (z - p[2]) / (q[2] - p[2])
		return [3]float64{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1]), z}
	}
	if a[2] > z {
		a = cut(a, b)
	} else if b[2] > z {
		b = cut(b, a)
	}
	return a, b, true
}

// segDist2 is the squared distance from x, y to the piece from a to b seen from
// above.
func segDist2(a, b *[3]float64, x, y float64) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	px, py := x-a[0], y-a[1]
	if l2 := dx*dx + dy*dy; l2 > 0 {
		if t := (px*dx + py*dy) / l2; t > 0 {
			t = min(t, 1)
			px, py = px-t*dx, py-t*dy
		}
	}
	return px*px + py*py
}
