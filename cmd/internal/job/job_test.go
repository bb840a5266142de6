package job

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/geom/bench/lumber"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// parsed reads a job that must have no fault.
func parsed(t *testing.T, src string) *Job {
	t.Helper()
	j, errs := Parse("job.toml", []byte(src))
	if len(errs) > 0 {
		t.Fatalf("%v", errs)
	}
	return j
}

func ptr[T any](v T) *T { return &v }

// contract is the sample of the project's contract, whole.
const contract = `units = "mm"
[star]
points      = 5
board_width = "114 mm"
thickness   = "19 mm"
tip         = "36 deg"
count       = 6
offcut_star = true
[blank]
end_trim    = "8 mm"
round_to    = "1 mm"
[saw]
kerf        = "2.4 mm"
max_miter   = "50 deg"
[slot]
make        = true
width       = "6.35 mm"
depth       = "10 mm"
from_face   = "9.5 mm"
start       = "20 mm"
end_margin  = "12 mm"
web         = "6 mm"
[cutter]
diameter       = "6.35 mm"
depth_per_pass = "3 mm"
feed           = "1200 mm/min"
plunge_feed    = "300 mm/min"
spindle_rpm    = 18000
[tabs]
count  = 4
width  = "6 mm"
height = "1.5 mm"
[machine]
safe_z = "10 mm"
travel = ["400 mm", "400 mm", "90 mm"]
[sheet]
width  = "300 mm"
height = "300 mm"
thickness = "12 mm"
`

func TestSpecOfContract(t *testing.T) {
	want := star.Spec{
		Points: 5, BoardWidth: 114, Thickness: 19, Tip: ptr(geom.Deg(36)), Count: 6, OffcutStar: true,
		EndTrim: 8, RoundTo: 1, Kerf: 2.4, Cutter: ptr(6.35), MaxTravelX: 400,
		Slot: star.SlotSpec{Make: ptr(true), Width: ptr(6.35), Depth: ptr(10.0), FromFace: ptr(9.5),
			Start: ptr(20.0), EndMargin: ptr(12.0), Web: ptr(6.0)},
		SplineFit: 0.15, GlueGap: 1,
	}
	if d := cmp.Diff(want, parsed(t, contract).Spec()); d != "" {
		t.Error(d)
	}
}

