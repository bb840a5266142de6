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
	single, first, says   int // of changes of one line: the first finding names it; says what it does
	harmless, passed      int
	either                int
}

// killTable collects tallies by class: in wood, what a program does there, and
// in turned, whether it keeps to the released one but for turned coordinates.
type killTable struct {
	wood, turned tallies
	bad          []string // survivors and false alarms
	astray       []string // some of those whose first finding names another line, or says little
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

// answer is what judge and proof say of one change.
type answer struct {
	v     mutate.Verdict
	why   string
	ok    bool // by the proof
	named bool // it names the changed line
	lead  bool // what it says first was looked at, as of a program
	first bool // it names the changed line first
	says  bool // its first finding says what it does in the wood, or why controllers stop
	fault string
}

// severalLines are the classes that change more than one line.
var severalLines = map[string]bool{"file cut short": true, "blocks swapped": true}

// leads looks at what the first finding of a proof is worth.
func leads(p *Proof, line int) (first, says bool) {
	if len(p.Findings) == 0 {
		return false, false
	}
	f := p.Findings[0]
	return f.Line == line, f.InWood != "" || strings.Contains(f.What, "; so line ") || strings.HasPrefix(f.Rule, "std-") || strings.HasPrefix(f.Rule, "sub-")
}

// count adds one change with its answer to a table.
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
			if a.lead && c.Line > 0 && !severalLines[c.Class] {
				t.single++
				if a.first {
					t.first++
				}
				if a.says {
					t.says++
				}
				if (!a.first || !a.says) && len(k.astray) < 200 {
					k.astray = append(k.astray, fmt.Sprintf("%s, %s, line %d: %s (%s)", file, c.Class, c.Line, c.What, a.fault))
				}
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

// all adds the tallies up.
func (k *tallies) all() (all tally) {
	for _, t := range k.rows {
		all.harmful, all.found, all.named = all.harmful+t.harmful, all.found+t.found, all.named+t.named
		all.harmless, all.passed, all.either = all.harmless+t.harmless, all.passed+t.passed, all.either+t.either
		all.single, all.first, all.says = all.single+t.single, all.first+t.first, all.says+t.says
	}
	return all
}

// String prints one table.
func (k *tallies) String() string {
	var b strings.Builder
	all := k.all()
	fmt.Fprintf(&b, "%-28s %8s %8s %8s %8s %8s %8s %8s\n", "class", "harmful", "found", "named", "first", "harmless", "passed", "either")
	line := func(name string, t *tally) {
		fmt.Fprintf(&b, "%-28s %8d %8d %8d %8d %8d %8d %8d\n", name, t.harmful, t.found, t.named, t.first, t.harmless, t.passed, t.either)
	}
	for _, c := range k.order {
		line(c, k.rows[c])
	}
	line("all", &all)
	if all.single > 0 {
		fmt.Fprintf(&b, "of %d changes of one line that were found, the first finding names the line of %d (%.2f %%) and says what comes of it in %d (%.2f %%)\n",
			all.single, all.first, 100*float64(all.first)/float64(all.single), all.says, 100*float64(all.says)/float64(all.single))
	}
	return b.String()
}

// How many of a hundred changes of one line the first finding names the line of, at
// least; of fewer than so many changes that says nothing.
const (
	firstLeast  = 99
	firstEnough = 1000
)

// report fails the test for every survivor and every false alarm, and where too many
// first findings name another line than the one that was changed.
func report(t *testing.T, k *killTable) {
	t.Helper()
	t.Logf("\n%s", k)
	for _, table := range []*tallies{&k.wood, &k.turned} {
		if all := table.all(); all.single >= firstEnough && 100*all.first < firstLeast*all.single {
			t.Errorf("the first finding names the line of only %d of %d changes", all.first, all.single)
		}
	}
	for _, a := range k.astray {
		t.Logf("another line first: %s", a)
	}
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
