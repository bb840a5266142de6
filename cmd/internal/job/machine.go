package job

import (
	"strconv"
	"strings"

	"starwright/geom"
)

func (r *reader) machine(j *Job) {
	s := r.section("machine")
	t := &j.Machine
	s.travel(t)
	s.room(t)
	clear, why := r.pick("10 mm", "3/8 in"), "clear of flat clamps"
	if z := t.Travel[2]; z > 0 && z/2 < r.mm(clear) {
		clear, why = r.u.FormatFloor(z/2), "half the machine's travel"
	}
	t.SafeZ = s.length("safe_z", span{lo: 2, hi: 200, example: clear}, why)
	t.Approach = s.length("approach", span{lo: 0.1, hi: 50, example: r.pick("1 mm", "1/32 in")}, "rapids end this far over the wood")
	t.Park = s.choice("park", "at stops and at the end the cutter leaves the work", "back", "front", "left", "right", "up")
	t.SpinUp = 3
	if v := s.number("spin_up", 0, 60, "s", "3"); v != nil {
		t.SpinUp = *v
	} else if !s.has("spin_up") {
		s.note("spin_up", "3 s", "most spindles are up to speed by then")
	}
	if v := s.openFeed("max_feed", 10, 100000, r.pick("3000 mm/min", "120 in/min")); v > 0 {
		t.MaxFeed = &v
	}
	t.SpindleMin = s.number("spindle_min", 1, maxRPM, "rpm", "8000")
	t.SpindleMax = s.number("spindle_max", 1, maxRPM, "rpm", "24000")
	t.Accel = s.accel()
}

// accel reads the machine's acceleration, mm/s2; a number in quotes may be in
// in/s2.
func (s section) accel() float64 {
	usual, v := s.r.pick("150 mm/s2", "6 in/s2"), 150.0
	if s.r.u == geom.Inch {
		v = 6.0 * 127 / 5 // rounded once
	}
	n := s.get("accel")
	if n == nil {
		s.note("accel", usual, "a light machine; small arcs are cut no faster than that allows")
		return v
	}
	if number, inch := strings.CutSuffix(strings.TrimSpace(n.text), "in/s2"); n.kind == text && inch {
		in, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
		if mm := in * 127 / 5; err == nil && within(mm, 10, 20000) {
			return mm
		}
		s.fail("accel", n, "write a number of in/s2 from 1 to 787", quote("6 in/s2"))
		return v
	}
	if given := s.number("accel", 10, 20000, "mm/s2", "150"); given != nil {
		return *given
	}
	return v
}

// noLimit stands for the travel of a machine that the job does not give; a job may write it.
const noLimit = "no limit"

// travel reads the machine's three lengths of travel.
func (s section) travel(t *MachineTable) {
	n := s.get("travel")
	example := s.r.pick(`["400 mm", "400 mm", "90 mm"]`, `["16 in", "16 in", "3 1/2 in"]`)
	if n == nil {
		s.note("travel", noLimit, "the job does not say, so no program is held against it")
		return
	}
	if n.kind == text && n.text == noLimit {
		return
	}
	if n.kind != list || len(n.items) != 3 {
		s.fail("travel", n, "write three lengths in brackets: along X, along Y and up and down", example)
		return
	}
	var v [3]float64
	for i, item := range n.items {
		mm, ok := s.lengthOf("travel", item, span{lo: 10, hi: maxTravel, would: "travel = " + s.travelWith(n, i)})
		if !ok {
			return
		}
		v[i] = mm
	}
	t.Travel = v
}

// travelWith writes the lengths of travel as the file has them, but for one.
func (s section) travelWith(n *node, but int) string {
	usual := [3]string{s.r.pick(`"400 mm"`, `"16 in"`), s.r.pick(`"400 mm"`, `"16 in"`), s.r.pick(`"90 mm"`, `"3 1/2 in"`)}
	for i, item := range n.items {
		if i != but && (item.kind == text || item.kind == whole || item.kind == decimal) {
			usual[i] = item.raw
		}
	}
	return "[" + strings.Join(usual[:], ", ") + "]"
}
