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

// small are readings that are no setting: they stand among the facts.
var small = []string{route.ReadBlock, route.ReadReach, route.ReadBit, route.ReadTall, route.ReadLong, route.ReadThick}

// ofSlot are the readings of a slot under a spindle, which stand in one line.
var ofSlot = []string{route.ReadSlotStart, route.ReadSlotEnd, route.ReadSlotDepth, route.ReadFromFace}

// slotWords says where a slot lies, in one line.
func slotWords(all []value) string {
	at := map[string]string{}
	for _, v := range all {
		if slices.Contains(ofSlot, v.Name) && at[v.Name] == "" {
			at[v.Name] = v.Printed
		}
	}
	if len(at) == 0 {
		return ""
	}
	return fmt.Sprintf("from %s to %s from the star's centre, %s deep, its middle %s from the show face",
		at[route.ReadSlotStart], at[route.ReadSlotEnd], at[route.ReadSlotDepth], at[route.ReadFromFace])
}

// names are what readings are called on the page.
var names = map[string]string{
	route.ReadSaw: "Saw, from square", route.ReadStop: "Stop", route.ReadNose: "Nose to line of cut", route.ReadBlock: "Angle block",
	route.ReadReach: "Your saw must reach", route.ReadLength: "Length", route.ReadWidth: "Width", route.ReadThick: "Thickness",
	route.ReadShim: "Shim", route.ReadShimAt: "Shim from line of cut", route.ReadBit: "Bit", route.ReadBitHeight: "Bit height",
	route.ReadFence: "Fence to bit's middle", route.ReadTall: "Fence at least this high", route.ReadLong: "Fence at least this long", route.ReadStopStart: "Start stop to bit's middle",
	route.ReadStopEnd: "End stop to bit's middle", route.ReadAngle: "Angle between the faces", route.ReadAlong: "Along the edge", route.ReadAcross: "Across the end",
	route.ReadAxis: "Along the middle line", route.ReadScrew: "Screws no longer than", route.ReadHole: "Hole",
}

// value is a reading with the set-ups that have it.
type value struct {
	route.Reading
	of []*route.Setup
}

// values gathers the readings of a group, each value of a name once.
func values(g *group) []value {
	var out []value
	for _, s := range g.setups {
		for _, r := range s.Readings {
			i := slices.IndexFunc(out, func(v value) bool { return v.Name == r.Name && v.Printed == r.Printed })
			if i < 0 {
				out = append(out, value{Reading: r})
				i = len(out) - 1
			}
			out[i].of = append(out[i].of, s)
		}
	}
	return out
}

// named says what a value is, and of which set-up where the group has several of
// the name.
func named(v value, all []value) string {
	name := names[v.Name]
	if name == "" {
		name = words.Capital(v.Name)
	}
	n := 0
	for _, w := range all {
		if w.Name == v.Name {
			n++
		}
	}
	if n > 1 && v.of[0].Kind != route.Boards {
		var of []string
		for _, s := range v.of {
			if w := apart(s, all); !slices.Contains(of, w) {
				of = append(of, w)
			}
		}
		name += ", " + words.List(of...)
	}
	return name
}

// apart tells the set-up of a value from those of the others of its name: by its
// star where they are of several, else by what it does.
func apart(s *route.Setup, all []value) string {
	for _, w := range all {
		if w.of[0].Unit != s.Unit {
			return starOf(s)
		}
	}
	return short(s)
}

// starOf is the star of a set-up among others, in words.
func starOf(s *route.Setup) string {
	if before, _, ok := strings.Cut(s.Name, ": "); ok {
		return before
	}
	return "main star"
}

// short tells a set-up from the others of its page.
func short(s *route.Setup) string {
	if s.Slot != nil {
		return string(s.Slot.Hand)
	}
	name := s.Name
	if _, after, ok := strings.Cut(name, ": "); ok {
		name = after
	}
	if _, after, ok := strings.Cut(name, ", "); ok {
		name = strings.TrimSuffix(after, ", the first star")
	}
	return name
}

// numbers writes what is set, large, and the rest as facts.
func (m *maker) numbers(f *print.Flow, g *group) {
	all := values(g)
	var big []print.Number
	var rows [][2]string
	for _, v := range all {
		if v.Set && !slices.Contains(small, v.Name) {
			big = append(big, print.Number{Name: named(v, all), Value: v.Printed})
			continue
		}
		if !slices.Contains(ofSlot, v.Name) && !inWords(g, v.Printed) {
			rows = addFact(rows, v, all)
		}
	}
	const most = 8 // large numbers on a page
	if len(big) > most {
		for _, b := range big {
			rows = append(rows, [2]string{b.Name, b.Value})
		}
		big = nil
	}
	f.Numbers(big...)
	if w := slotWords(all); w != "" {
		rows = append(rows, [2]string{"Slot", w})
	}
	for _, s := range g.setups {
		for _, r := range m.programFacts(s) {
			if !slices.Contains(rows, r) {
				rows = append(rows, r)
			}
		}
	}
	if k := g.setups[0].Keeps; k != "" && g.setups[0].Kind != route.CutJigs {
		rows = append(rows, [2]string{"Stays as it was", k + "; only stops and jigs change"})
	}
	if g.setups[0].Kind != route.CutJigs {
		rows = append(rows, [2]string{"Jig", strings.Join(jigWords(g), "; ")})
	}
	for _, s := range g.setups {
		if x := m.stripsFor(s); x.Glued() && s.Kind == route.Laminate {
			rows = append(rows, [2]string{"Glue" + strings.TrimSuffix(", "+s.Star, ", "), m.glueWords(x)})
		}
	}
	if a := armWords(g); a != "" {
		rows = append(rows, [2]string{"Arm of the saw", a})
	}
	for _, s := range g.setups {
		if s.Support != "" {
			rows = append(rows, [2]string{"Support", s.Support})
			break
		}
	}
	facts(f, rows...)
}

// addFact adds a value to the facts; those of one name that differ by their
// set-up stand in one row.
func addFact(rows [][2]string, v value, all []value) [][2]string {
	name, full := names[v.Name], named(v, all)
	if name == "" {
		name = words.Capital(v.Name)
	}
	of, several := strings.CutPrefix(full, name+", ")
	if n := len(rows); v.Name == route.ReadLong && n > 0 && rows[n-1][0] == names[route.ReadTall] {
		rows[n-1] = [2]string{"Fence at least", rows[n-1][1] + " high, " + v.Printed + " long"}
		return rows
	}
	if !several {
		return append(rows, [2]string{full, v.Printed})
	}
	if n := len(rows); n > 0 && rows[n-1][0] == name {
		rows[n-1][1] += "; " + v.Printed + " for the " + of
		return rows
	}
	return append(rows, [2]string{name, v.Printed + " for the " + of})
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

// inWords reports whether what is looked at afterwards says a number already.
func inWords(g *group, printed string) bool {
	for _, m := range wordsOf(g).measure {
		if strings.Contains(m, printed) {
			return true
		}
	}
	return false
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