func TestEveryKeyIsRead(t *testing.T) {
	j := parsed(t, `units = "in"
title = "Porch stars"
date = 2026-12-05
[star]
star_width = "16 3/4 in"
points = 6
thickness = 0.75
tip = 40
count = 1_0
woods = ["walnut", "ash"]
halves = "whole"
joint = "plain"
offcut_hang_hole = "1/8"
[blank]
end_trim = "1/4\""
round_to = 0
[saw]
kerf = "1/8 in"
max_miter = "60 deg"
reach = "12 in"
swing = "left"
[shop]
has = ["laser", "mitre saw"]
[router_table]
fence_height = "3 1/2"
fence_length = 32
bits = ["1/4", 0.125]
[slot]
make = false
width = "5/16"
depth = "1/2"
from_face = "3/8"
start = 1
end_margin = "3/4"
web = "5/16"
wall = "1/8"
stations = 3
pitch = "1 1/4"
loads = 7
[offcut_slot]
make = true
depth = "1/4"
start = "5/8"
end_margin = "3/8"
web = "1/8"
[spline]
thickness = "5.8 mm"
fit = "0.2 mm"
glue_gap = "1/16"
[cutter]
diameter = "1/4"
depth_per_pass = "3/32"
feed = 60
plunge_feed = "10 in/min"
spindle_rpm = 12000
flutes = 1
cut_length = "7/8 in"
ramp = 3
side = "climb"
arcs = false
[tabs]
count = 3
width = "3/16"
height = "1/32"
[machine]
safe_z = "1/2"
approach = "1/16"
travel = [24, "20 in", 4]
room = "4 in"
park = "left"
spin_up = "2.5 s"
spindle_min = 8000
spindle_max = "24000 rpm"
accel = "300 mm/s2"
[controller]
dwell = "milliseconds"
end = "M30"
percent = true
program_number = 12
line_numbers = true
arc_centres = true
path = "0.001 in"
comments = "semicolon"
unknown = ["G54", "S"]
line_ends = "crlf"
[sheet]
width = 24
height = 12
thickness = "3/8"
margin = "1/2"
spacing = "3/8"
breakthrough = "1/64"
screw_zones = false
[output]
dxf_units = "mm"
gcode_units = "in"
[jigs]
make = ["stand", "gauge"]
[laser]
kerf = "0.2 mm"
[print]
paper = "A4"
labels = true
[segments]
cut = "saw"
margin = "1/2"
spacing = 1
longest = 20
board_width = 8
board_length = "8 ft"
[stock]
trim = "1/4"
laminate = true
board_width = "1x3"
rip_kerf = "1/8"
jointing = "1/64"
boards = ["62 in", 48, { length = 96, count = 2, bad = [["18 in", 21]] }]
[wood]
species = "black cherry"
mc_now = 11.5
rh_service = "45 %"
movement_limit = "1/32"
[yard]
boards = ["96 in", { length = 120, width = 6, thickness = 1, price = "14.5" }]
[cost]
currency = "EUR"
hour = 38
machine_hour = 6
wood = 900
wood_per = "cubic metre"
sheet = 9
glue = 11
finish = 2.5
cutter = 24
cutter_hours = "15 h"
fees = "8 %"
margin = 20
[times]
setup = 9
stop = 3
cut = 1
hand_cut = 7
rip = 2
slot = 4
spline = 5
joint = 6
plate = 8
program = 10
fit = 11
finish = "12 min"
drying = 90
`)
	in := func(v float64) float64 { return v * 127 / 5 } // 25.4 without its rounding
	pin := func(v float64) *float64 { return ptr(in(v)) }
	want := &Job{
		Name: "job.toml", Units: geom.Inch, Title: "Porch stars", Date: "2026-12-05",
		Star: StarTable{Points: 6, StarWidth: in(16.75), Thickness: in(0.75), Tip: ptr(geom.Deg(40)), Count: 10,
			Woods: [2]string{"walnut", "ash"}, Halves: star.Whole, Joint: star.PlainCut, OffcutHang: pin(0.125)},
		Blank:       BlankTable{EndTrim: in(0.25)},
		Saw:         SawTable{Kerf: in(0.125), MaxMiter: geom.Deg(60), Reach: pin(12), Swing: SwingLeft},
		Shop:        ShopTable{Has: []Machine{Laser, MitreSaw}},
		RouterTable: RouterTableTable{FenceHeight: pin(3.5), FenceLength: pin(32), Bits: []float64{in(0.25), in(0.125)}},
		Slot: SlotTable{Make: ptr(false), Width: pin(0.3125), Depth: pin(0.5), FromFace: pin(0.375), Start: pin(1),
			EndMargin: pin(0.75), Web: pin(0.3125), Wall: pin(0.125), Stations: 3, Pitch: in(1.25), Loads: 7},
		OffcutSlot: SlotTable{Make: ptr(true), Depth: pin(0.25), Start: pin(0.625), EndMargin: pin(0.375), Web: pin(0.125)},
		Spline:     SplineTable{Thickness: ptr(5.8), Fit: 0.2, GlueGap: in(0.0625)},
		Cutter: CutterTable{Diameter: pin(0.25), DepthPerPass: in(0.09375), Feed: in(60), PlungeFeed: in(10), SpindleRPM: 12000,
			Flutes: 1, CutLength: pin(0.875), Ramp: geom.Deg(3), Climb: true},
		Tabs: TabsTable{Count: 3, Width: in(0.1875), Height: in(0.03125)},
		Machine: MachineTable{SafeZ: in(0.5), Approach: in(0.0625), Travel: [3]float64{in(24), in(20), in(4)}, Room: pin(4), Park: "left", SpinUp: 2.5,
			SpindleMin: ptr(8000.0), SpindleMax: ptr(24000.0), Accel: 300},
		Controller: ControllerTable{Dwell: "milliseconds", End: "M30", Percent: true, ProgramNumber: 12, LineNumbers: true, ArcCentres: true,
			Path: "tolerance", PathTolerance: in(0.001), Comments: "semicolon", Unknown: []string{"G54", "S"}, LineEnds: "crlf"},
		Sheet: SheetTable{Width: in(24), Height: in(12), Thickness: in(0.375), Margin: in(0.5), Spacing: pin(0.375),
			Breakthrough: in(0.015625)},
		Output:   OutputTable{DXFUnits: geom.Millimetre, GCodeUnits: geom.Inch},
		Jigs:     JigsTable{Make: []string{"stand", "gauge"}},
		Laser:    LaserTable{Kerf: ptr(0.2)},
		Print:    PrintTable{Paper: "A4", Labels: true},
		Segments: SegmentsTable{Margin: pin(0.5), Spacing: pin(1), Longest: in(20), BoardWidth: pin(8), BoardLength: in(96)},
		Stock: StockTable{Trim: in(0.25), Laminate: true, Width: in(2.5), RipKerf: in(0.125), Jointing: in(0.015625),
			Nominal: &lumber.Size{NominalWidth: 76.2, NominalThickness: 25.4, Width: 63.5, Thickness: 19.05},
			Boards: []Board{{Length: in(62), Count: 1, Line: 117}, {Length: in(48), Count: 1, Line: 117},
				{Length: in(96), Count: 2, Bad: [][2]float64{{in(18), in(21)}}, Line: 117}}},
		Wood: WoodTable{Species: "black cherry", MCNow: ptr(11.5), RHService: ptr(45.0), MovementLimit: in(0.03125)},
		Yard: []Board{{Length: in(96), Count: 1, Line: 124}, {Length: in(120), Width: in(6), Thickness: in(1), Count: 1, Price: ptr(14.5), Line: 124}},
		Cost: CostTable{Currency: "EUR", Hour: ptr(38.0), MachineHour: ptr(6.0), Wood: ptr(900.0), WoodPer: PerCubicMetre, Sheet: ptr(9.0), Glue: ptr(11.0),
			Finish: ptr(2.5), Cutter: ptr(24.0), CutterHours: ptr(15.0), Fees: 8, Margin: 20},
		Times: TimesTable{Setup: 9, Stop: 3, Cut: 1, HandCut: 7, Rip: 2, Slot: 4, Spline: 5, Joint: 6, Plate: 8, Program: 10, Fit: 11, Finish: 12, Drying: 90},
	}
	got := *j
	got.root, got.Defaults, got.Warnings = nil, nil, nil
	if d := cmp.Diff(want, &got, cmp.AllowUnexported(Job{}, node{}), cmpopts.EquateApprox(rounding, 0)); d != "" {
		t.Error(d)
	}
	offcut := problem.Note{Key: "star.offcut_star", Value: "false", Why: "no second star unless the job asks for it"}
	dressed := problem.Note{Key: "stock.board_width", Value: "1x3", Why: "2 1/2 in wide, as PS 20 dresses it dry; measure yours"}
	if d := cmp.Diff([]problem.Note{offcut, dressed}, j.Defaults); d != "" {
		t.Errorf("defaults of a job that says nearly all: %s", d)
	}
	var warned []string
	for _, n := range j.Warnings {
		warned = append(warned, n.Key)
	}
	if d := cmp.Diff([]string{"segments.cut", "slot.make", "star.offcut_star", "star.offcut_star"}, warned); d != "" {
		t.Errorf("warnings %v", j.Warnings)
	}
}

