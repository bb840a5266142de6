//go:build torture && linux

package main

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// What a hostile file of 10 MB may cost: a second a megabyte and 512 MB, on two
// processors.
const (
	hostileBytes  = 10_000_000
	hostileTime   = 10 * time.Second
	hostileMemory = 512 // MB
)

// again repeats what next writes up to the hostile size.
func again(head string, next func(b *bytes.Buffer, i int), tail string) []byte {
	var b bytes.Buffer
	b.WriteString(head)
	for i := 0; b.Len() < hostileBytes-len(tail)-200; i++ {
		next(&b, i)
	}
	b.WriteString(tail)
	return b.Bytes()
}

// text repeats a text.
func text(s string) func(*bytes.Buffer, int) {
	return func(b *bytes.Buffer, _ int) { b.WriteString(s) }
}

// hostilePrograms are programs built to cost time or memory.
func hostilePrograms(rng *rand.Rand) map[string][]byte {
	const head = "G17\nG21\nG40\nG54\nG80\nG90\nG94\nG0 Z10.\nS18000 M3\nG4 P3.\nG0 X30. Y9.5\nG0 Z1.\nG1 Z0. F250\nG1 X60. Z-2. F900\n"
	const tail = "\nG0 Z10.\nM5\nM2\n"
	num := func(span float64) string { return fmt.Sprintf("%.2f", (rng.Float64()-0.5)*span) }
	return map[string][]byte{
		"shortest moves":      again(head, func(b *bytes.Buffer, i int) { fmt.Fprintf(b, "X%d\n", 3+i%2) }, tail),
		"to and fro":          again(head, func(b *bytes.Buffer, i int) { fmt.Fprintf(b, "X%d\n", 30+i%2*30) }, tail),
		"random in the slot":  again(head, func(b *bytes.Buffer, _ int) { b.WriteString("X" + num(60) + "\n") }, tail),
		"random in the plane": again(head, func(b *bytes.Buffer, _ int) { b.WriteString("X" + num(400) + "Y" + num(400) + "\n") }, tail),
		"random in space":     again(head, func(b *bytes.Buffer, _ int) { b.WriteString("X" + num(99) + "Y" + num(99) + "Z" + num(9) + "\n") }, tail),
		"far away":            again(head, func(b *bytes.Buffer, i int) { fmt.Fprintf(b, "X%d\n", i%2*99999) }, tail),
		"far diagonals":       again(head, func(b *bytes.Buffer, _ int) { b.WriteString("X" + num(1.9e5) + "Y" + num(1.9e5) + "\n") }, tail),
		"full circles":        again(head+"G2 I5\n", text("I5\n"), tail),
		"large circles":       again(head+"G2 I5000\n", func(b *bytes.Buffer, i int) { fmt.Fprintf(b, "I%d\n", 1000+i%9000) }, tail),
		"deeper by microns":   again(head, func(b *bytes.Buffer, i int) { fmt.Fprintf(b, "X%dZ-%.3f\n", 30+i%2*30, 2+float64(i)/1e3) }, tail),
		"up and down":         again(head, func(b *bytes.Buffer, i int) { fmt.Fprintf(b, "Z%d\n", i%2*2-1) }, tail),
		"rapids in the wood":  again(head+"G0", func(b *bytes.Buffer, i int) { fmt.Fprintf(b, "X%d\n", 3+i%60) }, tail),
		"faults":              again(head, text("Q\n"), tail),
		"many faults a line":  again(head, text(strings.Repeat("Q", 200)+"\n"), tail),
		"stops":               again(head, text("M0\n"), tail),
		"speeds":              again(head, func(b *bytes.Buffer, i int) { fmt.Fprintf(b, "S%d\n", 1+i%30000) }, tail),
		"one line":            again(head, text("X1"), tail),
		"one comment":         again(head+"(", text("a"), ")"+tail),
		"open comments":       again(head, text("("), tail),
		"comments":            again(head, text("()\n"), tail),
		"blank lines":         again(head, text("\n"), tail),
		"bytes":               again("", func(b *bytes.Buffer, _ int) { b.WriteByte(byte(rng.Uint32())) }, ""),
		"zeros":               make([]byte, hostileBytes),
		"long numbers":        again(head, text("X"+strings.Repeat("9", 300)+"\n"), tail),
		"long decimals":       again(head, text("X1."+strings.Repeat("1", 300)+"\n"), tail),
		"brackets":            again(head+"X", text("["), tail),
		"a spiral of one turn": again(head+"G3", func(b *bytes.Buffer, i int) {
			fmt.Fprintf(b, "X%.3fY9.5I-%.3f\n", 60+float64(i)*0.001, 10+float64(i)*0.0005)
		}, tail),
	}
}

