package packet

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"starwright/cmd/internal/job"
)

// batchJob is a job of so many stars with stations, whose jig kit, laminated
// from thin sheet, has some 190 parts: the job of testdata/bench/peers.sh.
func batchJob(b *testing.B, stars int) []byte {
	b.Helper()
	text, err := os.ReadFile("../../../testdata/bench/stars.toml.in")
	if err != nil {
		b.Fatal(err)
	}
	return bytes.ReplaceAll(text, []byte("@STARS@"), fmt.Append(nil, stars))
}

func workOf(b testing.TB, name string, source []byte) *Work {
	b.Helper()
	w, errs := load(name, source)
	if len(errs) > 0 {
		b.Fatal(errs)
	}
	return w
}

// BenchmarkMake is the whole packet of the built-in job, from its text.
func BenchmarkMake(b *testing.B) { benchmarkMake(b, job.BuiltIn()) }

// BenchmarkBatch shows that a packet grows with its kinds of part, not with
// the number of stars.
func BenchmarkBatch(b *testing.B) {
	for _, n := range []int{250, 500, 1000, 2000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) { benchmarkMake(b, batchJob(b, n)) })
	}
}

func benchmarkMake(b *testing.B, source []byte) {
	dir := b.TempDir()
	b.ReportAllocs()
	for n := 0; b.Loop(); n++ {
		w := workOf(b, "job.toml", source)
		made, err := Make(b.Context(), w, filepath.Join(dir, fmt.Sprint(n)), false)
		if err != nil || !made.OK() {
			b.Fatal(err, made)
		}
	}
}
