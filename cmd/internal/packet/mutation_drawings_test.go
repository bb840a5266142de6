package packet

import (
	"bytes"
	"testing"

	"starwright/cmd/internal/mutate"
)

// drawingMutations are the changes to drawings in each format, and who judges them.
var drawingMutations = map[string]struct {
	slips, edits func([]byte) []mutate.Change
	judge        func(was, now []byte) (mutate.Verdict, string)
	named        func(*Proof, int) bool
}{
	"dxf": {mutate.DrawingSlips, mutate.DrawingEdits, mutate.JudgeDrawing, namesEntity},
	"svg": {mutate.SVGSlips, mutate.SVGEdits, mutate.JudgeSVG, func(p *Proof, line int) bool { return names(p.Findings, line) }},
}

// mutateDrawings makes the drawings of a job in every format, changes each in the
// ways that are picked, and counts what the proof says.
func mutateDrawings(t *testing.T, k *killTable, name, source string, s sampler) (changes int) {
	t.Helper()
	w, errs := load(name, []byte(source))
	if len(errs) > 0 {
		t.Fatalf("%s: %v", name, errs)
	}
	w.eachDrawing(func(d *Drawing, f format) {
		text, err := f.write(d.Want)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Count(text, []byte("\n")) > longestDrawing {
			return
		}
		m := drawingMutations[f.kind]
		list := append(m.slips(text), m.edits(text)...)
		list = append(list, mutate.Change{Class: "unchanged", Text: func() []byte { return text }})
		file := name + " " + d.in(f)
		picked := s.pick(file, list, false)
		answers := make([]answer, len(picked))
		inParallel(len(picked), func(i int) {
			p := &Proof{Path: d.in(f), Text: picked[i].Text()}
			v, why := m.judge(text, p.Text)
			w.proveOutlines(p, d, f)
			answers[i] = answer{v: v, why: why, ok: p.OK(), named: m.named(p, picked[i].Line), fault: firstFault(p)}
		})
		for i, c := range picked {
			k.count(&k.wood, file, c, answers[i])
		}
		changes += len(picked)
	})
	return changes
}
