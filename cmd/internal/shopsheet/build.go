package shopsheet

import (
	"slices"

	"starwright/geom/route"
)

// Build returns shop-sheet.pdf: the whole order in the order of the work. The route
// that it is given stays as it is: other papers are made from it meanwhile.
func Build(in Input) ([]byte, error) {
	r := *in.Route
	r.Setups = slices.Clone(r.Setups)
	in.Route = &r
	if !laid(in) { // the pages of the jigs name those that use them
		if err := Lay(in); err != nil {
			return nil, err
		}
	}
	m, err := newMaker(in)
	if err != nil {
		return nil, err
	}
	m.pages()
	return m.doc.Bytes()
}

// Lay finds out on which page each set-up stands and writes it into the route.
func Lay(in Input) error {
	m, err := newMaker(in)
	if err != nil {
		return err
	}
	m.pages()
	return nil
}

// laid reports whether the set-ups know their pages.
func laid(in Input) bool {
	for i := range in.Route.Setups {
		if in.Route.Setups[i].Page == 0 {
			return false
		}
	}
	return true
}

// pages writes all sections: what is made, safety, wood, then each set-up in the
// order of the route, and last what only the operator of a machine needs.
func (m *maker) pages() {
	m.glance()
	m.cautions()
	wood := m.cutList()
	m.stockPlan(wood)
	m.rackPlan(wood)
	m.flatPlan(wood)
	m.settings()
	for _, g := range groups(m.Route) {
		m.page(g)
	}
	if m.shopHas(route.CNC) {
		m.files()
	}
	if m.shopHas(route.Laser) {
		m.ticketPage()
	}
}
