package mutate

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Rewrites returns changes of other kinds than slips of one word: lines put in
// where they do not belong, words that change a mode, passes and cuts in
// another order, numbers and lines written otherwise, the whole program moved,
// scaled or converted. Which of them harm, [JudgeProgram] and [JudgeHead] say.
func Rewrites(j *Brief, text []byte) []Change {
	p := newProgram(j, text)
	var out []Change
	for _, of := range []func() []Change{
		p.insertions, p.ways, p.wordKinds, p.numberKinds, p.arcKinds, p.lineKinds,
		p.orderKinds, p.wholeKinds, p.byteKinds, p.headKinds,
	} {
		out = append(out, of()...)
	}
	return out
}

// program is a program to be rewritten, with the places where lines are put in.
type program struct {
	*file
	brief              *Brief
	run                run
	head, start, spins int // lines: the first motion, M3, the last M5
	above, low, within []spot
}

// spot is a place between two lines: before line index, with the cutter at.
type spot struct {
	index int
	at    [3]float64
}

// Where lines are put in.
const (
	atHead   = 'h' // before the first motion
	atStart  = 's' // before the spindle starts
	aboveIt  = 'a' // at the safe height
	lowOver  = 'l' // above the wood, at the height of approach or lower
	withinIt = 'c' // in the cut
	atFinish = 'f' // before the spindle stops at the end
	afterIt  = 'e' // after the end
)

// placeNames are the places in the names of kinds.
var placeNames = map[rune]string{
	atHead: "at the head", atStart: "before the spindle", aboveIt: "above the work", lowOver: "close over the work",
	withinIt: "in the cut", atFinish: "at the end", afterIt: "after the end",
}

// spotsEach is how many spots of one sort are used, spread over the program.
const spotsEach = 3

func newProgram(j *Brief, text []byte) *program {
	p := &program{file: newFile(text), brief: j, run: replay(text)}
	for i, l := range p.lines {
		ts := tokens(l)
		for _, t := range ts {
			switch {
			case p.head == 0 && (t.letter == 'X' || t.letter == 'Y' || t.letter == 'Z'):
				p.head = i
			case p.start == 0 && t.letter == 'M' && t.text == "3":
				p.start = i
			case t.letter == 'M' && t.text == "5":
				p.spins = i
			}
		}
	}
	for i := range p.run.moves {
		m := &p.run.moves[i]
		s := spot{m.line - 1, m.from}
		switch {
		case m.first:
		case m.from[2] >= j.SafeZ-heightTol && m.g == 0:
			p.above = append(p.above, s)
		case m.from[2] >= 0 && m.from[2] <= j.Approach+heightTol && m.g > 0:
			p.low = append(p.low, s)
		case m.from[2] < -outlineTol && m.to[2] < -outlineTol:
			p.within = append(p.within, s)
		}
	}
	return p
}

// spots returns the spots of a place, few of many.
func (p *program) spots(where rune) []spot {
	all := map[rune][]spot{
		atHead: {{index: p.head}}, atStart: {{index: p.start}}, atFinish: {{index: p.spins}}, afterIt: {{index: len(p.lines)}},
		aboveIt: p.above, lowOver: p.low, withinIt: p.within,
	}[where]
	if len(all) <= spotsEach {
		return all
	}
	var out []spot
	for k := range spotsEach {
		out = append(out, all[(2*k+1)*len(all)/(2*spotsEach)])
	}
	return out
}

// named is a quantity in braces that a line to be put in has: {x+20}.
var named = regexp.MustCompile(`\{([a-zA-Z])(?:([+*-])([0-9.]+))?\}`)

// fill puts the quantities in: x, y and z of the spot, with so many mm more or
// less; Z the safe height, A the height of approach, F and P the job's feeds,
// S its speed, m a length; U the unit and V the other one.
func (p *program) fill(line string, at [3]float64) string {
	j := p.brief
	rpm := math.Round((j.RPMMin + j.RPMMax) / 2)
	return named.ReplaceAllStringFunc(line, func(s string) string {
		m := named.FindStringSubmatch(s)
		by, _ := strconv.ParseFloat(m[3], 64)
		v := map[string]float64{"x": at[0], "y": at[1], "z": at[2], "Z": j.SafeZ, "A": j.Approach, "F": j.Feed, "P": j.Plunge, "S": rpm, "m": 0}[m[1]]
		switch m[2] {
		case "+":
			v += by
		case "-":
			v -= by
		case "*":
			v *= by
		}
		unit := map[bool]string{true: "G21", false: "G20"}
		switch m[1] {
		case "S":
			return fmt.Sprintf("%.0f", v)
		case "U":
			return unit[j.UnitMM == 1]
		case "V":
			return unit[j.UnitMM != 1]
		}
		return number(v/j.UnitMM, j.UnitMM)
	})
}

// put returns the change that puts lines in at a spot. Of several lines none is
// the one that was changed.
func (p *program) put(class string, s spot, lines ...string) Change {
	var in []string
	for _, l := range lines {
		in = append(in, p.fill(l, s.at))
	}
	at := s.index + 1
	if len(in) > 1 {
		at = 0
	}
	return Change{class, fmt.Sprintf("put in before line %d: %q", s.index+1, in), at, p.with(s.index, s.index, in...)}
}

// replaced returns the change that writes a line otherwise.
func (p *program) replaced(class string, i int, l string) Change {
	return Change{class, fmt.Sprintf("%q to %q", p.lines[i], l), i + 1, p.with(i, i+1, l)}
}

// all returns the change that makes other lines of all of them.
func all(class, what string, lines func() []string) Change {
	return Change{class, what, 0, func() []byte { return []byte(strings.Join(lines(), "\n") + "\n") }}
}
