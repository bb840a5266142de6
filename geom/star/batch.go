package star

import (
	"fmt"
	"math"
	"strconv"

	"starwright/geom"
)

// Unit is a star with the slots in its facets and the splines between them.
// Slot is nil where the joints are plain glued.
type Unit struct {
	Star
	Slot   *Slot
	Spline *Spline
}

// Batch is everything a job comes to.
type Batch struct {
	Spec      Spec
	Thickness float64
	Count     int
	Main      Unit
	Offcut    *Unit // nil without a second star
	Blank     Blank
	Cutter    float64 // diameter, mm
	Defaults  []Note  // values chosen here because the job left them open
	Warnings  []Note
}

// Blank is the piece of board that a segment is cut from.
type Blank struct {
	Length float64 // mm
	Count  int     // for the whole batch
}

// Segments returns how many segments of each kind the batch has.
func (b *Batch) Segments() int { return b.Main.Points * b.Count }

// New builds the batch that spec asks for, or says all that is wrong with it.
func New(spec Spec) (*Batch, []Problem) {
	b := &Batch{Spec: spec, Thickness: spec.Thickness, Count: spec.Count}
	c, t, problems := b.angles()
	if len(problems) > 0 {
		return nil, problems
	}
	w := spec.BoardWidth
	if spec.StarWidth > 0 {
		w = widthFor(spec.StarWidth, spec.Points, c, t)
	}
	if p, ok := checkWidth(spec, w, c, t); !ok {
		return nil, []Problem{p}
	}
	b.Main.Star = Star{spec.Points, newSegment(w, c, t)}
	b.Blank = Blank{roundUp(b.Main.Segment.Length+spec.EndTrim, spec.RoundTo), b.Segments()}

	problems = append(problems, b.slots()...)
	if spec.OffcutStar {
		problems = append(problems, b.offcuts()...)
	}
	if len(problems) > 0 {
		return nil, problems
	}
	b.warnSaw()
	return b, nil
}

// angles settles the number of points and the two angles.
func (b *Batch) angles() (c, t geom.Angle, ps []Problem) {
	n := b.Spec.Points
	if n < MinPoints || n > MaxPoints {
		return 0, 0, []Problem{{
			Key: "star.points", Got: strconv.Itoa(n),
			Why:   fmt.Sprintf("a star here has %d to %d points", MinPoints, MaxPoints),
			Would: "points = " + strconv.Itoa(min(max(n, MinPoints), MaxPoints)),
		}}
	}
	c = geom.Deg(360 / float64(n))
	if b.Spec.Tip == nil {
		tip, ok := DefaultTip(n)
		if !ok {
			return 0, 0, []Problem{{
				Key: "star.tip", Why: fmt.Sprintf("a star of %d points has no usual tip angle, so the job must give one below %s", n, FormatAngle(MaxTip(n))),
				Would: `tip = "45 deg"`,
			}}
		}
		b.note("star.tip", FormatAngle(tip), fmt.Sprintf("the regular star of %d points", n))
		return c, tip, nil
	}
	t = *b.Spec.Tip
	if hi := MaxTip(n) - tipSlack; t < MinTip || t > hi {
		return 0, 0, []Problem{{
			Key: "star.tip", Got: FormatAngle(t),
			Why: fmt.Sprintf("%d points make a star with tips from %s to %s; wider ones make a plain polygon",
				n, FormatAngle(MinTip), FormatAngle(hi)),
			Would: fmt.Sprintf("tip = %q", plainAngle(min(max(t, MinTip), hi))),
		}}
	}
	return c, t, nil
}

// checkWidth refuses boards that no bench has.
func checkWidth(spec Spec, w float64, c, t geom.Angle) (Problem, bool) {
	if w >= MinBoardWidth-1e-9 && w <= MaxBoardWidth+1e-9 {
		return Problem{}, true
	}
	u := spec.Unit
	if spec.StarWidth > 0 {
		ratio := spec.StarWidth / w
		would := ceil(u, MinBoardWidth*ratio)
		if w > MaxBoardWidth {
			would = floor(u, MaxBoardWidth*ratio)
		}
		return Problem{
			Key: "star.star_width", Got: u.Format(spec.StarWidth),
			Why:   fmt.Sprintf("it takes boards %s wide; boards from %s to %s can be worked", u.Format(w), ceil(u, MinBoardWidth), floor(u, MaxBoardWidth)),
			Would: fmt.Sprintf("star_width = %q", would),
		}, false
	}
	would := ceil(u, MinBoardWidth)
	if w > MaxBoardWidth {
		would = floor(u, MaxBoardWidth)
	}
	return Problem{
		Key: "star.board_width", Got: u.Format(w),
		Why:   fmt.Sprintf("boards from %s to %s can be worked", ceil(u, MinBoardWidth), floor(u, MaxBoardWidth)),
		Would: fmt.Sprintf("board_width = %q", would),
	}, false
}

// warnSaw says where a cut is finer than most saws show.
func (b *Batch) warnSaw() {
	if t := b.Main.Segment.Tip; t < 15*geom.Degree {
		b.warn("star.tip", FormatAngle(t), "so slender a tip breaks easily; most stars have 30 degrees or more (common practice)")
	}
}

func (b *Batch) note(key, value, why string) {
	b.Defaults = append(b.Defaults, Note{key, value, why})
}

func (b *Batch) warn(key, value, why string) {
	b.Warnings = append(b.Warnings, Note{key, value, why})
}

// FormatAngle prints an angle in degrees to 0.01, without trailing zeros.
func FormatAngle(a geom.Angle) string {
	return strconv.FormatFloat(math.Round(a.Degrees()*100)/100, 'f', -1, 64) + "°"
}

// plainAngle prints an angle as a job file takes it.
func plainAngle(a geom.Angle) string {
	return strconv.FormatFloat(math.Round(a.Degrees()*100)/100, 'f', -1, 64) + " deg"
}
