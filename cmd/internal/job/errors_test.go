package job

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// row is one file of testdata/errors.txt with the errors it must give.
type row struct {
	name, src string
	want      []string
}

// rows reads testdata/errors.txt. The texts there are the project's own; what
// they say of ranges is from the contract and the comments in tables.go.
func rows(t *testing.T) []row {
	t.Helper()
	data, err := os.ReadFile("testdata/errors.txt")
	if err != nil {
		t.Fatal(err)
	}
	var out []row
	seen := map[string]bool{}
	for _, block := range strings.Split(string(data), "\n## ")[1:] {
		name, rest, _ := strings.Cut(block, "\n")
		r := row{name: name}
		for _, line := range strings.SplitAfter(rest, "\n") {
			if e, ok := strings.CutPrefix(line, "=> "); ok {
				r.want = append(r.want, strings.TrimSuffix(e, "\n"))
			} else if len(r.want) == 0 {
				r.src += line
			}
		}
		if seen[name] || len(r.want) == 0 {
			t.Fatalf("row %q is there twice or has no error", name)
		}
		seen[name] = true
		out = append(out, r)
	}
	if len(out) < 100 {
		t.Fatalf("only %d rows were read", len(out))
	}
	return out
}

func TestErrors(t *testing.T) {
	for _, r := range rows(t) {
		t.Run(r.name, func(t *testing.T) {
			j, errs := Parse("job.toml", []byte(r.src))
			if j != nil {
				t.Error("a job comes with errors")
			}
			for i := 0; i < max(len(errs), len(r.want)); i++ {
				got, want := "", ""
				if i < len(errs) {
					got = errs[i].Error()
				}
				if i < len(r.want) {
					want = r.want[i]
				}
				if got != want {
					t.Errorf("error %d\n got %s\nwant %s", i+1, got, want)
				}
			}
		})
	}
}

// TestWould puts the value that works in place of the bad one and expects
// the error to be gone; another, the next cause, may come up.
func TestWould(t *testing.T) {
	setting := regexp.MustCompile(`^([a-z_]+) = (\[.*\]|"(?:[^"\\]|\\.)*"|\S+?)(,| \(|$)`)
	tried := 0
	for _, r := range rows(t) {
		_, errs := Parse("job.toml", []byte(r.src))
		if len(errs) != 1 || errs[0].Line == 0 {
			continue
		}
		e := errs[0]
		m := setting.FindStringSubmatch(e.Would)
		lines := strings.Split(r.src, "\n")
		line := regexp.MustCompile(`^(` + regexp.QuoteMeta(e.Key) + `\s*=).*$`)
		if strings.Contains(e.Got, "\n") { // the value has lines of its own
			continue
		}
		if m == nil || m[1] != e.Key || !line.MatchString(lines[e.Line-1]) {
			continue
		}
		lines[e.Line-1] = line.ReplaceAllString(lines[e.Line-1], "${1} "+strings.ReplaceAll(m[2], "$", "$$"))
		tried++
		_, errs = Parse("job.toml", []byte(strings.Join(lines, "\n")))
		if slices.ContainsFunc(errs, func(x Error) bool { return x.Key == e.Key && x.Why == e.Why }) {
			t.Errorf("%s: with %s the job still fails: %v", r.name, lines[e.Line-1], errs)
		}
	}
	if tried < 60 {
		t.Errorf("only %d values were tried", tried)
	}
}

// good is a job with no fault, for the tests of what is wrong with the whole
// file.
const good = "[star]\nboard_width = 100\n"

func TestUnreadable(t *testing.T) {
	for _, c := range []struct{ name, src, want string }{
		{"empty", "", "x: the job file is empty. Try: starwright init for one to start from"},
		{"blank", " \r\n\t\n", "x: the job file is empty. Try: starwright init for one to start from"},
		{"byte order mark alone", "\ufeff", "x: the job file is empty. Try: starwright init for one to start from"},
		{"binary", good + "\x7fELF\x00", "x:3: the job file is not text but binary. Try: starwright init for one to start from"},
		{"UTF-16", "\xff\xfe[\x00s\x00", "x: the job file is saved as UTF-16. Try: saving it as UTF-8 text"},
		{"Latin-1", good + "# 36\xb0\n", "x:3: the job file is not UTF-8 text. Try: saving it as UTF-8 text"},
		{"too long", good + strings.Repeat("#\n", maxBytes/2), "x: the job file has 1048601 bytes; a job has 1048576 at most. Try: starwright init for one to start from"},
		{"too many keys", good + strings.Repeat("[[a]]\n", maxNodes), "x:5000: there are more than 5000 keys and values up to here; no job needs so many"},
		{"too many values", "a = [" + strings.Repeat("1,", maxNodes+1) + "]", "x:1: there are more than 5000 keys and values up to here; no job needs so many"},
	} {
		t.Run(c.name, func(t *testing.T) {
			j, errs := Parse("x", []byte(c.src))
			if j != nil || len(errs) != 1 || errs[0].Error() != c.want {
				t.Errorf("got %v\nwant %s", errs, c.want)
			}
		})
	}
}

func TestManyErrorsAreCounted(t *testing.T) {
	src := good + "[blank]\n"
	for i := 0; i < 400; i++ {
		src += strings.Repeat("q", i+9) + " = 1\n"
	}
	_, errs := Parse("x", []byte(src))
	if len(errs) != maxErrors+1 || !strings.HasSuffix(errs[maxErrors].Error(), "more errors after this line") {
		t.Errorf("%d errors, the last %v", len(errs), errs[len(errs)-1])
	}
}

func TestErrorIsOnePrintableLine(t *testing.T) {
	e := Error{File: "a\nb\x1b[2J", Line: 3, Table: "x\r", Key: "k\u202e", Why: "why", Got: "\x00" + strings.Repeat("g", 200), Would: "v"}
	want := `a\nb\x1b[2J:3: [x\r] k\u202e: why (got \x00` + strings.Repeat("g", 59) + `...). Try: v`
	if e.Error() != want {
		t.Errorf("got  %s\nwant %s", e.Error(), want)
	}
}
