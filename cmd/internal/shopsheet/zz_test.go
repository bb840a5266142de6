package shopsheet

import (
	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
	"testing"
)

func BenchmarkBuild(b *testing.B) {
	w, _ := packet.Load("x", job.BuiltIn())
	in := Input{Job: w.Job, Batch: w.Batch, Bench: bw(w), Title: w.Title(), Date: "2026-01-01"}
	for i := 0; i < b.N; i++ {
		if _, err := Build(in); err != nil {
			b.Fatal(err)
		}
	}
}
