package packet

import (
	"strings"
	"testing"

	"starwright/post/rs274/ncwrite"
)

// A packet for a controller that needs all that can be said passes its own check,
// and its programs say what was assumed; without the job's word they would not
// pass.
func TestDeclaredController(t *testing.T) {
	const keys = "[controller]\ndwell = \"milliseconds\"\nend = \"M30\"\npercent = true\nprogram_number = 12\nline_numbers = true\narc_centres = true\n" +
		"path = \"0.01 mm\"\nunknown = [\"G54\", \"S\"]\nline_ends = \"crlf\"\n"
	w, errs := load("job.toml", []byte("units = \"mm\"\n[star]\nboard_width = \"100 mm\"\ncount = 1\n"+keys))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	for i := range w.Programs {
		g := &w.Programs[i]
		text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
		if err != nil {
			t.Fatal(err)
		}
		if p := proveEdited(g, text, text); !p.OK() || len(p.Notes) > 0 {
			t.Errorf("%s: %v %v", g.Path, p.Findings, p.Notes)
		}
		for _, want := range []string{"%\r\nO0012\r\n(Job: ", "(Controller: waits in milliseconds, ends with M30", "\r\nN1 G17\r\n", " G91.1\r\n", " G64 P0.01\r\n", " M3\r\n", " G4 P3000\r\n", " M30\r\n%\r\n"} {
			if !strings.Contains(string(text), want) {
				t.Errorf("%s has no %q", g.Path, want)
			}
		}
		if strings.Contains(string(text), "G54\r") || strings.Contains(string(text), " S1") {
			t.Errorf("%s has words that the controller does not know", g.Path)
		}
		plain := *g
		plain.Plan.For.Dwell, plain.Plan.For.Unknown = 0, nil
		if p := proveEdited(&plain, text, text); p.OK() {
			t.Errorf("%s passes for a controller that waits in seconds", g.Path)
		}
	}
}

// A controller that cannot wait gets no wait, and the program tells its operator.
func TestControllerWithoutWait(t *testing.T) {
	g, text := turnedJob(t, "[star]\nboard_width = \"100 mm\"\ncount = 1\n[jigs]\nmake = []\n[controller]\ndwell = \"none\"\ncomments = \"semicolon\"\n")
	if p := proveEdited(g, text, text); !p.OK() || strings.Contains(string(text), "G4 P") || !strings.Contains(string(text), "; Controller: no waits, so hold the feed") {
		t.Errorf("%v\n%s", p.Findings, text)
	}
}