func TestOpenValuesStayOpen(t *testing.T) {
	j := parsed(t, good)
	want := star.Spec{Points: 5, BoardWidth: 100, Thickness: 19, Count: 1, EndTrim: 8, RoundTo: 1, Kerf: 2.4, SplineFit: 0.15, GlueGap: 1}
	if d := cmp.Diff(want, j.Spec()); d != "" {
		t.Error(d)
	}
	if j.Laser.Kerf != nil || j.Cutter.CutLength != nil || j.Machine.SpindleMax != nil || j.Jigs.Make != nil || j.Sheet.Spacing != nil {
		t.Error("a value is filled that should be open")
	}
}

func TestAt(t *testing.T) {
	j := parsed(t, "# a comment\r\nunits = \"mm\"\r\n\r\n[star] # here\r\n  board_width = 100\r\n[slot]\r\ndepth =   8\r\n"+
		"[machine]\r\ntravel = [\r\n 400,\r\n 400,\r\n 90]\r\nsafe_z = 9\r\n")
	for key, want := range map[string]int{"units": 2, "star": 4, "star.board_width": 5, "slot.depth": 7, "machine.travel": 9, "machine.safe_z": 13,
		"star.points": 0, "saw": 0, "saw.kerf": 0, "": 0, "units.x": 0, "star.board_width.x": 0} {
		if got := j.At(key); got != want {
			t.Errorf("At(%q) = %d; want %d", key, got, want)
		}
	}
}

