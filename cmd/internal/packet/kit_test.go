package packet

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"starwright/geom/jig"
)

// kindsOf lists the kinds of jigs in a packet, each once.
func kindsOf(w *Work) []string {
	var out []string
	for _, j := range w.Jigs {
		if !slices.Contains(out, j.Key) {
			out = append(out, j.Key)
		}
	}
	return out
}

// A packet has the jigs that its shop uses and that pay for so many stars.
func TestKitFollowsShopAndBatch(t *testing.T) {
	const job = "[star]\nboard_width = \"90 mm\"\ncount = %d\n[shop]\nhas = [%s]\n"
	for _, c := range []struct {
		name  string
		count int
		has   string
		want  []string
	}{
		{"one star, usual shop", 1, `"mitre saw", "router table", "cnc"`, []string{"angle-block", "slot-stand"}},
		{"many stars, usual shop", 12, `"mitre saw", "router table", "cnc"`, []string{"angle-block", "tip-cradle", "slot-stand", "glue-board"}},
		{"router table", 1, `"mitre saw", "router table"`, []string{"angle-block", "router-carriage"}},
		{"cnc alone", 1, `"cnc"`, []string{"slot-stand"}},
		{"saw alone", 1, `"mitre saw"`, []string{"angle-block"}},
	} {
		w := loaded(t, fmt.Sprintf(job, c.count, c.has))
		if got := kindsOf(w); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		if programs := len(w.Programs) > 0; programs != strings.Contains(c.has, "cnc") {
			t.Errorf("%s: %d programs", c.name, len(w.Programs))
		}
	}
}

// What a small CNC's owner gets: every jig that slots, facets and tips need, on
// sheets of the machine's own size, each proven as it lies there.
func TestSmallMachineCutsItsJigs(t *testing.T) {
	for _, board := range []string{"3 1/2 in", "5 1/2 in"} {
		w := loaded(t, fmt.Sprintf(`units = "in"
[star]
board_width = %q
thickness = "3/4 in"
[machine]
travel = ["280 mm", "170 mm", "40 mm"]
safe_z = "5 mm"
[sheet]
width = "280 mm"
height = "170 mm"
thickness = "9 mm"
[jigs]
make = ["angle-block", "tip-cradle", "slot-stand", "router-carriage"]
`, board))
		if got := kindsOf(w); len(got) != 4 {
			t.Errorf("%s: only %q", board, got)
		}
		if len(w.Warnings) > 0 {
			for _, n := range w.Warnings {
				if strings.HasPrefix(n.Key, "sheet") || strings.HasPrefix(n.Key, "jigs") {
					t.Errorf("%s: %+v", board, n)
				}
			}
		}
		plates := 0
		for _, j := range w.Jigs {
			plates += j.Quantity
		}
		cut := 0
		for _, p := range w.Programs {
			if p.Sheet != nil && strings.HasPrefix(p.Path, "gcode/jigs-") {
				cut += len(p.Sheet.Parts)
			}
		}
		if cut != plates || cut == 0 {
			t.Errorf("%s: %d plates on sheets, %d in the kit", board, cut, plates)
		}
	}
}

// A jig that cannot be made is an error, which names a sheet that takes it.
func TestJigThatFitsNoSheetIsAnError(t *testing.T) {
	const job = "[star]\nboard_width = \"300 mm\"\n[machine]\ntravel = [2000, 2000, 200]\n[sheet]\nthickness = 12\n%s[jigs]\nmake = [\"segment-nest\", \"slot-stand\"]\n"
	_, errs := load("job.toml", []byte(fmt.Sprintf(job, "width = 300\nheight = 300\n")))
	if len(errs) == 0 || !strings.Contains(errs[0].Error(), "[sheet] width: ") || !strings.Contains(errs[0].Error(), "Try: width = ") {
		t.Fatalf("errors %v", errs)
	}
	if _, errs := load("job.toml", []byte(fmt.Sprintf(job, ""))); len(errs) > 0 {
		t.Fatalf("with the sheet left open: %v", errs)
	}
	if w, errs := load("job.toml", []byte(fmt.Sprintf(job, "width = 900\nheight = 900\n"))); len(errs) > 0 || len(w.Jigs) != 3 {
		t.Fatalf("a large sheet: %v", errs)
	}
}

// What the packet's drawings say of a jig comes from how it is built.
func TestDrawingsSayHowJigsAreBuilt(t *testing.T) {
	w := loaded(t, "[star]\nboard_width = \"90 mm\"\ncount = 12\n")
	for _, d := range w.Drawings {
		k := slices.IndexFunc(w.Jigs, func(j jig.Jig) bool { return "dxf/"+j.File+".dxf" == d.Path })
		if k >= 0 && d.Use == "" {
			t.Errorf("%s says nothing of its use", d.Path)
		}
	}
}
