package packet

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"starwright/cmd/internal/job"
)

// The watcher hears of every stretch of the work up to its end, and never of more
// than there is.
func TestProgressReachesTheEnd(t *testing.T) {
	var mu sync.Mutex
	far := map[string]int{} // the farthest told of, in per cent
	watch := func(what string, done, total int) {
		mu.Lock()
		defer mu.Unlock()
		if done < 0 || done > total {
			t.Errorf("%s: %d of %d", what, done, total)
		}
		far[what] = max(far[what], 100*done/max(1, total))
	}
	source := []byte("[star]\nboard_width = \"100 mm\"\n[jigs]\nmake = [\"angle-block\"]\n")
	w, err := Load(t.Context(), job.Input{Job: job.File{Name: job.BuiltInName, Data: source}}, watch)
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "packet")
	if _, err := Make(t.Context(), w, dir, false); err != nil {
		t.Fatal(err)
	}
	for _, what := range []string{"planning jigs", "planning splines", "writing", "proving", "drawing pictures"} {
		if far[what] != 100 {
			t.Errorf("%s: told of %d %% at most", what, far[what])
		}
	}
	clear(far)
	if _, err := Check(dir, Asked{Watch: watch}); err != nil {
		t.Fatal(err)
	}
	if far["proving"] != 100 {
		t.Errorf("check: told of %d %% at most", far["proving"])
	}
}

// Who stops the making in any stretch of it finds nothing made, and nothing left
// of what was begun.
func TestStoppedMakingLeavesNothing(t *testing.T) {
	for _, when := range []string{"writing", "proving", "drawing pictures"} {
		ctx, stop := context.WithCancel(t.Context())
		watch := func(what string, done, _ int) {
			if what == when && done > 0 {
				stop()
			}
		}
		w, err := Load(ctx, job.Input{Job: job.File{Name: "job.toml", Data: []byte("[star]\nboard_width = \"100 mm\"\n")}}, watch)
		if err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		if _, err := Make(ctx, w, filepath.Join(dir, "packet"), false); !errors.Is(err, context.Canceled) {
			t.Errorf("stopped at %s: %v", when, err)
		}
		if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
			t.Errorf("stopped at %s: %v is left, %v", when, left, err)
		}
		stop()
	}
}
