// Package feeds judges the settings of a router cutter in wood: chip load, speed
// of the edge, wood removed.
//
// No standard gives chip loads for wood. The ranges here are common practice:
// tool sellers' charts disagree by a factor of two and are made for full-size
// machines. The package takes the lowest published range and lets a small
// machine go down to half of its lower end. A warning is advice, never a
// reason to refuse a job. The package plans no path and reads no program.
package feeds

import (
	"math"
	"strconv"

	"starwright/geom"
	"starwright/geom/bench"
	"starwright/geom/problem"
)

// Material is what is cut.
type Material uint8

// The materials that charts tell apart.
const (
	Softwood Material = iota
	Hardwood
	Plywood
	MDF
)

// String returns the material in words.
func (m Material) String() string {
	switch m {
	case Hardwood:
		return "hardwood"
	case Plywood:
		return "plywood"
	case MDF:
		return "MDF"
	}
	return "softwood"
}

// Cut is one cutter at work.
type Cut struct {
	Diameter    float64
	Flutes      int
	RPM         float64
	FeedMMMin   float64
	PlungeMMMin float64 // 0 where nothing plunges
	Depth       float64 // depth of one pass
	Width       float64 // width of the cut, 0 for a full slot of the cutter's diameter
	Material    Material
	Unit        geom.Unit // in which warnings are written
}

// FormatChip prints a chip load (mm): "0.064 mm", "0.0025 in".
func FormatChip(u geom.Unit, mm float64) string { return chipNum(u, mm) + " " + u.String() }

func chipNum(u geom.Unit, mm float64) string {
	if u == geom.Inch {
		return bench.Num(mm/u.MM(), 4)
	}
	return bench.Num(mm, 3)
}

// Result is what the settings amount to.
type Result struct {
	ChipLoad      float64 // feed / (rpm * flutes): what each edge takes, mm
	SurfaceMS     float64 // pi * D * n: speed of the edge, m/s
	RemovalCM3Min float64 // width * depth * feed, cm3/min
	Common        Range
	Warnings      []Warning
}

// Range is a common range of chip load in mm.
type Range struct{ Low, High float64 }

// Warning is one setting outside what is common.
type Warning struct {
	Setting string // feed, depth_per_pass, plunge_feed, spindle_rpm
	What    string // what is unusual, with both numbers
	Would   string // a value within the common range
}

// Limits beside the chip load, all common practice without a source.
const (
	maxSurfaceMS    = 45.0   // m/s; above it wood burns and small tools are beyond their rating
	minRouterRPM    = 8000.0 // 1/min; router spindles turn no slower with force
	maxPlunge       = 0.5    // of the feed
	slack           = 1e-9   // part of a limit, so that a value worked out from it passes
	hardwoodDepth   = 0.5    // diameters a pass
	otherDepth      = 1.0    // diameters a pass
	smallMachine    = 0.5    // of the charts' lower end
	maxFlutes       = 12
	maxDiameterMM   = 100.0
	maxRPM          = 100000.0
	maxFeedMMMin    = 100000.0
	maxDepthOrWidth = 500.0 // mm
)

// CommonRange returns the common range of chip load for a cutter.
//
// The two points are 1/8 in and 1/4 in solid spirals of a tool seller's chart
// for full-size routers with a depth of one diameter, the lower of the charts
// seen; between them it is drawn straight, below and above in proportion to
// the diameter, above 1/2 in no further. The same chart takes a quarter off at
// two diameters of depth and half at three.
func CommonRange(diameter, depth float64, m Material) Range {
	type points struct{ low8, high8, low4, high4 float64 } // inches at 1/8 and 1/4 in
	p := points{0.003, 0.005, 0.006, 0.008}
	switch m {
	case Hardwood:
		p = points{0.002, 0.004, 0.005, 0.007}
	case Plywood:
		p = points{0.003, 0.005, 0.006, 0.009}
	case MDF:
		p = points{0.004, 0.007, 0.012, 0.015}
	}
	d := math.Min(diameter/geom.MMPerInch, 0.5)
	at := func(eighth, quarter float64) float64 {
		switch {
		case d <= 0.125:
			return eighth * d / 0.125
		case d >= 0.25:
			return quarter * d / 0.25
		}
		return eighth + (quarter-eighth)*(d-0.125)/0.125
	}
	deep := math.Max(1, math.Min(3, depth/diameter)) // diameters
	k := (1 - 0.25*(deep-1)) * geom.MMPerInch
	return Range{at(p.low8, p.low4) * k * smallMachine, at(p.high8, p.high4) * k}
}

// Judge computes and judges a cutter's settings.
func Judge(c Cut) (Result, error) {
	if err := c.check().Err(); err != nil {
		return Result{}, err
	}
	if c.Width == 0 {
		c.Width = c.Diameter
	}
	r := Result{
		ChipLoad:      c.FeedMMMin / (c.RPM * float64(c.Flutes)),
		SurfaceMS:     math.Pi * c.Diameter * c.RPM / 60 / 1000,
		RemovalCM3Min: c.Width * c.Depth * c.FeedMMMin / 1000,
		Common:        CommonRange(c.Diameter, c.Depth, c.Material),
	}
	r.Warnings = c.warnings(r)
	return r, nil
}

