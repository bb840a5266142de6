// Package cost adds up what an order takes: minutes of people and machines, wood
// and what else is used up, and from their prices what each star costs and what
// to ask for it.
//
// An item is for one star of the order or for all; what is for all - a jig, a
// machine set up once - is shared among the stars by their weights. The price is
// the cost raised so that fees and margin, both shares of the price, leave the
// cost. What has no price is left out of the money and named.
//
// The package knows no currency, and nothing of stars but their names.
package cost

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Kind is what an item is of.
type Kind string

// The kinds. Labour, Machine and Drying are counted in minutes; drying costs
// nothing but the wait.
const (
	Labour  Kind = "labour"
	Machine Kind = "machine"
	Drying  Kind = "drying"
	Wood    Kind = "wood"
	Sheet   Kind = "sheet"
	Glue    Kind = "glue"
	Finish  Kind = "finish"
	Cutter  Kind = "cutter"
)

// All marks an item that all stars share.
const All = -1

// Star is one kind of star that is made.
type Star struct {
	Name   string
	Count  int
	Weight float64 // its share in what is for all; of all stars together it is above 0
}

// Item is so much of something.
type Item struct {
	What  string // in words: "set the mitre saw"
	Kind  Kind
	Star  int     // place in Ask.Stars, or [All]
	Count float64 // how often
	Each  float64 // minutes, or amount in Unit
	Unit  string  // of Each: "min", "board feet", "kg"
}

// Amount is all of it.
func (i Item) Amount() float64 { return i.Count * i.Each }

// IsTime reports whether an item is counted in minutes.
func (k Kind) IsTime() bool { return k == Labour || k == Machine || k == Drying }

// Ask is what is added up.
type Ask struct {
	Stars  []Star
	Items  []Item
	Prices map[Kind]float64 // of an hour of time, else of one unit; a kind that is missing has no price
	Fees   float64          // percent of the price
	Margin float64          // percent of the price
}

// Line is an item with its money.
type Line struct {
	Item
	Money float64
	Known bool // it has a price; drying needs none
}

// Total is what a star or the order comes to.
type Total struct {
	Labour, Machine, Drying float64 // minutes
	Cost                    float64
	Fees, Margin, Price     float64 // Price = Cost + Fees + Margin
}

// Driver is what makes the price: all lines of one name.
type Driver struct {
	What    string
	Money   float64
	Percent float64 // of the cost
	Minutes float64
}

// Sum is the answer.
type Sum struct {
	Lines   []Line
	Stars   []Total // of all stars of a kind, in the order asked
	Order   Total
	Missing []Kind   // used, and without a price
	Drivers []Driver // the three that cost most; without any price, those that take longest
}

// Add adds up.
func Add(a Ask) (Sum, error) {
	if err := a.check(); err != nil {
		return Sum{}, err
	}
	s := Sum{Stars: make([]Total, len(a.Stars))}
	weights := 0.0
	for _, x := range a.Stars {
		weights += x.Weight
	}
	for _, item := range a.Items {
		line := Line{Item: item, Known: item.Kind == Drying}
		if p, ok := a.Prices[item.Kind]; ok && item.Kind != Drying {
			line.Money, line.Known = item.Amount()*p, true
			if item.Kind.IsTime() {
				const minutes = 60
				line.Money /= minutes
			}
		}
		if !line.Known && item.Amount() > 0 && !slices.Contains(s.Missing, item.Kind) {
			s.Missing = append(s.Missing, item.Kind)
		}
		s.Lines = append(s.Lines, line)
		s.Order.add(line, 1)
		for i, x := range a.Stars {
			switch item.Star {
			case i:
				s.Stars[i].add(line, 1)
			case All:
				s.Stars[i].add(line, x.Weight/weights)
			}
		}
	}
	s.Order.ask(a)
	for i := range s.Stars {
		s.Stars[i].ask(a)
	}
	s.drivers()
	return s, nil
}

// check refuses what cannot be shared or added.
func (a Ask) check() error {
	weights := 0.0
	for _, x := range a.Stars {
		if x.Weight < 0 || math.IsNaN(x.Weight) || math.IsInf(x.Weight, 0) || x.Count < 1 {
			return fmt.Errorf("cost: the star %q has a weight of %g and a count of %d", x.Name, x.Weight, x.Count)
		}
		weights += x.Weight
	}
	if !(weights > 0) {
		return fmt.Errorf("cost: there is no star to share the cost")
	}
	if a.Fees < 0 || a.Margin < 0 || !(a.Fees+a.Margin < 100) {
		return fmt.Errorf("cost: fees of %g %% and a margin of %g %% leave nothing of the price", a.Fees, a.Margin)
	}
	for _, i := range a.Items {
		if i.Star < All || i.Star >= len(a.Stars) || !(i.Amount() >= 0) || math.IsInf(i.Amount(), 0) {
			return fmt.Errorf("cost: %q is %g times %g of star %d", i.What, i.Count, i.Each, i.Star)
		}
	}
	return nil
}

func (t *Total) add(l Line, share float64) {
	switch l.Kind {
	case Labour:
		t.Labour += l.Amount() * share
	case Machine:
		t.Machine += l.Amount() * share
	case Drying:
		t.Drying += l.Amount() * share
	}
	t.Cost += l.Money * share
}

// ask raises the cost to the price.
func (t *Total) ask(a Ask) {
	const percent = 100
	t.Price = t.Cost / (1 - (a.Fees+a.Margin)/percent)
	t.Fees, t.Margin = t.Price*a.Fees/percent, t.Price*a.Margin/percent
}

// drivers finds the three names that cost most.
func (s *Sum) drivers() {
	const most = 3
	var all []Driver
	for _, l := range s.Lines {
		if l.Kind == Drying {
			continue
		}
		i := slices.IndexFunc(all, func(d Driver) bool { return d.What == l.What })
		if i < 0 {
			all, i = append(all, Driver{What: l.What}), len(all)
		}
		all[i].Money += l.Money
		if l.Kind.IsTime() {
			all[i].Minutes += l.Amount()
		}
	}
	for i := range all {
		if s.Order.Cost > 0 {
			all[i].Percent = 100 * all[i].Money / s.Order.Cost
		}
	}
	slices.SortStableFunc(all, func(a, b Driver) int {
		if s.Order.Cost > 0 {
			return cmp.Compare(b.Money, a.Money)
		}
		return cmp.Compare(b.Minutes, a.Minutes)
	})
	s.Drivers = all[:min(most, len(all))]
}
