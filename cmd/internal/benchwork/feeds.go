package benchwork

import (
	"fmt"

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

// feeds judges the cutters in the star's wood and in sheet goods, in a shop that
// has a machine that cuts with it.
func (w *Work) feeds(j *job.Job, u *star.Unit, cutter float64) problem.List {
	if !j.Shop.With(job.CNC) {
		return nil
	}
	var problems problem.List
	add := func(what string, c job.CutterTable, diameter float64, m feeds.Material, depth float64) {
		k := feeds.Cut{Diameter: diameter, Flutes: c.Flutes, RPM: c.SpindleRPM, FeedMMMin: c.Feed,
			PlungeMMMin: c.PlungeFeed, Depth: min(c.DepthPerPass, depth), Unit: j.Units, Material: m}
		r, err := feeds.Judge(k)
		if err != nil {
			problems = append(problems, asProblems(err, func(p problem.Problem) string { return "cutter." + p.Key })...)
			return
		}
		w.Feeds = append(w.Feeds, Feed{what, m, k, r})
	}
	if s := u.Slot; s != nil {
		add("slots", j.Cutter, cutter, feeds.MaterialOf(j.Wood.Species), s.Depth)
	}
	if j.Jigs.Make == nil || len(j.Jigs.Make) > 0 || u.Spline != nil {
		add("sheets", j.Sheets, *j.Sheets.Diameter, feeds.Plywood, j.Sheet.Thickness+j.Sheet.Breakthrough)
	}
	if j.Segments.CNC {
		add("segments", j.Segments.Cutter, *j.Segments.Cutter.Diameter, feeds.MaterialOf(j.Wood.Species), u.Thickness()+j.Sheet.Breakthrough)
	}
	w.warnFeeds(j)
	return problems
}

// warnFeeds warns of each setting once, of the cut that is furthest from what is
// common. What the maker did not set is not blamed, but what forced it.
func (w *Work) warnFeeds(j *job.Job) {
	worst := map[string]feeds.Warning{}
	off := map[string]float64{}
	var order []string
	for _, f := range w.Feeds {
		for _, x := range f.Result.Warnings {
			by := 1.0
			if x.Setting == "feed" {
				by = max(f.Result.Common.Low/f.Result.ChipLoad, f.Result.ChipLoad/f.Result.Common.High)
			}
			if off[x.Setting] == 0 {
				order = append(order, x.Setting)
			}
			if by > off[x.Setting] {
				worst[x.Setting], off[x.Setting] = x, by
			}
		}
	}
	forced := map[string][]string{
		"feed":        {"cutter.feed", "cutter.spindle_rpm", "machine.max_feed", "machine.spindle_min", "cutter.depth_per_pass"},
		"spindle_rpm": {"cutter.spindle_rpm", "machine.spindle_min"},
		"plunge_feed": {"cutter.plunge_feed"}, "depth_per_pass": {"cutter.depth_per_pass"},
	}
	value := map[string]string{
		"cutter.feed": j.Units.FormatFeed(j.Cutter.Feed), "cutter.plunge_feed": j.Units.FormatFeed(j.Cutter.PlungeFeed),
		"cutter.depth_per_pass": j.Units.FormatSize(j.Cutter.DepthPerPass), "cutter.spindle_rpm": fmt.Sprintf("%.0f", j.Cutter.SpindleRPM),
	}
	if m := j.Machine; m.MaxFeed != nil {
		value["machine.max_feed"] = j.Units.FormatFeed(*m.MaxFeed)
	}
	if m := j.Machine; m.SpindleMin != nil {
		value["machine.spindle_min"] = fmt.Sprintf("%.0f", *m.SpindleMin)
	}
	for _, setting := range order {
		for _, key := range forced[setting] {
			if j.At(key) > 0 {
				w.warn(key, value[key], worst[setting].String())
				break
			}
		}
	}
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
			d.Warnings = append(d.Warnings, x.Setting+": "+x.String())
		}
		out = append(out, d)
	}
	return out
}
