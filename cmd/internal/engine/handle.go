package engine

import (
	"context"
	"encoding/json"
	"strings"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
	"starwright/cmd/internal/plan"
	"starwright/geom/bench/lumber"
)

// calls are what [Handle] carries out, by name.
var calls = map[string]func(context.Context, Call) (Reply, error){
	"glance":  glance,
	"plan":    wholePlan,
	"compare": compare,
	"make":    makePacket,
	"check":   check,
	"fit":     fit,
	"about":   about,
	"shop":    shop,
	"bench":   bench,
	"zip":     zipFiles,
}

// Handle carries out a call. ok is false for one that it does not know.
func Handle(ctx context.Context, c Call) (r Reply, err error, ok bool) {
	f, ok := calls[c.Name]
	if !ok {
		return Reply{}, nil, false
	}
	r, err = f(ctx, c)
	return r, err, true
}

// arguments reads the arguments of a call.
func arguments(c Call, into any) error {
	if err := json.Unmarshal(c.Args, into); err != nil {
		return &Fault{Kind: "call", Lines: []string{c.Name + ": " + err.Error()}}
	}
	return nil
}

// About is what the page has to know before it has a job.
type About struct {
	Version string   `json:"version"`
	Starter string   `json:"starter"` // a job file to begin with
	BuiltIn string   `json:"built_in"`
	Boards  []string `json:"boards"` // the trade's names
}

func about(context.Context, Call) (Reply, error) {
	return Reply{Result: About{packet.Version(), string(job.Starter()), string(job.BuiltIn()), lumber.Names()[1:]}}, nil
}

// Whole is a job worked out, or what is wrong with it.
type Whole struct {
	Errors []JobError     `json:"errors"`
	Plan   *plan.Document `json:"plan"`
	Page   string         `json:"page"` // as the command line prints it
	Hours  Hours          `json:"hours"`
}

// Hours are what machines take for the whole job, in minutes, by the programs'
// own estimate.
type Hours struct {
	Slots  float64 `json:"slots_minutes"`
	Sheets float64 `json:"sheets_minutes"`
	Runs   int     `json:"runs"`
}

func wholePlan(ctx context.Context, c Call) (Reply, error) {
	var j Draft
	source, err := edited(c, &j)
	if err != nil {
		return Reply{}, err
	}
	w, err := j.whole(ctx, source, c.Tell)
	out := Whole{Errors: []JobError{}}
	if errs := inJob(err); len(errs) > 0 {
		out.Errors = j.errors(ctx, source, errs)
		return Reply{Result: out}, nil
	}
	if err != nil {
		return Reply{}, err
	}
	out.Plan, out.Page, out.Hours = numbers(w, j.shown(w)), plan.Page(w, false, plan.Width), hours(w)
	return Reply{Result: out}, nil
}

// worked works out all of a call's draft.
func worked(ctx context.Context, c Call) (*packet.Work, Draft, error) {
	var j Draft
	source, err := edited(c, &j)
	if err != nil {
		return nil, j, err
	}
	w, err := j.whole(ctx, source, c.Tell)
	return w, j, err
}

// bench works out the page for a phone at the machine, which the desk shows as
// it will stand in the packet.
func bench(ctx context.Context, c Call) (Reply, error) {
	w, _, err := worked(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	page, err := w.BenchPage()
	return Reply{Files: []File{{"bench.html", page}}}, err
}

func hours(w *packet.Work) (h Hours) {
	for _, g := range w.Programs {
		m := g.Minutes * float64(g.Quantity)
		if g.Sheet != nil {
			h.Sheets += m
		} else {
			h.Slots += m
		}
		h.Runs += g.Quantity
	}
	return h
}

// Variant is a job with one thing different.
type Variant struct {
	Name  string `json:"name"`
	Edits []Edit `json:"edits"`
}

// Compared is what would come of it.
type Compared struct {
	Name    string         `json:"name"`
	Error   string         `json:"error,omitempty"` // the first thing that would be wrong
	Numbers *plan.Document `json:"numbers"`
	Says    *Says          `json:"says"`
	Hours   *Hours         `json:"hours,omitempty"`
}

// compare works out several variants of a job, whole where the page asks for it.
func compare(ctx context.Context, c Call) (Reply, error) {
	const most = 24
	var in struct {
		Draft
		Variants []Variant `json:"variants"`
		Whole    bool      `json:"whole"`
	}
	source, err := edited(c, &in)
	if err != nil {
		return Reply{}, err
	}
	out := []Compared{}
	for _, v := range in.Variants[:min(most, len(in.Variants))] {
		if err := ctx.Err(); err != nil {
			return Reply{}, err
		}
		one := in.Draft
		one.Source, one.Edits = string(source), v.Edits
		out = append(out, one.variant(ctx, v.Name, in.Whole))
	}
	return Reply{Result: out}, nil
}

func (j Draft) variant(ctx context.Context, name string, whole bool) Compared {
	source, err := j.edited()
	if err != nil {
		return Compared{Name: name, Error: strings.Join(AsFault(err).Lines, " ")}
	}
	w, err := j.star(ctx, source)
	if whole && err == nil {
		err = w.Finish(ctx)
	}
	if errs := inJob(err); len(errs) > 0 {
		return Compared{Name: name, Error: errs[0].Why}
	}
	if err != nil {
		return Compared{Name: name, Error: err.Error()}
	}
	out := Compared{Name: name, Numbers: numbers(w, j.shown(w)), Says: says(w, j.shown(w))}
	if whole {
		h := hours(w)
		out.Hours = &h
	}
	return out
}
