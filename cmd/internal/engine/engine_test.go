package engine

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"starwright/cmd/internal/job"
)

// ask sends a call through the wire and back, as the page does.
func ask(t *testing.T, name string, args any, files []File, into any) ([]File, *Fault) {
	t.Helper()
	raw, err := json.Marshal(args)
	if err != nil {
		t.Fatal(err)
	}
	h := head{Call: name, Args: raw}
	var body bytes.Buffer
	for _, f := range files {
		h.Files = append(h.Files, entry{f.Name, int64(len(f.Data))})
	}
	if err := writeLine(&body, h); err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		body.Write(f.Data)
	}
	c, err := ReadCall(&body)
	if err != nil {
		t.Fatal(err)
	}
	r, err, ok := Handle(context.Background(), c)
	if !ok {
		t.Fatalf("%s is not known", name)
	}
	var reply bytes.Buffer
	if err := WriteReply(&reply, r, err); err != nil {
		t.Fatal(err)
	}
	line, rest, _ := bytes.Cut(reply.Bytes(), []byte("\n"))
	var got struct {
		OK     bool
		Result json.RawMessage
		Error  *Fault
		Files  []entry
	}
	if err := json.Unmarshal(line, &got); err != nil {
		t.Fatal(err)
	}
	if !got.OK {
		return nil, got.Error
	}
	if err := json.Unmarshal(got.Result, into); err != nil {
		t.Fatal(err)
	}
	var out []File
	for _, e := range got.Files {
		out = append(out, File{e.Name, rest[:e.Size]})
		rest = rest[e.Size:]
	}
	return out, nil
}

func typed(s string) *string { return &s }

func TestGlance(t *testing.T) {
	var g Glance
	j := Draft{Name: "job.toml", Source: string(job.BuiltIn())}
	if _, f := ask(t, "glance", j, nil, &g); f != nil {
		t.Fatal(f)
	}
	if len(g.Errors) != 0 || g.Numbers == nil || !strings.HasPrefix(g.Star, "<svg") && !strings.Contains(g.Star, "<svg") {
		t.Fatalf("errors %v, star %.60s", g.Errors, g.Star)
	}
	was := g.Numbers.Star.Width
	j.Edits = []Edit{{Path: []string{"star", "board_width"}, Typed: typed("120 mm")}}
	if _, f := ask(t, "glance", j, nil, &g); f != nil {
		t.Fatal(f)
	}
	// A star grows as its boards do.
	if want := was * 120 / 96; g.Numbers.Star.Width < want-1e-6 || g.Numbers.Star.Width > want+1e-6 {
		t.Errorf("width %v, want %v", g.Numbers.Star.Width, want)
	}
	if !strings.Contains(g.Source, `board_width = "120 mm"   # planed off`) {
		t.Error("the comment beside the value is gone")
	}
}

// What is offered beside an error is put in, and the error is gone.
func TestMend(t *testing.T) {
	for _, c := range []struct{ name, was, is string }{
		{"a value out of range", `points      = 5`, `points = 99`},
		{"a misspelt key", "board_width = \"96 mm\"", "boad_width = \"96 mm\""},
		{"no unit that is known", `thickness   = "18 mm"`, `thickness = "18 furlongs"`},
		{"a slot too deep", `depth      = "9 mm"`, `depth = "60 mm"`},
		{"deeper than any cutter", "depth      = \"9 mm\"", "depth = \"80 mm\""},
	} {
		t.Run(c.name, func(t *testing.T) {
			source := strings.Replace(string(job.BuiltIn()), c.was, c.is, 1)
			for range 3 {
				var g Glance
				if _, f := ask(t, "glance", Draft{Name: "job.toml", Source: source}, nil, &g); f != nil {
					t.Fatal(f)
				}
				if len(g.Errors) == 0 {
					return
				}
				i := slices.IndexFunc(g.Errors, func(e JobError) bool { return e.Fix != nil })
				if i < 0 {
					t.Fatalf("nothing is offered for %q", g.Errors[0].Text)
				}
				if _, f := ask(t, "glance", Draft{Name: "job.toml", Source: source, Edits: g.Errors[i].Fix}, nil, &g); f != nil {
					t.Fatal(f)
				}
				source = g.Source
			}
			t.Error("three fixes did not mend it")
		})
	}
}

