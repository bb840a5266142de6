package star

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"starwright/geom"
	"starwright/geom/problem"
)

// Order is everything a job comes to.
type Order struct {
	Units    []*Unit        // in the order of the job, each followed by the one from its off-cuts
	Cutter   float64        // diameter of the bit that cuts the slots and the jigs, mm
	Defaults []problem.Note // values chosen here because the job left them open
	Warnings []problem.Note
}

// NewOrder builds the order that specs ask for, or says all that is wrong with
// it. Where there are several each needs a name of its own. The bit is the same
// for all: the first star with slots settles it where the job leaves it open.
func NewOrder(specs []Spec) (*Order, problem.List) {
	o := &Order{}
	var problems problem.List
	for i, spec := range specs {
		defaults, warnings := len(o.Defaults), len(o.Warnings)
		problems = append(problems, o.add(spec, i == len(specs)-1).Of(spec.Name)...)
		for _, notes := range [][]problem.Note{o.Defaults[defaults:], o.Warnings[warnings:]} {
			for k := range notes {
				if notes[k].Key != "cutter.diameter" { // of which there is one for all stars
					notes[k].Star = spec.Name
				}
			}
		}
	}
	if len(problems) == 0 {
		problems = o.names()
	}
	if len(problems) == 0 {
		problems = o.plates()
	}
	if len(problems) > 0 {
		return nil, problems
	}
	return o, nil
}

// add builds the units of one spec; the last one settles the bit, slots or not.
func (o *Order) add(spec Spec, last bool) problem.List {
	c, t, problems := o.angles(spec)
	if len(problems) > 0 {
		return problems
	}
	w := spec.BoardWidth
	if spec.StarWidth > 0 {
		w = widthFor(spec.StarWidth, spec.Points, c, t)
	}
	if p, ok := checkWidth(spec, w, c, t); !ok {
		return problem.List{p}
	}
	u := &Unit{Star: Star{spec.Points, newSegment(w, c, t)}, Spec: spec}
	u.Blank = &Blank{geom.RoundUp(u.Segment.Length+spec.EndTrim, spec.RoundTo), u.Segments()}
	o.Units = append(o.Units, u)

	problems = append(o.woods(u), o.slots(u, last)...)
	if len(problems) == 0 {
		problems = o.hang(u)
	}
	if spec.OffcutStar {
		problems = append(problems, o.offcuts(u)...)
	}
	if len(problems) > 0 {
		return problems
	}
	o.warnSaw(u)
	return nil
}

// names says which stars have names that would give two files the same path.
func (o *Order) names() problem.List {
	used := map[string]bool{}
	for _, u := range o.Units {
		name := strings.ToLower(u.File(""))
		if used[name] {
			return problem.List{{Star: u.Spec.Name, Key: "star.name", Got: u.Spec.Name,
				Why:   "the files of two stars would have the same names",
				Would: fmt.Sprintf("name = %q", strings.TrimPrefix(u.Spec.Name+"-2", "-"))}}
		}
		used[name] = true
	}
	return nil
}

// FromBoards returns the units that are cut from boards.
func (o *Order) FromBoards() []*Unit {
	var out []*Unit
	for _, u := range o.Units {
		if u.From == nil {
			out = append(out, u)
		}
	}
	return out
}

// Only returns the order of one star and the one from its off-cuts.
func (o *Order) Only(u *Unit) *Order {
	out := &Order{Units: []*Unit{u}, Cutter: o.Cutter}
	if small := o.FromOffcuts(u); small != nil {
		out.Units = append(out.Units, small)
	}
	return out
}

// FromOffcuts returns the unit that is glued up from the tip off-cuts of u, or
// nil where the job makes none.
func (o *Order) FromOffcuts(u *Unit) *Unit {
	for _, small := range o.Units {
		if small.From == u {
			return small
		}
	}
	return nil
}

