package packet

import (
	"reflect"
	"runtime"
	"slices"
	"testing"

	"starwright/cmd/internal/job"
	"starwright/toolpath/nest"
)

// Sheets of which one cannot be cut: planned up to the first that fails and then the
// rest, they have the same problems as planned all at once, and nothing is added. The built-in
// job's jigs are such where they are to have more tabs than they have room for.
func TestSheetsUntilOneFails(t *testing.T) {
	w := workOf(t, "job.toml", job.BuiltIn())
	near, problems := nestKit(t.Context(), w, nest.NewBatch(jigItems(w.Jigs)), w.nestOptions())
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	w.Job.Tabs.Count = 12
	list := sheetsOf(sheetStock{name: "jigs", what: "jigs", thickness: w.Job.Sheet.Thickness, minTabs: 2}, near)
	programs := len(w.Programs)
	whole, begun := w.sheetList(list), w.sheetList(list)
	whole.plan(t.Context(), all)
	processors := runtime.GOMAXPROCS(1) // with more, the last may be begun before the first has failed
	begun.plan(t.Context(), untilOneFails)
	runtime.GOMAXPROCS(processors)
	if whole.fit() || begun.fit() {
		t.Fatal("all sheets can be cut")
	}
	if !slices.Contains(begun.done, false) {
		t.Error("went on behind the first that failed")
	}
	begun.plan(t.Context(), all)
	if want, got := whole.add(t.Context()), begun.add(t.Context()); len(want) == 0 || !reflect.DeepEqual(got, want) {
		t.Errorf("problems %v, want %v", got, want)
	}
	if len(w.Programs) != programs {
		t.Errorf("%d programs were added", len(w.Programs)-programs)
	}
}
