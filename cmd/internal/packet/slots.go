package packet

import (
	"fmt"
	"slices"

	"starwright/cmd/internal/job"
	"starwright/geom"
	"starwright/geom/problem"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/toolpath/backplot"
	"starwright/toolpath/planner"
)

// slotPrograms returns the slot programs of all stars, left and right.
func slotPrograms(w *Work) ([]Program, problem.List) {
	if !w.cnc() {
		return nil, nil
	}
	var out []Program
	var problems problem.List
	for _, u := range w.Order.Units {
		if u.Slot == nil {
			continue
		}
		for _, mirror := range []bool{false, true} {
			p, ps := slotProgram(w, u, mirror)
			for _, one := range ps.Of(u.Spec.Name) { // left and right mostly have the same
				if !slices.Contains(problems, one) {
					problems = append(problems, one)
				}
			}
			out = append(out, p)
		}
	}
	return out, problems
}

// of returns the job as it is for a unit: in an order a star can have slots of
// its own.
func (w *Work) of(u *star.Unit) *job.Job { return w.Job.Of(u.Spec.Name) }

func side(mirror bool) string {
	if mirror {
		return "right"
	}
	return "left"
}

// slotProgram plans the slot in one facet and states what it has to do.
func slotProgram(w *Work, u *star.Unit, mirror bool) (Program, problem.List) {
	j, s, what := w.of(u), u.Slot, u.Words("segment")
	sj := planner.SlotJob{
		Name:  u.File("slot-" + side(mirror)),
		Start: s.Start, End: s.End, FromFace: s.FromFace, Width: s.Width, Depth: s.Depth, Mirror: mirror,
		Stations: j.Slot.Stations, Pitch: j.Slot.Pitch, Loads: j.Slot.Loads,
		LoadNote: "wait for the spindle to stop, then change the segments",
		Cutting:  w.cutting(w.Job.Cutter, w.Order.Cutter),
	}
	if ps := endless(w, sj); len(ps) > 0 {
		return Program{}, ps
	}
	if ps := noRampRoom(w, u, sj); len(ps) > 0 {
		return Program{}, ps
	}
	task := slotTask(w, u, sj)
	sj.Park = task.Park
	plan, err := planner.Slot(sj)
	if err != nil {
		return Program{}, problem.List{{Key: "slot.make", Why: err.Error(), Would: u.WithoutSlots()}}
	}
	perRun := sj.Stations * sj.Loads
	facets := u.Segments()
	p := Program{
		Brief: fmt.Sprintf("slot in the %s facet of each %s", side(mirror), what),
		Path:  "gcode/" + sj.Name + ".nc", Quantity: (facets + perRun - 1) / perRun,
		Use:    fmt.Sprintf("spline slot in the %s facet of each %s, %d facets", side(mirror), what, facets),
		Plan:   plan,
		Task:   task,
		UnitMM: j.Output.GCodeUnits.MM(),
		Slot:   &SlotOf{u, mirror},
	}
	p.Minutes = estimate(plan, j.Machine.Accel)
	p.Plan.For = controller(j.Controller)
	p.Plan.Header = slotHeader(w, u, sj, p, what)
	p.says = w.slotSays(&p)
	return p, tooLong(w, u, sj)
}

// slotHeader is what the program says of itself to the person at the machine.
func slotHeader(w *Work, u *star.Unit, sj planner.SlotJob, p Program, what string) []string {
	s, exact := u.Slot, w.exact
	n, each := planner.Passes(sj.Depth, sj.DepthPerPass)
	lo, hi := s.Start, s.End
	if sj.Mirror {
		lo, hi = -hi, -lo
	}
	towards := "grows"
	if sj.Mirror {
		towards = "falls"
	}
	num := func(mm float64) string { return formatNumber(mm/p.UnitMM, p.UnitMM) }
	lines := []string{
		"Job: " + w.Title(),
		fmt.Sprintf("Cuts: one spline slot in the %s facet of the %s", side(sj.Mirror), what),
		"Left and right: seen from the front with the tip up",
		fmt.Sprintf("Cutter: straight, %s, %.0f rev/min", exact(sj.CutterDiameter), sj.RPM),
		"Zero: X0 the star's centre end of the facet, Y0 the show face, Z0 the facet itself",
		"X: " + towards + " from the star's centre to the valley",
		"Hold: facet level, show face against the fence at Y0",
		fmt.Sprintf("Clamps: lower than %s over the facet", exact(sj.SafeZ)),
		fmt.Sprintf("Room below the facet: %s", w.Say(roomBelow(u.Segment))),
		fmt.Sprintf("Slot: X%s to X%s, centre Y%s, %s wide", num(lo), num(hi), num(s.FromFace), exact(s.Width)),
		fmt.Sprintf("Depth: %s in %s of %s", exact(s.Depth), words.Count(n, "pass", "passes"), exact(each)),
	}
	if s.Width > sj.CutterDiameter+geom.Touch {
		cut := "conventional"
		if sj.Climb {
			cut = "climb"
		}
		lines = append(lines, "Widened: at each depth, side of cut "+cut)
	}
	if sj.Stations > 1 {
		lines = append(lines, fmt.Sprintf("Stations: %d, show faces %s apart in Y", sj.Stations, exact(sj.Pitch)))
	}
	if sj.Loads > 1 {
		lines = append(lines, fmt.Sprintf("Loads: %d, the program stops between them", sj.Loads))
	}
	when := "at the end"
	if sj.Loads > 1 {
		when = "at the stops and at the end"
	}
	return append(lines,
		w.parkLine(sj.Park, p.UnitMM, when),
		w.controllerLine(),
		runLine(p),
		airCut,
	)
}

