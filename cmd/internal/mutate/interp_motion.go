package mutate

// motion carries out G0 to G3. Missing unit, distance mode, work offset, plane
// of an arc, feed, spindle: whatever is not said before it is needed is a
// fault, by the terms of the proof.
func (m *machine) motion(l *line) {
	for g, c := range []string{"G0", "G1", "G2", "G3"} {
		if l.has(c) {
			m.g = g
			if !l.any("XYZ") && g < 2 {
				m.fault(l.at, "%s without an axis (§3.5.1)", c)
			}
		}
	}
	if l.any("IJR") && (m.g < 2 || m.g > 3) {
		m.fault(l.at, "I, J or R belongs to no code")
	}
	if !l.any("XYZ") {
		if l.any("IJR") || l.has("G2") || l.has("G3") {
			m.fault(l.at, "arc without an end (§3.5.3)")
		}
		return
	}
	if m.g < 0 || m.g > 3 {
		m.fault(l.at, "axis words without a motion (§3.5.15)")
		return
	}
	if m.unit == 0 || !m.abs || !m.work {
		m.fault(l.at, "motion before unit, distance mode or work offset")
	}
	if m.g > 0 && (m.feed == 0 || !m.spin || m.rpm == 0) {
		m.fault(l.at, "cut without a feed or with the spindle off")
	}
	mv := move{line: l.at, g: m.g, from: m.pos, feed: m.feed, rpm: m.rpm, waited: m.waited, load: m.load}
	to, known := m.pos, m.known
	for k, letter := range []byte("XYZ") {
		if v, ok := l.val[letter]; ok {
			if to[k] = v * m.unit; m.rel {
				to[k] += m.pos[k]
				if !known[k] {
					m.fault(l.at, "a step from a place that was not given")
				}
			}
			known[k] = true
		}
	}
	mv.first = m.known != [3]bool{true, true, true}
	if mv.first && m.g > 0 {
		m.fault(l.at, "cut from a place that was not given")
	}
	if mv.first && l.any("XY") && !known[2] {
		m.fault(l.at, "travel at a height that was not given")
	}
	mv.to = to
	m.afterStop(l)
	if m.g > 1 {
		m.arc(l, &mv)
	}
	m.pos, m.known = to, known
	if known == [3]bool{true, true, true} {
		m.moves = append(m.moves, mv)
	}
}

// afterStop looks whether a motion rests on where the cutter was before a stop, at
// which hands may move the machine: Z comes first and alone, then X and Y before
// anything is cut.
func (m *machine) afterStop(l *line) {
	z := m.stale[2]
	for k, letter := range []byte("XYZ") {
		if _, ok := l.val[letter]; ok && !m.rel {
			m.stale[k] = false
		} else if ok && m.stale[k] {
			m.jog(l)
		}
	}
	if z && (l.any("XY") || m.stale[2]) || m.g > 0 && m.stale != [3]bool{} {
		m.jog(l)
	}
}

func (m *machine) jog(l *line) {
	if m.jogged == 0 {
		m.jogged = l.at
	}
	m.stale = [3]bool{}
}
