package job

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"starwright/geom/problem"
)

// rules checks what two keys say of each other. A rule is left out where one
// of its keys has an error of its own.
func (r *reader) rules(j *Job) {
	r.cutterRules(j)
	r.machineRules(j)
	r.sheetRules(j)
	r.woodRules(j)
	r.slotMachine(j)
	r.segmentRules(j)
	r.idle(j)
	if d := j.Cutter.Diameter; d != nil && r.sound("sheet.spacing") {
		r.errs = append(r.errs, j.spacing(*d)...)
	}
}

// sound reports whether none of the keys has an error.
func (r *reader) sound(keys ...string) bool {
	return !slices.ContainsFunc(r.errs, func(e Error) bool {
		return slices.Contains(keys, e.Table+"."+e.Key)
	})
}

// broken adds an error at a key, with its value as taken.
func (r *reader) broken(j *Job, key, value, why, would string) {
	r.add(j.Error(problem.Problem{Key: key, Got: value, Why: why, Would: would}))
}

// slotMachine leaves the slots out where nothing in the shop cuts them and the
// job does not ask for any.
func (r *reader) slotMachine(j *Job) {
	t := &j.Slot
	if j.Shop.With(CNC) || j.Shop.With(RouterTable) || t.Make != nil && !*t.Make || !r.sound("shop.has") {
		return
	}
	asked := t.Make != nil
	for _, v := range []*float64{t.Width, t.Depth, t.FromFace, t.Start, t.EndMargin, t.Web, t.Wall} {
		asked = asked || v != nil
	}
	if asked {
		has := append(names(j.Shop.Has), string(RouterTable))
		r.broken(j, "shop.has", "", "nothing in this shop cuts the slots that [slot] asks for",
			fmt.Sprintf("has = [\"%s\"]", strings.Join(has, `", "`)))
		return
	}
	no := false
	t.Make = &no
	j.Defaults = append(j.Defaults, problem.Note{Key: "slot.make", Value: "false", Why: "nothing in this shop cuts slots: the joints are plain glued"})
}

func (r *reader) cutterRules(j *Job) {
	c, u := j.Cutter, j.Units
	for _, e := range j.cuttingErrors() {
		if r.sound("cutter."+e.Key, "cutter.feed", "machine.max_feed") {
			r.add(e)
		}
	}
	l := c.CutLength
	if l == nil {
		return
	}
	for _, s := range []struct {
		table string
		depth *float64
	}{{"slot", j.Slot.Depth}, {"offcut_slot", j.OffcutSlot.Depth}} {
		if s.depth != nil && *s.depth > *l {
			r.broken(j, s.table+".depth", u.Format(*s.depth),
				"the cutter cuts no deeper than its cut_length, "+u.FormatSize(*l),
				fmt.Sprintf("depth = %s", quote(u.FormatFloor(*l))))
		}
	}
}

func (r *reader) machineRules(j *Job) {
	m, u := j.Machine, j.Units
	if m.Approach >= m.SafeZ && r.sound("machine.approach", "machine.safe_z") {
		r.broken(j, "machine.approach", u.Format(m.Approach),
			"rapids down must end below safe_z, "+u.Format(m.SafeZ),
			fmt.Sprintf("approach = %s", quote(r.pick("1 mm", "1/32 in"))))
	}
	if z := m.Travel[2]; z > 0 && m.SafeZ >= z && r.sound("machine.safe_z") {
		r.broken(j, "machine.safe_z", u.Format(m.SafeZ),
			"the machine moves up and down no more than "+u.Format(z),
			fmt.Sprintf("safe_z = %s", quote(u.FormatFloor(z/2))))
	}
	lo, hi := m.SpindleMin, m.SpindleMax
	rpm := j.Cutter.SpindleRPM
	switch {
	case lo != nil && hi != nil && *lo > *hi:
		r.broken(j, "machine.spindle_min", show(*lo), "this is more than spindle_max, "+show(*hi), "spindle_min = "+show(*hi))
	case !r.sound("cutter.spindle_rpm"):
	case lo != nil && rpm < *lo:
		r.broken(j, "cutter.spindle_rpm", show(rpm), "the machine's spindle turns no slower than "+show(*lo), "spindle_rpm = "+show(math.Ceil(*lo)))
	case hi != nil && rpm > *hi:
		r.broken(j, "cutter.spindle_rpm", show(rpm), "the machine's spindle turns no faster than "+show(*hi), "spindle_rpm = "+show(math.Floor(*hi)))
	}
	r.stationsRule(j)
}

// stationsRule keeps the stations within the machine's travel along Y.
func (r *reader) stationsRule(j *Job) {
	y, n, p := j.Machine.Travel[1], j.Slot.Stations, j.Slot.Pitch
	if y <= 0 || float64(n-1)*p <= y || !r.sound("slot.stations", "slot.pitch") {
		return
	}
	r.broken(j, "slot.stations", strconv.Itoa(n),
		fmt.Sprintf("from the first station to the last it is %s; the machine moves %s along Y",
			j.Units.Format(float64(n-1)*p), j.Units.Format(y)),
		fmt.Sprintf("stations = %d", int(y/p)+1))
}

