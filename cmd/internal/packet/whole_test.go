package packet

import (
	"bytes"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// resealed gives a manifest the digest of itself that belongs to it, as
// anybody can.
func resealed(data []byte) []byte {
	at := ownDigest().FindSubmatchIndex(data)
	if at == nil {
		return data
	}
	data = bytes.Clone(data)
	copy(data[at[2]:at[3]], noDigest)
	copy(data[at[2]:at[3]], sum(data))
	return data
}

// What of a packet nobody cuts is held against what was released: its manifest,
// its papers, and what was laid beside them.
func TestWholePacket(t *testing.T) {
	w, errs := load("job.toml", []byte(attackJob))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	_, made, err := MakeTree(t.Context(), w)
	if err != nil || made == nil {
		t.Fatal(err)
	}
	swapIn := func(name, from, to string) func(Tree) {
		return func(p Tree) {
			p[name] = bytes.Replace(p[name], []byte(from), []byte(to), 1)
		}
	}
	quantity := regexp.MustCompile(`"quantity": 5`)
	if !quantity.Match(made[ManifestName]) {
		t.Fatalf("no quantity of 5 in the manifest")
	}
	downgrade := func(p Tree) {
		p[ManifestName] = bytes.Replace(ownDigest().ReplaceAll(p[ManifestName], []byte(`"was": ""`)), []byte(`"format": 2`), []byte(`"format": 1`), 1)
	}
	rows := []struct {
		name    string
		change  func(Tree)
		named   []string // files at fault; none where it passes
		ignored bool     // passes with papers ignored
	}{
		{"unchanged", func(Tree) {}, nil, true},
		{"quantity", swapIn(ManifestName, `"quantity": 5`, `"quantity": 6`), []string{ManifestName}, false},
		{"quantity, with the digest made good", func(p Tree) {
			p[ManifestName] = resealed(quantity.ReplaceAll(p[ManifestName], []byte(`"quantity": 6`)))
		}, []string{ManifestName}, false},
		{"format 1", downgrade, []string{ManifestName}, false},
		{"format 1 and a quantity", func(p Tree) {
			downgrade(p)
			swapIn(ManifestName, `"quantity": 5`, `"quantity": 6`)(p)
		}, []string{ManifestName}, false},
		{"ticket edited", swapIn("operator.txt", "cut 5", "cut 9"), []string{"operator.txt"}, true},
		{"ticket missing", func(p Tree) { delete(p, "operator.txt") }, []string{"operator.txt"}, true},
		{"shop sheet edited", func(p Tree) { p["shop-sheet.pdf"] = append(bytes.Clone(p["shop-sheet.pdf"]), '\n') }, []string{"shop-sheet.pdf"}, true},
		{"papers exchanged", func(p Tree) {
			p["shop-sheet.pdf"], p["templates.pdf"] = p["templates.pdf"], p["shop-sheet.pdf"]
		}, []string{"shop-sheet.pdf", "templates.pdf"}, true},
		{"picture edited", swapIn("pictures/star.svg", "<svg", "<svg "), []string{"pictures/star.svg"}, true},
		{"a program added", func(p Tree) { p["gcode/extra.nc"] = p["gcode/slot-left.nc"] }, []string{"gcode/extra.nc"}, false},
		{"a program of the same name but for case", func(p Tree) { p["gcode/SLOT-LEFT.NC"] = p["gcode/slot-left.nc"] }, []string{"gcode/SLOT-LEFT.NC"}, false},
		{"a program beside the others", func(p Tree) { p["SLOT-LEFT.NC"] = p["gcode/slot-left.nc"] }, []string{"SLOT-LEFT.NC"}, false},
		{"a note", func(p Tree) { p["notes.txt"] = []byte("feed was too fast") }, []string{"notes.txt"}, true},
		{"a program harmlessly edited", swapIn("gcode/slot-left.nc", "(pass 1 of 4)", "(first pass)"), nil, true},
		{"job commented on", func(p Tree) { p["job.toml"] = append(bytes.Clone(p["job.toml"]), "# mine\n"...) }, nil, true},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			p := maps.Clone(made)
			row.change(p)
			for _, ignore := range []bool{false, true} {
				c, err := folder{tree: p}.check("packet", Asked{IgnorePapers: ignore})
				if err != nil {
					t.Fatal(err)
				}
				var named []string
				for i := range c.Proofs {
					if !c.Proofs[i].OK() {
						named = append(named, c.Proofs[i].Path)
					}
				}
				slices.Sort(named)
				want := slices.Clone(row.named)
				if ignore && row.ignored {
					want = nil
				}
				slices.Sort(want)
				if !slices.Equal(named, want) {
					t.Errorf("papers ignored %v: %s at fault, want %s", ignore, strings.Join(named, ", "), strings.Join(want, ", "))
				}
			}
		})
	}
}
