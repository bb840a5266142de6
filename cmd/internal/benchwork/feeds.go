package benchwork

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/job"
	"starwright/geom/bench/feeds"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// Feed is one material under the job's cutter.
type Feed struct {
	For      string // what is cut: the slots, the sheets
	Material feeds.Material
	Cut      feeds.Cut
	Result   feeds.Result
}

// feeds judges the cutter in the star's wood and in sheet goods.
func (w *Work) feeds(j *job.Job, u *star.Unit, cutter float64) problem.List {
	c := feeds.Cut{Diameter: cutter, Flutes: j.Cutter.Flutes, RPM: j.Cutter.SpindleRPM, FeedMMMin: j.Cutter.Feed,
		PlungeMMMin: j.Cutter.PlungeFeed, Depth: j.Cutter.DepthPerPass, Unit: j.Units}
	var problems problem.List
	add := func(what string, m feeds.Material, depth float64) {
		k := c
		k.Material = m
		k.Depth = min(k.Depth, depth)
		r, err := feeds.Judge(k)
		if err != nil {
			problems = append(problems, asProblems(err, func(p problem.Problem) string { return "cutter." + p.Key })...)
			return
		}
		w.Feeds = append(w.Feeds, Feed{what, m, k, r})
		for _, x := range r.Warnings {
			why := x.What
			if x.Would != "" {
				why += "; what would do: " + x.Would
			}
			w.warn("cutter."+x.Setting, what, why)
		}
	}
	if s := u.Slot; s != nil {
		add("slots", materialOf(j.Wood.Species), s.Depth)
	}
	add("sheets", feeds.Plywood, j.Sheet.Thickness+j.Sheet.Breakthrough)
	return problems
}

// materialOf tells softwoods by their trade names; a wood that is not named
// counts as softwood, of which most stars are made.
func materialOf(species string) feeds.Material {
	s := strings.ToLower(species)
	if s == "" {
		return feeds.Softwood
	}
	for _, w := range []string{"cedar", "pine", "fir", "spruce", "hemlock", "larch", "redwood", "cypress", "tamarack", "juniper", "yew"} {
		if strings.Contains(s, w) {
			return feeds.Softwood
		}
	}
	return feeds.Hardwood
}

// FeedDocument is one of `feeds` of `plan --json`.
type FeedDocument struct {
	For      string   `json:"for"`
	Material string   `json:"material"`
	ChipLoad float64  `json:"chip_load_mm"`
	Low      float64  `json:"common_low_mm"`
	High     float64  `json:"common_high_mm"`
	Surface  float64  `json:"surface_speed_m_s"`
	Removal  float64  `json:"removal_cm3_min"`
	Warnings []string `json:"warnings"`
}

// FeedDocuments returns what `plan --json` prints.
func (w *Work) FeedDocuments() []FeedDocument {
	out := []FeedDocument{}
	for _, f := range w.Feeds {
		d := FeedDocument{f.For, f.Material.String(), f.Result.ChipLoad, f.Result.Common.Low, f.Result.Common.High,
			f.Result.SurfaceMS, f.Result.RemovalCM3Min, []string{}}
		for _, x := range f.Result.Warnings {
			d.Warnings = append(d.Warnings, fmt.Sprintf("%s: %s; would do: %s", x.Setting, x.What, x.Would))
		}
		out = append(out, d)
	}
	return out
}