// roomBelow is how far the work reaches below its level facet: the tip or,
// for stars of few points, the other valley hangs lowest.
func roomBelow(s star.Segment) float64 {
	low := 0.0
	turn := geom.Place{Turn: -s.Center / 2}
	for _, v := range turn.Contour(s.Outline()) {
		low = min(low, v.Y)
	}
	return -low
}

// slotTask states what a slot program has to do, in the machine's coordinates.
func slotTask(w *Work, u *star.Unit, sj planner.SlotJob) backplot.Task {
	t := backplot.Task{Unit: w.Job.Units, Cutter: sj.CutterDiameter, Limits: limits(w.Job, w.Job.Cutter, sj.Depth), Climb: sj.Climb, Loads: sj.Loads}
	for k := 0; k < sj.Stations; k++ {
		shift := geom.Place{Move: geom.Pt(0, float64(k)*sj.Pitch)}
		outline := star.Slot{Width: sj.Width, FromFace: sj.FromFace, Start: sj.Start, End: sj.End, Corner: sj.CutterDiameter / 2}.Outline()
		if sj.Mirror {
			outline = geom.Place{Mirror: true, Turn: 180 * geom.Degree}.Contour(outline).CCW()
		}
		name := "slot"
		if sj.Stations > 1 {
			name = fmt.Sprintf("slot at station %d", k+1)
		}
		facet := geom.Box{Max: geom.Pt(u.Segment.Facet, u.Thickness())}
		if sj.Mirror {
			facet.Min.X, facet.Max.X = -facet.Max.X, 0
		}
		facet.Min.Y, facet.Max.Y = facet.Min.Y+shift.Move.Y, facet.Max.Y+shift.Move.Y
		t.Over = append(t.Over, facet)
		t.Pockets = append(t.Pockets, backplot.Pocket{
			Name: name, Outline: shift.Contour(outline), Depth: sj.Depth,
			Where: slotSide(sj, float64(k)*sj.Pitch),
		})
	}
	work, moves := geom.EmptyBox(), geom.EmptyBox()
	for k := range t.Over {
		work, moves = work.Union(t.Over[k]), moves.Union(t.Pockets[k].Outline.Bounds().Grow(-sj.CutterDiameter/2))
	}
	t.Park = w.park(work, moves, parkBeyond)
	return t
}

// slotSide says on which side of a slot a point lies.
func slotSide(sj planner.SlotJob, dy float64) func(geom.Point) string {
	r := sj.CutterDiameter / 2
	return func(p geom.Point) string {
		x, y := p.X, p.Y-dy
		if sj.Mirror {
			x = -x
		}
		switch {
		case x < sj.Start+r-backplot.Tol/2:
			return "towards the star's centre"
		case x > sj.End-r+backplot.Tol/2:
			return "towards the valley"
		case y < sj.FromFace:
			return "towards the show face"
		}
		return "towards the back"
	}
}

// limits are the job's limits for a cut of the given depth with a cutter.
func limits(j *job.Job, c job.CutterTable, depth float64) backplot.Limits {
	_, each := planner.Passes(depth, c.DepthPerPass)
	const speedPart = 0.1 // by how much a speed may differ where the job gives no range
	l := backplot.Limits{
		StepDown: each, Feed: c.Feed, PlungeFeed: c.PlungeFeed, RampMax: c.Ramp,
		RPMMin: c.SpindleRPM * (1 - speedPart), RPMMax: c.SpindleRPM * (1 + speedPart),
		SpinUpS: spinUp(j), SafeZ: j.Machine.SafeZ, Approach: j.Machine.Approach,
		Accel:  j.Machine.Accel,
		Travel: geom.Point3{X: j.Machine.Travel[0], Y: j.Machine.Travel[1], Z: j.Machine.Travel[2]},
	}
	if j.Machine.SpindleMin != nil {
		l.RPMMin = *j.Machine.SpindleMin
	}
	if j.Machine.SpindleMax != nil {
		l.RPMMax = *j.Machine.SpindleMax
	}
	return l
}