func (r *reader) sheetRules(j *Job) {
	s, m, u := j.Sheet, j.Machine, j.Units
	for i, side := range []struct {
		key string
		mm  float64
		dir string
	}{{"width", s.Width, "X"}, {"height", s.Height, "Y"}} {
		if t := m.Travel[i]; t > 0 && side.mm > t && r.sound("sheet."+side.key) {
			r.broken(j, "sheet."+side.key, u.Format(side.mm),
				fmt.Sprintf("the machine moves %s along %s, so it cannot reach over such a sheet", u.Format(t), side.dir),
				fmt.Sprintf("%s = %s", side.key, quote(u.FormatFloor(t))))
		}
	}
	if short := math.Min(s.Width, s.Height); 2*s.Margin >= short && r.sound("sheet.margin", "sheet.width", "sheet.height") {
		r.broken(j, "sheet.margin", u.Format(s.Margin), fmt.Sprintf("two margins leave nothing of a sheet %s wide", u.Format(short)),
			fmt.Sprintf("margin = %s", quote(u.FormatFloor(math.Min(short/10, 10)))))
	}
	noJigs := j.Jigs.Make != nil && len(j.Jigs.Make) == 0
	if r.sound("sheet.thickness", "sheet.breakthrough", "cutter.cut_length") {
		for _, e := range j.tooShort(j.Cutter.CutLength) {
			r.add(e)
		}
	}
	r.tabRules(j, noJigs)
}

// tabRules keeps tabs lower than what they are left in.
func (r *reader) tabRules(j *Job, noJigs bool) {
	h, u := j.Tabs.Height, j.Units
	if j.Tabs.Count == 0 || !r.sound("tabs.height") {
		return
	}
	would := func(t float64) string { return fmt.Sprintf("height = %s", quote(u.FormatFloor(t/2))) }
	if t := j.Sheet.Thickness; h >= t && !noJigs && r.sound("sheet.thickness") {
		r.broken(j, "tabs.height", u.Format(h), "tabs must be lower than the sheet is thick, "+u.FormatSize(t), would(t))
		return
	}
	if t := j.Spline.Thickness; t != nil && h >= *t && r.sound("spline.thickness") {
		r.broken(j, "tabs.height", u.Format(h), "tabs must be lower than the spline stock is thick, "+u.FormatSize(*t), would(*t))
	}
}

func (r *reader) woodRules(j *Job) {
	w := j.Wood
	for _, p := range []struct {
		mc, rh *float64
		when   string
	}{{w.MCNow, w.RHNow, "now"}, {w.MCService, w.RHService, "service"}} {
		if p.mc != nil && p.rh != nil {
			r.broken(j, "wood.rh_"+p.when, show(*p.rh),
				fmt.Sprintf("mc_%s already gives the wood's moisture", p.when),
				fmt.Sprintf("leaving out one of rh_%s and mc_%s", p.when, p.when))
		}
	}
}

// idle warns of keys that change nothing in this job.
func (r *reader) idle(j *Job) {
	warn := func(key, value, why string) {
		r.warnings = append(r.warnings, problem.Note{Key: key, Value: value, Why: why})
	}
	keys := func(name string) int {
		if n := r.root.kids[name]; n != nil {
			return len(n.keys)
		}
		return 0
	}
	off := func(b *bool) bool { return b != nil && !*b }
	if key := "star.joint"; j.Star.Joint != "" && off(j.Slot.Make) && j.At("slot.make") == 0 {
		if keys("slot") > 0 && (r.item == nil || r.item.kids["slot"] != nil) {
			warn(key, string(j.Star.Joint), "without slots [slot] changes nothing")
		}
	} else if off(j.Slot.Make) && keys("slot") > 1 {
		warn("slot.make", "false", "without slots the other keys of [slot] change nothing")
	}
	if r.item != nil && r.item.kids["offcut_slot"] == nil {
		// What an order says for all its stars need not change each of them.
	} else if keys("offcut_slot") > 0 && !j.Star.OffcutStar {
		warn("star.offcut_star", "false", "without a second star [offcut_slot] changes nothing")
	} else if keys("offcut_slot") > 0 && off(j.Slot.Make) {
		warn("slot.make", "false", "without slots in the main star [offcut_slot] changes nothing")
	}
	if j.At("star.offcut_spare") > 0 && !j.Star.OffcutStar {
		warn("star.offcut_star", "false", "without a second star offcut_spare changes nothing")
	}
	if j.At("star.offcut_hang_hole") > 0 && !j.Star.OffcutStar {
		warn("star.offcut_star", "false", "without a second star offcut_hang_hole changes nothing")
	}
	if j.Slot.Stations == 1 && j.At("slot.pitch") > 0 {
		warn("slot.stations", "1", "with one station pitch changes nothing")
	}
	for _, k := range []string{"rip_kerf", "jointing"} {
		if j.At("stock."+k) > 0 && j.Stock.Width == 0 && r.item == nil && !j.TwoWoods() {
			warn("stock."+k, "", "without board_width under [stock] it changes nothing")
		}
	}
	if keys("wood") > 0 && j.Wood.Species == "" && !j.TwoWoods() && !r.anyWoods {
		warn("wood.species", "", "without a species [wood] changes nothing")
	}
}
