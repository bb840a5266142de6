package feeds

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/geom/problem"
)

// usual is a cut without a warning, for rows to change one thing of.
func usual() Cut {
	return Cut{Diameter: 6.35, Flutes: 2, RPM: 18000, FeedMMMin: 3600, PlungeMMMin: 900, Depth: 3}
}

func near(a, b, slack float64) bool { return math.Abs(a-b) <= slack }

func TestPublishedNumbers(t *testing.T) {
	rows := []struct {
		name             string
		cut              Cut
		chip, ms, slack1 float64
	}{
		// A stored feeds page: 18 000 rpm, 2 flutes, 0.1 mm -> 3600 mm/min. Rim
		// speed of 1/4 in at 18 000 rpm 5.98 m/s, of 1/8 in 2.99 m/s (pi D n).
		{"quarter inch", usual(), 0.1, 5.98, 1e-12},
		{"eighth", func() Cut { c := usual(); c.Diameter = 3.175; return c }(), 0.1, 2.99, 1e-12},
		// A stored chart, 2 flutes, rounded to 0.001 in: 100 in/min at 10 000
		// rpm 0.005 in; 300 at 15 000 0.010; 600 at 10 000 0.030.
		{"100 in/min", func() Cut { c := usual(); c.RPM, c.FeedMMMin = 10000, 2540; return c }(), 0.005 * 25.4, 3.32, 0.0127},
		{"300 in/min", func() Cut { c := usual(); c.RPM, c.FeedMMMin = 15000, 7620; return c }(), 0.010 * 25.4, 4.99, 0.0127},
		{"600 in/min", func() Cut { c := usual(); c.RPM, c.FeedMMMin = 10000, 15240; return c }(), 0.030 * 25.4, 3.32, 0.0127},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			got, err := Judge(r.cut)
			if err != nil {
				t.Fatal(err)
			}
			if !near(got.ChipLoad, r.chip, r.slack1) || !near(got.SurfaceMS, r.ms, 0.01) {
				t.Errorf("chip load %v mm, %v m/s; want %v and %v", got.ChipLoad, got.SurfaceMS, r.chip, r.ms)
			}
		})
	}
	// 6.35 mm wide, 3 mm deep, 3600 mm/min by pocket calculator.
	if got, _ := Judge(usual()); !near(got.RemovalCM3Min, 68.58, 1e-9) {
		t.Errorf("removal %v cm3/min, want 68.58", got.RemovalCM3Min)
	}
}

func TestCommonRange(t *testing.T) {
	// A tool seller's chart, inches a tooth; the lower end is halved here.
	rows := []struct {
		name                   string
		d, depth               float64
		m                      Material
		chartLow, high, factor float64
	}{
		{"1/8 softwood", 3.175, 3, Softwood, 0.003, 0.005, 1},
		{"1/8 hardwood", 3.175, 1, Hardwood, 0.002, 0.004, 1},
		{"1/8 plywood", 3.175, 3, Plywood, 0.003, 0.005, 1},
		{"1/8 MDF", 3.175, 3, MDF, 0.004, 0.007, 1},
		{"1/4 softwood", 6.35, 6, Softwood, 0.006, 0.008, 1},
		{"1/4 hardwood", 6.35, 6, Hardwood, 0.005, 0.007, 1},
		{"1/4 plywood", 6.35, 6, Plywood, 0.006, 0.009, 1},
		{"1/4 MDF", 6.35, 6, MDF, 0.012, 0.015, 1},
		{"two diameters deep", 6.35, 12.7, Softwood, 0.006, 0.008, 0.75},
		{"three diameters deep", 6.35, 19.05, Softwood, 0.006, 0.008, 0.5},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			got := CommonRange(r.d, r.depth, r.m)
			low, high := r.chartLow*25.4*r.factor/2, r.high*25.4*r.factor
			if !near(got.Low, low, 1e-9) || !near(got.High, high, 1e-9) {
				t.Errorf("%+v, want %v to %v mm", got, low, high)
			}
		})
	}
}

