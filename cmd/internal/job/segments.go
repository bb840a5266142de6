package job

import (
	"fmt"
	"math"

	"starwright/geom/bench/feeds"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// SegmentsTable is `[segments]`: how segments are cut from boards.
type SegmentsTable struct {
	CNC     bool     // from boards that lie flat on the CNC; else sawn from blanks
	Margin  *float64 // mm from the edges of a board to a segment; [Load] fills it
	Spacing *float64 // mm between segments; [Load] fills it
	Longest float64  // mm, of the pieces of board that lie on the machine
	// Of boards that are bought where rack and yard give too few; [Load] fills the
	// width.
	BoardWidth  *float64
	BoardLength float64
	Cutter      CutterTable // its diameter settled; not read
}

// What a tab of a segment holds on to, mm: a narrower strip between two cuts
// breaks. Common practice, no source.
const usualStrip = 3.0

// What reads cut.
const (
	bySaw = "saw"
	byCNC = "cnc"
)

// segments reads how segments are cut. The other keys count on the CNC alone.
func (r *reader) segments(j *Job) {
	s := r.section("segments")
	t := &j.Segments
	if s.get("cut") != nil { // that the saw cuts them is no choice to report
		t.CNC = s.choice("cut", "", bySaw, byCNC) == byCNC
	}
	t.Margin = s.open("margin", span{hi: 500, example: r.pick("10 mm", "3/8 in")})
	t.Spacing = s.open("spacing", span{lo: 0.5, hi: 500, example: r.pick("16 mm", "5/8 in")})
	longest, why := r.pick("800 mm", "32 in"), "a piece that one person lays on the machine"
	if x := j.Machine.Travel[0]; x > 0 {
		longest, why = r.u.FormatFloor(x), "what the machine's travel reaches"
	}
	for _, v := range []struct {
		key, example, why string
		to                *float64
	}{
		{"longest", longest, why, &t.Longest},
		{"board_length", r.pick("2400 mm", "96 in"), "a usual length in the yard", &t.BoardLength},
	} {
		*v.to = r.mm(v.example)
		if x := s.open(v.key, span{lo: 50, hi: maxBoardLen, example: v.example}); x != nil {
			*v.to = *x
		} else if t.CNC && !s.has(v.key) {
			s.note(v.key, v.example, v.why)
		}
	}
	t.BoardWidth = s.open("board_width", span{lo: star.MinBoardWidth, hi: star.MaxBoardWidth, example: r.pick("150 mm", "6 in")})
}

// segmentRules says what does not go with segments from the CNC.
func (r *reader) segmentRules(j *Job) {
	t := j.Segments
	if !t.CNC {
		for _, k := range []string{"margin", "spacing", "longest", "board_width", "board_length"} {
			if j.At("segments."+k) > 0 {
				r.warnings = append(r.warnings, problem.Note{Key: "segments.cut", Value: bySaw, Why: "where segments are sawn, the other keys of [segments] change nothing"})
				return
			}
		}
		return
	}
	saw := fmt.Sprintf("[segments] cut = %q", bySaw)
	switch {
	case !r.sound("segments.cut"):
	case !j.Shop.With(CNC) && r.sound("shop.has"):
		r.broken(j, "segments.cut", byCNC, "the shop has no CNC that could cut them", fmt.Sprintf("cut = %q", bySaw))
	case j.Star.OffcutStar && r.sound("star.offcut_star"):
		r.broken(j, "star.offcut_star", "true", "the CNC leaves no off-cuts of the tips to glue a second star from", "offcut_star = false, and a [[star]] of that size beside this one")
	case j.TwoWoods() && j.Star.Halves != star.Whole && r.sound("star.woods", "star.halves"):
		r.broken(j, "star.woods", "a list", "segments of two woods each are sawn from blanks that are glued up; the CNC takes them from plain boards", saw)
	case j.Stock.Laminate && r.sound("stock.laminate"):
		r.broken(j, "stock.laminate", "true", "the CNC takes segments from boards that are wide enough as they are", "laminate = false, and wider boards")
	}
	if x := j.Machine.Travel[0]; x > 0 && t.Longest > x+x*rounding && r.sound("segments.longest", "machine.travel") {
		r.broken(j, "segments.longest", j.Units.Format(t.Longest), fmt.Sprintf("the machine moves %s along X, and a longer piece of board reaches beyond", j.Units.Format(x)),
			"longest = "+quote(j.Units.FormatFloor(x)))
	}
}

// settleSegments settles, once the order has the segments' sizes, the cutter that
// they are cut with and what follows from it.
func (j *Job) settleSegments(o *star.Order) []Error {
	t := &j.Segments
	if !t.CNC {
		return nil
	}
	thick, wide := 0.0, 0.0
	for _, u := range o.Units {
		thick, wide = max(thick, u.Thickness()), max(wide, u.Segment.Width)
	}
	if errs := j.takeSegmentBit(o, thick+j.Sheet.Breakthrough); len(errs) > 0 {
		return errs
	}
	d, u := *t.Cutter.Diameter, j.Units
	var errs []Error
	note := func(key, value, why string) {
		j.Defaults = append(j.Defaults, problem.Note{Key: "segments." + key, Value: value, Why: why})
	}
	if t.Spacing == nil {
		s := j.upTo("1 mm", "1/16 in", 2*d+usualStrip)
		t.Spacing = &s
		note("spacing", u.Format(s), "two cuts and a strip between them that holds the tabs")
	} else if *t.Spacing < d+leastSliver-rounding*d {
		errs = append(errs, j.Error(problem.Problem{Key: "segments.spacing", Got: u.Format(*t.Spacing),
			Why:   fmt.Sprintf("a cutter of %s does not pass between segments so near to each other", u.FormatSize(d)),
			Would: "spacing = " + quote(u.Format(u.Ceil(2*d+usualStrip)))}))
	}
	if t.Margin == nil {
		m := j.upTo("1 mm", "1/16 in", d+usualStrip)
		t.Margin = &m
		note("margin", u.Format(m), "the cut, and an edge that holds the tabs")
	} else if *t.Margin < d {
		errs = append(errs, j.Error(problem.Problem{Key: "segments.margin", Got: u.Format(*t.Margin),
			Why:   fmt.Sprintf("a cutter of %s would leave no edge that holds the segments", u.FormatSize(d)),
			Would: "margin = " + quote(u.Format(u.Ceil(d+usualStrip)))}))
	}
	return append(errs, j.boardsToBuy(wide)...)
}

// boardsToBuy settles how wide the boards are that are bought where the job names
// none: wide enough for the largest segment.
func (j *Job) boardsToBuy(wide float64) []Error {
	t, u := &j.Segments, j.Units
	least := j.upTo("5 mm", "1/4 in", wide+2*(*t.Margin))
	switch {
	case t.BoardWidth == nil && j.Stock.Width >= least:
		t.BoardWidth = &j.Stock.Width
		j.Defaults = append(j.Defaults, problem.Note{Key: "segments.board_width", Value: u.FormatExact(j.Stock.Width), Why: "as the boards on your rack"})
	case t.BoardWidth == nil:
		t.BoardWidth = &least
		j.Defaults = append(j.Defaults, problem.Note{Key: "segments.board_width", Value: u.Format(least), Why: "the widest segment and a margin on either side"})
	case *t.BoardWidth < wide+2*(*t.Margin)-rounding*wide:
		return []Error{j.Error(problem.Problem{Key: "segments.board_width", Got: u.Format(*t.BoardWidth),
			Why:   fmt.Sprintf("a segment is %s wide and keeps %s off either edge of the board", u.Format(wide), u.Format(*t.Margin)),
			Would: "board_width = " + quote(u.Format(least))})}
	}
	return nil
}

// OwnSegmentCutter reports whether segments are cut on the CNC with another cutter
// than the slots.
func (j *Job) OwnSegmentCutter(o *star.Order) bool {
	return j.Segments.CNC && *j.Segments.Cutter.Diameter != o.Cutter
}

// upTo rounds a length up to a step, the metric or the inch one as the job's unit
// asks.
func (j *Job) upTo(metric, inch string, mm float64) float64 {
	r := reader{u: j.Units}
	step := r.mm(r.pick(metric, inch))
	return j.Units.Round(math.Ceil(mm/step-rounding) * step)
}

// takeSegmentBit takes the cutter that segments are cut with: the job's, or of the
// shop's the one that is through the wood soonest. deep is how far it has to reach.
func (j *Job) takeSegmentBit(o *star.Order, deep float64) []Error {
	t, u := &j.Segments, j.Units
	t.Cutter = j.Cutter
	d := o.Cutter
	t.Cutter.Diameter = &d
	if j.Cutter.Diameter == nil && len(j.Shop.Cutters) > 0 {
		wood := feeds.MaterialOf(j.Wood.Species)
		if b := j.through(deep, wood)[0]; b.Diameter != d { // else at the settings of the slots
			t.Cutter = j.cutterFor(b, wood)
			j.dropCutterNotes(o)
		}
	}
	l := t.Cutter.CutLength
	if l == nil || *l >= deep-rounding*deep {
		return nil
	}
	p := problem.Problem{Key: "shop.cutters", Why: fmt.Sprintf("none reaches through the segments, which takes %s", u.FormatSize(deep)),
		Would: fmt.Sprintf("[segments] cut = %q, or a cutter with cut_length = %s", bySaw, quote(u.Format(u.Ceil(deep))))}
	if j.At("cutter.cut_length") > 0 || j.Cutter.Diameter != nil {
		p.Key, p.Got = "cutter.cut_length", u.FormatSize(*l)
		p.Why = fmt.Sprintf("the cutter does not reach through the segments and into the spoilboard, which takes %s", u.FormatSize(deep))
		p.Would = fmt.Sprintf("cut_length = %s, of a longer cutter, or [segments] cut = %q", quote(u.Format(u.Ceil(deep))), bySaw)
	}
	return []Error{j.Error(p)}
}
