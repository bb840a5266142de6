package ncread

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"slices"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

// Read replays the program that r holds and reports on it. File is its path
// within the packet, for the findings. The error is that of r, or the first
// one that a function of ev returned; what is wrong with the program is in
// the report and never an error. After an error the report covers what was
// read before.
func Read(r io.Reader, file string, ev Events) (Report, error) {
	return ReadFor(toolpath.Controller{}, r, file, ev)
}

// ReadFor is Read of a program for a controller that needs more than the subset:
// what it needs is no remark and no fault, and is read as it reads it.
func ReadFor(c toolpath.Controller, r io.Reader, file string, ev Events) (Report, error) {
	m := newMachine(file, ev)
	m.c = c
	head := make([]byte, chunkSize)
	n, err := io.ReadFull(r, head)
	r = io.MultiReader(bytes.NewReader(head[:n]), goesOnAs(r, err))
	if err != nil || runtime.GOMAXPROCS(0) == 1 { // a short one, or nobody to help
		return m.read(newLines(r, chunkSize))
	}
	return m.readAhead(r, aheadSize)
}

// readAhead reads a program whose lines are taken apart ahead, in chunks of a size
// in bytes.
func (m *machine) readAhead(r io.Reader, size int) (Report, error) {
	a := readAhead(r, size)
	defer a.close()
	for c := range a.inOrder {
		<-c.apart
		if err := m.run(c); err != nil {
			return m.finish(), err
		}
		a.free <- c
	}
	return m.read(a.rest)
}

// read executes the lines that are left of a program.
func (m *machine) read(l *lines) (Report, error) {
	for {
		line, ok := l.next()
		if !ok {
			break
		}
		if err := m.take(line, l.bare, nil); err != nil {
			return m.finish(), err
		}
	}
	if l.err != nil {
		return m.finish(), fmt.Errorf("%s: reading stopped after line %d: %w", m.rep.File, m.rep.Lines, l.err)
	}
	m.checkEnd()
	return m.finish(), nil
}

// take reads one line, which ended with CR alone where it is bare, and may have
// been taken apart.
func (m *machine) take(line []byte, bare bool, w *moveWords) error {
	m.rep.Lines++
	m.text = line
	if bare && !m.said[subLineEnd] {
		m.said[subLineEnd] = true
		m.tell(subLineEnd, "line that ends with CR alone")
	}
	switch {
	case m.ended:
		m.afterEnd(line)
		return nil
	case w != nil:
		m.b.load(w)
		m.begun, m.started = true, true
		m.rep.Blocks++
		return m.execute()
	}
	return m.readLine(line)
}

// machine is the controller that replays the program: modal state, position
// and the report.
type machine struct {
	ev   Events
	c    toolpath.Controller
	rep  Report
	text []byte // the line being executed
	b    block
	said [ruleCount]bool // rules that have been told where one time is enough

	remarks    []remark // the last comments
	lastRemark int      // which of them came last

	units    code
	unitMM   float64 // of units; 1 where none is given
	motion   code
	plane    code
	distance code
	feedMode code
	comp     code
	offset   code
	path     code
	unsaid   unsaid // what has not been given or complained of
	inPlane  place  // where another plane than XY was taken, until an arc or G17
	shifted  bool   // G92 has moved the coordinates

	pos   geom.Point3
	known letters // axes of pos that are known
	stale letters // axes that have not been given since the program stopped

	feed     float64 // mm/min, 0 not given
	feedBare bool    // feed was given before the unit
	forgot   place   // where G94 made strict controllers forget the feed
	rpm      float64
	rpmSet   bool
	spindle  int8 // 1 clockwise, -1 counter-clockwise, 0 off

	begun   bool // something has been read
	started bool // a word has been read
	moved   bool // a motion has been executed
	taped   bool // the file began with %
	ended   bool
	move    toolpath.Move
}

// unsaid is a set of things that a program has to say before it moves.
type unsaid uint8

