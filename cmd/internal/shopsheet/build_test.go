package shopsheet

import (
	"os"
	"testing"
	"time"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
	"starwright/geom/jig"
)

func TestTryOut(t *testing.T) {
	for name, src := range map[string][]byte{"metric": job.BuiltIn(), "inch": []byte(`units = "in"
title = "porch stars"
[star]
board_width = "3 1/2 in"
thickness = "3/4 in"
count = 6
[slot]
depth = "3/8 in"
[cutter]
diameter = "1/4 in"
[stock]
boards = ["62 in", "62 in", { length = "96 in", bad = [["18 in", "21 in"]] }]
[wood]
species = "western redcedar"
mc_now = 12
mc_service = 8
`)} {
		w, errs := packet.Load(name, src)
		if len(errs) > 0 {
			t.Fatal(errs)
		}
		in := Input{Job: w.Job, Batch: w.Batch, Bench: bw(w), Title: w.Title(), Date: ""}
		for _, p := range w.Programs {
			in.Programs = append(in.Programs, File{p.Path, p.Use, p.Quantity, p.Minutes})
		}
		for _, p := range w.Drawings {
			in.Drawings = append(in.Drawings, File{p.Path, p.Use, p.Quantity, 0})
		}
		sh := w.Job.Sheet
		kit, ps := jig.Kit(w.Batch, jig.Params{Cutter: w.Batch.Cutter, MaxMiter: w.Job.Saw.MaxMiter, MaxW: sh.Width - 20, MaxH: sh.Height - 20, Thickness: sh.Thickness})
		t.Log(ps)
		for _, j := range kit {
			in.Jigs = append(in.Jigs, Jig{j.Key, j.Title, j.Use, "dxf/" + j.File + ".dxf", j.Quantity})
		}
		for range 3 {
			t0 := time.Now()
			b, err := Build(in)
			t.Log(name, len(b), time.Since(t0), err)
			os.WriteFile("/tmp/"+name+".pdf", b, 0o644)
		}
		m, _ := newMaker(in)
		m.pages()
		for _, f := range m.doc.Faults() {
			t.Log(f)
		}
		os.WriteFile("/tmp/"+name+".txt", Ticket(in), 0o644)
	}
}

func bw(w *packet.Work) *benchwork.Work {
	b, ps := benchwork.New(w.Job, w.Batch)
	if len(ps) > 0 {
		panic(ps)
	}
	return b
}
