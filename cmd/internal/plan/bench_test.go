package plan_test

import (
	"encoding/json"
	"testing"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
	"starwright/cmd/internal/plan"
)

// BenchmarkPlan is the plan command on the built-in job, as a page and as a
// document.
func BenchmarkPlan(b *testing.B) {
	for name, say := range map[string]func(*packet.Work) int{
		"page": func(w *packet.Work) int { return len(plan.Page(w, false, plan.Width)) },
		"json": func(w *packet.Work) int {
			data, err := json.Marshal(plan.New(w))
			if err != nil {
				b.Fatal(err)
			}
			return len(data)
		},
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				w, err := packet.Load(b.Context(), job.Input{Job: job.File{Name: job.BuiltInName, Data: job.BuiltIn()}}, nil)
				if err != nil || say(w) == 0 {
					b.Fatal(err)
				}
			}
		})
	}
}
