package packet

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math/rand"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/jobgen"
)

// slips are what people do to a line of a job file: from a line of a sound job
// they make a broken one, "" where the line does not lend itself to it. All are
// slips that were seen at the bench or come of writing programs; the project's
// own list.
var slips = map[string]func(rng *rand.Rand, key, value string) string{
	"letters exchanged": func(rng *rand.Rand, key, value string) string {
		if len(key) < 4 {
			return ""
		}
		i := 1 + rng.Intn(len(key)-2)
		if key[i] == key[i+1] {
			return ""
		}
		return key[:i] + string(key[i+1]) + string(key[i]) + key[i+2:] + " = " + value
	},
	"curly quotes":    quotedAs("“", "”"),
	"no quotes":       quotedAs("", ""),
	"quote not shut":  quotedAs(`"`, ""),
	"low quotes":      quotedAs("„", "“"),
	"colon":           func(_ *rand.Rand, key, value string) string { return key + ": " + value },
	"negative":        lengthAs(func(v string) string { return "-" + v }),
	"decimal comma":   lengthAs(func(v string) string { return strings.Replace(v, ".", ",", 1) }),
	"unit spelt out":  lengthAs(func(v string) string { return strings.Replace(v, " mm", " millimeters", 1) }),
	"unit misspelt":   lengthAs(func(v string) string { return strings.Replace(v, " mm", " mn", 1) }),
	"about":           lengthAs(func(v string) string { return "about " + v }),
	"quoted number":   bareAs(func(v string) string { return `"` + v + `"` }),
	"with a fraction": bareAs(func(v string) string { return v + ".5" }),
	"a hundred times": bareAs(func(v string) string { return v + "00" }),
	"yes and no": func(_ *rand.Rand, key, value string) string {
		return map[string]string{"true": key + ` = "yes"`, "false": key + " = no"}[value]
	},
	"unit's word": func(_ *rand.Rand, key, value string) string {
		return map[string]string{`"in"`: key + ` = "inch"`, `"mm"`: key + ` = "metric"`}[value]
	},
	"ten times": lengthAs(func(v string) string {
		m := regexp.MustCompile(`^([0-9]+)(\.[0-9]+)?( mm)$`).FindStringSubmatch(v)
		if m == nil {
			return v
		}
		return m[1] + "0" + m[3]
	}),
	"twice": lengthAs(times(2)),
	"half":  lengthAs(times(0.5)),
	"a tenth": lengthAs(func(v string) string {
		m := regexp.MustCompile(`^([0-9]+)(\.[0-9]+)?( mm)$`).FindStringSubmatch(v)
		if m == nil {
			return v
		}
		return "0." + m[1] + m[3]
	}),
}

func quotedAs(left, right string) func(*rand.Rand, string, string) string {
	return func(_ *rand.Rand, key, value string) string {
		if inner, ok := strings.CutPrefix(value, `"`); ok && !strings.Contains(inner, `\`) {
			return key + " = " + left + strings.TrimSuffix(inner, `"`) + right
		}
		return ""
	}
}

func lengthAs(f func(string) string) func(*rand.Rand, string, string) string {
	return func(_ *rand.Rand, key, value string) string {
		v := strings.Trim(value, `"`)
		if v == value || strings.Trim(v, "0123456789. /cmin-") != "" || f(v) == v {
			return ""
		}
		return key + ` = "` + f(v) + `"`
	}
}

// times is a length of mm so many times as long.
func times(k float64) func(string) string {
	return func(v string) string {
		n, ok := strings.CutSuffix(v, " mm")
		mm, err := strconv.ParseFloat(n, 64)
		if !ok || err != nil {
			return v
		}
		return strconv.FormatFloat(mm*k, 'f', -1, 64) + " mm"
	}
}

func bareAs(f func(string) string) func(*rand.Rand, string, string) string {
	return func(_ *rand.Rand, key, value string) string {
		if !regexp.MustCompile(`^[0-9]+$`).MatchString(value) {
			return ""
		}
		return key + " = " + f(value)
	}
}

var (
	adviceLine    = regexp.MustCompile(`^(?s).*?job\.toml(?::(\d+))?.*\. Try: (.*)$`)
	adviceSetting = regexp.MustCompile(`^(?:\[([a-z_]+)\] )?([a-z_]+) = (\[.*?\](?:$|,| \(| under| beside| above)|"(?:[^"\\]|\\.)*"|[^\s,]+)(.*)$`)
	adviceKey     = regexp.MustCompile(`^[a-z_]+$`)
	adviceTable   = regexp.MustCompile(`^\[([a-z_]+)\]$`)
	under         = regexp.MustCompile(`under \[([a-z_]+)\]`)
)

