package job

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestBuiltIn(t *testing.T) {
	j, b, errs := load(BuiltInName, BuiltIn())
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	if len(j.Warnings)+len(b.Warnings) > 0 {
		t.Errorf("the built-in job is warned of: %v %v", j.Warnings, b.Warnings)
	}
	if len(b.Units) != 2 || b.Units[0].Slot == nil || b.Units[1].Slot == nil {
		t.Error("the built-in job should show slots in both stars")
	}
	// The rack must hold the batch: blanks that each board gives, one kerf each.
	got := 0
	for _, board := range j.Stock.Boards {
		if len(board.Bad) == 0 {
			got += board.Count * int((board.Length-2*j.Stock.Trim+j.Saw.Kerf)/(b.Units[0].Blank.Length+j.Saw.Kerf))
		}
	}
	if got < b.Units[0].Blank.Count {
		t.Errorf("the clear boards give %d blanks of %d", got, b.Units[0].Blank.Count)
	}
}

// aside is a setting that is left out in the starter: what is taken without it,
// or with e.g. an example.
var aside = regexp.MustCompile(`(?m)^# (?:e\.g\. )?(([a-z_]+)\s*= .*)$`)

func TestStarter(t *testing.T) {
	if _, _, errs := load("job.toml", Starter()); len(errs) > 0 {
		t.Error(errs)
	}
	all := aside.ReplaceAllString(string(Starter()), "$1")
	all = regexp.MustCompile(`(?m)^rh_.*$`).ReplaceAllString(all, "") // instead of mc_now and mc_service
	all = strings.Replace(all, "offcut_star = false", "offcut_star = true", 1)
	all = strings.Replace(all, "laminate    = false", "laminate = true", 1)
	all = strings.NewReplacer("\n#   \"1180", "\n  \"1180", "\n#   {", "\n  {", "\n# ]", "\n]").Replace(all)
	if _, _, errs := load("job.toml", []byte(all)); len(errs) > 0 {
		t.Errorf("with all settings switched on: %v", errs)
	}
}

// Every example in the order that a maker starts from works where it stands.
func TestOrderStarter(t *testing.T) {
	all := regexp.MustCompile(`(?m)^# ?((\[[a-z.]+\]|([a-z_]+)\s*= |  \{|\]).*)$`).ReplaceAllString(string(OrderStarter()), "$1")
	for name, text := range map[string]string{"as it is": string(OrderStarter()), "with all settings switched on": all} {
		j, _, errs := load("job.toml", []byte(text))
		if len(errs) > 0 {
			t.Errorf("%s: %v\n%s", name, errs, text)
		} else if len(j.Yard) > 0 == (text != all) || len(j.Stock.Boards) > 0 == (text != all) {
			t.Errorf("%s: %d boards on the rack, %d at the yard", name, len(j.Stock.Boards), len(j.Yard))
		}
	}
}

// TestStarterHasEveryKey holds the starter against the keys that are read.
func TestStarterHasEveryKey(t *testing.T) {
	root, _ := readTree("j", []byte(good))
	r := &reader{root: root, known: map[string][]string{}}
	r.job()
	sections := strings.Split(string(Starter()), "\n[")
	keys := 0
	for _, tab := range append([]string{""}, r.tables...) {
		text := sections[0]
		if tab != "" {
			i := slices.IndexFunc(sections, func(s string) bool { return strings.HasPrefix(s, tab+"]") })
			if i < 0 {
				t.Errorf("the starter has no [%s]", tab)
				continue
			}
			text = sections[i]
		}
		for _, k := range r.known[tab] {
			keys++
			if k == "star_width" { // said in words, as it goes in place of board_width
				k = "star_width,"
			} else {
				k += " "
			}
			if !strings.Contains(text, k) {
				t.Errorf("the starter does not explain [%s] %s", tab, k)
			}
		}
	}
	if keys < 70 {
		t.Errorf("only %d keys were looked for", keys)
	}
}

// TestStarterDefaults holds the values that the starter shows against those
// that are taken.
func TestStarterDefaults(t *testing.T) {
	shown := map[string]string{}
	tab := ""
	for _, line := range strings.Split(string(Starter()), "\n") {
		if m := regexp.MustCompile(`^\[(\w+)\]`).FindStringSubmatch(line); m != nil {
			tab = m[1] + "."
		}
		if m := regexp.MustCompile(`^# (\w+)\s*= ("[^"]*"|\[[^\]]*\]|\S+)`).FindStringSubmatch(line); m != nil {
			shown[tab+m[1]] = strings.Trim(m[2], `"`)
		}
	}
	j, o, errs := load("j", Starter())
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	for _, n := range append(j.Defaults, o.Defaults...) {
		if n.Key == "slot.wall" { // printed to the tenth
			continue
		}
		want := strings.TrimSuffix(strings.TrimSuffix(strings.TrimSuffix(strings.ReplaceAll(n.Value, "°", " deg"), " s"), " mm/s2"), " min")
		switch n.Key {
		case "machine.travel", "jigs.make", "slot.start": // examples
			continue
		}
		if shown[n.Key] != want {
			t.Errorf("the starter shows %s = %q; %q is taken", n.Key, shown[n.Key], want)
		}
	}
}