// A packet made through the engine is proven by it again, zipped and unzipped;
// an edited file dropped on it is found.
func TestPacketThereAndBack(t *testing.T) {
	source := strings.Replace(string(job.BuiltIn()), "count       = 8", "count = 1", 1)
	var p Packet
	files, f := ask(t, "make", Draft{Name: "porch.toml", Source: source}, nil, &p)
	if f != nil {
		t.Fatal(f)
	}
	if !p.OK || p.Name != "porch-packet" || len(files) != len(p.Manifest.Files)+2 {
		t.Fatalf("%v %s: %d files, %d in the manifest", p.OK, p.Name, len(files), len(p.Manifest.Files))
	}
	z, err := Zip(p.Name, files)
	if err != nil {
		t.Fatal(err)
	}
	again, err := Zip(p.Name, files)
	if err != nil || !bytes.Equal(z, again) {
		t.Error("the same packet gives two zips")
	}
	checkArgs := func(dropped int) map[string]any { return map[string]any{"name": "porch", "dropped": dropped} }
	if _, f := ask(t, "check", checkArgs(1), []File{{"porch.zip", z}}, &p); f != nil || !p.OK || len(p.Changed) != 0 {
		t.Fatalf("the zip: %v, %v, changed %v", f, p.Findings, p.Changed)
	}
	var slot File
	for _, one := range files {
		if one.Name == "gcode/slot-left.nc" {
			slot = File{"slot-left.nc", bytes.Replace(one.Data, []byte("Z-"), []byte("Z-9"), 1)}
		}
	}
	back, f := ask(t, "check", checkArgs(1), append(files, slot), &p)
	if f != nil || p.OK || len(p.Findings) == 0 || len(p.Changed) != 1 {
		t.Fatalf("an edited slot: %v, ok %v, changed %v", f, p.OK, p.Changed)
	}
	pages := 0
	for _, one := range back {
		if one.Name == backplot && bytes.Contains(one.Data, []byte(p.Findings[0].Rule)) {
			pages++
		}
	}
	if pages != 1 {
		t.Error("the back-plot page does not show what was found")
	}
	if _, f := ask(t, "check", checkArgs(1), []File{{"note.txt", []byte("x")}}, &p); f == nil {
		t.Error("a note is taken for a packet")
	}
}

const anOrder = "[[star]]\nname = \"small\"\nboard_width = \"64 mm\"\n[[star]]\nname = \"large\"   # mine\nboard_width = \"96 mm\"\ncount = 2\n[slot]\ndepth = \"8 mm\"\n"