// follow does what a message says, as somebody would who reads it and nothing
// else; false where it says nothing that can be typed.
func follow(source, message string) (string, bool) {
	m := adviceLine.FindStringSubmatch(message)
	if m == nil {
		return source, false
	}
	// width = "300 mm" and height = "300 mm" are two things to do.
	if first, second, both := strings.Cut(m[2], " and "); both && adviceSetting.MatchString(first) && adviceSetting.MatchString(second) {
		place := strings.TrimSuffix(message, m[2])
		if table := regexp.MustCompile(`^\[[a-z_]+\] `).FindString(first); !strings.HasPrefix(second, "[") {
			second = table + second
		}
		next, ok := follow(source, place+first)
		if !ok {
			return source, false
		}
		return follow(next, place+second)
	}
	lines := strings.Split(source, "\n")
	at := 0
	fmt.Sscan(m[1], &at)
	table := ""
	for i := 0; i < at && i < len(lines); i++ {
		if t := regexp.MustCompile(`^\[([a-z_]+)`).FindStringSubmatch(lines[i]); t != nil {
			table = t[1]
		}
	}
	if m := regexp.MustCompile(`job\.toml: \[([a-z_]+)\]`).FindStringSubmatch(message); m != nil {
		table = m[1] // the file does not have it
	}
	keyAt := ""
	if at > 0 {
		keyAt, _, _ = strings.Cut(lines[at-1], "=")
		keyAt = strings.TrimSpace(keyAt)
	}
	would := m[2]
	switch w := adviceSetting.FindStringSubmatch(would); {
	case w != nil:
		key, value, to := w[2], strings.TrimSuffix(strings.TrimSuffix(w[3], ","), " ("), table
		if w[1] != "" {
			to = w[1]
		} else if u := under.FindStringSubmatch(w[4]); u != nil && !strings.Contains(w[4], "or ") {
			to = u[1]
		}
		if at > 0 && to == table && (keyAt == key || strings.HasPrefix(lines[at-1], key)) {
			lines[at-1] = key + " = " + value
			return strings.Join(lines, "\n"), true
		}
		if at > 0 && strings.Contains(message, "no such key") {
			lines[at-1] = ""
		}
		for i, l := range lines { // there already, or a new line of that table
			if l == "["+to+"]" {
				for k := i + 1; k < len(lines) && !strings.HasPrefix(lines[k], "["); k++ {
					if strings.HasPrefix(lines[k], key+" ") {
						lines[k] = key + " = " + value
						return strings.Join(lines, "\n"), true
					}
				}
				lines[i] += "\n" + key + " = " + value
				return strings.Join(lines, "\n"), true
			}
		}
		if to == "" {
			return key + " = " + value + "\n" + strings.Join(lines, "\n"), true
		}
		return strings.Join(lines, "\n") + "\n[" + to + "]\n" + key + " = " + value + "\n", true
	case at > 0 && adviceKey.MatchString(would):
		_, value, _ := strings.Cut(lines[at-1], "=")
		lines[at-1] = would + " =" + value
	case at > 0 && adviceTable.MatchString(would):
		lines[at-1] = would
	case at > 0 && strings.HasPrefix(would, "leaving out "+keyAt):
		lines[at-1] = ""
	default:
		return source, false
	}
	return strings.Join(lines, "\n"), true
}

// TestAdviceWorks breaks sound jobs by the slips that people make, takes jobs that
// ask for more than the wood or the shop holds as they are, and does what the
// first message says, up to three times in a row, until the whole job is worked out:
// route, jigs and sheets. STARWRIGHT_ADVICE=300 tries so many,
// STARWRIGHT_SEED other ones.
func TestAdviceWorks(t *testing.T) {
	jobs := 60
	if n, err := strconv.Atoi(os.Getenv("STARWRIGHT_ADVICE")); err == nil {
		jobs = n
	}
	rng := rand.New(rand.NewSource(adviceSeed(t)))
	names := slices.Sorted(maps.Keys(slips))
	broken, through, needed, kinds := 0, 0, map[int]int{}, map[string]int{}
	var stuck []string
	for tries := 0; broken < jobs && tries < 40*jobs; tries++ {
		source := jobgen.Job(func(_ string, n int) int { return rng.Intn(n) }, tries%3 > 0)
		name := names[rng.Intn(len(names))]
		lines := strings.Split(source, "\n")
		at := rng.Intn(len(lines))
		key, value, ok := strings.Cut(lines[at], " = ")
		was, line := lines[at], ""
		if ok {
			line = slips[name](rng, strings.TrimSpace(key), value)
		}
		text := source
		if _, errs := adviceStart(source); len(errs) > 0 {
			name, was, line = "asks for too much", "", ""
		} else if line == "" {
			continue
		} else {
			lines[at] = line
			text = strings.Join(lines, "\n")
		}
		errs := load1(text)
		if len(errs) == 0 {
			continue // still a sound job, only another one
		}
		broken++
		said, left := heed(text)
		if len(left) == 0 {
			through++
			needed[len(said)]++
			kinds[name]++
			continue
		}
		stuck = append(stuck, fmt.Sprintf("%s: %s -> %s\n    %s\n    left: %s\n%s", name, was, line, strings.Join(said, "\n    "), left[0].Error(), text))
	}
	t.Logf("the advice of %d of %d broken jobs works: %.1f %%", through, broken, 100*float64(through)/float64(broken))
	t.Logf("messages needed: %v; slips: %v", needed, kinds)
	for _, s := range stuck {
		t.Log(s)
	}
	if broken < jobs || float64(through) < 0.98*float64(broken) {
		t.Errorf("advice works for %d of %d", through, broken)
	}
}

