package mutate

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// move is a motion as the small interpreter sees it.
type move struct {
	line     int
	g        int // 0 to 3
	from, to [3]float64
	o        [2]float64 // centre of an arc
	sweep    float64    // radians, signed
	feed     float64
	rpm      float64
	waited   float64 // seconds dwelled since the spindle started
	load     int     // stops before it
	first    bool    // where it comes from is not known
}

// run is a program replayed.
type run struct {
	moves  []move
	stops  [][3]float64 // where the cutter is at each M0
	jogged int          // line that moves on from where the cutter was before a stop
	inWood []halt       // where the spindle stops or the program waits, and how high
	faults []string     // against the standard or the subset
	open   []string     // what the standard allows and advises against, or leaves to the machine
}

// halt is what should not happen in the wood.
type halt struct {
	line int
	z    float64
	what string
}

// left files what interpreters do alike and the subset does not have, or what
// they may differ in without harm: it is left open.
func (r *run) left(line int, format string, args ...any) {
	r.open = append(r.open, fmt.Sprintf("line %d: ", line)+fmt.Sprintf(format, args...))
}

func (r *run) fault(line int, format string, args ...any) {
	r.faults = append(r.faults, fmt.Sprintf("line %d: ", line)+fmt.Sprintf(format, args...))
}

// groupOf are the modal groups of the codes that may stand in a program (NISTIR 6556 Table 4).
var groupOf = map[string]int{
	"G0": 1, "G1": 1, "G2": 1, "G3": 1, "G80": 1, "G17": 2, "G18": 2, "G19": 2, "G90": 3, "G91": 3, "G94": 5,
	"G20": 6, "G21": 6, "G40": 7, "G54": 12, "G4": 20,
	"M0": 30, "M2": 30, "M30": 30, "M3": 37, "M5": 37,
	// Words that say what is in force anyway: no tool length offset (§3.5.11),
	// exact path (§3.5.17), return level of cycles that are not there (§3.5.16),
	// no coolant (§3.6.4), knobs not locked (§3.6.5).
	"G49": 8, "G61": 13, "G98": 10, "G99": 10, "M9": 38, "M48": 39,
	// Arc centres as steps from the start, which the standard knows alone
	// (§3.5.3.2), and no offset of coordinates (§3.5.18) where none was set.
	"G91.1": 4, "G92.1": 20, "G92.2": 20,
}

// machine is the state of the interpreter.
type machine struct {
	run
	unit        float64 // 0 where not given
	g           int     // motion in force, -1 none, 80
	plane, work bool
	tilted      bool // another plane than XY is in force
	abs, rel    bool // the distance mode is given; it is incremental
	pos         [3]float64
	known       [3]bool
	stale       [3]bool // not given since the last stop
	feed, rpm   float64
	spin        bool
	waited      float64
	load        int
	ended       bool
	closed      bool // a line of % stands behind the end
}

// replay runs a program.
func replay(text []byte) run {
	m := &machine{g: -1}
	lines := strings.Split(string(text), "\n")
	begun, taped := false, 0
	for i, l := range lines {
		if l = strings.TrimRight(l, "\r"); strings.Contains(l, "\r") {
			m.fault(i+1, "CR within a line: a blank to strict interpreters, which join what stands on both sides")
			continue
		}
		blank := strings.Trim(l, " \t")
		switch tape := blank == "%"; {
		case m.ended:
			m.afterEnd(i+1, l, tape)
		case tape && !begun:
			begun, taped = true, i+1 // §3.1: the first line that is not blank
		case tape:
			m.fault(i+1, "a line of %% within the program (§3.1)")
		default:
			begun = begun || blank != ""
			m.block(i+1, l)
		}
	}
	if !m.ended {
		m.fault(len(lines), "the program does not end with M2 or M30 (§3.1)")
	}
	if m.spin {
		m.fault(len(lines), "the spindle still turns at the end (subset)")
	}
	if taped > 0 && !m.closed {
		m.left(taped, "a line of %% in front and none behind (§3.1)")
	}
	return m.run
}

// afterEnd takes what follows the end. §3.6.1 has it not executed, and some
// controllers execute it all the same: words there are a fault, what is none is
// left open.
func (m *machine) afterEnd(at int, text string, tape bool) {
	if tape {
		m.closed = true
		return
	}
	switch ws, _, err := words(text); {
	case err != nil && strings.ContainsAny(strings.ToUpper(text), "ABCDFGHIJKLMPQRSTXYZ"):
		m.fault(at, "text after the end of the program")
	case err != nil:
		m.left(at, "signs after the end of the program")
	case len(ws) > 1 || len(ws) == 1 && ws[0].letter != 'N':
		m.fault(at, "text after the end of the program")
	}
}

// line is one block sorted by what it says.
type line struct {
	at    int
	codes []string
	val   map[byte]float64
	point map[byte]bool
}

