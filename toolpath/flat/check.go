package flat

import (
	"fmt"
	"math"
	"strconv"

	"starwright/geom"
	"starwright/geom/problem"
	"starwright/toolpath/nest"
)

// Limits of what is laid out.
const (
	MaxBoards = 500   // counted singly; a job file takes as many
	MaxParts  = 60000 // of one item
	MaxLength = 50000.0
)

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// check returns what cannot be computed with.
func check(items []Item, boards []Board, o Options) problem.List {
	sheet := nest.Options{W: MaxLength, H: MaxLength, Margin: o.Margin, Spacing: o.Spacing, Cutter: o.Cutter, Unit: o.Unit}
	ps := sheet.Check()
	u := o.Unit
	for _, v := range []struct {
		key       string
		mm, would float64
	}{{"end trim", o.EndTrim, 10}, {"kerf", o.Kerf, 2.4}, {"step", o.Step, 1}, {"bed", o.BedX, 600}, {"bed", o.BedY, 400}} {
		if !finite(v.mm) || v.mm < 0 || v.mm > MaxLength {
			ps = append(ps, problem.Problem{Key: v.key, Got: u.Format(v.mm), Why: "not a length for this", Would: u.Format(v.would)})
		}
	}
	for i, it := range items {
		if !outlined(it.Part.Outline) {
			ps = append(ps, problem.Problem{Key: it.Part.Name, Why: "has no outline that could be laid out"})
		}
		if it.Count < 0 || it.Count > MaxParts {
			ps = append(ps, problem.Problem{Key: "parts", Item: i + 1, Got: strconv.Itoa(it.Count), Why: "no such number of parts", Would: fmt.Sprintf("0 to %d", MaxParts)})
		}
	}
	return append(ps, checkBoards(boards, u)...)
}

func outlined(c geom.Contour) bool {
	for _, v := range c {
		if !v.Finite() || !finite(v.Bulge) {
			return false
		}
	}
	return len(c) >= 2 && math.Abs(c.Area()) > 0
}

func checkBoards(boards []Board, u geom.Unit) problem.List {
	var ps problem.List
	total := 0
	for i, b := range boards {
		bad := func(got, why, would string) {
			ps = append(ps, problem.Problem{Key: "boards", Item: i + 1, Got: got, Why: why, Would: would})
		}
		total += min(max(b.Count, 1), MaxBoards+1)
		switch {
		case b.Count < 0:
			bad(strconv.Itoa(b.Count)+" boards", "no such number of boards", "1")
		case !(b.Length > 0 && b.Length <= MaxLength):
			bad(u.Format(b.Length), "not a board's length", u.Format(1800))
		case !(b.Width > 0 && b.Width <= MaxLength):
			bad(u.Format(b.Width), "not a board's width", u.Format(150))
		}
		for _, s := range b.Bad {
			if !(s.Start >= 0 && s.Start <= s.End && s.End <= b.Length) {
				bad(u.Format(s.Start)+" to "+u.Format(s.End), "a bad place lies within the board of "+u.Format(b.Length), "within 0 to "+u.Format(b.Length))
			}
		}
	}
	if total > MaxBoards {
		ps = append(ps, problem.Problem{Key: "boards", Got: strconv.Itoa(total), Why: "more boards than are planned at once", Would: fmt.Sprintf("%d at most", MaxBoards)})
	}
	return ps
}

// TooLarge is a part that fits on none of the boards. Lengths are mm.
type TooLarge struct {
	Part         string
	Item         int     // place in the list of items
	W, H         float64 // of the part, W along the grain
	Width        float64 // of the widest board that lies on the machine; 0 where none does
	Clear        float64 // longest clear piece of the boards that are wide enough, 0 where none is
	NeedW, NeedL float64 // width of a board and length of clear wood that it takes
	BedX, BedY   float64 // of the machine
	Trim         float64 // that comes off a board's two ends
	Unit         geom.Unit
}

// Error names a board that is large enough.
func (e *TooLarge) Error() string { return e.Problem().Error() }

// Problem returns the same as a fault of the job file.
func (e *TooLarge) Problem() problem.Problem {
	u := e.Unit
	p := problem.Problem{Key: "boards", Why: fmt.Sprintf("%s, %s along the grain and %s wide, fits on none of them lying flat", e.Part, u.Format(e.W), u.Format(e.H))}
	up := func(mm float64) string { return u.Format(u.Ceil(mm)) }
	switch {
	case e.BedX > 0 && e.NeedL > e.BedX:
		p.Key, p.Got = "bed", u.Format(e.BedX)
		p.Why = fmt.Sprintf("%s, %s along the grain, is longer than what lies on the machine, margins counted", e.Part, u.Format(e.W))
		p.Would = "a machine that takes " + up(e.NeedL)
		return p
	case e.BedY > 0 && e.NeedW > e.BedY:
		p.Key, p.Got = "bed", u.Format(e.BedY)
		p.Why = fmt.Sprintf("%s, %s across the grain, is wider than what lies on the machine, margins counted", e.Part, u.Format(e.H))
		p.Would = "a machine that takes " + up(e.NeedW)
		return p
	case e.Width == 0:
		p.Got = "no board that lies on the machine"
	case e.Width < e.NeedW-geom.Rounding:
		p.Got = "the widest " + u.Format(u.Floor(e.Width))
	default:
		p.Got = "the longest clear piece " + u.Format(u.Floor(e.Clear))
	}
	p.Would = fmt.Sprintf("a board %s wide with %s of clear wood, %s long in all", up(e.NeedW), up(e.NeedL), up(e.NeedL+e.Trim))
	return p
}
