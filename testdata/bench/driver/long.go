package main

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"starwright/post/rs274/ncread"
	"starwright/toolpath"
)

// inputs writes what both sides read.
func inputs(dir string) error {
	if err := toFile(filepath.Join(dir, "million.nc"), func(w *bufio.Writer) { raster(w, 10_000) }); err != nil {
		return err
	}
	return write(filepath.Join(dir, "outlines.dxf"))
}

func toFile(name string, fill func(*bufio.Writer)) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(f)
	fill(w)
	if err := w.Flush(); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// raster writes rows of 100 short cuts, each row begun with one that sets its
// place: 10,000 rows are 1,010,008 blocks and about 26 MB.
func raster(w *bufio.Writer, rows int) {
	io.WriteString(w, "G17 G21 G40 G54 G80 G90 G94\nG0 Z10.0\nG0 X0.0 Y0.0\nS18000 M3\nG4 P3.0\n")
	for r := range rows {
		y := float64(r) * 0.05
		fmt.Fprintf(w, "G1 X%.3f Y%.3f F1200.0\n", 0.0, y)
		for c := range 100 {
			fmt.Fprintf(w, "G1 X%.3f Y%.3f Z-%.2f\n", 100+float64(c)*0.137, y, float64((r+c)%300)*0.01)
		}
	}
	io.WriteString(w, "G0 Z10.0\nM5\nM2\n")
}

// long makes a program of about n blocks from one of a packet: "raster" is the
// program of the comparison, cut in the wrong place for any packet; "again"
// cuts a slot over and over; "pieces" cuts a sheet with every cut divided, as
// programs of many short lines are. The last two must pass their check.
func long(kind string, n int, from, to string) error {
	if kind == "raster" {
		return toFile(to, func(w *bufio.Writer) { raster(w, n/101) })
	}
	text, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	switch kind {
	case "again":
		return toFile(to, func(w *bufio.Writer) { again(w, text, n) })
	case "pieces":
		return pieces(text, n, to)
	}
	return fmt.Errorf("no such kind of long program: %s", kind)
}

// parts takes a program apart: what comes before the first motion with the
// spindle on, the cutting, and the end.
func parts(text []byte) (head, body, tail []string) {
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	first, last := 0, len(lines)
	for i, l := range lines {
		if strings.HasPrefix(l, "G4 ") && first == 0 {
			first = i + 1
		}
		if l == "M5" {
			last = i
		}
	}
	return lines[:first], lines[first:last], lines[last:]
}

// again writes a program's body so often that it has n blocks.
func again(w *bufio.Writer, text []byte, n int) {
	head, body, tail := parts(text)
	blocks := 0
	for _, l := range body {
		if !strings.HasPrefix(l, "(") {
			blocks++
		}
	}
	put(w, head)
	for range max(1, n/blocks) {
		put(w, body)
	}
	put(w, tail)
}

func put(w *bufio.Writer, lines []string) {
	for _, l := range lines {
		w.WriteString(l)
		w.WriteByte('\n')
	}
}

// pieces writes a program with each level cut divided into straight pieces of
// one length, as short as n blocks need. Cuts that sink stay whole: rounded to
// a thousandth, pieces of a ramp would be steeper than the ramp.
func pieces(text []byte, n int, to string) error {
	head, _, tail := parts(text)
	var moves []toolpath.Move
	total := 0.0
	_, err := ncread.Read(bytes.NewReader(text), "packet", ncread.Events{Move: func(m *toolpath.Move) error {
		moves = append(moves, *m)
		if level(m) {
			total += m.Length()
		}
		return nil
	}})
	if err != nil {
		return err
	}
	step := total / float64(max(1, n-len(moves)))
	return toFile(to, func(w *bufio.Writer) {
		put(w, head)
		for i := range moves {
			piecewise(w, &moves[i], step)
		}
		put(w, tail)
	})
}

// chordOff is how far a chord may lie off its arc, mm: a tenth of what the
// proof of a sheet allows.
const chordOff = 0.002

func level(m *toolpath.Move) bool { return m.Cuts() && m.From.Z == m.To.Z }

func piecewise(w *bufio.Writer, m *toolpath.Move, step float64) {
	if !level(m) {
		fmt.Fprintf(w, "%s X%s Y%s Z%s", m.Kind, short(m.To.X, 4), short(m.To.Y, 4), short(m.To.Z, 4))
		if m.IsArc() {
			fmt.Fprintf(w, " I%s J%s", short(m.Center.X-m.From.X, 4), short(m.Center.Y-m.From.Y, 4))
		}
		if m.Cuts() {
			fmt.Fprintf(w, " F%s", short(m.Feed, 1))
		}
		w.WriteByte('\n')
		return
	}
	n := max(1, int(math.Round(m.Length()/step)))
	if m.IsArc() {
		r := m.From.XY().Dist(m.Center)
		n = max(n, int(math.Ceil(math.Abs(float64(m.Sweep))/(2*math.Acos(max(0, 1-chordOff/r))))))
	}
	for k := 1; k <= n; k++ {
		t := float64(k) / float64(n)
		x, y := m.From.X+t*(m.To.X-m.From.X), m.From.Y+t*(m.To.Y-m.From.Y)
		if m.IsArc() {
			sin, cos := math.Sincos(t * float64(m.Sweep))
			v := m.From.XY().Sub(m.Center)
			x, y = m.Center.X+v.X*cos-v.Y*sin, m.Center.Y+v.X*sin+v.Y*cos
		}
		fmt.Fprintf(w, "G1 X%s Y%s\n", short(x, 4), short(y, 4))
	}
}

// short prints a number with as few decimals as it has, one at least.
func short(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if s = strings.TrimRight(s, "0"); strings.HasSuffix(s, ".") {
		s += "0"
	}
	if s == "-0.0" {
		return "0.0"
	}
	return s
}
