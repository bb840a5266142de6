package packet

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"

	"starwright/cmd/internal/mutate"
	"starwright/post/rs274/ncwrite"
	"starwright/toolpath/finding"
)

// inchJob has whatever can be found fault with: slots, jigs with seats and screws,
// splines with tabs.
const inchJob = `units = "in"
star.board_width = "3 1/2 in"
star.count = 2
star.offcut_star = true
machine.travel = ["24 in", "24 in", "4 in"]
`

// metricWord is a length in millimetres, or a small one that came out as nothing.
var metricWord = regexp.MustCompile(`[0-9] ?mm\b|\bmm²|mm/min|(^|[^0-9/.G])0 in\b`)

// sayInches fails where the findings of an inch job speak of millimetres. What they
// quote of a file is the file's own.
func sayInches(t *testing.T, of string, said map[string]bool, fs []finding.Finding) {
	t.Helper()
	quoted := regexp.MustCompile(`"[^"]*"`)
	for _, f := range fs {
		said[f.Rule] = true
		if f.Rule == "unit" || strings.HasPrefix(f.Rule, "std-") {
			continue // of the unit that the file itself states, or has not stated yet
		}
		for _, text := range []string{f.What, f.InWood} {
			if m := metricWord.FindString(quoted.ReplaceAllString(text, "")); m != "" {
				t.Errorf("%s: %q in the finding %s: %s", of, m, f.Rule, text)
			}
		}
	}
}

// TestFindingsInInches changes programs and drawings of an inch job in one way of
// each kind that the proof is tried by, and reads what is found.
func TestFindingsInInches(t *testing.T) {
	w, errs := load("job.toml", []byte(inchJob))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	said := map[string]bool{}
	shortest := -1
	size := func(i int) int { return len(w.Programs[i].Plan.Steps) }
	for i := range w.Programs {
		if w.Programs[i].Task.Sheet != nil && (shortest < 0 || size(i) < size(shortest)) {
			shortest = i
		}
	}
	for _, g := range []*Program{&w.Programs[0], &w.Programs[shortest]} {
		text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
		if err != nil {
			t.Fatal(err)
		}
		all := slices.Concat(mutate.Slips(text, g.UnitMM), mutate.Edits(text, g.UnitMM, 3), mutate.Rewrites(mutationJob(w, g), text))
		for _, c := range ofEachClass(all, g.Task.Sheet != nil) {
			p := &Proof{Path: g.Path, Text: c.Text()}
			if bytes.Contains(p.Text, []byte("G21")) {
				continue // a program in millimetres now, and spoken of as such
			}
			proveProgram(p, g)
			p.against(text, g)
			sayInches(t, g.Path+", "+c.Class, said, append(p.Findings, p.Notes...))
		}
	}
	jigs := 0
	for i := range w.Drawings {
		d := &w.Drawings[i]
		if d.jig {
			jigs++
		}
		if d.jig && jigs > 1 || !d.jig && !strings.HasSuffix(d.Path, "/segment.dxf") {
			continue
		}
		for _, f := range formats {
			text, err := f.write(d.Want)
			if err != nil {
				t.Fatal(err)
			}
			m := drawingMutations[f.kind]
			for _, c := range ofEachClass(append(m.slips(text), m.edits(text)...), true) {
				p := &Proof{Path: d.in(f), Text: c.Text()}
				w.proveDrawing(p, d, f)
				sayInches(t, p.Path+", "+c.Class, said, p.Findings)
			}
		}
	}
	for _, rule := range strings.Fields("gouge floor standing bite feed-high feed-low plunge rapid-low rapid-in-wood turned words off-work far spoilboard loose tab-weak displaced scale open check-bar seat-gap seat-interference") {
		if !said[rule] {
			t.Errorf("no change was found as %q", rule)
		}
	}
}

// ofEachClass returns the middle one of each kind of change; few says one of the
// kinds that begin alike, for files that take long to judge.
func ofEachClass(all []mutate.Change, few bool) (out []mutate.Change) {
	of := map[string][]mutate.Change{}
	var order []string
	for _, c := range all {
		class := c.Class
		if words := strings.Fields(class); few && len(words) > 2 {
			class = strings.Join(words[:2], " ")
		}
		if of[class] == nil {
			order = append(order, class)
		}
		of[class] = append(of[class], c)
	}
	for _, class := range order {
		out = append(out, of[class][len(of[class])/2])
	}
	return out
}
