package ncread

import (
	"fmt"

	"starwright/geom"
)

// plainWords are the letters of a block that only moves: no other step of the
// order of execution has anything to do.
const plainWords = axes | lF | lI | lJ

// execute carries out the block in the order of NISTIR 6556, Table 8. The
// comment, its first step, has been taken in already.
func (m *machine) execute() error {
	b := &m.b
	if b.gSeen&^(1<<gMotion) == 0 && b.mSeen == 0 && b.seen&^plainWords == 0 && b.lost == 0 {
		if b.has(lF) {
			m.setFeed()
		}
		if b.has(lI | lJ) {
			m.checkUnused()
		}
		return m.executeMotion()
	}
	if b.hasG(gFeedMode) {
		m.setFeedMode()
	}
	if b.has(lF) {
		m.setFeed()
	}
	if b.has(lS) {
		if err := m.setSpeed(); err != nil {
			return err
		}
	}
	if b.has(lT) {
		m.tell(subTool, fmt.Sprintf("T%s selects a tool", plain(b.value('T'))))
	}
	if b.mSeen != 0 {
		if err := m.executeM(); err != nil {
			return err
		}
	}
	if b.hasG(gOnce) && b.g[gOnce] == g4 {
		if err := m.dwell(); err != nil {
			return err
		}
	}
	m.setModes()
	m.checkUnused()
	if err := m.executeMotion(); err != nil {
		return err
	}
	if b.hasM(mStop) {
		return m.stop()
	}
	return nil
}

// setFeedMode takes in G93 or G94.
func (m *machine) setFeedMode() {
	m.feedMode = m.b.g[gFeedMode]
	m.unsaid &^= unsaidFeedMode
	if m.feedMode == g93 {
		m.tell(subInverseTime, "G93")
		m.feed = 0
	} else if m.feed > 0 {
		m.forgot = m.here()
	}
}

// setFeed takes in F. Table 8 puts it before the units of its own line.
func (m *machine) setFeed() {
	v := m.b.value('F')
	if v <= 0 {
		m.tell(stdFeed, fmt.Sprintf("feed of %s", plain(v)))
		return
	}
	if m.unsaid&unsaidUnit != 0 {
		m.unsaid &^= unsaidUnit
		m.tell(subUnitsUnset, "F before any unit")
	}
	if m.feedMode == g93 {
		return // a number of turns a minute, no feed
	}
	m.feed, m.feedBare = v*m.unitMM, m.units == none
	m.said[subFeedUnset] = false
	m.forgot = place{}
}

// setSpeed takes in S.
func (m *machine) setSpeed() error {
	v := m.b.value('S')
	if v < 0 {
		m.tell(stdSpeed, fmt.Sprintf("spindle speed of %s", plain(v)))
		return nil
	}
	if v > speedMax {
		m.tell(subSize, fmt.Sprintf("spindle speed of %s rev/min, over %d", plain(v), speedMax))
	}
	m.rpm, m.rpmSet = v, true
	if m.spindle == 0 || m.b.hasM(mSpindle) {
		return nil // told when the spindle word is executed
	}
	return m.spindleTurns()
}

// speedMax is a speed that no spindle of the trade reaches, rev/min.
const speedMax = 1_000_000

// spindleTurns tells the caller that the spindle turns at its set speed.
func (m *machine) spindleTurns() error {
	m.said[subSpindleOff] = false
	if m.rpmSet {
		m.rep.RPM.add(m.rpm)
	}
	if m.ev.Spindle == nil {
		return nil
	}
	return m.ev.Spindle(m.rep.Lines, true, m.rpm)
}

// spindleStops stops the spindle.
func (m *machine) spindleStops() error {
	m.spindle = 0
	m.said[subSpindleOff] = false
	if m.ev.Spindle == nil {
		return nil
	}
	return m.ev.Spindle(m.rep.Lines, false, 0)
}

// executeM carries out the M words that come before the motion.
func (m *machine) executeM() error {
	b := &m.b
	if b.hasM(mTool) {
		m.tell(subTool, "M6 changes the tool")
		if err := m.spindleStops(); err != nil { // §3.6.3
			return err
		}
	}
	if b.hasM(mCoolant) {
		m.idleOr(subCoolant, b.m[mCoolant].text("M"), b.m[mCoolant] == m9)
	}
	if b.hasM(mOverride) {
		m.idleOr(subOverride, b.m[mOverride].text("M"), b.m[mOverride] == m48)
	}
	if !b.hasM(mSpindle) {
		return nil
	}
	switch b.m[mSpindle] {
	case m5:
		return m.spindleStops()
	case m4:
		m.tell(subReverse, "M4 turns the spindle backwards")
		m.spindle = -1
	default:
		m.spindle = 1
	}
	if !m.rpmSet {
		m.tell(subSpeedUnset, b.m[mSpindle].text("M")+" before any S")
	}
	return m.spindleTurns()
}

// idleOr tells of a word that is harmless where idle says so, and breaks rule
// r otherwise.
func (m *machine) idleOr(r rule, word string, idle bool) {
	if idle {
		r = subIdleWord
	}
	m.tell(r, word)
}

// dwellLongS is a dwell, in seconds, that was more likely meant as
// milliseconds.
const dwellLongS = 60

