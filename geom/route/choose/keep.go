package choose

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/route"
)

// alike puts units with the same setting of a machine behind each other, each
// setting where it first comes.
func alike(units []*unit, setting func(*unit) string) []*unit {
	var settings []string
	for _, u := range units {
		if s := setting(u); !slices.Contains(settings, s) {
			settings = append(settings, s)
		}
	}
	var out []*unit
	for _, s := range settings {
		for _, u := range units {
			if setting(u) == s {
				out = append(out, u)
			}
		}
	}
	return out
}

// facetSetting is what the saw is set to for the facets of a unit.
func facetSetting(u *unit) string {
	a := u.Segment.CenterMiter()
	switch u.facets.way {
	case route.OnBlock:
		return fmt.Sprintf("block %s, saw %s, %v", deg(u.facets.block.angle), deg(u.facets.block.setting), u.facets.mirror)
	case route.OnEdge:
		a = 90*geom.Degree - u.Segment.Center/2 - u.Segment.Tip/2
	case route.Cradled, route.ByHand:
		return string(u.facets.way)
	}
	return fmt.Sprintf("saw %s, %v", deg(a), u.facets.mirror)
}

// tipSetting is what it is set to for the tips.
func tipSetting(u *unit) string {
	if u.tips.way != route.OnFacet {
		return string(u.tips.way)
	}
	return fmt.Sprintf("saw %s, %v", deg(90*geom.Degree-u.Segment.Center/2-u.Segment.Tip/2), u.tips.mirror)
}

// keep writes into the set-ups what the one before on the same machine leaves as
// it is. A blank that is cut square leaves the saw square for what follows.
func keep(setups []route.Setup) {
	last := map[route.Machine]string{}
	for i := range setups {
		s := &setups[i]
		if s.Machine == route.Hand || s.Machine == route.Laser {
			continue
		}
		now := Setting(s)
		if now == last[s.Machine] {
			s.Keeps = now
		}
		last[s.Machine] = now
	}
}

// Setting says in words what a machine is set to in a set-up, its stops and the
// jigs that hold the work aside.
func Setting(s *route.Setup) string {
	var parts []string
	for _, r := range s.Readings {
		switch r.Name {
		case route.ReadSaw, route.ReadBlock, route.ReadBit, route.ReadBitHeight, route.ReadFence:
			parts = append(parts, r.Name+" "+r.Printed)
		}
	}
	if s.Machine == route.MitreSaw {
		if s.Swing != "" && s.Setting != 0 {
			parts = append(parts, "swung to the "+string(s.Swing))
		}
		return strings.Join(parts, ", ")
	}
	for _, j := range s.Jigs { // on a table or under a spindle the jig is the set-up
		if s.Slot != nil {
			parts = append(parts, j.Title)
		}
	}
	if s.Slot == nil {
		parts = append(parts, map[route.Kind]string{route.CutJigs: "sheet for jigs", route.Splines: "sheet for splines", route.Segments: "boards for segments"}[s.Kind])
	}
	return strings.Join(parts, ", ")
}
