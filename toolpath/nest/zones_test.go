package nest_test

import (
	"fmt"
	"regexp"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/toolpath/nest"
)

// A part for which the screws in the corners leave no room: the size that the
// message offers has it, by both ways of laying out.
func TestZonesAdviceWorks(t *testing.T) {
	offered := regexp.MustCompile(`, or (width|height) = "([0-9.]+) mm"$`)
	told := 0
	rapid.Check(t, func(t *rapid.T) {
		const zone = 25
		o := nest.Options{W: rapid.Float64Range(100, 300).Draw(t, "sheet's width"), H: rapid.Float64Range(100, 300).Draw(t, "height"),
			Margin: rapid.Float64Range(6, 20).Draw(t, "margin"), Spacing: rapid.Float64Range(8, 15).Draw(t, "spacing"), Cutter: 6}
		w := (o.W - 2*o.Margin) * rapid.Float64Range(0.5, 1).Draw(t, "part")
		h := (o.H - 2*o.Margin) * rapid.Float64Range(0.5, 1).Draw(t, "part's height")
		part := rect("a", w, h)
		for name, lay := range map[string]func(nest.Options) error{
			"nest": func(o nest.Options) error {
				_, err := nest.NewBatch([]nest.Item{part}).Nest(t.Context(), o)
				return err
			},
			"rows": func(o nest.Options) error {
				_, err := nest.Rows([]nest.Stack{{Part: part.Part, Count: 1}}, o)
				return err
			},
		} {
			one := o
			one.Zones = nest.CornerZones(o.W, o.H, zone)
			p, ok := asProblem(lay(one))
			if !ok || p.Key != "sheet.screw_zones" {
				continue
			}
			told++
			m := offered.FindStringSubmatch(p.Would)
			if m == nil {
				t.Fatalf("%s: no size in %q", name, p.Would)
			}
			size, _ := strconv.ParseFloat(m[2], 64)
			if m[1] == "width" {
				one.W = size
			} else {
				one.H = size
			}
			one.Zones = nest.CornerZones(one.W, one.H, zone)
			if err := lay(one); err != nil {
				t.Errorf("%s: %s: then %v", name, p.Would, err)
			}
			one.W, one.H, one.Zones = o.W, o.H, nil
			if err := lay(one); err != nil {
				t.Errorf("%s: without zones: %v", name, err)
			}
		}
	})
	if told == 0 {
		t.Log("no part met the zones")
	}
	// By hand: 90 mm by 90 mm on 120 mm by 110 mm. Beside two corners of 25 mm,
	// kept clear by the cutter's 6 mm and 1 mm, it takes 90 + 2 * 32 = 154 mm, and 1 mm is spare.
	o := nest.Options{W: 120, H: 110, Margin: 6, Spacing: 10, Cutter: 6, Zones: nest.CornerZones(120, 110, 25), Unit: geom.Millimetre}
	_, err := nest.NewBatch([]nest.Item{rect("plate", 90, 90)}).Nest(t.Context(), o)
	if p, _ := asProblem(err); fmt.Sprint(p) != `sheet.screw_zones: plate, 90 mm by 90 mm, does not fit between the screw zones. Try: screw_zones = false, or width = "155 mm"` {
		t.Error(p, err)
	}
}

func asProblem(err error) (problem.Problem, bool) {
	switch e := err.(type) {
	case *nest.TooLarge:
		return e.Problem(), true
	case problem.Problem:
		return e, true
	}
	return problem.Problem{}, false
}
