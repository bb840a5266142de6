package job

import (
	"fmt"
	"slices"

	"starwright/geom"
	"starwright/geom/bench/feeds"
	"starwright/geom/problem"
)

// cuttingKeys are the settings of the cutter that are chosen to suit each other
// where the job leaves them open.
var cuttingKeys = []string{"cutter.depth_per_pass", "cutter.feed", "cutter.plunge_feed", "cutter.spindle_rpm"}

// usualFlutes is how many edges a straight bit has. Common practice, no source.
const usualFlutes = 2

// supposed is the cutter that settings are chosen for until the star's model has
// picked one, mm.
func (j *Job) supposed() float64 {
	if d := j.Cutter.Diameter; d != nil {
		return *d
	}
	return geom.MMPerInch / 4
}

// withSettings returns a cutter of some diameter (mm) with the settings that the job
// leaves open chosen so that it takes a common chip in all that it cuts, on this
// machine.
func (j *Job) withSettings(c CutterTable, diameter float64, in ...feeds.Material) CutterTable {
	m := j.Machine
	ask := feeds.Ask{Diameter: diameter, Flutes: c.Flutes, Unit: j.Units, Materials: in}
	for _, v := range []struct {
		key string
		dst *float64
		set float64
	}{{"cutter.depth_per_pass", &ask.Depth, c.DepthPerPass}, {"cutter.feed", &ask.FeedMMMin, c.Feed},
		{"cutter.plunge_feed", &ask.PlungeMMMin, c.PlungeFeed}, {"cutter.spindle_rpm", &ask.RPM, c.SpindleRPM}} {
		if j.At(v.key) > 0 { // 0 where it had to be reported
			*v.dst = v.set
		}
	}
	for _, v := range []struct {
		dst   *float64
		given *float64
	}{{&ask.CutLength, c.CutLength}, {&ask.RPMMin, m.SpindleMin}, {&ask.RPMMax, m.SpindleMax}, {&ask.FeedMax, m.MaxFeed}} {
		if v.given != nil {
			*v.dst = *v.given
		}
	}
	s := feeds.Choose(ask)
	c.DepthPerPass, c.Feed, c.PlungeFeed, c.SpindleRPM = s.Depth, s.FeedMMMin, s.PlungeMMMin, s.RPM
	return c
}

// settleCutting chooses the settings of the slots' cutter that the job leaves open; it
// may cut the sheets too. It may be called again when another cutter was picked.
func (j *Job) settleCutting(diameter float64) {
	j.Cutter = j.withSettings(j.Cutter, diameter, feeds.MaterialOf(j.Wood.Species), feeds.Plywood)
	c, u := j.Cutter, j.Units
	j.Defaults = slices.DeleteFunc(j.Defaults, func(n problem.Note) bool { return slices.Contains(cuttingKeys, n.Key) })
	bit := u.FormatSize(diameter)
	for _, n := range []problem.Note{
		{Key: "cutter.depth_per_pass", Value: u.FormatExact(c.DepthPerPass), Why: "what a " + bit + " bit takes on a small machine"},
		{Key: "cutter.feed", Value: u.FormatFeedExact(c.Feed), Why: "a common chip for the bit at this speed, in this wood and in plywood"},
		{Key: "cutter.plunge_feed", Value: u.FormatFeedExact(c.PlungeFeed), Why: "a quarter of the feed"},
		{Key: "cutter.spindle_rpm", Value: fmt.Sprintf("%.0f", c.SpindleRPM), Why: "usual for a " + bit + " bit, and what the machine turns"},
	} {
		if j.At(n.Key) == 0 {
			j.Defaults = append(j.Defaults, n)
		}
	}
}

// cuttingErrors says where what the job sets goes against what the cutter and the
// machine do.
func (j *Job) cuttingErrors() (out []Error) {
	c, m, u := j.Cutter, j.Machine, j.Units
	say := func(key, got, why, would string) {
		out = append(out, j.Error(problem.Problem{Key: "cutter." + key, Got: got, Why: why, Would: would}))
	}
	if f := m.MaxFeed; f != nil && c.Feed > *f+*f*rounding {
		say("feed", u.FormatFeed(c.Feed), "the machine feeds no faster than "+u.FormatFeed(*f), "feed = "+quote(u.FormatFeed(*f)))
	} else if c.PlungeFeed > c.Feed {
		say("plunge_feed", u.FormatFeed(c.PlungeFeed), "the cutter would go down faster than it goes along, at "+u.FormatFeed(c.Feed),
			"plunge_feed = "+quote(u.FormatFeed(c.Feed/4)))
	}
	if l := c.CutLength; l != nil && c.DepthPerPass > *l {
		say("depth_per_pass", u.Format(c.DepthPerPass), "the cutter cuts no deeper than its cut_length, "+u.FormatSize(*l),
			"depth_per_pass = "+quote(u.FormatFloor(*l/2)))
	}
	return out
}