// angles settles the number of points and the two angles.
func (o *Order) angles(spec Spec) (c, t geom.Angle, ps problem.List) {
	n := spec.Points
	if n < MinPoints || n > MaxPoints {
		return 0, 0, problem.List{{
			Key: "star.points", Got: strconv.Itoa(n),
			Why:   fmt.Sprintf("a star here has %d to %d points", MinPoints, MaxPoints),
			Would: "points = " + strconv.Itoa(min(max(n, MinPoints), MaxPoints)),
		}}
	}
	c = geom.Deg(360 / float64(n))
	if spec.Tip == nil {
		tip, ok := DefaultTip(n)
		if !ok {
			return 0, 0, problem.List{{
				Key: "star.tip", Why: fmt.Sprintf("a star of %d points has no usual tip angle, so the job must give one below %s", n, FormatAngle(MaxTip(n))),
				Would: `tip = "45 deg"`,
			}}
		}
		o.note("star.tip", tip.FormatExact(), fmt.Sprintf("the regular star of %d points", n))
		return c, tip, nil
	}
	t = *spec.Tip
	if hi := MaxTip(n) - tipSlack; t < MinTip || t > hi {
		return 0, 0, problem.List{{
			Key: "star.tip", Got: FormatAngle(t),
			Why: fmt.Sprintf("%d points make a star with tips from %s to %s; wider ones make a plain polygon",
				n, FormatAngle(MinTip), FormatAngle(hi)),
			Would: fmt.Sprintf("tip = %q", plainAngle(min(max(t, MinTip), hi))),
		}}
	}
	return c, t, nil
}

// checkWidth refuses boards that no bench has.
func checkWidth(spec Spec, w float64, c, t geom.Angle) (problem.Problem, bool) {
	if w >= MinBoardWidth-eps && w <= MaxBoardWidth+eps {
		return problem.Problem{}, true
	}
	u := spec.Unit
	if spec.StarWidth > 0 {
		ratio := spec.StarWidth / w
		would := ceil(u, MinBoardWidth*ratio)
		if w > MaxBoardWidth {
			would = floor(u, MaxBoardWidth*ratio)
		}
		return problem.Problem{
			Key: "star.star_width", Got: u.Format(spec.StarWidth),
			Why:   fmt.Sprintf("it takes boards %s wide; boards from %s to %s can be worked", u.Format(w), ceil(u, MinBoardWidth), floor(u, MaxBoardWidth)),
			Would: fmt.Sprintf("star_width = %q", would),
		}, false
	}
	would := ceil(u, MinBoardWidth)
	if w > MaxBoardWidth {
		would = floor(u, MaxBoardWidth)
	}
	return problem.Problem{
		Key: "star.board_width", Got: u.Format(w),
		Why:   fmt.Sprintf("boards from %s to %s can be worked", ceil(u, MinBoardWidth), floor(u, MaxBoardWidth)),
		Would: fmt.Sprintf("board_width = %q", would),
	}, false
}

// warnSaw says where a cut is finer than most saws show.
func (o *Order) warnSaw(u *Unit) {
	if t := u.Segment.Tip; t < 15*geom.Degree {
		o.warn("star.tip", FormatAngle(t), "so slender a tip breaks easily; most stars have 30 degrees or more (common practice)")
	}
}

func (o *Order) note(key, value, why string) {
	o.Defaults = append(o.Defaults, problem.Note{Key: key, Value: value, Why: why})
}

func (o *Order) warn(key, value, why string) {
	o.Warnings = append(o.Warnings, problem.Note{Key: key, Value: value, Why: why})
}

// FormatAngle prints an angle in degrees to 0.01, without trailing zeros.
func FormatAngle(a geom.Angle) string {
	return strconv.FormatFloat(math.Round(a.Degrees()*100)/100, 'f', -1, 64) + "°"
}

// plainAngle prints an angle as a job file takes it.
func plainAngle(a geom.Angle) string {
	return strconv.FormatFloat(math.Round(a.Degrees()*100)/100, 'f', -1, 64) + " deg"
}
