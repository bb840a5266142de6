package packet

import (
	"context"
	"errors"
	"strings"
	"sync/atomic"
	"testing"

	"starwright/cmd/internal/job"
)

// load is [Load] as most tests need it: unwatched, to the end, and with what is
// wrong with the job.
func load(name string, source []byte) (*Work, []job.Error) {
	w, err := Load(context.Background(), job.Input{Job: job.File{Name: name, Data: source}}, nil)
	var errs JobErrors
	errors.As(err, &errs)
	return w, errs
}

func builtIn() job.Input {
	return job.Input{Job: job.File{Name: job.BuiltInName, Data: job.BuiltIn()}}
}

// The first stage has the numbers and the star, the second the rest; each ends
// with its context, wherever in the work that is.
func TestStages(t *testing.T) {
	w, err := Start(t.Context(), builtIn(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(w.Order.Units) == 0 || len(w.Drawings) == 0 || len(w.Programs) == 0 || len(w.Jigs) > 0 {
		t.Errorf("first stage: %d units, %d drawings, %d programs, %d jigs", len(w.Order.Units), len(w.Drawings), len(w.Programs), len(w.Jigs))
	}
	if err := w.Finish(t.Context()); err != nil {
		t.Fatal(err)
	}
	whole, err := Load(t.Context(), builtIn(), nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(w.Jigs) == 0 || len(w.Jigs) != len(whole.Jigs) || len(w.Programs) != len(whole.Programs) || len(w.Drawings) != len(whole.Drawings) {
		t.Errorf("in stages %d jigs, %d programs, %d drawings; at once %d, %d, %d",
			len(w.Jigs), len(w.Programs), len(w.Drawings), len(whole.Jigs), len(whole.Programs), len(whole.Drawings))
	}
}

func TestStagesEndWithTheirContext(t *testing.T) {
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	if w, err := Start(gone, builtIn(), nil); w != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("first stage: %v", err)
	}
	for _, at := range []string{"choosing", "nesting", "planning jigs", "planning splines"} {
		t.Run(at, func(t *testing.T) {
			ctx, cancel := context.WithCancel(t.Context())
			defer cancel()
			var after atomic.Int64 // steps told of once it was called off
			w, err := Load(ctx, builtIn(), func(what string, done, total int) {
				if ctx.Err() != nil && !strings.HasPrefix(what, at) {
					after.Add(1)
				}
				if strings.HasPrefix(what, at) {
					cancel()
				}
			})
			if w != nil || !errors.Is(err, context.Canceled) {
				t.Errorf("got %v", err)
			}
			if after.Load() > 0 {
				t.Errorf("%d steps were made afterwards", after.Load())
			}
		})
	}
}
