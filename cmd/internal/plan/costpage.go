package plan

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/costing"
	"starwright/geom/bench/cost"
	"starwright/geom/words"
)

// cost says what the job takes, and where the shop gives prices what it costs.
func (p *page) cost(c *costing.Cost, all bool) {
	if c == nil {
		return
	}
	t := c.Sum.Order
	if c.Currency == "" && !all {
		p.add("your time in all", costing.Minutes(t.Labour), fmt.Sprintf("CNC %s, drying %s", costing.Minutes(t.Machine), costing.Minutes(t.Drying)))
		return
	}
	p.group("Time and cost")
	p.add("your time", costing.Minutes(t.Labour), "by the minutes of [times], which are common practice until you give your own")
	if t.Machine > 0 {
		p.add("the CNC runs", costing.Minutes(t.Machine), "by the programs' own estimate")
	}
	p.add("glue dries", costing.Minutes(t.Drying), "in all, while you do something else")
	if c.Currency == "" {
		p.line("No money: [cost] in the shop file names a currency and prices.")
	} else {
		p.money(c)
	}
	var drivers []string
	for _, d := range c.Sum.Drivers {
		if t.Cost > 0 {
			drivers = append(drivers, fmt.Sprintf("%s %.0f %%", d.What, d.Percent))
		} else {
			drivers = append(drivers, fmt.Sprintf("%s %s", d.What, costing.Minutes(d.Minutes)))
		}
	}
	p.line("What drives it: " + strings.Join(drivers, ", ") + ".")
	if !all {
		return
	}
	for _, l := range c.Sum.Lines {
		about := fmt.Sprintf("%.4g x %.4g %s", l.Count, l.Each, l.Unit)
		if l.Star != cost.All {
			about += ", " + c.Stars[l.Star].Name
		}
		value := ""
		if c.Currency != "" && l.Known && l.Kind != cost.Drying {
			value = c.Money(l.Money)
		}
		p.add(l.What, value, about)
	}
}

// money says the cost and the price of the order and of each star.
func (p *page) money(c *costing.Cost) {
	t := c.Sum.Order
	wood := "with the wood of the stock plan"
	if !c.Planned {
		wood = "with the wood of the blanks and their kerfs; [stock] boards would plan it"
	}
	p.add("cost", c.Money(t.Cost), wood)
	p.add("price", c.Money(t.Price), fmt.Sprintf("with %.4g %% fees and %.4g %% margin in it", c.Fees, c.Margin))
	for i, s := range c.Stars {
		n := float64(s.Count)
		p.add(s.Name+", each", c.Money(c.Sum.Stars[i].Price/n), fmt.Sprintf("cost %s; %s made", c.Money(c.Sum.Stars[i].Cost/n), words.Count(s.Count, "star", "stars")))
	}
	if len(c.Sum.Missing) > 0 {
		p.line("Left out, for want of a price under [cost]: " + c.Without() + ".")
	}
}
