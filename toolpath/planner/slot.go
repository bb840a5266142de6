package planner

import (
	"errors"
	"fmt"
	"math"

	"starwright/geom"
	"starwright/toolpath"
)

// SlotJob is a spline slot to be cut in a facet that lies level under the
// spindle. Lengths are mm, feeds mm/min. The slot is given as the facet shows
// it, x from the star's centre towards the valley and y from the show face
// into the thickness; Mirror turns x round, for the facet on which the machine
// sees the valley on the left.
type SlotJob struct {
	Name   string
	Header []string

	Start, End   float64 // ends along the facet, cutter radius included
	FromFace     float64 // show face to the centre line
	Width, Depth float64
	Mirror       bool
	Stations     int     // segments held side by side, at least 1
	Pitch        float64 // from one station's show face to the next
	Loads        int     // how often the stations are filled, at least 1
	LoadNote     string  // said at the stop between loads
	Cutting              // its side of cut is that of the widening passes
}

// widenStep is how much a widening pass takes at most, in cutter diameters:
// less than half, so that the cutter is never in full width but on the centre
// line. Common practice, no source.
const widenStep = 0.4

// Passes returns the number of equal passes and the depth of each, mm, for a
// cut of the given depth: the fewest that are no deeper than perPass.
func Passes(depth, perPass float64) (n int, each float64) {
	n = int(math.Max(1, geom.Steps(depth, perPass)))
	return n, depth / float64(n)
}

// RampFeed returns the feed along a ramp of the given fall so that the cutter
// sinks no faster than plungeFeed, mm/min.
func RampFeed(feed, plungeFeed, length, fall float64) float64 {
	if fall <= 0 {
		return feed
	}
	return math.Min(feed, plungeFeed*math.Hypot(length, fall)/fall)
}

// Moves returns how many moves of a cutter one slot of the job takes, about, a
// number that may be beyond all bounds: a float64 holds it.
func (j SlotJob) Moves() float64 {
	n, each := Passes(j.Depth, j.DepthPerPass)
	legs := math.Max(1, geom.Steps(each, fallOf(j.End-j.Start-j.CutterDiameter, j.RampMax.Tan())))
	rings := math.Ceil(math.Max(0, (j.Width-j.CutterDiameter)/2) / (widenStep * j.CutterDiameter))
	return 5 + float64(n)*(2+legs+5*rings)
}

// Slot plans a slot program. Each pass goes down by a ramp along the slot
// and comes back level; a slot wider than the cutter is then widened at that
// depth, ring by ring, on the stated side of cut.
func Slot(j SlotJob) (toolpath.Program, error) {
	if err := j.check(); err != nil {
		return toolpath.Program{}, err
	}
	p := toolpath.Program{Name: j.Name, Header: j.Header, RPM: j.RPM, SpinUpS: j.SpinUpS, SafeZ: j.SafeZ}
	at := geom.Point3{Z: j.SafeZ}
	for load := 1; load <= j.Loads; load++ {
		if load > 1 {
			p.Steps = append(p.Steps, parked(j.Park, at)...)
			p.Steps = append(p.Steps, toolpath.Pause(fmt.Sprintf("load %d of %d: %s", load, j.Loads, j.LoadNote)))
		}
		for s := 0; s < j.Stations; s++ {
			if j.Stations > 1 {
				p.Steps = append(p.Steps, toolpath.Remark(fmt.Sprintf("station %d of %d", s+1, j.Stations)))
			}
			w := newSlotWalk(j, j.FromFace+float64(s)*j.Pitch)
			w.cut()
			p.Steps, at = append(p.Steps, w.steps...), w.at
		}
	}
	p.Steps = append(p.Steps, parked(j.Park, at)...)
	return p, nil
}

func (j SlotJob) check() error {
	all := []float64{j.Start, j.End, j.FromFace, j.Width, j.Depth, j.Pitch, j.CutterDiameter, j.DepthPerPass,
		j.Feed, j.PlungeFeed, float64(j.RampMax), j.RPM, j.SafeZ, j.Approach}
	for _, v := range all {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return errors.New("slot: a value is not a number")
		}
	}
	switch {
	case j.CutterDiameter <= 0 || j.DepthPerPass <= 0 || j.Depth <= 0:
		return fmt.Errorf("slot: cutter %g, depth %g and depth per pass %g must be above zero", j.CutterDiameter, j.Depth, j.DepthPerPass)
	case j.CutterDiameter > j.Width+geom.Rounding:
		return fmt.Errorf("slot: the cutter (%g mm) is wider than the slot (%g mm)", j.CutterDiameter, j.Width)
	case j.RampMax <= 0:
		return errors.New("slot: the ramp's angle must be above zero")
	case j.End-j.Start < j.CutterDiameter+RampRoom(j.RampMax)-geom.Rounding:
		return fmt.Errorf("slot: from %g to %g mm there is no room for a ramp of a %g mm cutter", j.Start, j.End, j.CutterDiameter)
	case j.Feed <= 0 || j.PlungeFeed <= 0:
		return errors.New("slot: feeds must be above zero")
	case j.Stations < 1 || j.Loads < 1 || j.Stations > 1 && j.Pitch <= 0:
		return errors.New("slot: stations, loads and pitch must be above zero")
	case j.Approach <= 0 || j.SafeZ < j.Approach:
		return fmt.Errorf("slot: safe height %g mm must lie above the approach height %g mm, and that above the wood", j.SafeZ, j.Approach)
	}
	return nil
}