// dwell carries out G4.
func (m *machine) dwell() error {
	b := &m.b
	p := b.value('P')
	switch {
	case b.lost&lP != 0:
		return nil
	case !b.has(lP):
		m.tell(stdDwell, "G4 without P")
		return nil
	case p < 0:
		m.tell(stdDwell, fmt.Sprintf("G4 with P%s", plain(p)))
		return nil
	case b.point&lP == 0:
		m.tell(subDwellInteger, fmt.Sprintf("G4 with the whole number P%s", plain(p)))
	}
	p = m.seconds(p)
	if p > dwellLongS {
		m.tell(subDwellLong, fmt.Sprintf("the program waits %s s here", plain(p)))
	}
	m.rep.DwellS += p
	if m.ev.Dwell == nil {
		return nil
	}
	return m.ev.Dwell(m.rep.Lines, p)
}

// setModes carries out the steps of Table 8 from the plane to the cycle
// return.
func (m *machine) setModes() {
	b := &m.b
	if b.hasG(gPlane) {
		m.planeLeft()
		m.plane = b.g[gPlane]
		m.unsaid &^= unsaidPlane
		if m.plane != g17 {
			m.inPlane = m.here()
		}
	}
	if b.hasG(gUnits) {
		m.setUnits(b.g[gUnits])
	}
	if b.hasG(gComp) {
		m.comp = b.g[gComp]
		m.unsaid &^= unsaidComp
		if m.comp != g40 {
			m.tell(subCutterComp, m.comp.text("G"))
		}
	}
	if b.hasG(gLength) {
		m.idleOr(subToolLength, b.g[gLength].text("G"), b.g[gLength] == g49)
	}
	if b.hasG(gOffset) {
		m.offset = b.g[gOffset]
		m.unsaid &^= unsaidOffset
		if m.offset != g54 {
			m.tell(subWorkOffset, m.offset.text("G"))
		}
	}
	if b.hasG(gPath) {
		m.pathMode()
	}
	if b.hasG(gDistance) {
		m.distance = b.g[gDistance]
		m.unsaid &^= unsaidDistance
		if m.distance == g91 {
			m.tell(subIncremental, "G91")
		}
	}
	switch {
	case !b.hasG(gCentres):
	case b.g[gCentres] == g911:
		m.tell(subCentresIdle, "G91.1")
	default:
		m.tell(subCentres, "G90.1")
	}
	if b.hasG(gReturn) {
		m.tell(subIdleWord, b.g[gReturn].text("G"))
	}
}

// planeLeft remarks on another plane than XY in which no arc was cut.
func (m *machine) planeLeft() {
	if m.inPlane.line > 0 {
		m.tellAt(m.inPlane, subPlaneIdle, m.plane.text("G"), 0)
	}
	m.inPlane = place{}
}

// setUnits takes in G20 or G21.
func (m *machine) setUnits(c code) {
	m.unsaid &^= unsaidUnit
	mm := 1.0
	if c == g20 {
		mm = geom.MMPerInch
	}
	if m.units == c {
		return
	}
	switch {
	case m.units != none:
		m.tell(subUnitsChanged, fmt.Sprintf("%s after %s", c.text("G"), m.units.text("G")))
	case m.moved:
		m.tell(subUnitsChanged, c.text("G")+" after a motion")
	}
	if m.feedBare {
		m.feed *= mm
		m.feedBare = false
	}
	m.units, m.unitMM = c, mm
}

// checkUnused tells of words that nothing on the line uses.
func (m *machine) checkUnused() {
	b := &m.b
	idle := b.seen &^ (axes | lF | lS | lT | turning)
	if b.has(turning) {
		m.tell(subAxis, "A, B or C word")
	}
	if idle == 0 {
		return
	}
	motion := m.motion
	if b.hasG(gMotion) {
		motion = b.g[gMotion]
	}
	switch {
	case motion == g2 || motion == g3:
		idle &^= lI | lJ | lR
		if m.plane != none && m.plane != g17 {
			idle &^= lK
		}
	case motion >= g81 && motion <= g89:
		idle &^= lP | lQ | lR | lL | lI | lJ | lK
	}
	if b.hasG(gOnce) && b.g[gOnce] == g4 {
		idle &^= lP
	}
	if b.hasG(gOnce) && b.g[gOnce] == g10 {
		idle &^= lP | lL
	}
	if b.hasG(gComp) && b.g[gComp] != g40 {
		idle &^= lD
	}
	if b.hasG(gLength) && b.g[gLength] != g49 {
		idle &^= lH
	}
	for letter := byte('A'); letter <= 'Z'; letter++ {
		if idle&bit(letter) != 0 {
			m.tell(stdWordUnused, fmt.Sprintf("%c word without a code that uses it", letter))
		}
	}
}

// stop carries out the stopping word, the last step of the line.
func (m *machine) stop() error {
	c := m.b.m[mStop]
	switch c {
	case m2:
		m.end("M2")
		return nil
	case m30:
		if !m.c.EndM30 {
			m.tell(subIdleWord, "M30")
		}
		m.end("M30")
		return nil
	case m1:
		m.tell(subOptionalStop, "M1")
	case m60:
		m.tell(subPallet, "M60")
	}
	if m.spindle != 0 {
		m.tell(subSpindleAtStop, "the spindle still turns at "+c.text("M"))
	}
	m.stale = axes
	m.rep.StopCount++
	if len(m.rep.Stops) < MaxStops {
		m.rep.Stops = append(m.rep.Stops, m.rep.Lines)
	}
	if m.ev.Stop == nil {
		return nil
	}
	return m.ev.Stop(m.rep.Lines)
}
