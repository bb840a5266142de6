package costing

import (
	"math"
	"testing"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/geom/bench/cost"
	"starwright/geom/route"
	"starwright/geom/star"
)

// TestItemsByHand is a batch of two stars of five points worked out on paper, set-up
// by set-up.
func TestItemsByHand(t *testing.T) {
	tip := geom.Deg(36)
	o, ps := star.NewOrder([]star.Spec{{Points: 5, BoardWidth: 100, Thickness: 20, Tip: &tip, Count: 2, EndTrim: 8, RoundTo: 1, Kerf: 2}})
	if len(ps) > 0 {
		t.Fatal(ps)
	}
	zero := 0.0
	saw := []route.Reading{{Name: route.ReadSaw, Printed: "0°", Deg: &zero}}
	cut := func(k route.Kind, n int) route.Setup {
		return route.Setup{Kind: k, Machine: route.MitreSaw, Count: n, Readings: saw, Cut: &route.Cut{}}
	}
	r := &route.Route{Setups: []route.Setup{
		cut(route.Blanks, 15), cut(route.Facet, 20), // the saw stays square: one set-up, one stop moved
		{Kind: route.GlueHalves, Machine: route.Hand, Count: 2, Pieces: 6},
		{Kind: route.GlueHalves, Machine: route.Hand, Count: 2, Pieces: 4},
		{Kind: route.GlueLast, Machine: route.Hand, Count: 2, Pieces: 4},
		{Kind: route.Finish, Machine: route.Hand, Count: 2},
	}}
	hour, wood := 60.0, 1000.0
	j := &job.Job{Times: job.TimesTable{Setup: 8, Stop: 2, Cut: 1, Joint: 3, Finish: 15, Drying: 60},
		Cost: job.CostTable{Currency: "EUR", Hour: &hour, Wood: &wood, WoodPer: job.PerCubicMetre, Margin: 50}}
	c, err := New(Given{Job: j, Order: o, Route: r, Bench: &benchwork.Work{},
		Programs: []Program{{Runs: 10, Minutes: 0.5}, {Sheet: "jigs", Runs: 1, Minutes: 12}}})
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %g, by hand %g", what, got, want)
		}
	}
	// 8 + 2 minutes of set-up and stop, 35 cuts; 4 joints in the threes, 2 in the twos
	// and 4 at last; 30 of finishing; 5 minutes beside the slot program.
	labour := 8 + 2 + 35 + 3*(4+2+4) + 30 + 5.0
	near("labour", c.Sum.Order.Labour, labour)
	near("machine", c.Sum.Order.Machine, 17)
	near("drying", c.Sum.Order.Drying, 120)
	blank := o.Units[0].Blank.Length
	m3 := 15 * (blank + 2) * 100 * 20 / 1e9
	near("cost", c.Sum.Order.Cost, labour+1000*m3)
	near("price", c.Sum.Order.Price, 2*(labour+1000*m3))
	if c.Planned {
		t.Error("there is no stock plan")
	}
	want := map[cost.Kind]bool{cost.Machine: true, cost.Sheet: true, cost.Glue: true, cost.Finish: true}
	for _, k := range c.Sum.Missing {
		if !want[k] {
			t.Errorf("%s has no price, it says", k)
		}
		delete(want, k)
	}
	if len(want) > 0 {
		t.Errorf("%v have no price, which is not said", want)
	}
	if d := c.Document(); len(d.Lines) != len(c.Sum.Lines) || d.Stars[0].PriceEach*2 != d.Stars[0].Price {
		t.Errorf("%+v", d)
	}
}
