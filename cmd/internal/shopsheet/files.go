package shopsheet

import (
	"fmt"
	"slices"

	"starwright/geom/route"
	"starwright/post/print"
)

// files is the page for the operator of the CNC: its programs and their feeds, and
// how the sheets are held. The drawings stand on the operator's ticket.
func (m *maker) files() {
	if len(m.Programs) == 0 {
		return
	}
	f := m.doc.Section("For the operator of the CNC")
	f.Compact()
	f.Head("Programs")
	var rows [][]string
	for _, p := range m.Programs {
		rows = append(rows, []string{"", p.Path, p.Brief, fmt.Sprint(p.Quantity), fmt.Sprintf("%.1f", p.Minutes)})
	}
	f.SmallTable([]print.Column{{Tick: true}, {Head: "File"}, {Head: "What it does", Wide: 1}, {Head: "Runs", Right: true}, {Head: "min each", Right: true}}, rows)
	m.feeds(f)
	m.sheetSetups(f)
}

// shopHas reports whether the shop has a machine; hand work it always has.
func (m *maker) shopHas(k route.Machine) bool {
	return slices.Contains(m.Shop, string(k))
}
