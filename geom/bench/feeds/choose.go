package feeds

import (
	"math"
	"strings"

	"starwright/geom"
)

// Ask is a cutter whose settings are open, wholly or in part. What is 0 is open
// or not known.
type Ask struct {
	Diameter  float64
	Flutes    int
	CutLength float64
	Materials []Material // all that is cut with one setting
	Unit      geom.Unit  // in whose neat steps the settings are chosen

	RPM, FeedMMMin, PlungeMMMin, Depth float64 // as the maker set them

	RPMMin, RPMMax, FeedMax float64 // of the machine
}

// Settings are a cutter's settings, none of them open.
type Settings struct{ RPM, FeedMMMin, PlungeMMMin, Depth float64 }

// Choices, all common practice without a source.
const (
	maxRouterRPM = 24000.0
	usualDepthMM = 3.0 // a pass, light enough for a small machine
	usualDepthIn = 1.0 / 8
	usualPlunge  = 0.25 // of the feed
	aim          = 1.1  // times the least common chip load: a small machine does no more
	thin, thick  = 5.0, 10.0
)

// usualRPM is how fast a router turns a cutter: thin ones need the speed, thick
// ones the force that a router has only where it turns slowly.
func usualRPM(diameter float64) float64 {
	switch {
	case diameter < thin:
		return 18000
	case diameter < thick:
		return 12000
	}
	return minRouterRPM
}

// Choose fills the settings that are open so that [Judge] finds them common in
// every material, as far as the machine and what the maker set let it.
func Choose(a Ask) Settings {
	s := Settings{a.RPM, a.FeedMMMin, a.PlungeMMMin, a.Depth}
	if s.Depth == 0 {
		s.Depth = a.depth()
	}
	lo, hi := math.Max(a.RPMMin, minRouterRPM), maxRouterRPM
	if a.RPMMax > 0 {
		hi = a.RPMMax
	}
	lo = math.Min(lo, hi)
	turn := func(rpm float64) float64 { return math.Min(math.Max(rpm, math.Ceil(lo)), math.Floor(hi)) }
	low, high := a.chips(s.Depth)
	edges := float64(a.Flutes)
	chip := math.Min(low*aim, high) * edges
	turns := turn(usualRPM(a.Diameter))
	fits := func(feed float64) bool { return feed >= low*edges*turns && feed <= high*edges*turns }
	switch feed := s.FeedMMMin; {
	case s.RPM > 0:
	case feed > 0 && !fits(feed):
		s.RPM = turn(math.Floor(feed/chip/100) * 100)
	case feed == 0 && a.FeedMax > 0 && a.FeedMax < low*edges*turns:
		s.RPM = turn(math.Floor(a.FeedMax/chip/100) * 100)
	default:
		s.RPM = turns
	}
	if s.FeedMMMin == 0 {
		step := a.step(50, 2)
		s.FeedMMMin = math.Ceil(s.RPM*chip/step) * step
		if a.FeedMax > 0 && s.FeedMMMin > a.FeedMax {
			s.FeedMMMin = a.FeedMax
		}
	}
	if s.PlungeMMMin == 0 {
		step := a.step(10, 1)
		s.PlungeMMMin = math.Max(math.Floor(s.FeedMMMin*usualPlunge/step)*step, math.Min(step, s.FeedMMMin*usualPlunge))
	}
	return s
}

// chips is the range of chip load that is common in every material.
func (a Ask) chips(depth float64) (low, high float64) {
	high = math.Inf(1)
	for _, m := range a.Materials {
		r := CommonRange(a.Diameter, depth, m)
		low, high = math.Max(low, r.Low), math.Min(high, r.High)
	}
	return low, high
}

// depth is the depth of a pass that suits every material, in neat steps.
func (a Ask) depth() float64 {
	most := a.step(usualDepthMM, usualDepthIn)
	for _, m := range a.Materials {
		most = math.Min(most, m.deepest()*a.Diameter)
	}
	if a.CutLength > 0 {
		most = math.Min(most, a.CutLength)
	}
	if neat := a.Unit.Floor(most); neat > 0 {
		return neat
	}
	step := a.step(fineMM, fineIn)
	return math.Floor(most/step) * step
}

func (a Ask) step(mm, inch float64) float64 { return Cut{Unit: a.Unit}.step(mm, inch) }

// deepest is the most that a pass takes, in diameters.
func (m Material) deepest() float64 {
	if m == Hardwood {
		return hardwoodDepth
	}
	return otherDepth
}

// MaterialOf tells softwoods by their trade names; a wood that is not named
// counts as softwood, of which most stars are made.
func MaterialOf(species string) Material {
	s := strings.ToLower(species)
	if s == "" {
		return Softwood
	}
	for _, w := range []string{"cedar", "pine", "fir", "spruce", "hemlock", "larch", "redwood", "cypress", "tamarack", "juniper", "yew"} {
		if strings.Contains(s, w) {
			return Softwood
		}
	}
	return Hardwood
}