// heed does what the first message about a job says, up to three times in a row, and
// returns the messages and what is wrong in the end.
func heed(text string) (said []string, left []job.Error) {
	const messages = 3
	for left = load1(text); len(left) > 0 && len(said) < messages; left = load1(text) {
		said = append(said, left[0].Error())
		var ok bool
		if text, ok = follow(text, left[0].Error()); !ok {
			break
		}
	}
	return said, left
}

// TestAdviceThatFailed keeps jobs whose advice once led nowhere: to the same value
// again, or from one clash into the next.
func TestAdviceThatFailed(t *testing.T) {
	for name, source := range map[string]string{
		"a number of noughts": "[star]\nboard_width = 100\n[machine]\nspin_up = 000\n",
		"a joint that asks for slots, on facets too short for them": `units = "in"
[star]
points = 4
board_width = "22/32 in"
thickness = 0.407
tip = "50.0 deg"
joint = "spline"
[cutter]
diameter = "6 mm"
`,
		"a joint that asks for slots, in a shop that cuts none": "[star]\nboard_width = 100\njoint = \"spline\"\n[shop]\nhas = [\"mitre saw\"]\n",
		"a joint that asks for slots, deeper than the machine goes down": `[star]
board_width = 100
joint = "spline"
[slot]
depth = 10
[machine]
travel = ["400 mm", "400 mm", "10 mm"]
safe_z = "3 mm"
`,
		"a kerf that leaves too little of the off-cuts": `[star]
points = 5
star_width = "36.9 mm"
thickness = 3.64
tip = "23.6 deg"
offcut_star = true
[slot]
make = false
[jigs]
make = []
[saw]
kerf = "3.1 mm"
`,
		"no tabs, and a part larger than what is left of the sheet": `units = "in"
[star]
points = 9
board_width = "5 29/32 in"
thickness = "1 1/4 in"
tip = "25.2 deg"
offcut_star = true
[slot]
make = false
[tabs]
count = 0
[cutter]
ramp = "16 deg"
[sheet]
width = "600 mm"
height = "600 mm"
thickness = "17 mm"
`,
		"a slot too shallow, in thin boards": `[star]
points = 10
star_width = "46.1 mm"
thickness = 3.03
count = 4
[slot]
depth = 0.48
`,
	} {
		t.Run(name, func(t *testing.T) {
			if said, left := heed(source); len(left) > 0 {
				t.Errorf("after\n    %s\nthere is left: %s", strings.Join(said, "\n    "), left[0].Error())
			}
		})
	}
}

// adviceSeed is the same each time, unless STARWRIGHT_SEED gives another.
func adviceSeed(t *testing.T) int64 {
	seed := int64(14)
	if s := os.Getenv("STARWRIGHT_SEED"); s != "" {
		n, err := strconv.ParseInt(s, 10, 64)
		if err != nil {
			t.Fatalf("STARWRIGHT_SEED=%s: %v", s, err)
		}
		seed = n
	}
	return seed
}

// adviceStart works a job out as far as its star.
func adviceStart(text string) (*Work, []job.Error) {
	w, err := Start(context.Background(), adviceInput(text), nil)
	var errs JobErrors
	errors.As(err, &errs)
	return w, errs
}

// load1 works a job out whole, and returns what is wrong with it.
func load1(text string) []job.Error {
	_, err := Load(context.Background(), adviceInput(text), nil)
	var errs JobErrors
	errors.As(err, &errs)
	return errs
}

func adviceInput(text string) job.Input {
	return job.Input{Job: job.File{Name: "job.toml", Data: []byte(text)}}
}
