package engine

import (
	"context"
	"errors"
	"slices"
	"strings"

	"starwright/cmd/internal/fitting"
	"starwright/cmd/internal/packet"
	"starwright/geom"
	starfit "starwright/geom/bench/fit"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// fit answers what the fit command answers: which correction closes a gap.
func fit(ctx context.Context, c Call) (Reply, error) {
	var in struct {
		Draft
		Gap  string `json:"gap"`
		At   string `json:"at"`
		Test string `json:"test"`
	}
	source, err := edited(c, &in)
	if err != nil {
		return Reply{}, err
	}
	w, err := in.whole(ctx, source, c.Tell)
	if err != nil {
		return Reply{}, err
	}
	u := in.shown(w)
	answer, err := askFit(w, u, in.Gap, in.At, in.Test)
	if err != nil {
		return Reply{}, err
	}
	if answer.Reading != nil {
		all, err := w.Corrected(slices.Index(w.Order.Units, u), geom.Deg(-answer.Reading.Error))
		if err != nil {
			return Reply{}, err
		}
		answer.SetRoute(all[0])
	}
	return Reply{Result: map[string]any{"answer": answer, "page": answer.Page()}}, nil
}

func askFit(w *packet.Work, of *star.Unit, gap, at, test string) (*fitting.Answer, error) {
	u := w.Job.Units
	q := fitting.Question{Unit: u, Pivot: fitting.UsualPivot(u),
		Star: starfit.Ring{Points: of.Points, BoardWidth: of.Segment.Width, Tip: of.Segment.Tip}}
	mm, err := geom.ParseLength(strings.TrimSpace(gap), u)
	if err != nil {
		return nil, &Fault{Kind: "job", Lines: []string{"This is not a length. Write the gap as 0.5 mm or 1/64 in."}}
	}
	q.Gap = &mm
	var ok bool
	if q.At, ok = fitting.EndNamed(at); !ok {
		return nil, &Fault{Kind: "job", Lines: []string{"Say where the joint is open: at the valley (outside) or at the centre (inside)."}}
	}
	if q.Test, ok = fitting.TestNamed(test); !ok {
		return nil, &Fault{Kind: "job", Lines: []string{"Say how you looked."}}
	}
	answer, err := fitting.Ask(q)
	var ps problem.List
	if errors.As(err, &ps) {
		f := &Fault{Kind: "job"}
		for _, p := range ps {
			line := p.Key + ": " + p.Why
			if p.Would != "" {
				line += ". Try: " + p.Would
			}
			f.Lines = append(f.Lines, line)
		}
		return nil, f
	}
	return answer, err
}
