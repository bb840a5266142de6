package backplot

import (
	"sync/atomic"

	"starwright/geom"
	"starwright/toolpath"
)

// Scout looks at the moves of a program, in order, before its replay takes them in,
// on another processor. It knows nothing of the wood: it answers what can be said of
// a way by itself, and only where none before went along it. With its
// answers a replay has half of its work left, and finds the same.
type Scout struct {
	still   *Replay // takes in no moves: it has the outlines, and notes of its own about them
	enough  *atomic.Bool
	trodden [][troddenWords]uint64
}

// Glance is what a scout says of a move. The zero Glance says nothing.
type Glance struct {
	out   float64 // where clear: how far the cut reaches into parts
	of    int32   // as in sweep
	right int8    // the same
	fresh bool    // no straight move before goes along the very way, either way round
	deep  bool    // all of it is in the wood: of and right are known
	clear bool    // where deep: it keeps out of parts and screw zones
}

// A way that was gone before has a bit; those of ways close together
// stand side by side in the processor's cache. Two ways may share a bit: nothing is
// said then of the second. There are bits enough for some million ways.
const (
	troddenWords = 8       // a line of a cache
	troddenLines = 1 << 15 // 2 MB
	troddenMM    = 0.25    // how close together the middles of ways are whose bits stand side by side
)

// Scout returns a scout for the replay, nil where it would be of no help.
func (r *Replay) Scout() *Scout {
	if r.Sheet == nil {
		return nil
	}
	r.enough = new(atomic.Bool) // apart from all that the replay writes, which would have to be fetched with it
	return &Scout{still: New(r.Task), enough: r.enough, trodden: make([][troddenWords]uint64, troddenLines)}
}

// Look takes in a move and says what can be said of it.
func (s *Scout) Look(m *toolpath.Move) (g Glance) {
	if m.IsArc() || s.enough.Load() {
		return g
	}
	axis := geom.Curve{A: m.From.XY(), B: m.To.XY()}
	if g.fresh = s.first(&axis); !g.fresh || !m.Cuts() || max(m.From.Z, m.To.Z) > -Tol {
		return g
	}
	g.deep = true
	g.of, g.right = s.still.courseOf(axis)
	g.out, g.clear = s.still.keepsOut(axis, curveBox(axis))
	return g
}

// first reports whether no way before had that axis, in either direction.
func (s *Scout) first(axis *geom.Curve) bool {
	h := hashAxis(axis)
	word, bit := &s.trodden[placeOf(axis, troddenMM)%troddenLines][h>>6%troddenWords], uint64(1)<<(h%64)
	if *word&bit != 0 {
		return false
	}
	*word |= bit
	return true
}

// MoveSeen is [Replay.Move] of a move that the replay's scout, if it has one, has looked
// at. It must have looked at all moves before.
func (r *Replay) MoveSeen(m *toolpath.Move, g Glance) {
	r.glance = g
	r.Move(m)
	r.glance = Glance{}
	if r.enough != nil && (r.count >= MaxFindings || r.tangled) && !r.enough.Load() {
		r.enough.Store(true)
	}
}