// Of an order the page gets the numbers and the picture of the star that it shows,
// what is wrong with each at its own place, and a value that works there.
func TestGlanceOfAnOrder(t *testing.T) {
	_, order, errs := job.Load(job.Input{Job: job.File{Name: "job.toml", Data: []byte(anOrder)}})
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	for i, u := range order.FromBoards() {
		var g Glance
		if _, f := ask(t, "glance", Draft{Name: "job.toml", Source: anOrder, Star: i}, nil, &g); f != nil {
			t.Fatal(f)
		}
		if g.Numbers.Star.Width != u.Width() || len(g.Stars) != 2 || g.Stars[i].Name != u.Spec.Name || g.Stars[i].Count != u.Count() || !strings.HasPrefix(g.Alt, "The star "+u.Spec.Name) {
			t.Errorf("star %d: width %v, want %v; %+v; %s", i, g.Numbers.Star.Width, u.Width(), g.Stars, g.Alt)
		}
	}
	for _, c := range []struct{ edit, path, value string }{
		{"points", "star.1.points", "99"},
		{"slot.depth", "star.1.slot.depth", "80 mm"},
		{"name", "star.1.name", "two words"},
		{"boad_width", "star.1.boad_width", "96 mm"},
	} {
		d := Draft{Name: "job.toml", Source: anOrder, Star: 1, Edits: []Edit{{Path: strings.Split("star.1."+c.edit, "."), Typed: &c.value}}}
		var g Glance
		if _, f := ask(t, "glance", d, nil, &g); f != nil {
			t.Fatal(f)
		}
		if len(g.Errors) != 1 || strings.Join(g.Errors[0].Path, ".") != c.path || g.Errors[0].Place != 2 || g.Errors[0].Fix == nil {
			t.Errorf("%s: %+v", c.edit, g.Errors)
			continue
		}
		d.Source, d.Edits = g.Source, g.Errors[0].Fix
		if _, f := ask(t, "glance", d, nil, &g); f != nil || len(g.Errors) > 0 {
			t.Errorf("%s mended by %+v: %v, %+v", c.edit, d.Edits, f, g.Errors)
		}
	}
	one := Draft{Name: "job.toml", Source: strings.Replace(anOrder, `"8 mm"`, `"80 mm"`, 1), Star: 1} // what the file has for all
	var g Glance
	if _, f := ask(t, "glance", one, nil, &g); f != nil || len(g.Errors) == 0 || strings.Join(g.Errors[0].Path, ".") != "slot.depth" {
		t.Errorf("%v, %+v", f, g.Errors)
	}
}

// A star that stands twice, in a list of its own, and is taken away.
func TestOrderEdits(t *testing.T) {
	name := func(i, s string) Edit { return Edit{Path: []string{"star", i, "name"}, Words: &s} }
	var g Glance
	in := Draft{Name: "job.toml", Source: "[star] # mine\nboard_width = \"64 mm\"\n", Star: 7,
		Edits: []Edit{{Path: []string{"star"}, List: true}, name("0", "one"), {Path: []string{"star", "0"}, Copy: true}, name("1", "two")}}
	if _, f := ask(t, "glance", in, nil, &g); f != nil || len(g.Stars) != 2 || g.Stars[1].Name != "two" {
		t.Fatalf("%v, %+v, %s", f, g.Stars, g.Source)
	}
	in.Source, in.Edits = g.Source, []Edit{{Path: []string{"star", "1"}}}
	if _, f := ask(t, "glance", in, nil, &g); f != nil || strings.TrimSpace(g.Source) != "[[star]] # mine\nboard_width = \"64 mm\"\nname        = \"one\"" {
		t.Errorf("%v, %s", f, g.Source)
	}
}

// The gap is that of the star that is shown: the larger one's joint is longer, and
// the same gap at its valley is a smaller angle.
func TestFitOfAnOrder(t *testing.T) {
	var turn [2]float64
	for i := range turn {
		var got struct {
			Answer struct {
				Reading struct {
					Error float64 `json:"facet_error_deg"`
				}
			}
		}
		args := map[string]any{"name": "job.toml", "source": anOrder, "star": i, "gap": "1 mm", "at": "valley", "test": "last-joint"}
		if _, f := ask(t, "fit", args, nil, &got); f != nil {
			t.Fatal(f)
		}
		turn[i] = got.Answer.Reading.Error
	}
	// A gap g at the end of a joint of length r opens by g/r; r is as the boards are wide.
	if ratio := turn[0] / turn[1]; !(math.Abs(ratio-96./64) < 0.002) {
		t.Errorf("%v: in the ratio %v, want 1.5", turn, ratio)
	}
}

