package ncread

import (
	"math"
	"strconv"
	"strings"

	"starwright/toolpath"
)

// declared reports whether the job says of its controller that it needs what a
// rule remarks on.
func (m *machine) declared(r rule) bool {
	switch r {
	case subPercent:
		return m.c.Percent
	case subSemicolon:
		return m.c.Comments == toolpath.Semicolon
	case subCentresIdle:
		return m.c.Centres
	case subDwellInteger:
		return m.c.Dwell == toolpath.DwellMilliseconds
	case subSpeedUnset:
		return !m.c.Knows("S")
	case subOffsetUnset:
		return !m.c.Knows("G54")
	case subPlaneUnset:
		return !m.c.Knows("G17")
	case subCompUnset:
		return !m.c.Knows("G40")
	case subFeedModeUnset:
		return !m.c.Knows("G94")
	}
	return false
}

// programNumber reports whether a line is the number that the job gives the
// program: by itself, before every word.
func (m *machine) programNumber(line []byte) bool {
	if m.c.Number == 0 || m.started {
		return false
	}
	digits, ok := strings.CutPrefix(strings.TrimSpace(strings.ToUpper(string(line))), "O")
	n, err := strconv.Atoi(digits)
	return ok && err == nil && n == m.c.Number
}

// pathMode takes in G61 or G64. A tolerance is what the job declares, or less.
func (m *machine) pathMode() {
	m.path = m.b.g[gPath]
	const slack = 1e-9 // mm, of the conversion from inches
	switch p := m.b.value('P') * m.unitMM; {
	case m.path == g61 && m.c.ExactPath:
	case m.path == g64 && m.c.PathMM > 0 && m.b.has(lP) && p > 0 && p <= m.c.PathMM+slack:
		m.b.seen &^= lP // used
	default:
		m.idleOr(subPathControl, m.path.text("G"), m.path == g61)
	}
}

// seconds returns how long G4 waits with P.
func (m *machine) seconds(p float64) float64 {
	const thousandth = 1e-3
	if m.c.Dwell == toolpath.DwellMilliseconds {
		return p * thousandth
	}
	return math.Max(0, p)
}
