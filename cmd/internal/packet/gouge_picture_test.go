package packet

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/rs274/ncwrite"
	"starwright/toolpath"
	"starwright/toolpath/finding"
)

const (
	seededR    = 3.0 // mm, of the cutter
	seededStep = 1.5 // mm that the seeded gouge goes to the side
)

// A gouge that is seeded in a program is found where it is: the place of the
// finding, at which the picture sets its flag, is where the cutter's edge stands
// deepest in wood that should have stayed. STARWRIGHT_PICTURES=DIR keeps the
// pictures.
func TestSeededGougePlace(t *testing.T) {
	w, errs := load("job.toml", []byte("[star]\nboard_width = \"96 mm\"\nthickness = \"18 mm\"\ncount = 1\n[slot]\nwidth = \"6 mm\"\n[cutter]\ndiameter = \"6 mm\"\n"))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	for i := range w.Programs {
		g := &w.Programs[i]
		if g.Sheet != nil && !strings.HasSuffix(g.Plan.Name, "-1") {
			continue // one sheet of a kind is enough
		}
		t.Run(g.Plan.Name, func(t *testing.T) {
			for _, side := range []float64{-1, 1} {
				text, want, ok := seedGouge(t, g, side)
				if !ok {
					continue
				}
				p := &Proof{Path: g.Path, Text: text}
				proveProgram(p, g)
				k := slices.IndexFunc(p.Findings, func(f finding.Finding) bool { return f.Rule == "gouge" })
				if k < 0 {
					t.Fatalf("no gouge among %v", p.Findings)
				}
				if f := p.Findings[k]; f.At.XY().Dist(want) > 0.05 {
					t.Errorf("the gouge is shown at %+v, want %v: %s", *f.At, want, f)
				}
				img, err := w.plotPicture(g, p).SVG()
				if err != nil {
					t.Fatal(err)
				}
				if dir := os.Getenv("STARWRIGHT_PICTURES"); dir != "" {
					if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s%+g.svg", g.Plan.Name, side)), img, 0o644); err != nil {
						t.Fatal(err)
					}
				}
			}
		})
	}
}

// seedGouge has the cutter step aside and back in the middle of the longest
// level cut of a program, to its left or its right, and returns where its edge
// then stands; false where no wood should stand there.
func seedGouge(t *testing.T, g *Program, side float64) (text []byte, edge geom.Point, ok bool) {
	t.Helper()
	clean, err := ncwrite.Bytes(g.Plan, g.UnitMM)
	if err != nil {
		t.Fatal(err)
	}
	p := &Proof{Path: g.Path, Text: clean}
	proveProgram(p, g)
	var cut toolpath.Move
	for _, m := range p.Moves {
		if m.Kind == toolpath.Linear && m.From.Z == m.To.Z && m.To.Z < 0 && m.Length() > cut.Length() {
			cut = m
		}
	}
	mid := cut.From.XY().Lerp(cut.To.XY(), 0.5)
	n := cut.To.XY().Sub(cut.From.XY()).Unit().Left().Mul(side)
	out := mid.Add(n.Mul(seededStep))
	edge = mid.Add(n.Mul(seededStep + seededR))
	if g.Sheet != nil && !slices.ContainsFunc(g.Sheet.Parts, func(q toolpath.Part) bool {
		return q.Outline.Contains(edge) && q.Outline.Contains(mid.Add(n.Mul(seededR+0.1)))
	}) {
		return nil, edge, false
	}
	lines := strings.Split(string(clean), "\n")
	xy := func(q geom.Point) string { return fmt.Sprintf("G1 X%.3f Y%.3f", q.X, q.Y) }
	lines = slices.Replace(lines, cut.Line-1, cut.Line, xy(mid), xy(out), xy(mid), xy(cut.To.XY()))
	return []byte(strings.Join(lines, "\n")), edge, true
}