func TestCompareAndFit(t *testing.T) {
	var out []Compared
	no := "false"
	args := map[string]any{"name": "job.toml", "source": string(job.BuiltIn()), "variants": []Variant{
		{"plain", []Edit{{Path: []string{"slot", "make"}, Value: &no}}},
		{"wrong", []Edit{{Path: []string{"star", "points"}, Typed: typed("2")}}},
	}}
	if _, f := ask(t, "compare", args, nil, &out); f != nil {
		t.Fatal(f)
	}
	if out[0].Numbers.Slot != nil || out[1].Error == "" {
		t.Errorf("%+v", out)
	}
	var fit struct{ Page string }
	if _, f := ask(t, "fit", map[string]any{"name": "job.toml", "source": string(job.BuiltIn()), "gap": "1 mm", "at": "valley", "test": "last-joint"}, nil, &fit); f != nil || fit.Page == "" {
		t.Errorf("%v %q", f, fit.Page)
	}
	if _, f := ask(t, "fit", map[string]any{"name": "job.toml", "source": string(job.BuiltIn()), "gap": "wide", "at": "valley", "test": "last-joint"}, nil, &fit); f == nil || f.Kind != "job" {
		t.Errorf("a gap of words: %v", f)
	}
}

// The desk reads a shop file as the commands do: key by key beneath the job, and
// its own lines say what is wrong with it.
func TestShop(t *testing.T) {
	source := "units = \"in\"\n[shop]\nhas = [\"mitre saw\"]   # no more\n[saw]\nkerf = \"3/32 in\"\nreach = \"12 in\"\n"
	var s Shop
	if _, f := ask(t, "shop", Draft{Name: "shop.toml", Source: source + "[star]\ncount = 3\n", Edits: []Edit{{Path: []string{"saw", "reach"}, Typed: typed("12 furlongs")}}}, nil, &s); f != nil {
		t.Fatal(f)
	}
	if len(s.Errors) != 2 || s.Errors[0].Key != "reach" || s.Errors[0].Fix == nil || s.Errors[1].Table != "star" || s.Errors[1].Line != 7 {
		t.Errorf("%+v", s.Errors)
	}
	in := Draft{Name: "job.toml", Source: "[star]\nboard_width = \"4 in\"\n[saw]\nkerf = \"2 mm\"\n", Shop: source}
	var g Glance
	if _, f := ask(t, "glance", in, nil, &g); f != nil || len(g.Errors) > 0 {
		t.Fatal(f, g.Errors)
	}
	_, order, errs := job.Load(job.Input{Job: job.File{Name: "job.toml", Data: []byte(in.Source)}, Shop: &job.File{Name: "shop.toml", Data: []byte(source)}})
	if len(errs) > 0 || g.Numbers.Units != "in" || g.Numbers.Saw.Kerf != 2 || g.Numbers.Star.Width != order.FromBoards()[0].Width() {
		t.Errorf("units %s, kerf %g, %v", g.Numbers.Units, g.Numbers.Saw.Kerf, errs)
	}
	if len(g.Numbers.FromShop) != 3 { // units, machines, reach
		t.Errorf("from the shop: %+v", g.Numbers.FromShop)
	}
	files, f := ask(t, "bench", in, nil, new(struct{}))
	if f != nil || len(files) != 1 || !bytes.Contains(files[0].Data, []byte("Before you switch on")) {
		t.Errorf("the page for the bench: %v", f)
	}
}

func TestBrokenCalls(t *testing.T) {
	for _, text := range []string{"", "{", `{"call":"glance","files":[{"name":"a","size":99}]}` + "\nxx", `{"call":"x","files":[{"name":"a","size":-1}]}`,
		`{"call":"x","files":[{"name":"a","size":99999999999}]}`, strings.Repeat(" ", MaxHead+1)} {
		if c, err := ReadCall(strings.NewReader(text)); err == nil {
			t.Errorf("%.60q is taken for the call %q", text, c.Name)
		}
	}
	if _, _, ok := Handle(context.Background(), Call{Name: "remove"}); ok {
		t.Error("a call of any name is taken")
	}
	if _, f := ask(t, "glance", []int{1}, nil, new(Glance)); f == nil {
		t.Error("a list is taken for a job")
	}
}

func BenchmarkGlance(b *testing.B) {
	raw, _ := json.Marshal(Draft{Name: "job.toml", Source: string(job.BuiltIn())})
	for b.Loop() {
		r, err, _ := Handle(context.Background(), Call{Name: "glance", Args: raw})
		if err != nil {
			b.Fatal(err)
		}
		WriteReply(new(bytes.Buffer), r, nil)
	}
}