const (
	unsaidUnit unsaid = 1 << iota
	unsaidDistance
	unsaidOffset
	unsaidComp
	unsaidPlane    // needed for arcs only
	unsaidFeedMode // needed at a feed only

	unsaidMotion = unsaidUnit | unsaidDistance | unsaidOffset | unsaidComp
)

func newMachine(file string, ev Events) *machine {
	return &machine{
		ev:    ev,
		rep:   Report{File: file, Feed: noRange(), RPM: noRange()},
		units: none, motion: none, plane: none, distance: none, feedMode: none,
		comp: none, offset: none, path: none,
		unitMM: 1,
		unsaid: unsaidMotion | unsaidPlane | unsaidFeedMode,
	}
}

// readLine takes apart and executes one line.
func (m *machine) readLine(line []byte) error {
	if len(line) > lineSub && !m.checkLength(line) {
		return nil
	}
	if m.programNumber(line) {
		return nil
	}
	b := &m.b
	b.parse(line)
	for _, f := range b.faults {
		m.tell(f.rule, f.what)
	}
	if b.deleted {
		m.tell(subBlockDelete, "the line begins with /; it is read as if it were run")
	}
	if b.percent {
		m.percent()
		return nil
	}
	m.begun = m.begun || b.words > 0 || b.hasComment
	if b.hasComment && m.ev.Comment != nil {
		m.ev.Comment(m.rep.Lines, m.remark(b.comment))
	}
	if b.hasComment && !m.started && len(m.rep.Head) < MaxHead {
		m.rep.Head = append(m.rep.Head, m.remark(b.comment))
	}
	if b.words == 0 {
		return nil
	}
	m.started = true
	m.rep.Blocks++
	return m.execute()
}

// remark is a comment, and as it is shown.
type remark struct{ comment, shown string }

// remarksKept is how many comments are kept as they are shown: a program says the same
// few before each pass, in the same order, and making their texts anew took a twentieth
// of the check of a long one.
const remarksKept = 16

// remark returns a comment as it can be shown.
func (m *machine) remark(comment []byte) string {
	for i := range m.remarks {
		k := (m.lastRemark + 1 + i) % len(m.remarks)
		if m.remarks[k].comment == string(comment) {
			m.lastRemark = k
			return m.remarks[k].shown
		}
	}
	r := remark{string(comment), printable(comment)}
	if len(m.remarks) < remarksKept {
		m.remarks = append(m.remarks, r)
		m.lastRemark = len(m.remarks) - 1
	} else { // those of a head do not come again
		m.lastRemark = (m.lastRemark + 1) % remarksKept
		m.remarks[m.lastRemark] = r
	}
	return r.shown
}

// checkLength tells of a long line and reports whether it is read at all. What
// makes a line long may be comment, which does nothing.
func (m *machine) checkLength(line []byte) bool {
	n := len(line)
	if n > lineStd && wordsLength(line) <= lineStd {
		m.tell(subCommentLong, fmt.Sprintf("line of %d characters", n))
		return true
	}
	switch {
	case n > lineRead:
		m.tell(stdLineLength, fmt.Sprintf("line of more than %d characters, not read", lineRead))
		m.known = 0
		return false
	case n > lineStd:
		m.tell(stdLineLength, fmt.Sprintf("line of %d characters", n))
	case !m.noted(subLineLength):
		m.tell(subLineLength, fmt.Sprintf("line of %d characters", n))
	}
	return true
}

// wordsLength is how many characters of a line are no comment; all of them
// where a comment is left open.
func wordsLength(line []byte) int {
	n := 0
	for i := 0; i < len(line); i++ {
		switch line[i] {
		case ';':
			return n
		case '(':
			end := bytes.IndexByte(line[i:], ')')
			if end < 0 {
				return len(line)
			}
			i += end
		default:
			n++
		}
	}
	return n
}

// percent takes in a line of % (NISTIR 6556 §3.1).
func (m *machine) percent() {
	switch {
	case m.taped:
		m.tell(stdEndMissing, "the file ends with % and without M2")
		m.said[stdAfterEnd] = true
		m.end("%")
	case m.begun:
		m.tell(stdPercent, "a % line that the file did not begin with")
		m.said[stdAfterEnd] = true // what follows it is no second fault
		m.end("%")
	default:
		m.taped = true
		m.tell(subPercent, "a % line")
	}
}

