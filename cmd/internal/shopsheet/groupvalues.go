package shopsheet

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom/route"
	"starwright/geom/words"
	"starwright/post/print"
)

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

// inWords reports whether what is looked at afterwards says a number already.
func inWords(g *group, printed string) bool {
	for _, m := range wordsOf(g).measure {
		if strings.Contains(m, printed) {
			return true
		}
	}
	return false
}
