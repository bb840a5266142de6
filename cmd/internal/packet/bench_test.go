package packet

import (
	"bytes"
	"fmt"
	"testing"

	"starwright/cmd/internal/job"
	"starwright/post/rs274/ncwrite"
)

// longSlot is the slot program of the built-in job with its cycle repeated up to
// about so many blocks.
func longSlot(b *testing.B, g *Program, blocks int) []byte {
	text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
	if err != nil {
		b.Fatal(err)
	}
	lines := bytes.SplitAfter(text, []byte("\n"))
	from := 0
	for !bytes.HasPrefix(lines[from], []byte("G0 X")) {
		from++
	}
	to := from
	var cycle []byte
	n := 0
	for ; !bytes.HasPrefix(lines[to], []byte("M5")); to++ {
		if lines[to][0] != '(' {
			cycle = append(cycle, lines[to]...)
			n++
		}
	}
	out := bytes.Join(lines[:from], nil)
	out = append(out, bytes.Repeat(cycle, blocks/n)...)
	return append(out, bytes.Join(lines[to:], nil)...)
}

// BenchmarkCheckProgram is all that check does to one program once it is read:
// replay, removed wood, findings.
func BenchmarkCheckProgram(b *testing.B) {
	w, errs := load("job.toml", job.BuiltIn())
	if len(errs) > 0 {
		b.Fatal(errs)
	}
	g := &w.Programs[0]
	for _, n := range []int{10_000, 100_000, 1_000_000, 3_000_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			text := longSlot(b, g, n)
			b.SetBytes(int64(len(text)))
			b.ReportAllocs()
			for b.Loop() {
				p := &Proof{Path: g.Path, Text: text}
				proveProgram(p, g)
				if !p.OK() {
					b.Fatal(firstFault(p))
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/block")
		})
	}
}

// BenchmarkStart is the first stage of a job: its numbers and its star, what the
// desk draws at each key.
func BenchmarkStart(b *testing.B) {
	in := job.Input{Job: job.File{Name: "job.toml", Data: job.BuiltIn()}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Start(b.Context(), in, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLoad is a job worked out: what make and check do before they write
// or look at a file.
func BenchmarkLoad(b *testing.B) {
	for _, c := range []struct {
		name   string
		source []byte
	}{{"built-in", job.BuiltIn()}, {"1000 stars", batchJob(b, 1000)}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				workOf(b, "job.toml", c.source)
			}
		})
	}
}
