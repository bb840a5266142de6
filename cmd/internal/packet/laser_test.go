package packet

import (
	"math"
	"strings"
	"testing"

	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/star"
	"starwright/post/cut"
)

// A beam that burns half its kerf away on either side of its line leaves a part of
// the jig's own size: outlines are led outside by half the kerf, holes inside by it,
// and holes are cut first, while the part still lies firm.
func TestLaserLeavesTheSize(t *testing.T) {
	const kerf = 0.2
	w := loaded(t, "[star]\nboard_width = \"100 mm\"\noffcut_star = true\n[sheet]\nwidth = 600\nheight = 600\nthickness = 6\n[laser]\nkerf = \"0.2 mm\"\n"+wholeKit)
	kit, ps := jig.Kit(w.Order, w.jigParams(0), w.wants)
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	size := map[string]cut.Drawing{}
	for _, j := range kit {
		size["dxf/laser-"+j.File+".dxf"] = jigDrawing(j)
	}
	size["dxf/laser-splines.dxf"] = single(w.Order.Units[0].Spline.Outline())
	size["dxf/laser-offcut-splines.dxf"] = single(w.Order.Units[1].Spline.Outline())
	parts, holes := 0, 0
	for _, d := range w.Drawings {
		part, laser := size[d.Path]
		if !laser {
			continue
		}
		parts++
		if got, want := outlineBox(d.Want), outlineBox(part).Grow(kerf/2); apart(got, want) > geom.Rounding {
			t.Errorf("%s: outline %v, want %v", d.Path, got, want)
		}
		led := sized(d.Want)
		for at, wide := range sized(part) {
			holes++
			if got := led[at]; math.Abs(got-(wide-kerf)) > geom.Rounding {
				t.Errorf("%s: the hole at %v is led %g mm wide, want %g", d.Path, at, got, wide-kerf)
			}
		}
		last := cut.Hole
		for _, c := range d.Want.Contours {
			if c.Layer == cut.Hole && last == cut.Outline {
				t.Errorf("%s: a hole comes after the outline", d.Path)
			}
			last = c.Layer
		}
		if !strings.Contains(strings.Join(d.Want.Comments, "\n"), "0.2 mm") {
			t.Errorf("%s: does not say its kerf: %q", d.Path, d.Want.Comments)
		}
	}
	if parts != len(size) || holes < 40 {
		t.Errorf("%d of %d parts are drawn for the laser, with %d round holes", parts, len(size), holes)
	}
}

// A hole narrower than the beam cannot be led: the part is left out, and a warning
// says so.
func TestLaserTooWide(t *testing.T) {
	var w Work
	w.Job, w.Order = &job.Job{}, &star.Order{}
	plate := single(geom.Rect(geom.Box{Max: geom.Pt(40, 40)}))
	plate.Contours = append(plate.Contours, cut.Contour{Layer: cut.Hole, Contour: geom.Circle(geom.Pt(20, 20), 0.5)})
	if d := w.laserDrawing("dxf/laser-plate.dxf", 1, "plate", plate, 1.2); d != nil || len(w.Drawings) > 0 {
		t.Errorf("drawn: %v", d)
	}
	if len(w.Warnings) != 1 || w.Warnings[0].Key != "laser.kerf" || !strings.Contains(w.Warnings[0].Why, "narrower than the kerf") {
		t.Errorf("warnings %v", w.Warnings)
	}
	_, would, _ := strings.Cut(w.Warnings[0].Why, ". Try: kerf = ")
	kerf, err := geom.ParseLength(strings.Trim(strings.TrimSuffix(would, ", of a finer beam"), `"`), geom.Millimetre)
	if d := w.laserDrawing("dxf/laser-plate.dxf", 1, "plate", plate, kerf); err != nil || d == nil || kerf < 0.8 {
		t.Errorf("with the kerf that is offered, %q, it is not drawn either: %v", would, err)
	}
}

func outlineBox(d cut.Drawing) (b geom.Box) {
	for _, c := range d.Contours {
		if c.Layer == cut.Outline {
			b = c.Bounds()
		}
	}
	return b
}

func apart(a, b geom.Box) float64 { return max(a.Min.Dist(b.Min), a.Max.Dist(b.Max)) }

// sized returns the widths of round holes by their centres, to a hundredth of a
// millimetre.
func sized(d cut.Drawing) map[[2]int]float64 {
	out := map[[2]int]float64{}
	for _, c := range d.Contours {
		b := c.Bounds()
		round := math.Abs(c.Area()-math.Pi/4*b.W()*b.W()) < geom.Touch && math.Abs(b.W()-b.H()) < geom.Touch
		if c.Layer == cut.Hole && round {
			out[[2]int{int(math.Round(b.Center().X * 100)), int(math.Round(b.Center().Y * 100))}] = b.W()
		}
	}
	return out
}
