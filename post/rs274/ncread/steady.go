package ncread

import (
	"starwright/geom"
	"starwright/toolpath"
)

// Once a program has said all that a cut needs, a straight move within reach changes
// the place and perhaps the feed, and there is nothing to tell of it. Nearly every
// line of a long program is such a move. Carried out without the steps that have
// nothing to do, it takes 8 ns instead of 23.

// run executes the lines of a chunk.
func (m *machine) run(c *chunk) error {
	steady := m.steady()
	for i := range c.lines {
		l := &c.lines[i]
		if steady && l.moves && m.straight(&l.moveWords) {
			m.rep.Lines++
			m.rep.Blocks++
			if err := m.handOut(m.move.Kind); err != nil {
				return err
			}
			continue
		}
		if err := m.take(c.text[l.from:l.to], l.bare, l.words()); err != nil {
			return err
		}
		steady = m.steady()
	}
	return nil
}

// steady reports whether the program has said all that a straight cut needs. It
// remains so until a line does anything but move straight.
func (m *machine) steady() bool {
	return !m.ended && m.unsaid&(unsaidMotion|unsaidFeedMode) == 0 &&
		m.known == axes && m.stale == 0 && m.distance != g91 &&
		m.feed > 0 && m.feed <= feedMax && m.forgot.line == 0 && // G93 leaves no feed
		m.spindle != 0 && !(m.rpmSet && m.rpm == 0)
}

// straight makes the straight move within reach that the words of a line give to a
// steady machine, and reports whether they give one. Where they do not, nothing is
// done.
func (m *machine) straight(w *moveWords) bool {
	motion := m.motion
	if w.motion != none {
		motion = w.motion
	}
	if motion != g0 && motion != g1 || w.seen&axes == 0 || w.seen&^(axes|lF) != 0 {
		return false
	}
	to := m.pos
	if w.seen&lX != 0 {
		to.X = w.val[slotX] * m.unitMM
	}
	if w.seen&lY != 0 {
		to.Y = w.val[slotY] * m.unitMM
	}
	if w.seen&lZ != 0 {
		to.Z = w.val[slotZ] * m.unitMM
	}
	if beyond(to.X) || beyond(to.Y) || beyond(to.Z) {
		return false
	}
	if w.seen&lF != 0 {
		feed := w.val[slotF] * m.unitMM
		if !(feed > 0 && feed <= feedMax) {
			return false
		}
		m.feed = feed
	}
	m.motion, m.moved = motion, true
	mv := &m.move
	mv.Kind = toolpath.Kind(motion / 10)
	mv.From, mv.To = m.pos, to
	mv.Center, mv.Sweep = geom.Point{}, 0
	m.pos = to
	return true
}