// hostileDrawings are drawings built to cost time or memory.
func hostileDrawings(rng *rand.Rand) map[string][]byte {
	const head = "999\n1 drawing unit = 1 mm\n0\nSECTION\n2\nENTITIES\n"
	const tail = "0\nENDSEC\n0\nEOF\n"
	const start, end = "0\nPOLYLINE\n8\nOUTLINE\n66\n1\n70\n1\n", "0\nSEQEND\n"
	vertex := func(b *bytes.Buffer, x, y, bulge float64) {
		fmt.Fprintf(b, "0\nVERTEX\n8\nOUTLINE\n10\n%.3f\n20\n%.3f\n", x, y)
		if bulge != 0 {
			fmt.Fprintf(b, "42\n%g\n", bulge)
		}
	}
	contour := func(b *bytes.Buffer, points ...[3]float64) {
		b.WriteString(start)
		for _, p := range points {
			vertex(b, p[0], p[1], p[2])
		}
		b.WriteString(end)
	}
	one := func(next func(b *bytes.Buffer, i int)) []byte { return again(head+start, next, end+tail) }
	many := func(next func(b *bytes.Buffer, i int)) []byte { return again(head, next, tail) }
	square := func(b *bytes.Buffer, x, y, r float64) {
		contour(b, [3]float64{x - r, y - r}, [3]float64{x + r, y - r}, [3]float64{x + r, y + r}, [3]float64{x - r, y + r})
	}
	return map[string][]byte{
		"concentric circles": many(func(b *bytes.Buffer, i int) {
			r := 1 + float64(i)*0.05
			contour(b, [3]float64{-r, 0, 1}, [3]float64{r, 0, 1})
		}),
		"concentric squares": many(func(b *bytes.Buffer, i int) { square(b, 0, 0, 1+float64(i)*0.05) }),
		"circles that cross": many(func(b *bytes.Buffer, i int) {
			x := float64(i) * 0.01
			contour(b, [3]float64{x - 100, 0, 1}, [3]float64{x + 100, 0, 1})
		}),
		"the same square":    many(func(b *bytes.Buffer, _ int) { square(b, 0, 0, 10) }),
		"nearly the same":    many(func(b *bytes.Buffer, i int) { square(b, float64(i%7)*0.003, 0, 10) }),
		"squares of a grid":  many(func(b *bytes.Buffer, i int) { square(b, float64(i%300)*10, float64(i/300)*10, 5) }),
		"holes of one sheet": many(func(b *bytes.Buffer, i int) { square(b, float64(i%300)*10, float64(i/300)*10, 4) }),
		"thin strips": many(func(b *bytes.Buffer, i int) {
			x := float64(i) * 0.01
			contour(b, [3]float64{x, 0}, [3]float64{x + 0.005, 0}, [3]float64{x + 500, 1e5})
		}),
		"tangle":         one(func(b *bytes.Buffer, _ int) { vertex(b, rng.Float64()*1000, rng.Float64()*1000, 0) }),
		"tangle of arcs": one(func(b *bytes.Buffer, _ int) { vertex(b, rng.Float64()*1000, rng.Float64()*1000, rng.Float64()*4-2) }),
		"comb":           one(func(b *bytes.Buffer, i int) { vertex(b, float64(i)*0.01, float64(i%2)*1000, 0) }),
		"one point":      one(func(b *bytes.Buffer, _ int) { vertex(b, 1, 1, 0) }),
		"on one line":    one(func(b *bytes.Buffer, i int) { vertex(b, float64(i)*0.01, 0, 0) }),
		"to and fro":     one(func(b *bytes.Buffer, i int) { vertex(b, float64(i%2)*100, 0, 0) }),
		"circle of vertices": one(func(b *bytes.Buffer, i int) {
			s, c := math.Sincos(float64(i) * 2 * math.Pi / 250_000)
			vertex(b, 1e4*c, 1e4*s, 0)
		}),
		"huge and tiny":      one(func(b *bytes.Buffer, i int) { vertex(b, float64(i%3)*1e11, float64(i%5)*1e-3, 1e-9) }),
		"texts":              many(text("0\nTEXT\n8\nTEXT\n10\n1.0\n20\n1.0\n40\n3.0\n1\nwords\n")),
		"texts on the guide": many(text("0\nTEXT\n8\nGUIDE\n10\n1.0\n20\n1.0\n40\n3.0\n1\n100 mm\n")),
		"lines on the guide": many(func(b *bytes.Buffer, i int) {
			fmt.Fprintf(b, "0\nLINE\n8\nGUIDE\n10\n%d\n20\n0\n11\n%d\n21\n0\n", i, i+100)
		}),
		"bars on the guide": many(func(b *bytes.Buffer, i int) {
			fmt.Fprintf(b, "0\nLINE\n8\nGUIDE\n10\n0\n20\n0\n11\n100\n21\n0\n0\nLINE\n8\nGUIDE\n10\n0\n20\n-2\n11\n0\n21\n2\n0\nTEXT\n8\nGUIDE\n10\n%d\n20\n0\n1\n100 mm\n", i%100)
		}),
		"other entities": many(text("0\nSPLINE\n8\nOUTLINE\n")),
		"many layers":    many(func(b *bytes.Buffer, i int) { fmt.Fprintf(b, "0\nLINE\n8\nL%d\n10\n0\n20\n0\n11\n1\n21\n1\n", i) }),
		"light polyline": again(head+"0\nLWPOLYLINE\n8\nOUTLINE\n90\n999999999\n70\n1\n", func(b *bytes.Buffer, i int) { fmt.Fprintf(b, "10\n%d\n20\n%d\n", i%1000, i%777) }, tail),
		"comments":       again("", text("999\nwords\n"), head+tail),
		"one value":      again("999\n", text("a"), "\n"+head+tail),
		"line ends":      again("", text("\n"), ""),
		"sections":       again("", text("0\nSECTION\n2\nENTITIES\n0\nENDSEC\n"), "0\nEOF\n"),
		"zeros":          make([]byte, hostileBytes),
		"bytes":          again("", func(b *bytes.Buffer, _ int) { b.WriteByte(byte(rng.Uint32())) }, ""),
		"long numbers":   one(text("0\nVERTEX\n10\n" + strings.Repeat("9", 1000) + "\n20\n1e" + strings.Repeat("9", 50) + "\n")),
	}
}

