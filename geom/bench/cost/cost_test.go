package cost

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestByHand is an order of two stars worked out on paper: 60 minutes at 30 an
// hour for the first alone, a jig of 90 minutes shared 1 : 2, 4 board feet at 5 for
// the second, glue without a price. Fees 10 and margin 15 percent: the price is the
// cost over 0.75.
func TestByHand(t *testing.T) {
	s, err := Add(Ask{
		Stars: []Star{{"a", 2, 1}, {"b", 1, 2}},
		Items: []Item{{"cut", Labour, 0, 30, 2, "min"}, {"make the jig", Labour, All, 1, 90, "min"}, {"wood", Wood, 1, 1, 4, "board feet"},
			{"glue", Glue, 1, 1, 0.1, "kg"}, {"drying", Drying, 0, 1, 60, "min"}},
		Prices: map[Kind]float64{Labour: 30, Wood: 5}, Fees: 10, Margin: 15,
	})
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s %g, by hand %g", what, got, want)
		}
	}
	near("order", s.Order.Cost, 30+45+20)
	near("first star", s.Stars[0].Cost, 30+15)
	near("second star", s.Stars[1].Cost, 30+20)
	near("price", s.Order.Price, 95/0.75)
	near("fees", s.Order.Fees, 95/0.75*0.10)
	near("margin", s.Order.Margin, 95/0.75*0.15)
	near("labour", s.Stars[0].Labour, 60+30)
	near("drying", s.Order.Drying, 60)
	if len(s.Missing) != 1 || s.Missing[0] != Glue {
		t.Errorf("without a price: %v, want glue", s.Missing)
	}
	if s.Drivers[0].What != "make the jig" || s.Drivers[1].What != "cut" || s.Drivers[2].What != "wood" {
		t.Errorf("drivers %+v", s.Drivers)
	}
}

// TestAddsUp: the stars together are the order, and the price is what remains of
// nothing but cost, fees and margin.
func TestAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Ask{Prices: map[Kind]float64{}, Fees: rapid.Float64Range(0, 40).Draw(t, "fees"), Margin: rapid.Float64Range(0, 50).Draw(t, "margin")}
		n := rapid.IntRange(1, 5).Draw(t, "stars")
		for range n {
			a.Stars = append(a.Stars, Star{"s", rapid.IntRange(1, 90).Draw(t, "count"), rapid.Float64Range(0.1, 50).Draw(t, "weight")})
		}
		kinds := []Kind{Labour, Machine, Drying, Wood, Sheet, Glue, Finish, Cutter}
		for _, k := range kinds {
			if rapid.Bool().Draw(t, "priced") {
				a.Prices[k] = rapid.Float64Range(0, 100).Draw(t, "price")
			}
		}
		for range rapid.IntRange(0, 20).Draw(t, "items") {
			a.Items = append(a.Items, Item{"x", rapid.SampledFrom(kinds).Draw(t, "kind"), rapid.IntRange(All, n-1).Draw(t, "star"),
				float64(rapid.IntRange(0, 90).Draw(t, "n")), rapid.Float64Range(0, 60).Draw(t, "each"), ""})
		}
		s, err := Add(a)
		if err != nil {
			t.Fatal(err)
		}
		cost, labour, price := 0.0, 0.0, 0.0
		for _, x := range s.Stars {
			cost, labour, price = cost+x.Cost, labour+x.Labour, price+x.Price
		}
		for _, p := range [][2]float64{{cost, s.Order.Cost}, {labour, s.Order.Labour}, {price, s.Order.Price}, {s.Order.Cost + s.Order.Fees + s.Order.Margin, s.Order.Price}} {
			if math.Abs(p[0]-p[1]) > 1e-9*(1+p[1]) {
				t.Fatalf("%g is not %g", p[0], p[1])
			}
		}
	})
}

func TestRefuses(t *testing.T) {
	one := []Star{{"a", 1, 1}}
	for _, a := range []Ask{{}, {Stars: []Star{{"a", 1, 0}}}, {Stars: one, Fees: 60, Margin: 40}, {Stars: one, Items: []Item{{Star: 1}}},
		{Stars: one, Items: []Item{{Count: -1, Each: 1}}}, {Stars: []Star{{"a", 0, 1}}}} {
		if _, err := Add(a); err == nil {
			t.Errorf("%+v is added up", a)
		}
	}
}