func TestWarnings(t *testing.T) {
	rows := []struct {
		name          string
		change        func(*Cut)
		setting, want string // "" for no warning
	}{
		{"usual", func(*Cut) {}, "", ""},
		{"slow feed", func(c *Cut) { c.FeedMMMin, c.PlungeMMMin = 1200, 300 }, "feed", "rubs and burns: 0.033 mm a tooth"},
		{"fast feed", func(c *Cut) { c.FeedMMMin = 9000 }, "feed", "break or tear the wood: 0.25 mm a tooth"},
		{"deep pass", func(c *Cut) { c.Depth = 8 }, "depth_per_pass", "is 1 of its diameter at most"},
		{"deep in hardwood", func(c *Cut) { c.Material, c.Depth = Hardwood, 3.5 }, "depth_per_pass", "0.5 of its diameter at most"},
		{"fast plunge", func(c *Cut) { c.PlungeMMMin = 2000 }, "plunge_feed", "goes down at 2000 mm/min"},
		// 47.24 in/min at 18000 rpm with two edges take 0.0013 in each.
		{"slow feed, inches", func(c *Cut) { c.FeedMMMin, c.PlungeMMMin, c.Unit = 1200, 300, geom.Inch }, "feed", "0.0013 in a tooth in softwood, common for a 1/4 in bit is 0.003 to 0.008 in"},
		{"deep pass, inches", func(c *Cut) { c.Depth, c.Unit = 9.525, geom.Inch }, "depth_per_pass", "3/8 in a pass"},
		{"big bit, fast spindle", func(c *Cut) { c.Diameter, c.FeedMMMin = 50, 6000 }, "spindle_rpm", "edge runs at 47.1 m/s"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			c := usual()
			r.change(&c)
			got, err := Judge(c)
			if err != nil {
				t.Fatal(err)
			}
			if r.setting == "" {
				if len(got.Warnings) > 0 {
					t.Errorf("warned: %+v", got.Warnings)
				}
				return
			}
			if len(got.Warnings) != 1 || got.Warnings[0].Setting != r.setting ||
				!strings.Contains(got.Warnings[0].What, r.want) || got.Warnings[0].Would == "" {
				t.Errorf("got %+v, want one of %s with %q", got.Warnings, r.setting, r.want)
			}
		})
	}
}

func TestWhatWouldDoDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Cut{
			Diameter:  rapid.Float64Range(1, 20).Draw(t, "diameter"),
			Flutes:    rapid.IntRange(1, 4).Draw(t, "flutes"),
			RPM:       rapid.Float64Range(8000, 24000).Draw(t, "rpm"),
			FeedMMMin: rapid.Float64Range(100, 10000).Draw(t, "feed"),
			Depth:     rapid.Float64Range(0.5, 20).Draw(t, "depth"),
			Material:  Material(rapid.IntRange(0, 3).Draw(t, "material")),
			Unit:      rapid.SampledFrom([]geom.Unit{geom.Millimetre, geom.Inch}).Draw(t, "unit"),
		}
		r, err := Judge(c)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range r.Warnings {
			if w.Setting != "feed" {
				continue
			}
			for _, way := range strings.Split(w.Would, ", or ") {
				changed, fields := c, strings.Fields(way)
				if fields[0] == "Feed" {
					changed.FeedMMMin, err = strconv.ParseFloat(fields[1], 64)
					if fields[2] == "in/min" {
						changed.FeedMMMin *= 25.4
					}
				} else { // turn at
					changed.RPM, err = strconv.ParseFloat(fields[2], 64)
				}
				if err != nil {
					t.Fatalf("%q: %v", way, err)
				}
				if again, err := Judge(changed); err != nil || again.ChipLoad < r.Common.Low*(1-slack) || again.ChipLoad > r.Common.High*(1+slack) {
					t.Errorf("%q gives %v mm, common %+v (%v)", way, again.ChipLoad, r.Common, err)
				}
			}
		}
	})
}

func TestRefuses(t *testing.T) {
	judge := func(f func(*Cut)) error { c := usual(); f(&c); _, err := Judge(c); return err }
	rows := []struct {
		name string
		err  error
		want string
	}{
		{"no feed", judge(func(c *Cut) { c.FeedMMMin = 0 }), "feed = 0 mm/min: must be above 0"},
		{"no number", judge(func(c *Cut) { c.RPM = math.NaN() }), "spindle_rpm = NaN rpm"},
		{"no flutes", judge(func(c *Cut) { c.Flutes = 0 }), "flutes = 0: must be 1 to 12. Try: 2"},
		{"negative plunge", judge(func(c *Cut) { c.PlungeMMMin = -1 }), "plunge_feed = -1 mm/min"},
		{"endless depth", judge(func(c *Cut) { c.Depth = math.Inf(1) }), "depth_per_pass = +Inf mm"},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			var ps problem.List
			if !errors.As(r.err, &ps) || !strings.Contains(r.err.Error(), r.want) {
				t.Errorf("got %v, want %q in it", r.err, r.want)
			}
		})
	}
}