func TestProblemsFindTheirLine(t *testing.T) {
	j := parsed(t, good+"[slot]\ndepth = \"14 mm\"\n")
	for _, c := range []struct {
		name string
		p    problem.Problem
		want string
	}{
		{"key in the file", problem.Problem{Key: "slot.depth", Got: "14.0 mm", Why: "too deep", Would: `depth = "9 mm"`},
			`job.toml:4: [slot] depth: too deep (got "14 mm"). Try: depth = "9 mm"`},
		{"key left out", problem.Problem{Key: "slot.web", Got: "6 mm", Why: "too thin", Would: `web = "9 mm"`},
			`job.toml:4: [slot] depth: too thin (got "14 mm"). Try: web = "9 mm"`},
		{"table left out", problem.Problem{Key: "saw.kerf", Got: "2.4 mm", Why: "too wide", Would: "a thin blade"},
			`job.toml:2: [star] board_width: too wide (got 100). Try: a thin blade`},
		{"missing value", problem.Problem{Key: "star.tip", Why: "must be given", Would: `tip = "45 deg"`},
			`job.toml:1: [star] tip: must be given. Try: tip = "45 deg"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := j.Error(c.p).Error(); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
}

func TestLoadReportsFileAndModelTogether(t *testing.T) {
	_, _, errs := load("j", []byte(good+"[slot]\ndepth = 60\n[cutter]\nfeed = \"fast\"\n"))
	if len(errs) != 2 || errs[0].Key != "depth" || errs[0].Line != 4 || errs[1].Key != "feed" || errs[1].Line != 6 {
		t.Errorf("errors %v", errs)
	}
}

func TestLoadFillsSpacing(t *testing.T) {
	j, b, errs := load("j", []byte(good))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	if s := j.Sheet.Spacing; s == nil || *s < b.Cutter+leastSliver {
		t.Errorf("spacing %v for a cutter of %v", s, b.Cutter)
	}
	if _, _, errs = load("j", []byte(good+"[sheet]\nspacing = 1\n")); len(errs) != 1 || errs[0].Line != 4 {
		t.Errorf("errors %v", errs)
	}
}

func TestBoardsAsTables(t *testing.T) {
	j := parsed(t, good+"[[stock.boards]]\nlength = 1000\n[[stock.boards]]\nlength = 900\ncount = 2\nbad = [[0, 50], [100, 120]]\n")
	want := []Board{{Length: 1000, Count: 1, Line: 3}, {Length: 900, Count: 2, Bad: [][2]float64{{0, 50}, {100, 120}}, Line: 5}}
	if d := cmp.Diff(want, j.Stock.Boards); d != "" {
		t.Error(d)
	}
}

func TestByteOrderMarkIsSkipped(t *testing.T) {
	if j := parsed(t, "\ufeff"+good); j.Star.BoardWidth != 100 {
		t.Errorf("board width %v", j.Star.BoardWidth)
	}
}

// TestUnitsGiveTheSameWood writes one job in inches and in millimetres.
func TestUnitsGiveTheSameWood(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(16, 60*32).Draw(t, "thirty-seconds")
		board := float64(n) / 32
		tail := func(f func(in float64) string) string {
			return "[star]\nboard_width = " + f(board) + "\nthickness = " + f(0.75) + "\n[saw]\nkerf = " + f(0.125) +
				"\n[blank]\nend_trim = " + f(0.25) + "\nround_to = " + f(0.125) + "\n[slot]\ndepth = " + f(0.25) + "\n"
		}
		inch := "units = \"in\"\n" + tail(func(in float64) string { return show(in) })
		metric := "units = \"mm\"\n" + tail(func(in float64) string { return fmt.Sprintf("\"%s mm\"", show(in*127/5)) })
		a, errsA := Parse("a", []byte(inch))
		b, errsB := Parse("b", []byte(metric))
		if len(errsA) != len(errsB) {
			t.Fatalf("%v and %v", errsA, errsB)
		}
		if len(errsA) > 0 {
			return
		}
		x, y := a.Spec(), b.Spec()
		for _, p := range [][2]float64{{x.BoardWidth, y.BoardWidth}, {x.Thickness, y.Thickness}, {x.Kerf, y.Kerf},
			{x.EndTrim, y.EndTrim}, {x.RoundTo, y.RoundTo}, {*x.Slot.Depth, *y.Slot.Depth}} {
			if math.Abs(p[0]-p[1]) > 1e-9 { // mm, rounding
				t.Errorf("%v in inches, %v in millimetres", p[0], p[1])
			}
		}
	})
}

// load is [Load] of a job file alone.
func load(name string, data []byte) (*Job, *star.Order, []Error) {
	return Load(Input{Job: File{name, data}})
}