// legs is in how many legs of its length the slot is ramped down by a fall, each
// as flat as asked when it has been rounded in a file.
func (j SlotJob) legs(fall float64) int {
	return int(math.Max(1, geom.Steps(fall, fallOf(j.End-j.Start-j.CutterDiameter, j.RampMax.Tan()))))
}

// RampRoom is how far a cutter must have to go along a slot for a ramp in it, mm:
// room for what a file's rounding takes, and for legs of a height that counts.
func RampRoom(ramp geom.Angle) float64 {
	const least = 0.01 // mm that a leg goes down
	return (least + reserveOf(ramp.Tan())) / ramp.Tan()
}

// slotWalk is the cutter's way through one slot. The near and far end are
// those of the cutter's centre, in machine X.
type slotWalk struct {
	j      SlotJob
	lo, hi float64 // machine X of the two ends, lo < hi
	y      float64 // centre line
	at     geom.Point3
	steps  []toolpath.Step
	passes int
	each   float64
}

func newSlotWalk(j SlotJob, y float64) *slotWalk {
	r := j.CutterDiameter / 2
	w := &slotWalk{j: j, lo: j.Start + r, hi: j.End - r, y: y}
	if j.Mirror {
		w.lo, w.hi = -w.hi, -w.lo
	}
	w.passes, w.each = Passes(j.Depth, j.DepthPerPass)
	return w
}

// cut makes all passes, from the end near the star's centre.
func (w *slotWalk) cut() {
	x := w.lo
	if w.j.Mirror {
		x = w.hi
	}
	w.at = geom.Point3{X: x, Y: w.y, Z: w.j.SafeZ}
	w.steps = append(w.steps, toolpath.RapidTo(w.at))
	w.at.Z = w.j.Approach
	w.steps = append(w.steps, toolpath.RapidTo(w.at))
	w.to(x, w.y, 0, w.j.PlungeFeed)
	for k := 1; k <= w.passes; k++ {
		w.steps = append(w.steps, toolpath.Remark(fmt.Sprintf("pass %d of %d", k, w.passes)))
		w.ramp(-float64(k) * w.each)
		w.to(w.otherEnd(), w.y, w.at.Z, w.j.Feed)
		w.widen()
	}
	w.to(w.at.X, w.at.Y, w.j.Approach, w.j.Feed)
	w.at.Z = w.j.SafeZ
	w.steps = append(w.steps, toolpath.RapidTo(w.at))
}

// ramp sinks to z going to and fro between the ends, no steeper than RampMax.
func (w *slotWalk) ramp(z float64) {
	length, fall := w.hi-w.lo, w.at.Z-z
	legs := w.j.legs(fall)
	feed := RampFeed(w.j.Feed, w.j.PlungeFeed, length, fall/float64(legs)+reserveOf(w.j.RampMax.Tan()))
	from := w.at.Z
	for i := 1; i < legs; i++ {
		w.to(w.otherEnd(), w.y, from-fall*float64(i)/float64(legs), feed)
	}
	w.to(w.otherEnd(), w.y, z, feed)
}

// widen takes the slot from the cutter's width to its own at the present
// depth. With the spindle turning clockwise, kept wood on the left of the
// travel is conventional, so inside a pocket the way is clockwise.
func (w *slotWalk) widen() {
	spare := (w.j.Width - w.j.CutterDiameter) / 2
	if spare < geom.Touch { // the slot is as wide as the cutter
		return
	}
	rings := int(geom.Steps(spare, widenStep*w.j.CutterDiameter))
	for i := 1; i <= rings; i++ {
		o := spare * float64(i) / float64(rings)
		// Clockwise from the low end starts upwards, from the high end downwards.
		if (w.at.X == w.lo) == w.j.Climb {
			o = -o
		}
		z, near, far := w.at.Z, w.at.X, w.otherEnd()
		for _, p := range []geom.Point{{X: near, Y: w.y + o}, {X: far, Y: w.y + o}, {X: far, Y: w.y - o}, {X: near, Y: w.y - o}, {X: near, Y: w.y}} {
			w.to(p.X, p.Y, z, w.j.Feed)
		}
	}
}

func (w *slotWalk) otherEnd() float64 {
	if w.at.X == w.lo {
		return w.hi
	}
	return w.lo
}

func (w *slotWalk) to(x, y, z, feed float64) {
	w.at = geom.Point3{X: x, Y: y, Z: z}
	w.steps = append(w.steps, toolpath.FeedTo(w.at, feed))
}