// hostileManifests are manifests built to cost time or memory.
func hostileManifests() map[string][]byte {
	const head = `{"format": 2, "files": [`
	cut := func(b []byte) []byte { return b[:min(len(b), 8<<20)] }
	return map[string][]byte{
		"ten megabytes": again(head, text("{},"), "{}]}"),
		"empty files":   append(cut(again(head, text("{},"), ""))[:8<<20-10], "{}]}"...),
		"deep":          cut(again(head, text("["), "")),
		"checks":        append(cut(again(head+`{"checks": [`, text("{},"), ""))[:8<<20-10], "{}]}]}"...),
		"one name":      cut(again(head+`{"path": "`, text("a"), "")),
		"escapes":       append(cut(again(head+`{"path": "`, text(`\u001b`), ""))[:8<<20-64-(8<<20-64-35)%6], `"}]}`...),
		"keys":          cut(again(`{"format": 2`, func(b *bytes.Buffer, i int) { fmt.Fprintf(b, `, "%d": 0`, i) }, "")),
	}
}

// hostileJobs are job files built to cost time or memory; more than 1 MB is
// refused by its size.
func hostileJobs() map[string][]byte {
	cut := func(b []byte) []byte { return b[:min(len(b), 1<<20-1)] }
	return map[string][]byte{
		"ten megabytes": again("[star]\n", text("# words\n"), ""),
		"brackets":      cut(again("a = ", text("["), "")),
		"braces":        cut(again("a = ", text("{a="), "")),
		"tables":        cut(again("", text("[[a]]\n"), "")),
		"keys":          cut(again("[star]\n", func(b *bytes.Buffer, i int) { fmt.Fprintf(b, "k%d = 1\n", i) }, "")),
		"one length":    append(cut(again("[star]\nboard_width = \"", text("3 1/2 "), ""))[:1<<20-100], "\"\n"...),
		"boards":        append(cut(again("[star]\nboard_width = 100\n[stock]\nboards = [", text("\"1 m\","), ""))[:1<<20-100], "\"]\n"...),
		"zeros":         make([]byte, 1<<20-1),
	}
}

