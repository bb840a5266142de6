package packet

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"starwright/cmd/internal/mutate"
	"starwright/toolpath/finding"
)

// tally is what became of the changes of one class.
type tally struct {
	harmful, found, named int // named: the changed line is among those found
	harmless, passed      int
	either                int
}

// killTable collects tallies by class: in wood, what a program does there, and
// in turned, whether it keeps to the released one but for turned coordinates.
type killTable struct {
	wood, turned tallies
	bad          []string // survivors and false alarms
}

// tallies are those of all classes.
type tallies struct {
	rows  map[string]*tally
	order []string
}

func (k *tallies) row(class string) *tally {
	if k.rows == nil {
		k.rows = map[string]*tally{}
	}
	if k.rows[class] == nil {
		k.rows[class] = &tally{}
		k.order = append(k.order, class)
	}
	return k.rows[class]
}

// answer is what is said of one change: by the judge, and by the proof.
type answer struct {
	v     mutate.Verdict
	why   string
	ok    bool // by the proof
	named bool // it names the changed line
	fault string
}

// count adds one change with what is said of it to a table.
func (k *killTable) count(all *tallies, file string, c mutate.Change, a answer) {
	t := all.row(c.Class)
	switch a.v {
	case mutate.Either:
		t.either++
	case mutate.Harmful:
		t.harmful++
		if !a.ok {
			t.found++
			if a.named {
				t.named++
			}
		} else {
			k.bad = append(k.bad, fmt.Sprintf("SURVIVED %s, %s, line %d: %s (harmful: %s)", file, c.Class, c.Line, c.What, a.why))
		}
	case mutate.Harmless:
		t.harmless++
		if a.ok {
			t.passed++
		} else {
			k.bad = append(k.bad, fmt.Sprintf("FLAGGED %s, %s, line %d: %s (%s)", file, c.Class, c.Line, c.What, a.fault))
		}
	}
}

// names reports whether a line, or the one that stands in its place, is named.
func names(fs []finding.Finding, line int) bool {
	for _, f := range fs {
		if f.Line == line || line == 0 || strings.Contains(f.What, fmt.Sprintf("line %d", line)) {
			return true
		}
	}
	return false
}

// namesEntity is names for drawings, whose findings name the line at which an
// entity or a table's entry begins, and for the changed value of a header's
// variable that of its name.
func namesEntity(p *Proof, line int) bool {
	lines := strings.Split(string(p.Text), "\n")
	begins := func(i int) bool { // line i, from 0, begins something
		if i%2 != 0 || i >= len(lines) {
			return i >= len(lines)
		}
		code := strings.TrimSpace(lines[i])
		return code == "0" || code == "9"
	}
	from := max(0, line-1)
	for from > 0 && !begins(from) {
		from--
	}
	to := line
	for !begins(to) {
		to++
	}
	return names(p.Findings, line) || slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Line > from && f.Line <= to })
}

func firstFault(p *Proof) string {
	if len(p.Findings) > 0 {
		return p.Findings[0].String()
	}
	for _, c := range p.Checks {
		if !c.Pass {
			return fmt.Sprintf("%+v", c)
		}
	}
	return ""
}

// String prints the tables.
func (k *killTable) String() string {
	out := k.wood.String()
	if k.turned.rows != nil {
		out += "\nagainst the released program, whatever the wood shows:\n" + k.turned.String()
	}
	return out
}

// String prints one table.
func (k *tallies) String() string {
	var b strings.Builder
	var all tally
	fmt.Fprintf(&b, "%-24s %8s %8s %8s %8s %8s %8s\n", "class", "harmful", "found", "named", "harmless", "passed", "either")
	line := func(name string, t *tally) {
		fmt.Fprintf(&b, "%-24s %8d %8d %8d %8d %8d %8d\n", name, t.harmful, t.found, t.named, t.harmless, t.passed, t.either)
	}
	for _, c := range k.order {
		t := k.rows[c]
		line(c, t)
		all.harmful, all.found, all.named = all.harmful+t.harmful, all.found+t.found, all.named+t.named
		all.harmless, all.passed, all.either = all.harmless+t.harmless, all.passed+t.passed, all.either+t.either
	}
	line("all", &all)
	return b.String()
}

// report fails the test for every survivor and every false alarm.
func report(t *testing.T, k *killTable) {
	t.Helper()
	t.Logf("\n%s", k)
	for _, b := range k.bad {
		if why := explained(b); why != "" {
			t.Logf("%s: %s", b, why)
			continue
		}
		t.Error(b)
	}
}

// explained says why a change may survive or be flagged against the judge.
func explained(string) string { return "" }
