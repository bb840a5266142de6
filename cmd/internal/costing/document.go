package costing

import (
	"starwright/geom/bench/cost"
)

// Document is `cost` of `plan --json`. Money is in the shop's currency and not
// rounded; without a currency all of it is left out.
type Document struct {
	Currency string           `json:"currency"`
	Planned  bool             `json:"wood_from_plan"` // else from the blanks and their kerfs alone
	Lines    []LineDocument   `json:"lines"`
	Stars    []StarDocument   `json:"stars"`
	Order    TotalDocument    `json:"order"`
	Fees     float64          `json:"fees_percent"`
	Margin   float64          `json:"margin_percent"`
	Missing  []string         `json:"without_price"`
	Drivers  []DriverDocument `json:"drivers"`
}

// LineDocument is one item: amount = count * each, of one star or shared by all.
type LineDocument struct {
	What  string  `json:"what"`
	Kind  string  `json:"kind"`
	Star  string  `json:"star"` // "" for what all share
	Count float64 `json:"count"`
	Each  float64 `json:"each"`
	Unit  string  `json:"unit"`
	Price float64 `json:"price,omitempty"` // of an hour, or of one unit
	Money float64 `json:"money,omitempty"`
}

// TotalDocument is what an order or all stars of a kind come to.
type TotalDocument struct {
	Labour  float64 `json:"labour_minutes"`
	Machine float64 `json:"machine_minutes"`
	Drying  float64 `json:"drying_minutes"`
	Cost    float64 `json:"cost,omitempty"`
	Fees    float64 `json:"fees,omitempty"`
	Margin  float64 `json:"margin,omitempty"`
	Price   float64 `json:"price,omitempty"`
}

// StarDocument is one kind of star: all of them, and one.
type StarDocument struct {
	Star   string  `json:"star"`
	Count  int     `json:"count"`
	Weight float64 `json:"weight"` // its part in what all share
	TotalDocument
	CostEach  float64 `json:"cost_each,omitempty"`
	PriceEach float64 `json:"price_each,omitempty"`
}

// DriverDocument is one of the three things that make the price.
type DriverDocument struct {
	What    string  `json:"what"`
	Money   float64 `json:"money,omitempty"`
	Percent float64 `json:"percent,omitempty"`
	Minutes float64 `json:"minutes"`
}

func total(t cost.Total) TotalDocument {
	return TotalDocument{t.Labour, t.Machine, t.Drying, t.Cost, t.Fees, t.Margin, t.Price}
}

// Document returns what `plan --json` prints.
func (c *Cost) Document() *Document {
	d := &Document{Currency: c.Currency, Planned: c.Planned, Fees: c.Fees, Margin: c.Margin, Order: total(c.Sum.Order),
		Lines: []LineDocument{}, Stars: []StarDocument{}, Missing: []string{}, Drivers: []DriverDocument{}}
	for _, l := range c.Sum.Lines {
		name := ""
		if l.Star != cost.All {
			name = c.Stars[l.Star].Name
		}
		d.Lines = append(d.Lines, LineDocument{l.What, string(l.Kind), name, l.Count, l.Each, l.Unit, c.Prices[l.Kind], l.Money})
	}
	for i, s := range c.Stars {
		t := c.Sum.Stars[i]
		n := float64(s.Count)
		d.Stars = append(d.Stars, StarDocument{s.Name, s.Count, s.Weight, total(t), t.Cost / n, t.Price / n})
	}
	if c.Currency != "" {
		for _, k := range c.Sum.Missing {
			d.Missing = append(d.Missing, string(k))
		}
	}
	for _, x := range c.Sum.Drivers {
		d.Drivers = append(d.Drivers, DriverDocument(x))
	}
	return d
}
