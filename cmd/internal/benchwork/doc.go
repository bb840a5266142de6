// Package benchwork works out what a job says of wood and tools beyond the
// star itself: the strips that wide blanks are glued up from, the cut plan of the
// boards on the rack, the movement of the wood
// between shop and home, and whether the cutter's settings are common. It turns
// the job's keys into the questions of the packages below geom/bench, and what
// those refuse back into problems of the job's keys.
//
// It draws nothing and writes nothing; the plan prints its documents and the
// shop sheet its pages from what stands here.
package benchwork

import (
	"errors"
	"fmt"

	"starwright/cmd/internal/job"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// Work is what was worked out. Parts that the job does not ask for are nil.
type Work struct {
	Strips   *Strips
	Stock    *Stock
	Rack     *Rack // of an order and of two woods, in place of Stock
	Flat     *Flat // where segments are cut on the CNC, in place of both; see [LayFlat]
	Wood     *Wood
	Feeds    []Feed
	Warnings []problem.Note

	each map[*star.Unit]*Work // of an order: strips and wood of each of its stars
}

// of returns what was worked out for a star: of an order its own share, of a job of
// one star all of it, nil where there is none.
func (w *Work) of(u *star.Unit) *Work {
	if w == nil {
		return nil
	}
	if x := w.each[u]; x != nil || w.each != nil {
		return x
	}
	return w
}

// StripsOf returns how a star's boards are made from those on the rack, nil where
// they are as wide, or only ripped as the plan of an order says.
func (w *Work) StripsOf(u *star.Unit) *Strips {
	if x := w.of(u); x != nil {
		return x.Strips
	}
	return nil
}

// WoodOf returns the movement of a star's wood, nil where it is not known.
func (w *Work) WoodOf(u *star.Unit) *Wood {
	if x := w.of(u); x != nil {
		return x.Wood
	}
	return nil
}

// New works out everything the job says for stars from boards that are cut with
// a bit of some diameter (mm), or all that is wrong with it.
func New(j *job.Job, u *star.Unit, cutter float64) (*Work, problem.List) {
	w := &Work{}
	var problems problem.List
	parts := []func(*job.Job, *star.Unit) problem.List{w.strips, w.stock, w.wood}
	if j.Segments.CNC {
		parts = parts[2:]
	}
	for _, part := range parts {
		problems = append(problems, part(j, u)...)
	}
	problems = append(problems, w.feeds(j, u, cutter)...)
	if len(problems) > 0 {
		return nil, problems
	}
	return w, nil
}

func (w *Work) warn(key, value, why string) {
	w.Warnings = append(w.Warnings, problem.Note{Key: key, Value: value, Why: why})
}

// asProblems turns what a bench package refuses into problems of the job's
// keys; key returns the key of a field.
func asProblems(err error, key func(problem.Problem) string) problem.List {
	var ps problem.List
	if !errors.As(err, &ps) {
		return problem.List{{Key: key(problem.Problem{}), Why: err.Error()}}
	}
	out := make(problem.List, 0, len(ps))
	for _, p := range ps {
		why := p.Why
		if p.Item > 0 {
			why = fmt.Sprintf("board %d: %s", p.Item, why)
		}
		out = append(out, problem.Problem{Key: key(p), Got: p.Got, Why: why, Would: p.Would})
	}
	return out
}
