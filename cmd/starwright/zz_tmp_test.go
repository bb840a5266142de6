package main

import (
	"fmt"
	"os"
	"syscall"
	"testing"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/shopsheet"
)

func TestZZ(t *testing.T) {
	os.WriteFile("/tmp/inch.toml", []byte("units = \"in\"\ntitle = \"porch stars\"\ndate = \"2026-12-05\"\n[star]\nboard_width = \"1x4\"\ncount = 6\noffcut_star = true\n[slot]\ndepth = \"3/8 in\"\n[cutter]\ndiameter = \"1/4 in\"\n[stock]\nboards = [\"62 in\", \"62 in\", \"62 in\", { length = \"96 in\", bad = [[\"18 in\", \"21 in\"]] }]\n[wood]\nspecies = \"western redcedar\"\nrh_now = 60\nrh_service = 35\n"), 0o644)
	for name, args := range map[string][]string{"metric": nil, "inch": {"/tmp/inch.toml"}} {
		w, err := load(args)
		if err != nil {
			t.Fatal(err)
		}
		bench, _ := benchwork.New(w.Job, w.Batch)
		in := shopsheet.Input{Job: w.Job, Batch: w.Batch, Title: w.Title(), Date: w.Job.Date, Bench: bench, Jigs: shopsheet.JigsOf(w.Jigs, "dxf")}
		for _, p := range w.Programs {
			in.Programs = append(in.Programs, shopsheet.File{p.Path, p.Use, p.Quantity, p.Minutes})
		}
		for _, p := range w.Drawings {
			in.Drawings = append(in.Drawings, shopsheet.File{p.Path, p.Use, p.Quantity, 0})
		}
		cpu := func() float64 {
			var r syscall.Rusage
			syscall.Getrusage(0, &r)
			return float64(r.Utime.Sec+r.Stime.Sec) + float64(r.Utime.Usec+r.Stime.Usec)/1e6
		}
		c0 := cpu()
		const n = 5
		for range n {
			b, _ := shopsheet.Build(in)
			os.WriteFile("/tmp/"+name+".pdf", b, 0o644)
		}
		c1 := cpu()
		b, _ := shopsheet.Templates(in)
		c2 := cpu()
		os.WriteFile("/tmp/"+name+"-t.pdf", b, 0o644)
		os.WriteFile("/tmp/"+name+".txt", shopsheet.Ticket(in), 0o644)
		fmt.Printf("%s: sheet %.1f ms cpu, templates %.1f ms cpu\n", name, (c1-c0)*1000/n, (c2-c1)*1000)
	}
}
