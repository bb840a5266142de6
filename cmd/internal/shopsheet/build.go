package shopsheet

// Build returns shop-sheet.pdf: the whole job in the order of the work.
func Build(in Input) ([]byte, error) {
	m, err := newMaker(in)
	if err != nil {
		return nil, err
	}
	m.pages()
	return m.doc.Bytes()
}

// pages writes all sections.
func (m *maker) pages() {
	for _, u := range m.Order.FromBoards() {
		m.turnTo(u)
		m.glance()
		m.cutList()
		m.stripsPage()
		m.stockPages()
		m.saws()
		m.slots()
		m.splines()
		m.testFit()
		m.glueUp()
		m.woodPage()
		m.finish()
	}
	m.cautions()
	m.files()
	m.feedsPage()
	m.ticketPage()
}
