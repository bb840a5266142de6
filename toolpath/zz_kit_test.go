package toolpath_test

import (
	"testing"
	"time"
	"fmt"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/star"
	"starwright/toolpath"
	"starwright/toolpath/nest"
)

func TestZZKit(t *testing.T) {
	for _, n := range []int{5, 8, 4, 12, 7} {
		spec := star.Spec{Points: n, BoardWidth: 100, Thickness: 19, Count: 6, EndTrim: 8, RoundTo: 1, Kerf: 2.4}
		if n==4 { a := geom.Deg(60); spec.Tip = &a }
		b, ps := star.New(spec)
		if len(ps) > 0 { t.Log(n, ps); continue }
		kit, ps := jig.Kit(b, jig.Params{Cutter: 6.35, MaxMiter: geom.Deg(50), MaxW: 380, MaxH: 380, Thickness: 12})
		if len(ps) > 0 { t.Log(n, ps); continue }
		var items []nest.Item
		for _, j := range kit {
			part := toolpath.Part{Name: j.Title, Outline: j.Outline}
			for _, h := range j.Holes { part.Holes = append(part.Holes, h.Contour) }
			for _, s := range j.Seats { part.NoTab = append(part.NoTab, s.Edges...) }
			for range max(1, j.Quantity) { items = append(items, nest.Item{Part: part}) }
		}
		t0 := time.Now()
		o := nest.Options{W: 400, H: 400, Margin: 10, Spacing: 8.35, Cutter: 6.35, Zones: nest.CornerZones(400,400,25)}
		r, err := nest.Nest(items, o)
		if err != nil { t.Log(n, err); continue }
		fmt.Printf("n=%d: %d items, %d sheets bound %d used %.2f  %v\n", n, len(items), len(r.Sheets), r.Bound, r.Used, time.Since(t0))
		for si, s := range r.Sheets {
			j := plateJob()
			j.SheetW, j.SheetH, j.Travel = 400, 400, geom.Point3{}
			j.RampMax = geom.Deg(5)
			j.ScrewZones = o.Zones
			j.Parts = nil
			for _, p := range s.Parts { j.Parts = append(j.Parts, p.Part) }
			t0 := time.Now()
			p, rep, err := toolpath.PlanSheet(j)
			if err != nil { fmt.Println(n, si, err); j.Tabs.Count=2; if p, rep, err = toolpath.PlanSheet(j); err != nil { fmt.Println("  again", err); continue } }
			dt := time.Since(t0)
			bad := prove(j, p, rep, 0.8)
			fmt.Printf("  sheet %d: %d parts blocks %d cut %.0f travel %.0f bound %.0f loose %v %v\n", si, len(s.Parts), rep.Blocks, rep.CutMM, rep.TravelMM, rep.TravelBound, dt, first(bad, 3))
		}
	}
}
