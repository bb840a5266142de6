package job

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom/problem"
	"starwright/geom/star"
)

// Room between parts on a sheet: never less than the cutter and a sliver, so
// that a part is not touched by its neighbour's cut; by default a strip that
// stays in one piece. Common practice, no source.
const (
	leastSliver  = 0.5 // mm
	usualSliver  = 2.0 // mm
	sheetSpacing = "sheet.spacing"
)

// spacing checks the room between parts, or fills it, for a cutter of the
// given diameter (mm).
func (j *Job) spacing(cutter float64) []Error {
	u := j.Units
	if s := j.Sheet.Spacing; s != nil {
		if *s >= cutter+leastSliver-rounding*cutter {
			return nil
		}
		return []Error{j.Error(problem.Problem{Key: sheetSpacing, Got: u.Format(*s),
			Why:   fmt.Sprintf("a cutter of %s does not pass between parts so near to each other", u.FormatSize(cutter)),
			Would: fmt.Sprintf("spacing = %s", quote(u.Format(u.Ceil(cutter+usualSliver))))})}
	}
	s := u.Ceil(cutter + usualSliver)
	j.Sheet.Spacing = &s
	j.Defaults = append(j.Defaults, problem.Note{Key: sheetSpacing, Value: u.Format(s), Why: "the cutter and a strip that stays in one piece"})
	return nil
}

// Load reads a job and builds its order, with the best cutter for sheets of the shop's
// that the order takes. It returns all that is wrong, from the files and from the model,
// in the order of the files; job and order are nil where there is anything.
func Load(in Input) (*Job, *star.Order, []Error) { return in.loadFrom(0) }

// loadFrom is [Load] with the best cutters for sheets passed over. Where the order takes
// none of the others, what is wrong is what the first of them asks for.
func (in Input) loadFrom(passed int) (*Job, *star.Order, []Error) {
	j, o, errs := in.loadWith(passed)
	for first := errs; len(errs) > 0; {
		if j == nil || len(j.sheetBits) < 2 {
			return nil, nil, sorted(first)
		}
		passed++
		j, o, errs = in.loadWith(passed)
	}
	return j, o, nil
}

// loadWith reads a job and builds its order with one cutter for the sheets. Where
// another one may mend what is wrong, the job is there beside it.
func (in Input) loadWith(passed int) (*Job, *star.Order, []Error) {
	j, errs := parse(in)
	if j == nil {
		return nil, nil, errs
	}
	shape := []string{"units", "star", "star.points", "star.board_width", "star.star_width", "star.thickness", "star.tip"}
	shapeless := func(e Error) bool {
		return slices.Contains(shape, strings.Trim(strings.Trim(e.Table, "[]")+"."+e.Key, "."))
	}
	if j.noSize() || slices.ContainsFunc(errs, shapeless) { // nothing to build on
		return nil, nil, errs
	}
	j.input = in
	if len(errs) == 0 { // else no cutter mends it
		j.chooseSheetBits(passed)
	}
	o, problems := star.NewOrder(j.Specs())
	for _, p := range problems {
		e := j.Error(p)
		same := func(x Error) bool { return x.Table == e.Table && x.Key == e.Key && x.Star == e.Star }
		if !slices.ContainsFunc(errs, same) {
			errs = append(errs, e)
		}
	}
	if o != nil && j.Cutter.Diameter == nil { // else parse has looked at it
		j.takeBit(o.Cutter)
		j.settleCutting(o.Cutter)
		if len(errs) == 0 {
			errs = j.cuttingErrors()
		}
	}
	if o != nil {
		errs = append(errs, j.settleSheets(o)...)
		errs = append(errs, j.settleSegments(o)...)
	}
	if o != nil && j.Cutter.Diameter == nil {
		errs = append(errs, j.spacing(*j.Sheets.Diameter)...)
	}
	return j, o, errs
}
