package shopsheet

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom/route"
	"starwright/geom/words"
	"starwright/post/print"
)

// group is the set-ups that share a page: first and second facet, left and
// right, the first star and the rest of the batch.
type group struct {
	title   string
	setups  []*route.Setup
	several bool // the order has more than one kind of star
}

// shared are the operations that have one page for all stars of the order, with
// the page's name; what is not among them has a page for each star.
var shared = map[route.Kind]string{
	route.CutJigs: "jigs", route.TestFit: "fit", route.Splines: "splines", route.DryFit: "splines",
	route.GlueHalves: "glue", route.TrueHalves: "glue", route.GlueLast: "glue", route.Finish: "finish",
	route.Plates: "jigs", route.Hang: "hang", route.Boards: "boards", route.Segments: "segments", route.Edges: "edges",
}

// own are the operations of one star that stand on one page.
var own = map[route.Kind]string{
	route.Rip: "wood", route.Strips: "wood", route.Laminate: "wood", route.GluePairs: "pairs", route.PairFacet: "pairs",
}

// pageKey is the page that a set-up stands on.
func pageKey(s *route.Setup, several bool) string {
	if k, ok := shared[s.Kind]; ok {
		return k
	}
	k, ok := own[s.Kind]
	if several && (s.Kind == route.Blanks || s.Kind == route.Rip) {
		return string(s.Kind) // one after the other, stop or fence alone is moved
	}
	if !ok {
		k = string(s.Kind)
	}
	return fmt.Sprintf("%s of %d", k, s.Unit)
}

// groups gathers the route's set-ups in the order in which their pages come.
func groups(r *route.Route) []*group {
	var out []*group
	at := map[string]*group{}
	sizes := 0 // from boards
	for i := range r.Setups {
		if r.Setups[i].Kind == route.Blanks {
			sizes++
		}
	}
	several := slices.ContainsFunc(r.Setups, func(s route.Setup) bool { return s.Unit > 0 })
	for i := range r.Setups {
		s := &r.Setups[i]
		name := pageKey(s, sizes > 1)
		g, ok := at[name]
		if !ok {
			g = &group{title: title(s), several: several}
			at[name] = g
			out = append(out, g)
		}
		g.setups = append(g.setups, s)
	}
	return out
}

// titles are what pages are called.
var titles = map[route.Kind]string{
	route.CutJigs: "Jigs to make first", route.Rip: "Rip the boards", route.Strips: "Strips for the blanks",
	route.Laminate: "Glue up the blanks", route.Blanks: "Blanks to length", route.Facet: "Facets",
	route.TestFit: "Test fit: one star, dry", route.Tip: "Tips", route.GluePairs: "The off-cut star: pairs and facets",
	route.Slot: "Slots", route.Splines: "Splines", route.GlueHalves: "Glue-up", route.Finish: "Finishing and checks",
	route.Boards: "Boards to length", route.Segments: "Segments (CNC)", route.Edges: "Tabs off, outer edges clean",
	route.Hang: "The hanging hole", route.Plates: "Back plates", route.Plate: "Screw on the back plate",
}

// places are where a set-up is done.
var places = map[route.Machine]string{
	route.MitreSaw: "mitre saw", route.RouterTable: "router table", route.CNC: "CNC", route.Laser: "laser", route.Hand: "by hand",
}

func title(s *route.Setup) string {
	t := titles[s.Kind]
	if t == "" {
		t = words.Capital(s.Name)
	}
	if before, _, ok := strings.Cut(s.Name, ": "); ok && s.Kind == route.Slot {
		t += ", " + before // it names the star, and whether it is of off-cuts
	} else if s.Star != "" && shared[s.Kind] == "" && s.Kind != route.Blanks && s.Kind != route.Rip {
		t += ", " + s.Star
	}
	if where := places[s.Machine]; where != "" && (s.Cut != nil || s.Slot != nil) {
		t += " (" + where + ")"
	}
	return t
}

// page writes the page of a group.
func (m *maker) page(g *group) {
	f := m.doc.Section(g.title)
	page := m.doc.Pages()
	for _, s := range g.setups {
		s.Page = page
	}
	switch g.setups[0].Kind {
	case route.TestFit, route.Finish: // read at a table
		f.Compact()
	}
	m.numbers(f, g)
	const least = 66.0 // mm for the drawings; where the words leave less they are set smaller
	if f.Left()-wordsOf(g).tall(f)-6.6*float64(rowsOf(g)) < least {
		f.Compact()
	}
	m.views(f, g)
	m.counts(f, g)
	m.words(f, g)
	m.more(f, g)
}

// more is what a page has beside its set-ups: the list of jigs, the table of the
// test fit, the sizes to check at the end.
func (m *maker) more(f *print.Flow, g *group) {
	switch g.setups[0].Kind {
	case route.CutJigs:
		m.jigBuilds(f)
	case route.TestFit:
		m.fitPanels(f, m.Order.Units[g.setups[0].Unit])
		m.fitTables(f, g)
	case route.Finish:
		m.checks(f)
		m.movement(f)
	}
}

// armWords says which way the arm of the saw is swung.
func armWords(g *group) string {
	for _, s := range g.setups {
		if s.Swing != "" && s.Setting != 0 {
			return "swung to the " + string(s.Swing) + ", as you stand before it"
		}
	}
	return ""
}

// jigWords says which jigs a group uses.
func jigWords(g *group) []string {
	var out []string
	for _, s := range g.setups {
		for _, j := range s.Jigs {
			word := j.Title
			if j.Plates > 1 {
				word = fmt.Sprintf("%s, %d plates on each other", word, j.Plates)
				if j.Beside {
					word = fmt.Sprintf("%s, %d of them side by side", j.Title, j.Plates)
				}
			}
			if j.Sets > 1 {
				word = fmt.Sprintf("%d of %s", j.Sets, word)
			}
			if !slices.Contains(out, word) {
				out = append(out, word)
			}
		}
	}
	return out
}

// counts lists the set-ups of the page with a box for each. The first star and
// the rest of the batch, cut in the same way, are one row.
func (m *maker) counts(f *print.Flow, g *group) {
	var rows [][]string
	at := map[string]int{}
	for _, s := range g.setups {
		name := strings.TrimSuffix(strings.TrimSuffix(s.Name, ", the first star"), ", the other stars")
		count := fmt.Sprintf("%d %s", s.Count, counted(s))
		if i, ok := at[name]; ok {
			rows[i][2] = fmt.Sprintf("first %s, then %s", strings.TrimSuffix(rows[i][2], " "+counted(s)), count)
			continue
		}
		at[name] = len(rows)
		rows = append(rows, []string{"", name, count})
	}
	f.SmallTable([]print.Column{{Tick: true}, {Wide: 1}, {Right: true}}, rows)
}

// rowsOf is how many rows the counts of a group take.
func rowsOf(g *group) int {
	names := map[string]bool{}
	for _, s := range g.setups {
		names[strings.TrimSuffix(strings.TrimSuffix(s.Name, ", the first star"), ", the other stars")] = true
	}
	return len(names)
}

// counted is what a set-up counts.
func counted(s *route.Setup) string {
	if s.Of == "" {
		return "pieces"
	}
	return s.Of
}
