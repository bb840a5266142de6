package packet

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"starwright/post/rs274/ncwrite"
	"starwright/toolpath/finding"
)

// turnedJob gives a slot program as it is released, and its text.
func turnedJob(t *testing.T, source string) (*Program, []byte) {
	t.Helper()
	w, errs := load("job.toml", []byte(source))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	g := &w.Programs[0]
	text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
	if err != nil {
		t.Fatal(err)
	}
	return g, text
}

// proveEdited is what check says of an edited program.
func proveEdited(g *Program, released, text []byte) *Proof {
	p := &Proof{Path: g.Path, Text: text}
	proveProgram(p, g)
	p.edits(g, sum(released))
	return p
}

// Any coordinate of a slot program turned by 0.1 mm is a fault, and the first
// finding names the very line: the terms of the main job.
func TestTurnedNamesLine(t *testing.T) {
	rows := map[string]string{
		"millimetres":        "[star]\nboard_width = \"96 mm\"\ncount = 1\n[jigs]\nmake = []\n",
		"inches, wide slot":  "units = \"in\"\n[star]\nboard_width = \"4 in\"\nthickness = \"1 1/4 in\"\ncount = 1\n[jigs]\nmake = []\n[slot]\nwidth = \"3/8 in\"\n[cutter]\ndiameter = \"1/4 in\"\n",
		"stations and loads": mutationJobs[4].source,
	}
	word := regexp.MustCompile(`[XYZ]-?[0-9.]+`)
	for name, source := range rows {
		t.Run(name, func(t *testing.T) {
			g, text := turnedJob(t, source)
			lines := strings.Split(string(text), "\n")
			turned := 0
			for i, l := range lines {
				if strings.HasPrefix(l, "(") {
					continue
				}
				for _, at := range word.FindAllStringIndex(l, -1) {
					for _, by := range []float64{-0.1, 0.1} {
						v, err := strconv.ParseFloat(l[at[0]+1:at[1]], 64)
						if err != nil {
							t.Fatal(err)
						}
						n := fmt.Sprintf("%s%.5f%s", l[:at[0]+1], v+by/g.UnitMM, l[at[1]:])
						edited := slices.Replace(slices.Clone(lines), i, i+1, n)
						p := proveEdited(g, text, []byte(strings.Join(edited, "\n")))
						turned++
						if p.OK() || p.Findings[0].Line != i+1 || p.Findings[0].Block != n {
							t.Errorf("line %d, %s: %q: not the first finding: %v", i+1, l, n, p.Findings)
						}
					}
				}
			}
			if turned < 30 {
				t.Errorf("only %d coordinates were turned", turned)
			}
		})
	}
}

// What is no turned coordinate gives no such finding: other words for the same
// moves, another program for the same slot, and a file of which the released
// form is not known.
func TestTurnedNot(t *testing.T) {
	g, text := turnedJob(t, "[star]\nboard_width = \"96 mm\"\ncount = 1\n[jigs]\nmake = []\n")
	has := func(p *Proof) bool {
		return slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Rule == "turned" })
	}
	first := regexp.MustCompile(`G1 X([0-9.]+) (Z-[0-9.]+) F`)
	m := first.FindStringSubmatch(string(text))
	if m == nil {
		t.Fatalf("no ramp in\n%s", text)
	}
	rows := []struct{ name, from, to string }{
		{"unchanged", "M2", "M2"},
		{"number with more digits", "X" + m[1], "X" + m[1] + "00"},
		{"0.01 mm, as rounding to two decimals may give", "G0 Z1.0", "G0 Z1.01"},
		{"rapid split", "G0 Z1.0\n", "G0 Z4.0\nG0 Z1.0\n"},
		{"a move more, from nowhere to nowhere", "G0 Z1.0\n", "G0 Z1.0\nG0 Z1.0\n"},
		{"an air cut first", "G1 Z0.0", "G1 X" + m[1] + " F400.0\nG1 X0.0\nG1 Z0.0"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			edited := strings.Replace(string(text), row.from, row.to, 1)
			if edited == string(text) && row.from != row.to {
				t.Fatalf("%q is not in\n%s", row.from, text)
			}
			if p := proveEdited(g, text, []byte(edited)); has(p) {
				t.Errorf("%v", p.Findings)
			}
		})
	}
	t.Run("another version's program", func(t *testing.T) {
		p := &Proof{Path: g.Path, Text: []byte(strings.Replace(string(text), "G0 Z1.0", "G0 Z1.5", 1))}
		proveProgram(p, g)
		p.edits(g, sum([]byte("what another version released")))
		if !p.OK() {
			t.Errorf("%v", p.Findings)
		}
	})
}

// Where wood shows a fault of a file with other moves than the released one,
// the first block that differs is named.
func TestEditedBlockNamed(t *testing.T) {
	g, text := turnedJob(t, "[star]\nboard_width = \"96 mm\"\ncount = 1\n[jigs]\nmake = []\n")
	lines := strings.Split(string(text), "\n")
	ramp := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "G1 X") })
	rows := []struct {
		name     string
		from, to int // lines replaced
		with     []string
		line     int // counted from 1
		what     string
	}{
		{"level pass dropped", ramp + 1, ramp + 2, nil, ramp + 2, "before this line"},
		{"gouge added", ramp, ramp, []string{"G1 Y0.0 Z-1.0"}, ramp + 1, "goes down at"},
		{"cut made a rapid", ramp, ramp + 1, []string{strings.Replace(lines[ramp], "G1", "G0", 1)}, ramp + 1, "rapid at"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			edited := slices.Replace(slices.Clone(lines), row.from, row.to, row.with...)
			p := proveEdited(g, text, []byte(strings.Join(edited, "\n")))
			if p.OK() {
				t.Fatal("the edit passes")
			}
			f := p.Findings[0]
			if f.Line != row.line || !strings.Contains(f.What, row.what) {
				t.Errorf("%+v, want line %d and %q", f, row.line, row.what)
			}
		})
	}
}
