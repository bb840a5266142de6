package packet

import (
	"regexp"
	"testing"

	"github.com/google/go-cmp/cmp"

	"starwright/cmd/internal/job"
	"starwright/post/rs274/ncwrite"
)

// TestStarterSaysWhatIsTaken writes every setting that the starter shows, and does
// not call an example, into the job: drawings and programs stay the same to the
// byte, and neither is warned of.
func TestStarterSaysWhatIsTaken(t *testing.T) {
	shown := regexp.MustCompile(`(?m)^# ([a-z_]+\s*= )`)
	plain := job.Starter()
	said := shown.ReplaceAll(plain, []byte("$1"))
	if n := len(shown.FindAll(plain, -1)); n < 40 {
		t.Fatalf("the starter shows only %d settings", n)
	}
	files := func(source []byte) map[string]string {
		w, errs := load("job.toml", source)
		if len(errs) > 0 {
			t.Fatal(errs)
		}
		if n := len(w.Warnings) + len(w.Job.Warnings) + len(w.Order.Warnings) + len(w.Bench.Warnings); n > 0 {
			t.Errorf("the starter is warned of: %v %v %v %v", w.Warnings, w.Job.Warnings, w.Order.Warnings, w.Bench.Warnings)
		}
		out := map[string]string{}
		w.eachDrawing(func(d *Drawing, f format) {
			data, err := f.write(d.Want)
			if err != nil {
				t.Fatal(err)
			}
			out[d.in(f)] = string(data)
		})
		for _, g := range w.Programs {
			data, err := ncwrite.Bytes(g.Plan, g.UnitMM)
			if err != nil {
				t.Fatal(err)
			}
			out[g.Path] = string(data)
		}
		return out
	}
	if d := cmp.Diff(files(plain), files(said)); d != "" {
		t.Error(d)
	}
}

// TestDefaultsWarnOfNothing: stars of every size that say no more than their size
// are not warned of, in shops of every kind; and they find a sheet.
func TestDefaultsWarnOfNothing(t *testing.T) {
	sizes := []string{`board_width = "100 mm"`, `board_width = "1x4"`, `board_width = "1x8"`, `star_width = "4 in"`, `star_width = "4 ft"`,
		`star_width = "72 in"`, "star_width = \"4 in\"\npoints = 12\ncount = 10", "board_width = \"100 mm\"\nthickness = \"4 mm\"",
		"board_width = \"60 mm\"\npoints = 8\nthickness = \"12 mm\"", "board_width = \"96 mm\"\ncount = 20\noffcut_star = true",
		"board_width = \"2 in\"\npoints = 6"}
	shops := []string{"", `has = ["mitre saw"]`, `has = []`, `has = ["mitre saw", "router table"]`, `has = ["laser", "mitre saw"]`,
		`cutters = ["1/8 in", "1/4 in"]`, "has = [\"cnc\"]\n[wood]\nspecies = \"black cherry\"\nmc_now = 9\nmc_service = 8\nmovement_limit = \"5 mm\"",
		"[machine]\ntravel = [\"1200 mm\", \"1200 mm\", \"100 mm\"]\nmax_feed = \"1500 mm/min\"\nspindle_min = 9000"}
	for i, size := range sizes {
		for k, shop := range shops {
			if testing.Short() || (i+k)%4 != 0 && k > 0 {
				continue
			}
			for _, unit := range []string{"mm", "in"} {
				w, errs := load("job.toml", []byte("units = \""+unit+"\"\n[star]\n"+size+"\n[shop]\n"+shop+"\n"))
				if len(errs) > 0 {
					t.Errorf("%s; %s: %v", size, shop, errs)
					continue
				}
				if n := len(w.Warnings) + len(w.Job.Warnings) + len(w.Order.Warnings) + len(w.Bench.Warnings); n > 0 {
					t.Errorf("%s %s; %s: %v %v %v %v", unit, size, shop, w.Warnings, w.Job.Warnings, w.Order.Warnings, w.Bench.Warnings)
				}
			}
		}
	}
}
