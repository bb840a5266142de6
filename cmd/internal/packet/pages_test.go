package packet

import (
	"regexp"
	"testing"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/shopsheet"
)

// The sheet of the built-in job, with its sheets of plywood, keeps to sixteen pages
// in each kind of shop.
func TestSixteenPagesInAll(t *testing.T) {
	for _, has := range []string{`"mitre saw", "router table"`, `"mitre saw", "cnc"`, `"mitre saw", "router table", "cnc"`} {
		w, errs := load("job.toml", append(job.BuiltIn(), []byte("\n[shop]\nhas = ["+has+"]\n")...))
		if len(errs) > 0 {
			t.Fatal(errs)
		}
		in, err := w.sheetInput()
		if err != nil {
			t.Fatal(err)
		}
		pdf, err := shopsheet.Build(in)
		if err != nil {
			t.Fatal(err)
		}
		if n := len(regexp.MustCompile(`/Type /Page\b`).FindAll(pdf, -1)); n < 8 || n > 16 {
			t.Errorf("%s: %d pages", has, n)
		}
	}
}