// No file costs more than it may, and each gives findings or an error, never a
// crash. Prints what each costs.
func TestHostileSizes(t *testing.T) {
	s := newShop(t)
	count, mostTime, mostMemory := 0, 0.0, 0
	measure := func(t *testing.T, kind, file string, data []byte, name string, args ...string) {
		full := filepath.Join(s.dir, file)
		old, err := os.ReadFile(full)
		if err != nil {
			t.Fatal(err)
		}
		defer os.WriteFile(full, old, 0o644)
		if err := os.WriteFile(full, data, 0o644); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(s.bin, args...)
		cmd.Dir = s.dir
		var said bytes.Buffer
		cmd.Stdout, cmd.Stderr = &said, &said
		start := time.Now()
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		peak := watchMemory(cmd.Process.Pid)
		exit := exitOf(t, cmd.Wait())
		took, mb := time.Since(start), <-peak
		cpu := cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
		count, mostTime, mostMemory = count+1, max(mostTime, cpu.Seconds()), max(mostMemory, mb)
		t.Logf("%-9s %-22s exit %d  %6.2f s (%6.2f s of processors)  %4d MB", kind, name, exit, took.Seconds(), cpu.Seconds(), mb)
		if exit < 0 || exit > 3 || strings.Contains(said.String(), "goroutine ") || said.Len() > 200_000 {
			t.Errorf("%s, %s: exit %d, %d bytes said: %.300s", kind, name, exit, said.Len(), said.String())
		}
		// Others may be at work on this machine: what counts is the processors' time.
		if cpu > 2*hostileTime || min(took, cpu) > hostileTime || mb > hostileMemory {
			t.Errorf("%s, %s: %.1f s (%.1f s of processors), %d MB", kind, name, took.Seconds(), cpu.Seconds(), mb)
		}
	}
	rng := rand.New(rand.NewPCG(8, 8))
	each := func(kind, file string, files map[string][]byte, args ...string) {
		names := make([]string, 0, len(files))
		for n := range files {
			names = append(names, n)
		}
		slices.Sort(names)
		t.Run(kind, func(t *testing.T) {
			for _, n := range names {
				measure(t, kind, file, files[n], n, args...)
			}
		})
	}
	each("job", "job0.toml", hostileJobs(), "plan", "job0.toml")
	each("manifest", "packet/manifest.json", hostileManifests(), "check", "packet")
	each("program", "packet/gcode/slot-left.nc", hostilePrograms(rng), "check", "packet", "gcode/slot-left.nc")
	each("drawing", "packet/dxf/segment.dxf", hostileDrawings(rng), "check", "packet", "dxf/segment.dxf")
	each("SVG", "packet/svg/segment.svg", hostileSVGs(rng), "check", "packet", "svg/segment.svg")
	t.Logf("%d hostile files, 10 MB where so much is read: at most %.1f s of processors and %d MB", count, mostTime, mostMemory)
}
