package shopsheet

import (
	"fmt"

	"starwright/cmd/internal/costing"
	"starwright/geom/bench/cost"
	"starwright/post/print"
)

// CostSheet returns cost-sheet.pdf: what the order takes, costs and may be sold
// for. It is no page of the bench, so that it can be left out.
func CostSheet(in Input) ([]byte, error) {
	m, err := newMaker(in)
	if err != nil {
		return nil, err
	}
	m.costPage(in.Cost)
	return m.doc.Bytes()
}

func (m *maker) costPage(c *costing.Cost) {
	f := m.doc.Section("Time and cost")
	t := c.Sum.Order
	f.Numbers(print.Number{Name: "Price", Value: c.Money(t.Price)}, print.Number{Name: "Cost", Value: c.Money(t.Cost)})
	facts(f,
		[2]string{"Your time", costing.Minutes(t.Labour)},
		[2]string{"The CNC runs", costing.Minutes(t.Machine)},
		[2]string{"Glue dries", costing.Minutes(t.Drying) + ", while you do something else"},
		[2]string{fmt.Sprintf("Fees, %.4g %% of the price", c.Fees), c.Money(t.Fees)},
		[2]string{fmt.Sprintf("Margin, %.4g %% of the price", c.Margin), c.Money(t.Margin)})
	f.Head("Each star")
	var rows [][]string
	for i, s := range c.Stars {
		n, x := float64(s.Count), c.Sum.Stars[i]
		rows = append(rows, []string{s.Name, fmt.Sprint(s.Count), costing.Minutes(x.Labour / n), c.Money(x.Cost / n), c.Money(x.Price / n), c.Money(x.Price)})
	}
	right := func(head string) print.Column { return print.Column{Head: head, Right: true} }
	f.Table([]print.Column{{Head: "Star", Wide: 1}, right("Stars"), right("Your time"), right("Cost"), right("Price"), right("All of them")}, rows)
	f.Compact()
	f.Head("What drives the price")
	rows = nil
	for _, d := range c.Sum.Drivers {
		rows = append(rows, []string{d.What, c.Money(d.Money), fmt.Sprintf("%.0f %% of the cost", d.Percent)})
	}
	f.Table([]print.Column{{Wide: 1}, {Right: true}, {Right: true}}, rows)
	if len(c.Sum.Missing) > 0 {
		f.Strong("Left out, for want of a price under [cost]: " + c.Without() + ".")
	}
	f.Head("What it is made of")
	f.SmallTable([]print.Column{{Head: "What", Wide: 2}, {Head: "Star", Wide: 1}, right("How often"), right("Each"), right("Money")}, m.costRows(c))
	wood := "The wood is that of the boards which the stock plan takes."
	if !c.Planned {
		wood = "The wood is that of the blanks with their kerfs: there is no stock plan to say what is wasted."
	}
	f.Text(wood + " What all stars share is divided by the number of their segments. Minutes are those of [times] in the shop file, common practice without a source until you give your own; the CNC's are its programs' own estimate. Taxes are not in it.")
}

// costRows lists the items, those of the same name and star as one line.
func (m *maker) costRows(c *costing.Cost) [][]string {
	type key struct {
		what string
		star int
		each float64
	}
	var order []key
	counts, money := map[key]float64{}, map[key]float64{}
	line := map[key]cost.Line{}
	for _, l := range c.Sum.Lines {
		k := key{l.What, l.Star, l.Each}
		if _, ok := line[k]; !ok {
			order, line[k] = append(order, k), l
		}
		counts[k] += l.Count
		money[k] += l.Money
	}
	var rows [][]string
	for _, k := range order {
		star := "all"
		if k.star != cost.All {
			star = c.Stars[k.star].Name
		}
		sum := "no price"
		switch l := line[k]; {
		case l.Kind == cost.Drying:
			sum = ""
		case l.Known:
			sum = c.Money(money[k])
		}
		rows = append(rows, []string{k.what, star, fmt.Sprintf("%.4g", counts[k]), fmt.Sprintf("%.3g %s", k.each, line[k].Unit), sum})
	}
	return rows
}
