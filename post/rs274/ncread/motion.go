package ncread

import (
	"fmt"

	"starwright/geom"
	"starwright/toolpath"
)

// Limits of what a machine of the trade is asked to do.
const (
	reachMM = 100e3 // 100 m from zero, mm
	feedMax = 1e6   // 1 km a minute, mm/min
)

// executeMotion carries out the non-modal words that take axes and the motion
// in force.
func (m *machine) executeMotion() error {
	b := &m.b
	named := (b.seen | b.lost) & axes
	explicit := b.hasG(gMotion)
	if explicit {
		m.motion = b.g[gMotion]
	}
	if b.hasG(gOnce) && b.g[gOnce] != g4 && !m.idleOffset() {
		m.elsewhere(named, explicit)
		return nil
	}
	if b.strange {
		m.pos, m.known = m.target() // where it says; how it gets there is not known
		return nil
	}
	arc := m.motion == g2 || m.motion == g3
	if named == 0 && !explicit && !(arc && b.has(lI|lJ|lR)) {
		return nil
	}
	switch {
	case m.motion == g0 || m.motion == g1:
		if named == 0 {
			m.tell(stdAxisMissing, m.motion.text("G")+" without X, Y or Z")
			return nil
		}
		return m.travel(named)
	case arc:
		return m.travel(named)
	case m.motion == none && named != 0:
		m.tell(stdMotionMode, "axis words before any of G0 to G3")
	case m.motion == g80 && named != 0:
		m.tell(stdMotionMode, "axis words while G80 is in force")
	case m.motion == g382:
		m.tell(subProbe, "G38.2")
		m.known &^= named
	case m.motion >= g81 && m.motion <= g89:
		m.tell(subCycle, m.motion.text("G"))
		m.known &^= named | lZ
	}
	return nil
}

// idleOffset reports whether the non-modal word clears an offset that the
// program has not set, and remarks on it.
func (m *machine) idleOffset() bool {
	once := m.b.g[gOnce]
	if m.shifted || once != g921 && once != g922 {
		return false
	}
	m.tell(subOffsetIdle, once.text("G"))
	return true
}

// elsewhere tells of the words that move or measure by values that are not in
// the program. Nothing of them is replayed; what they leave unknown is
// unknown from here on.
func (m *machine) elsewhere(named letters, explicit bool) {
	once := m.b.g[gOnce]
	m.shifted = m.shifted || once == g92
	m.tell(subCoordinates, once.text("G"))
	if once != g53 && explicit && named != 0 && m.motion != g80 {
		m.tell(stdAxisShared, fmt.Sprintf("%s and %s in one block with axis words", once.text("G"), m.motion.text("G")))
	}
	switch once {
	case g53:
		m.known &^= named
	case g28, g30:
		m.known = 0
	}
	m.moved = true
}

// travel carries out G0 to G3: it works out the end, tells of what the program
// has left unsaid, and hands the move out.
func (m *machine) travel(named letters) error {
	kind := toolpath.Kind(m.motion / 10)
	to, known := m.target()
	need := unsaidMotion
	if kind != toolpath.Rapid {
		need |= unsaidFeedMode
		m.checkCut()
	}
	if kind > toolpath.Linear {
		need |= unsaidPlane
	}
	if m.unsaid&need != 0 {
		m.checkSaid(need)
	}
	if m.known != axes {
		m.checkStart(kind, named)
	}
	if m.stale != 0 {
		m.afterStop(kind, named)
	}
	if beyond(to.X) || beyond(to.Y) || beyond(to.Z) {
		m.tell(subSize, fmt.Sprintf("to X%.1f Y%.1f Z%.1f, over %.0m from zero", m.in(to.X), m.in(to.Y), m.in(to.Z), m.in(reachMM)))
	}
	mv := &m.move
	mv.Center, mv.Sweep = geom.Point{}, 0
	shown := known == axes
	if kind > toolpath.Linear {
		center, sweep, ok := m.arc(kind, to)
		mv.Center, mv.Sweep = center, sweep
		shown = shown && ok
	}
	mv.From, mv.To = m.pos, to
	if m.known != axes {
		mv.From = m.startLike(to)
	}
	m.pos, m.known, m.moved = to, known, true
	if known != axes {
		return m.given(named)
	}
	if !shown {
		return nil
	}
	return m.handOut(kind)
}

// handOut counts the move and hands it out.
func (m *machine) handOut(kind toolpath.Kind) error {
	mv := &m.move
	mv.Line, mv.Kind = m.rep.Lines, kind
	mv.Feed, mv.RPM = 0, 0
	if m.spindle != 0 {
		mv.RPM = m.rpm
	}
	m.rep.Moves++
	if kind == toolpath.Rapid {
		m.rep.Rapids++
	} else {
		mv.Feed = m.feed
		m.rep.Feed.add(m.feed)
	}
	if m.ev.Move == nil {
		return nil
	}
	return m.ev.Move(mv)
}

