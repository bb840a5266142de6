package tryout

import "starwright/geom/route"

// jigs looks whether every jig that a set-up uses is in the packet and was cut
// before.
func (b *bench) jigs(s *route.Setup) {
	if s.Kind == route.CutJigs {
		for _, j := range s.Jigs {
			b.made[j.Path] += j.Plates
			if j.Base != "" {
				b.made[j.Base]++
			}
		}
		return
	}
	used := map[string]int{}
	for _, j := range s.Jigs {
		if j.Path == "" { // the maker has it
			continue
		}
		used[j.Path] += max(1, j.Plates)
		for _, below := range []string{j.Base, j.Bed} {
			if below != "" {
				used[below]++
			}
		}
	}
	for path, n := range used {
		if _, ok := b.want.Plates[path]; !ok {
			b.fault("jigs", s.Name, "the packet has no jig %s", path)
		} else if b.made[path] < n {
			b.fault("jigs", s.Name, "it takes %d of %s, and %d have been cut", n, path, b.made[path])
		}
	}
	for _, t := range s.Touches {
		if t.Jig != "" && used[t.Jig] == 0 {
			b.fault("jigs", s.Name, "the work lies in %s, which is not among its jigs", t.Jig)
		}
	}
}
