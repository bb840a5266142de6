package backplot_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
)

// scouted judges moves each of which a scout has looked at, so many before the
// replay takes in the first of them.
func scouted(t backplot.Task, ms []toolpath.Move, ahead int) (res backplot.Result, said int) {
	r := backplot.New(t)
	s := r.Scout()
	glances := make([]backplot.Glance, len(ms))
	for from := 0; from < len(ms); from += ahead {
		to := min(len(ms), from+ahead)
		for i := from; i < to; i++ {
			if glances[i] = s.Look(&ms[i]); glances[i] != (backplot.Glance{}) {
				said++
			}
		}
		for i := from; i < to; i++ {
			r.MoveSeen(&ms[i], glances[i])
		}
	}
	return r.Finish(), said
}

// A replay with the answers of a scout finds what one does that looks for itself:
// in programs that pass and in such with faults, few and far more than are kept.
func TestScout(t *testing.T) {
	j := plateJob()
	j.Arcs = false
	clean := sheetMoves(t, j)
	for _, m := range clean[:len(clean)/2] { // some ways once more, some of them backwards, and back in one
		m.From, m.To = m.To, m.From
		clean = append(clean, m)
	}
	task := sheetTask(j)
	task.Over = []geom.Box{{Max: task.Sheet.Size}}
	random := rand.New(rand.NewPCG(3, 1))
	rows := map[string]struct {
		part   int // one move in so many is changed
		change func(*toolpath.Move)
	}{
		"as planned":    {1, func(*toolpath.Move) {}},
		"aside":         {50, func(m *toolpath.Move) { m.To.X += random.NormFloat64() }},
		"far aside":     {3, func(m *toolpath.Move) { m.To.X, m.To.Y = 180*random.Float64(), 140*random.Float64() }},
		"in height":     {20, func(m *toolpath.Move) { m.To.Z -= 14 * random.Float64() }},
		"in feed":       {20, func(m *toolpath.Move) { m.Feed *= 2 * random.Float64() }},
		"in kind":       {20, func(m *toolpath.Move) { m.Kind = toolpath.Rapid }},
		"to minus zero": {5, func(m *toolpath.Move) { m.To.Y = math.Copysign(0, random.Float64()-0.5) }},
	}
	for name, row := range rows {
		ms := slices.Clone(clean)
		for i := range ms {
			if random.IntN(row.part) == 0 {
				row.change(&ms[i])
			}
			ms[i].Line = i + 1
			if i+1 < len(ms) {
				ms[i+1].From = ms[i].To
			}
		}
		want := backplot.Judge(task, ms)
		for _, ahead := range []int{100, len(ms)} {
			got, said := scouted(task, ms, ahead)
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%s, %d ahead: found %d, want %d", name, ahead, got.Count, want.Count)
			}
			if want.Count < backplot.MaxFindings && said < len(ms)/20 {
				t.Errorf("%s, %d ahead: the scout said something of %d of %d moves", name, ahead, said, len(ms))
			}
		}
	}
}

// Once the findings are full, or the cuts are too many to be judged, nothing more is
// asked of a scout.
func TestScoutHasDone(t *testing.T) {
	j := plateJob()
	task := sheetTask(j)
	var ms []toolpath.Move
	p := pen{at: geom.Point3{Z: 10}, emit: func(m *toolpath.Move) { ms = append(ms, *m) }}
	for i := range 2 * backplot.MaxFindings { // right through the plate
		p.to(toolpath.Linear, 45+70*float64(i%2), 40+0.02*float64(i), -3)
	}
	_, all := scouted(task, ms, len(ms))
	got, some := scouted(task, ms, 1)
	if want := backplot.Judge(task, ms); !reflect.DeepEqual(got, want) {
		t.Errorf("found %d, want %d", got.Count, want.Count)
	}
	if got.Count < backplot.MaxFindings || all < len(ms)*9/10 || some > all*3/4 {
		t.Errorf("%d findings; the scout said something of %d moves, and of %d with nobody to stop it", got.Count, some, all)
	}
}
