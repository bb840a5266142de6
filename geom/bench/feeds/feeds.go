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

// FormatSurface prints the speed of an edge (m/s) as the trade of a unit does:
// "12.5 m/s", "2461 ft/min".
func FormatSurface(u geom.Unit, ms float64) string {
	if u == geom.Inch {
		return bench.Num(ms*60*1000/(12*geom.MMPerInch), 0) + " ft/min"
	}
	return bench.Num(ms, 1) + " m/s"
}

// FormatRemoval prints how much wood is removed (cm3/min): "25.1 cm³/min", "1.53
// in³/min".
func FormatRemoval(u geom.Unit, cm3 float64) string {
	if u == geom.Inch {
		return bench.Num(cm3*1000/(geom.MMPerInch*geom.MMPerInch*geom.MMPerInch), 2) + " in³/min"
	}
	return bench.Num(cm3, 1) + " cm³/min"
}

// FormatAccel prints an acceleration (mm/s2): "150 mm/s²", "6 in/s²".
func FormatAccel(u geom.Unit, mm float64) string {
	if u == geom.Inch {
		return bench.Num(mm/u.MM(), 1) + " in/s²"
	}
	return bench.Num(mm, 0) + " mm/s²"
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
	What    string // what happens at the bench, with both numbers
	Would   string // what to do, with a value within the common range; "" where nothing helps
}

// String returns the warning as it is read.
func (w Warning) String() string {
	if w.Would == "" {
		return w.What
	}
	return w.What + ". " + w.Would + "."
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
		out = append(out, c.chipWarning(r, r.Common.Low, "the bit rubs and burns", math.Ceil))
	}
	if r.ChipLoad > r.Common.High*(1+slack) {
		out = append(out, c.chipWarning(r, r.Common.High, "the bit may break or tear the wood", math.Floor))
	}
	if r.SurfaceMS > maxSurfaceMS {
		rpm := math.Floor(c.RPM*maxSurfaceMS/r.SurfaceMS/100) * 100
		out = append(out, Warning{"spindle_rpm", "the bit burns: its edge runs at " + FormatSurface(c.Unit, r.SurfaceMS) + ", common is " +
			FormatSurface(c.Unit, maxSurfaceMS) + " at most (common practice)", "Turn at " + bench.Num(rpm, 0) + " rev/min"})
	}
	if most := c.Material.deepest() * c.Diameter; c.Depth > most*(1+slack) {
		out = append(out, Warning{"depth_per_pass", "the bit bends or breaks: " + c.Unit.FormatSize(c.Depth) + " a pass in " + c.Material.String() +
			", common for a " + c.Unit.FormatSize(c.Diameter) + " bit is " + bench.Num(c.Material.deepest(), 1) + " of its diameter at most (common practice)",
			"Take " + c.Unit.FormatSize(c.floor(most, fineMM, fineIn)) + " a pass"})
	}
	if most := maxPlunge * c.FeedMMMin; c.PlungeMMMin > most*(1+slack) {
		out = append(out, Warning{"plunge_feed", "the bit burns at its end: it goes down at " + c.Unit.FormatFeed(c.PlungeMMMin) +
			", common is a quarter to half of the feed of " + c.Unit.FormatFeed(c.FeedMMMin) + " (common practice)",
			"Go down at " + c.Unit.FormatFeed(c.floor(most, 1, 0.1))})
	}
	return out
}

// chipWarning says what a chip load does, with the feed, or the speed, that brings
// it to the near end of the range.
func (c Cut) chipWarning(r Result, limit float64, harm string, round func(float64) float64) Warning {
	step := c.step(10, 1)
	feed := round(limit*c.RPM*float64(c.Flutes)/step) * step
	would := ""
	if feed > 0 {
		would = "Feed " + c.Unit.FormatFeed(feed)
	}
	// A higher chip load comes from fewer turns: round the other way.
	rpm := -round(-c.FeedMMMin/(limit*float64(c.Flutes))/100) * 100
	if rpm >= minRouterRPM && rpm <= maxRPM {
		turn := "turn at " + bench.Num(rpm, 0) + " rev/min"
		if would != "" {
			would += ", or " + turn
		} else {
			would = "T" + turn[1:]
		}
	}
	return Warning{"feed", harm + ": " + FormatChip(c.Unit, r.ChipLoad) + " a tooth in " + c.Material.String() + ", common for a " +
		c.Unit.FormatSize(c.Diameter) + " bit is " + chipNum(c.Unit, r.Common.Low) + " to " + FormatChip(c.Unit, r.Common.High) +
		" (common practice)", would}
}

// What is printed of a small length, in mm and in inches.
const fineMM, fineIn = 0.01, 0.001

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