// noRampRoom says where a slot is hardly longer than the cutter is wide, so that no
// ramp goes down in it.
func noRampRoom(w *Work, u *star.Unit, sj planner.SlotJob) problem.List {
	room := sj.End - sj.Start - sj.CutterDiameter
	enough := func(a geom.Angle) bool { return planner.RampRoom(a) <= room }
	if enough(sj.RampMax) {
		return nil
	}
	p := problem.Problem{Key: "cutter.ramp", Got: sj.RampMax.Format(),
		Why: fmt.Sprintf("the slot leaves the cutter a way of only %s, too short for ramps that flat", w.Job.Units.FormatFine(max(0, room)))}
	if a := planner.Steeper(sj.RampMax, enough); a != "" {
		p.Would = fmt.Sprintf("ramp = %q", a)
	} else if d := sj.End - sj.Start - planner.RampRoom(sj.RampMax); d >= leastBit {
		p.Would = fmt.Sprintf("[cutter] diameter = %q", w.Job.Units.FormatFloor(d))
	} else {
		p.Would = u.WithoutSlots() + " for plain glued joints"
	}
	return problem.List{p}
}

// spinUp is how long a program waits for its spindle; 0 where the controller
// cannot wait, which its head says.
func spinUp(j *job.Job) float64 {
	if j.Controller.Dwell == "none" {
		return 0
	}
	return j.Machine.SpinUp
}

// leastBit is the thinnest cutter that a job may name, mm.
const leastBit = 0.5

// lessZ is what to try where a cut leaves so much (mm) of the machine's travel for
// the safe height, or what otherwise says where that is less than a job may ask for
// or than the approach.
func lessZ(w *Work, room float64, otherwise string) string {
	if room < planner.LeastSafeZ || room <= w.Job.Machine.Approach {
		return otherwise
	}
	return fmt.Sprintf("[machine] safe_z = %q", w.Job.Units.FormatFloor(room))
}

// maxSlotMoves is the most moves of a slot program: a day of cutting. A job
// of a few lines may ask for a thousand times as many.
const maxSlotMoves = 100_000

// endless says why a slot program would have more moves than anybody waits for.
func endless(w *Work, sj planner.SlotJob) problem.List {
	one := sj.Moves()
	load := one * float64(sj.Stations)
	all := load * float64(sj.Loads)
	if !(all > maxSlotMoves) { // what is no number, the plan will say
		return nil
	}
	why := fmt.Sprintf("the slot program would have about %.0f moves, more than %d", all, maxSlotMoves)
	switch {
	case one > maxSlotMoves:
		steep := sj
		if a := planner.Steeper(sj.RampMax, func(a geom.Angle) bool { steep.RampMax = a; return steep.Moves() <= maxSlotMoves }); a != "" {
			return problem.List{{Key: "cutter.ramp", Got: sj.RampMax.Format(), Why: why, Would: fmt.Sprintf("ramp = %q", a)}}
		}
		deeper := sj
		for deeper.DepthPerPass < sj.Depth && deeper.Moves() > maxSlotMoves {
			deeper.DepthPerPass = w.Job.Units.Ceil(deeper.DepthPerPass * 1.2)
		}
		return problem.List{{Key: "cutter.depth_per_pass", Got: w.Say(sj.DepthPerPass), Why: why,
			Would: fmt.Sprintf("depth_per_pass = %q, or a wider cutter under [cutter] diameter", w.Say(deeper.DepthPerPass))}}
	case load > maxSlotMoves:
		return problem.List{{Key: "slot.stations", Got: fmt.Sprint(sj.Stations), Why: why,
			Would: fmt.Sprintf("stations = %d", int(maxSlotMoves/one))}}
	}
	return problem.List{{Key: "slot.loads", Got: fmt.Sprint(sj.Loads), Why: why, Would: fmt.Sprintf("loads = %d", int(maxSlotMoves/load))}}
}

// tooLong says where a slot program leaves the machine's travel in Y or Z. X
// is the star model's to say, which can move the slot's end.
func tooLong(w *Work, u *star.Unit, sj planner.SlotJob) problem.List {
	var out problem.List
	t, say := w.Job.Machine.Travel, w.Say
	if y := float64(sj.Stations-1) * sj.Pitch; t[1] > 0 && y > t[1] {
		out = append(out, problem.Problem{Key: "slot.stations", Got: fmt.Sprint(sj.Stations),
			Why:   fmt.Sprintf("the stations take %s in Y, the machine has %s", say(y), say(t[1])),
			Would: fmt.Sprintf("stations = %d", 1+int(t[1]/sj.Pitch))})
	}
	if sj.Stations > 1 && sj.Pitch < u.Thickness() {
		out = append(out, problem.Problem{Key: "slot.pitch", Got: say(sj.Pitch),
			Why:   fmt.Sprintf("segments %s thick do not stand side by side at that pitch", say(u.Thickness())),
			Would: fmt.Sprintf("pitch = %q", say(w.Job.Units.Ceil(u.Thickness()+25)))})
	}
	if z := sj.SafeZ + sj.Depth; t[2] > 0 && z > t[2] {
		out = append(out, problem.Problem{Key: "machine.travel", Got: say(t[2]),
			Why:   fmt.Sprintf("from the safe height to the slot's floor the cutter moves %s in Z", say(z)),
			Would: lessZ(w, t[2]-sj.Depth, fmt.Sprintf("%s for plain glued joints, or a machine that moves %s", u.WithoutSlots(), say(w.Job.Units.Ceil(z))))})
	}
	return out
}
