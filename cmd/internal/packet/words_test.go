package packet

import (
	"slices"
	"strings"
	"testing"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/toolpath/finding"
)

// Words that people set up by are held against the plate, in both formats and both
// units: those of stands and carriages, left and right, eight of a full kit.
func TestWordsAreMeasured(t *testing.T) {
	for name, source := range kits {
		w := workOf(t, name, []byte(source))
		n := 0
		for i := range w.Drawings {
			d := &w.Drawings[i]
			stands := strings.Contains(d.Path, "slot-stand") || strings.Contains(d.Path, "router-carriage")
			for _, f := range formats {
				p := wordsProof(t, w, d, f, d.Want)
				has := slices.ContainsFunc(p.Checks, func(c finding.Check) bool { return c.Name == "words off the plate" })
				if has != stands || !p.OK() {
					t.Errorf("%s: %s: measured %v: %v", name, p.Path, has, p.Findings)
				}
				if has {
					n++
				}
			}
		}
		if n < 8 {
			t.Errorf("%s: the words of %d files were measured", name, n)
		}
	}
}

func wordsProof(t *testing.T, w *Work, d *Drawing, f format, drawn cut.Drawing) *Proof {
	t.Helper()
	text, err := f.write(drawn)
	if err != nil {
		t.Fatal(err)
	}
	p := &Proof{Path: d.in(f), Text: text}
	w.proveDrawing(p, d, f)
	return p
}

// A text changed is found by what was drawn, and named by its line; a model that
// letters its plates wrongly is found by the plate.
func TestWordsThatAreWrong(t *testing.T) {
	w := workOf(t, "job.toml", []byte(kits["five, mm"]))
	i := slices.IndexFunc(w.Drawings, func(d Drawing) bool { return d.Path == "dxf/jig-slot-stand-left.dxf" })
	d := &w.Drawings[i]
	k := slices.IndexFunc(d.Want.Texts, func(l cut.Label) bool { return strings.HasPrefix(l.Text, "Z0 ") })
	was := d.Want.Texts[k].Text
	for _, f := range formats {
		for _, now := range []string{strings.Replace(was, " mm", "1 mm", 1), strings.Replace(was, "above", "below", 1), strings.Replace(was, "Z0", "X0", 1)} {
			drawn := d.Want
			drawn.Texts = slices.Clone(drawn.Texts)
			drawn.Texts[k].Text = now
			p := wordsProof(t, w, d, f, drawn)
			line := strings.Count(strings.Split(string(p.Text), now)[0], "\n") + 1
			if p.OK() || p.Findings[0].Rule != "words" || !namesEntity(p, line) {
				t.Errorf("%s: %q for %q, line %d: %v", p.Path, now, was, line, p.Findings)
			}
		}
		wrong := *d
		wrong.Want.Texts = slices.Clone(wrong.Want.Texts)
		wrong.Want.Texts[k].Text = strings.Replace(was, " mm", "1 mm", 1)
		p := wordsProof(t, w, &wrong, f, wrong.Want)
		if len(p.Findings) != 1 || p.Findings[0].ByMM < 4.9 || !strings.Contains(p.Findings[0].What, "the foot of the plate is") {
			t.Errorf("%s: %v", p.Path, p.Findings)
		}
		// A plate that another hand made longer.
		long := *d
		long.Want.Contours = slices.Clone(long.Want.Contours)
		for c := range long.Want.Contours {
			if long.Want.Contours[c].Layer == cut.Outline {
				long.Want.Contours[c].Contour = slices.Clone(long.Want.Contours[c].Contour)
				foot := long.Want.Contours[c].Bounds().Min.Y
				for v := range long.Want.Contours[c].Contour {
					if q := &long.Want.Contours[c].Contour[v]; q.Y < foot+0.01 {
						q.Point = q.Add(geom.Pt(0, -1))
					}
				}
			}
		}
		p = wordsProof(t, w, &long, f, long.Want)
		if !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Rule == "words" }) {
			t.Errorf("%s: the plate is 1 mm longer than it says: %v", p.Path, p.Findings)
		}
	}
}