// given hands out the axes of a motion that does not yet know them all.
func (m *machine) given(named letters) error {
	if m.ev.Given == nil {
		return nil
	}
	for k, l := range [...]letters{lX, lY, lZ} {
		if named&l != 0 {
			if err := m.ev.Given(m.rep.Lines, k); err != nil {
				return err
			}
		}
	}
	return nil
}

// target returns where the motion ends and which axes of that are known.
func (m *machine) target() (to geom.Point3, known letters) {
	b := &m.b
	to, known = m.pos, m.known
	relative := m.distance == g91
	if b.seen&lX != 0 {
		v := b.value('X') * m.unitMM
		if relative {
			v += to.X
		}
		to.X = v
	}
	if b.seen&lY != 0 {
		v := b.value('Y') * m.unitMM
		if relative {
			v += to.Y
		}
		to.Y = v
	}
	if b.seen&lZ != 0 {
		v := b.value('Z') * m.unitMM
		if relative {
			v += to.Z
		}
		to.Z = v
	}
	if !relative {
		known |= b.seen & axes
	}
	return to, known &^ b.lost
}

// startLike returns the start of a move, with the axes that are not known set
// as at its end.
func (m *machine) startLike(to geom.Point3) geom.Point3 {
	from := m.pos
	if m.known&lX == 0 {
		from.X = to.X
	}
	if m.known&lY == 0 {
		from.Y = to.Y
	}
	if m.known&lZ == 0 {
		from.Z = to.Z
	}
	return from
}

// checkCut tells of a cut without a feed or with a spindle that does not
// turn, once for every stretch of such cuts.
func (m *machine) checkCut() {
	if m.feed == 0 && !m.said[subFeedUnset] {
		m.said[subFeedUnset] = true
		m.tell(subFeedUnset, m.motion.text("G")+" with no feed set")
	}
	if m.forgot.line > 0 {
		m.tellAt(m.forgot, subFeedForgotten, "G94 after the feed was given", 0)
		m.forgot = place{}
	}
	if m.feed > feedMax {
		m.tell(subSize, fmt.Sprintf("feed of %.0m/min", m.in(m.feed)))
	}
	if (m.spindle == 0 || (m.rpmSet && m.rpm == 0)) && !m.said[subSpindleOff] {
		m.said[subSpindleOff] = true
		m.tell(subSpindleOff, m.motion.text("G")+" with the spindle off")
	}
}

// checkSaid tells, once each, of what the program should have given before.
func (m *machine) checkSaid(need unsaid) {
	for _, u := range [...]struct {
		what unsaid
		rule rule
		text string
	}{
		{unsaidUnit, subUnitsUnset, "motion before any unit; read as millimetres"},
		{unsaidDistance, subDistanceUnset, "motion before G90 or G91; read as G90"},
		{unsaidOffset, subOffsetUnset, "motion before any work offset"},
		{unsaidPlane, subPlaneUnset, "arc before any plane; read as G17"},
		{unsaidComp, subCompUnset, "motion before G40"},
		{unsaidFeedMode, subFeedModeUnset, "motion at a feed before G94"},
	} {
		if m.unsaid&need&u.what != 0 {
			m.tell(u.rule, u.text)
		}
	}
	m.unsaid &^= need
}

// checkStart tells of a motion from a place the program has not set.
func (m *machine) checkStart(kind toolpath.Kind, named letters) {
	missing := ""
	for _, a := range [...]struct {
		l    letters
		name string
	}{{lX, " X"}, {lY, " Y"}, {lZ, " Z"}} {
		if m.known&a.l == 0 {
			missing += a.name
		}
	}
	switch {
	case kind != toolpath.Rapid:
		m.tell(subStartUnknown, m.motion.text("G")+" from an unknown"+missing)
	case m.distance == g91 && named&^m.known != 0:
		m.tell(subStartUnknown, "a step from an unknown"+missing)
	case named&(lX|lY) != 0 && m.known&lZ == 0:
		m.tell(subHeightUnknown, "rapid across the work before any Z")
	}
}

// afterStop looks whether a motion after a stop for the operator rests on where
// the cutter was before: the height comes first, by itself, then the rest before
// anything is cut.
func (m *machine) afterStop(kind toolpath.Kind, named letters) {
	rests := m.stale&lZ != 0 && named != lZ
	if m.distance == g91 {
		rests = rests || named&m.stale != 0
	} else {
		m.stale &^= named
	}
	if rests || kind != toolpath.Rapid && m.stale != 0 {
		m.tell(subStopPlace, m.motion.text("G")+" from where the cutter was before the stop")
		m.stale = 0
	}
}

// in is a length (mm) as findings print it: in the unit that the program is in.
func (m *machine) in(mm float64) geom.Measure {
	u := geom.Millimetre
	if m.units == g20 {
		u = geom.Inch
	}
	return geom.Measure{MM: mm, Unit: u}
}

// beyond reports whether a coordinate is out of reach.
func beyond(v float64) bool { return v > reachMM || v < -reachMM }