func (m *machine) block(at int, text string) {
	ws, live, err := words(text)
	if err != nil {
		m.fault(at, "%v", err)
		return
	}
	if live {
		m.left(at, "a comment with a sign that commands some controllers")
	}
	l := line{at: at, val: map[byte]float64{}, point: map[byte]bool{}}
	groups := map[int]bool{}
	for i, w := range ws {
		switch w.letter {
		case 'G', 'M':
			// §3.3.2.1: what has to be a whole number may miss it by 0.0001.
			code := string(w.letter) + strconv.FormatFloat(math.Round(w.v*10)/10+0, 'f', -1, 64) // -0 is 0
			if math.Abs(w.v-math.Round(w.v*10)/10) > 0.0001 {
				code = string(w.letter) + strconv.FormatFloat(w.v, 'f', -1, 64)
			}
			g, ok := groupOf[code]
			if !ok {
				m.fault(at, "%s is no code of the subset", code)
				continue
			}
			if groups[g] {
				m.fault(at, "two codes of one modal group (§3.3.5)")
			}
			groups[g] = true
			l.codes = append(l.codes, code)
		case 'N':
			// §3.3.1: a line number is N and digits, the first word of a line; how
			// many digits, interpreters do not care.
			if i > 0 {
				m.fault(at, "line number out of place (§3.3.1)")
			}
		case 'X', 'Y', 'Z', 'I', 'J', 'R', 'F', 'S', 'P':
			if _, twice := l.val[w.letter]; twice {
				m.fault(at, "%c twice on a line (§3.3.5)", w.letter)
			}
			l.val[w.letter], l.point[w.letter] = w.v, w.point
		default:
			m.fault(at, "%c is no word of the subset", w.letter)
		}
	}
	m.execute(&l)
}

func (l *line) has(code string) bool {
	for _, c := range l.codes {
		if c == code {
			return true
		}
	}
	return false
}

func (l *line) any(letters string) bool {
	for i := range letters {
		if _, ok := l.val[letters[i]]; ok {
			return true
		}
	}
	return false
}

// execute carries out a line in the order of NISTIR 6556 Table 8.
func (m *machine) execute(l *line) {
	m.feedAndSpeed(l)
	m.spindle(l)
	if l.has("G4") {
		p, ok := l.val['P']
		switch {
		case !ok || p < 0:
			m.fault(l.at, "G4 needs P of zero or more (§3.5.4)")
		case !l.point['P']:
			m.fault(l.at, "G4 with a whole P: seconds to some, milliseconds to others (subset)")
		default:
			m.waited += p
			if p > 0 {
				m.halts(l.at, "a pause")
			}
		}
	} else if l.any("P") {
		m.fault(l.at, "P belongs to no code")
	}
	m.modes(l)
	m.motion(l)
	if l.has("M0") {
		if m.spin {
			m.fault(l.at, "stop with the spindle turning (subset)")
		}
		m.stops = append(m.stops, m.pos)
		m.stale = [3]bool{true, true, true}
		m.load++
	}
	if l.has("M2") || l.has("M30") {
		m.ended = true
	}
}

// halts takes in what should not happen in the wood.
func (m *machine) halts(line int, what string) {
	if m.known == [3]bool{true, true, true} {
		m.inWood = append(m.inWood, halt{line, m.pos[2], what})
	}
}

func (m *machine) feedAndSpeed(l *line) {
	if l.has("G94") { // before F (Table 8); strict interpreters then have no feed
		m.feed = 0
	}
	if f, ok := l.val['F']; ok {
		if f <= 0 {
			m.fault(l.at, "feed of %g (§3.7.1)", f)
		} else if m.unit == 0 {
			m.fault(l.at, "feed before any unit (subset)")
		} else {
			m.feed = f * m.unit
		}
	}
	if s, ok := l.val['S']; ok {
		if s < 0 {
			m.fault(l.at, "speed of %g (§3.7.2)", s)
		} else {
			m.rpm = s
		}
	}
}

func (m *machine) spindle(l *line) {
	if l.has("M5") {
		if m.spin {
			m.halts(l.at, "the spindle stops")
		}
		m.spin = false
	}
	if l.has("M3") {
		if m.rpm == 0 {
			m.fault(l.at, "spindle on before any speed (subset)")
		}
		if !m.spin {
			m.waited = 0
		}
		m.spin = true
	}
}

func (m *machine) modes(l *line) {
	for _, c := range l.codes {
		switch c {
		case "G17":
			m.plane, m.tilted = true, false
		case "G18", "G19":
			m.plane, m.tilted = true, true
		case "G20", "G21":
			u := 1.0
			if c == "G20" {
				u = 25.4
			}
			if m.unit != 0 && m.unit != u {
				m.left(l.at, "the unit is to be given once (§3.5.7)")
			}
			m.unit = u
		case "G54":
			m.work = true
		case "G90":
			m.abs, m.rel = true, false
		case "G91": // §3.5.18: read as the standard has it
			m.abs, m.rel = true, true
		case "G80":
			m.g = 80
		}
	}
}