// afterEnd looks for something that the program's end leaves out. Comments,
// line numbers and the % line are nothing.
func (m *machine) afterEnd(line []byte) {
	b := &m.b
	b.parse(line)
	if b.percent {
		m.tell(subPercent, "a % line")
		return
	}
	strange := slices.ContainsFunc(b.faults, func(f fault) bool { return !rules[f.rule].Note })
	if b.words == 0 && !strange || m.said[stdAfterEnd] {
		return
	}
	m.said[stdAfterEnd] = true
	m.tell(stdAfterEnd, fmt.Sprintf("text after the end in line %d", m.rep.EndLine))
}

// end ends the program at the line being executed.
func (m *machine) end(word string) {
	m.ended = true
	m.rep.EndWord, m.rep.EndLine = word, m.rep.Lines
	m.rep.SpindleOn = m.spindle != 0
	if m.spindle != 0 {
		m.tell(subSpindleAtEnd, "the spindle still turns at "+word)
	}
}

// checkEnd tells of a program that stopped without an end.
func (m *machine) checkEnd() {
	m.planeLeft()
	m.text = nil
	if m.ended {
		return
	}
	if m.rep.Blocks == 0 {
		m.tell(stdEndMissing, "there is no program in the file, not one word")
	} else {
		m.tell(stdEndMissing, "the file stops without M2")
	}
	m.rep.SpindleOn = m.spindle != 0
	if m.spindle != 0 {
		m.tell(subSpindleAtEnd, "the spindle still turns where the file stops")
	}
}

// finish completes the report.
func (m *machine) finish() Report {
	if m.units != none {
		m.rep.UnitMM = m.unitMM
	}
	m.rep.Last, m.rep.LastKnown = m.pos, m.known == axes
	for _, c := range []code{m.motion, m.plane, m.distance, m.feedMode, m.units, m.comp, m.offset, m.path} {
		if c != none {
			m.rep.Modal = append(m.rep.Modal, c.text("G"))
		}
	}
	return m.rep
}

// tell adds a finding, or a note where the rule is one.
func (m *machine) tell(r rule, what string) { m.tellBy(r, what, 0) }

// place is a line of the file and its text.
type place struct {
	line int
	text string
}

// here is the line being read.
func (m *machine) here() place { return place{m.rep.Lines, printable(m.text)} }

// tellBy is tell with the length that the fault amounts to, in mm.
func (m *machine) tellBy(r rule, what string, byMM float64) { m.tellAt(m.here(), r, what, byMM) }

// tellAt is tell of another line than the one being read.
func (m *machine) tellAt(p place, r rule, what string, byMM float64) {
	if m.declared(r) {
		return
	}
	rule := &rules[r]
	if rule.Note {
		if m.noted(r) {
			return
		}
		m.said[r] = true
		m.rep.NoteCount++
		m.rep.Notes = append(m.rep.Notes, m.finding(p, rule, what, byMM))
		return
	}
	m.rep.FindingCount++
	if len(m.rep.Findings) < MaxFindings {
		m.rep.Findings = append(m.rep.Findings, m.finding(p, rule, what, byMM))
	}
}

// noted reports whether a note has been made before, and counts it if so.
func (m *machine) noted(r rule) bool {
	if m.said[r] {
		m.rep.NoteCount++
	}
	return m.said[r]
}

// finding puts a finding into words.
func (m *machine) finding(p place, r *Rule, what string, byMM float64) finding.Finding {
	f := finding.Finding{
		File: m.rep.File, Line: p.line, Block: p.text,
		Rule: r.Name, What: what + ": " + r.Why, ByMM: byMM,
	}
	if r.Clause != "" {
		f.What += " (NISTIR 6556 " + r.Clause + ")"
	}
	if m.known == axes {
		at := m.pos
		f.At = &at
	}
	return f
}
