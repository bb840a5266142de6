package shopsheet

import (
	"fmt"
	"strings"
	"testing"

	"starwright/geom/route"
	"starwright/geom/route/choose"
)

// The page of the test fit, the phone and `fit` name the same shim at the same
// place, or the same setting: a gap of the table, asked as `fit` asks it, is
// answered with the numbers of its row.
func TestTestFitPageNamesWhatFitNames(t *testing.T) {
	for _, name := range []string{"built-in", "inches", "four points", "seven, large", "eight", "twelve"} {
		t.Run(name, func(t *testing.T) {
			in := input(t, jobs[name])
			m, err := newMaker(in)
			if err != nil {
				t.Fatal(err)
			}
			m.pages()
			for i := range in.Route.Setups {
				s := &in.Route.Setups[i]
				if s.Kind != route.TestFit {
					continue
				}
				page := strings.Join(strings.Fields(strings.Join(m.doc.Words()[s.Page-1], " ")+" "+strings.Join(m.doc.Words()[min(s.Page, len(m.doc.Words())-1)], " ")), " ")
				rows := m.gapRows(s.Unit, m.gaps())
				if len(rows) < 6 {
					t.Fatalf("only %d gaps for unit %d", len(rows), s.Unit)
				}
				for _, r := range rows {
					said := strings.Join(choose.Advice(&r.set), " ")
					row := m.change(r)
					if !strings.Contains(page, row) {
						t.Errorf("unit %d, %s at the %s: %q is not on page %d", s.Unit, m.u.FormatSize(r.mm), r.at, row, s.Page)
					}
					for _, name := range []string{route.ReadShim, route.ReadShimAt, route.ReadNose} {
						p := printed(&r.set, name)
						if s := reading(&r.set, route.ReadShim); p == "" || printed(&r.set, route.ReadShim) != "" && s < choose.LeastShim {
							continue
						}
						if !strings.Contains(said, p) || name != route.ReadNose && !strings.Contains(row, p) {
							t.Errorf("unit %d, %s at the %s: %s %s; page %q, fit %q", s.Unit, m.u.FormatSize(r.mm), r.at, name, p, row, said)
						}
					}
				}
			}
		})
	}
}

// Each gap of the page is among those that the phone knows, with the same answer.
func TestPhoneKnowsTheGapsOfThePage(t *testing.T) {
	for _, name := range []string{"built-in", "inches"} {
		in := input(t, jobs[name])
		m, err := newMaker(in)
		if err != nil {
			t.Fatal(err)
		}
		key := func(r gapRow) string { return fmt.Sprintf("%.4f %s: %s", r.mm, r.at, adviceOf(r)) }
		known := map[string]bool{}
		for _, r := range m.gapRows(0, m.fineGaps()) {
			known[key(r)] = true
		}
		for _, r := range m.gapRows(0, m.gaps()) {
			if !known[key(r)] {
				t.Errorf("%s: the phone does not know %s", name, key(r))
			}
		}
	}
}