func (c Cut) warnings(r Result) []Warning {
	var out []Warning
	if r.ChipLoad < r.Common.Low*(1-slack) {
		out = append(out, c.chipWarning(r, r.Common.Low, "below", "it rubs, heats and burns", math.Ceil))
	}
	if r.ChipLoad > r.Common.High*(1+slack) {
		out = append(out, c.chipWarning(r, r.Common.High, "above", "the cutter may break or the work be torn", math.Floor))
	}
	if r.SurfaceMS > maxSurfaceMS {
		rpm := math.Floor(c.RPM*maxSurfaceMS/r.SurfaceMS/100) * 100
		out = append(out, Warning{"spindle_rpm", "the edge runs at " + bench.Num(r.SurfaceMS, 1) + " m/s, common is at most " +
			bench.Num(maxSurfaceMS, 0) + " m/s (common practice)", bench.Num(rpm, 0) + " rpm"})
	}
	times := otherDepth
	if c.Material == Hardwood {
		times = hardwoodDepth
	}
	if most := times * c.Diameter; c.Depth > most*(1+slack) {
		out = append(out, Warning{"depth_per_pass", c.Unit.FormatSize(c.Depth) + " a pass in " + c.Material.String() + " with a " +
			c.Unit.FormatSize(c.Diameter) + " cutter, common is at most " + bench.Num(times, 1) + " of the diameter (common practice)",
			c.Unit.FormatSize(c.floor(most, 0.01, 0.001))})
	}
	if most := maxPlunge * c.FeedMMMin; c.PlungeMMMin > most*(1+slack) {
		out = append(out, Warning{"plunge_feed", "plunging at " + c.Unit.FormatFeed(c.PlungeMMMin) + ", common is a quarter to half of the feed of " +
			c.Unit.FormatFeed(c.FeedMMMin) + " (common practice)", c.Unit.FormatFeed(c.floor(most, 1, 0.1))})
	}
	return out
}

// chipWarning tells a chip load and the feed, or the speed, that brings it to
// the near end of the range.
func (c Cut) chipWarning(r Result, limit float64, side, harm string, round func(float64) float64) Warning {
	step := c.step(10, 1)
	feed := round(limit*c.RPM*float64(c.Flutes)/step) * step
	would := "feed " + c.Unit.FormatFeed(feed)
	if feed <= 0 {
		would = ""
	}
	// A higher chip load comes from fewer turns: round the other way.
	rpm := -round(-c.FeedMMMin/(limit*float64(c.Flutes))/100) * 100
	if rpm >= minRouterRPM && rpm <= maxRPM {
		if would != "" {
			would += " or "
		}
		would += bench.Num(rpm, 0) + " rpm"
	}
	return Warning{"feed", "chip load " + FormatChip(c.Unit, r.ChipLoad) + " is " + side + " the common " +
		chipNum(c.Unit, r.Common.Low) + " to " + FormatChip(c.Unit, r.Common.High) + " for a " + c.Unit.FormatSize(c.Diameter) +
		" cutter in " + c.Material.String() + " (common practice): " + harm, would}
}

// step is a step of so many mm or, where warnings are written in inches, of so
// many inches; it is returned in mm.
func (c Cut) step(mm, inch float64) float64 {
	if c.Unit == geom.Inch {
		return inch * c.Unit.MM()
	}
	return mm
}

func (c Cut) floor(v, mm, inch float64) float64 {
	s := c.step(mm, inch)
	return math.Floor(v/s) * s
}

func (c Cut) check() problem.List {
	var ps problem.List
	for _, v := range []struct {
		field, unit, would string
		value, most        float64
		zero               bool // allowed to be left out
	}{
		{"diameter", " mm", "6.35 mm", c.Diameter, maxDiameterMM, false},
		{"spindle_rpm", " rpm", "18000 rpm", c.RPM, maxRPM, false},
		{"feed", " mm/min", "1200 mm/min", c.FeedMMMin, maxFeedMMMin, false},
		{"plunge_feed", " mm/min", "300 mm/min", c.PlungeMMMin, maxFeedMMMin, true},
		{"depth_per_pass", " mm", "3 mm", c.Depth, maxDepthOrWidth, false},
		{"width", " mm", "the cutter's diameter", c.Width, maxDepthOrWidth, true},
	} {
		if !bench.Finite(v.value) || v.value < 0 || v.value == 0 && !v.zero || v.value > v.most {
			ps = append(ps, problem.Problem{Key: v.field, Got: bench.Num(v.value, 3) + v.unit,
				Why: "must be above 0 and at most " + bench.Num(v.most, 0) + v.unit, Would: v.would})
		}
	}
	if c.Flutes < 1 || c.Flutes > maxFlutes {
		ps = append(ps, problem.Problem{Key: "flutes", Got: strconv.Itoa(c.Flutes),
			Why: "must be 1 to " + strconv.Itoa(maxFlutes), Would: "2"})
	}
	return ps
}
