package packet

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"starwright/post/rs274/ncwrite"
)

// arcsJob cuts a plate with small holes and corners: fast, on a light machine.
const arcsJob = `[star]
board_width = "100 mm"
[jigs]
make = ["tip-gauge", "slot-stand"]
[cutter]
diameter = "6 mm"
feed = "2400 mm/min"
arcs = %t
[machine]
accel = %d
`

var word = regexp.MustCompile(`([FGIJXY])(-?[0-9.]+)`)

// cuts are the words of each feed move of the job's sheet programs, read here by
// themselves: a program states its feed only where it changes.
func cuts(t *testing.T, arcs bool, accel int) (out []map[string]float64) {
	t.Helper()
	w, errs := load("job.toml", fmt.Appendf(nil, arcsJob, arcs, accel))
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	for _, g := range w.Programs {
		if g.Sheet == nil {
			continue
		}
		text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
		if err != nil {
			t.Fatal(err)
		}
		feed := 0.0
		for _, line := range strings.Split(string(text), "\n") {
			if strings.HasPrefix(line, "(") {
				continue
			}
			m := map[string]float64{}
			for _, f := range word.FindAllStringSubmatch(line, -1) {
				m[f[1]], _ = strconv.ParseFloat(f[2], 64)
			}
			if f, ok := m["F"]; ok {
				feed = f
			}
			if m["F"] = feed; strings.HasPrefix(line, "G1 ") || strings.HasPrefix(line, "G2 ") || strings.HasPrefix(line, "G3 ") {
				out = append(out, m)
			}
		}
	}
	return out
}

// A small arc is cut no faster than the machine can turn: by Newton's second law a
// way of radius r at speed v takes v*v/r. Some arcs need it and get less than the
// job's feed; the others have it.
func TestSmallArcsAreSlow(t *testing.T) {
	const accel, feed = 150, 2400.0
	slow, fast := 0, 0
	for _, m := range cuts(t, true, accel) {
		if m["G"] < 2 {
			continue
		}
		r, v := math.Hypot(m["I"], m["J"]), m["F"]/60
		if v*v/r > accel*1.01 {
			t.Errorf("an arc of %.3f mm at %.0f mm/min takes %.0f mm/s2", r, m["F"], v*v/r)
		}
		if m["F"] < feed-1 {
			slow++
		} else {
			fast++
		}
	}
	if slow == 0 {
		t.Error("no arc is so small that it is slowed down")
	}
	t.Logf("%d arcs slowed down, %d at the job's feed", slow, fast)
}

// A machine that turns at once has the job's feed in every arc that does not go
// down a ramp.
func TestStiffMachineIsNotSlowed(t *testing.T) {
	weak, stiff := 0, 0
	for _, m := range cuts(t, true, 150) {
		if m["G"] > 1 && m["F"] < 2399 {
			weak++
		}
	}
	for _, m := range cuts(t, true, 20000) {
		if m["G"] > 1 && m["F"] < 2399 {
			stiff++
		}
	}
	if stiff >= weak {
		t.Errorf("%d arcs are slowed down on a stiff machine, %d on a light one", stiff, weak)
	}
}

// Without arcs their chords are as long as the tolerance allows: where chords of a
// tenth of a millimetre made 12,256 lines of 955, it is less than half as many.
func TestChordsAreLong(t *testing.T) {
	with, without := cuts(t, true, 150), cuts(t, false, 150)
	for _, m := range without {
		if m["G"] > 1 {
			t.Fatalf("an arc in a program without arcs: %v", m)
		}
	}
	if len(without) > len(with)*12256/955/2 {
		t.Errorf("%d moves without arcs, %d with", len(without), len(with))
	}
	t.Logf("%d moves with arcs, %d without", len(with), len(without))
}
