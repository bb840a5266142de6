package backplot_test

import (
	"fmt"
	"math"
	"runtime"
	"testing"

	"starwright/geom"
	"starwright/toolpath"
	"starwright/toolpath/backplot"
)

// longPrograms are programs of n moves of kinds that turn up: they are judged
// by the benchmark, and each is made on the way, so that none is kept.
var longPrograms = []struct {
	name string
	task func() backplot.Task
	make func(n int, emit func(*toolpath.Move))
}{
	{"one slot, many loads", func() backplot.Task { return task(slotJob()) }, manySlots},
	{"contour of short lines, eight passes", contourTask, contour},
	{"raster of short lines", rasterTask, func(n int, emit func(*toolpath.Move)) { raster(n, 0, emit) }},
	{"raster, layers out of step", rasterTask, func(n int, emit func(*toolpath.Move)) { raster(n, 0.5, emit) }},
	{"zigzag outside of the slot", func() backplot.Task { return task(slotJob()) }, zigzag},
}

// pen makes moves one after the other.
type pen struct {
	at   geom.Point3
	line int
	emit func(*toolpath.Move)
}

func (p *pen) to(k toolpath.Kind, x, y, z float64) {
	p.line++
	to := geom.Point3{X: x, Y: y, Z: z}
	m := toolpath.Move{Line: p.line, Kind: k, From: p.at, To: to, RPM: 18000}
	if k != toolpath.Rapid {
		m.Feed = 1200
	}
	p.at = to
	p.emit(&m)
}

func manySlots(n int, emit func(*toolpath.Move)) {
	j := slotJob()
	p := pen{at: geom.Point3{Z: 10}, emit: emit}
	lo, hi := j.Start+j.CutterDiameter/2, j.End-j.CutterDiameter/2
	for p.line < n {
		p.to(toolpath.Rapid, lo, j.FromFace, 10)
		p.to(toolpath.Rapid, lo, j.FromFace, 1)
		p.to(toolpath.Linear, lo, j.FromFace, 0)
		for _, z := range []float64{-2.5, -5, -7.5, -10} {
			p.to(toolpath.Linear, hi, j.FromFace, z)
			p.to(toolpath.Linear, lo, j.FromFace, z)
		}
		p.to(toolpath.Linear, lo, j.FromFace, 1)
		p.to(toolpath.Rapid, lo, j.FromFace, 10)
	}
}

// round of a plate of 400 by 300 mm with wavy sides, as short lines.
func contourTask() backplot.Task {
	t := task(slotJob())
	t.Pockets = nil
	t.Sheet = &backplot.Sheet{Thickness: 18, Breakthrough: 0.3}
	t.Limits.StepDown = 18.3 / 8
	return t
}

func contour(n int, emit func(*toolpath.Move)) {
	p := pen{at: geom.Point3{X: 500, Y: 300, Z: 10}, emit: emit}
	around := n / 8
	for pass := 1; pass <= 8; pass++ {
		z := -18.3 / 8 * float64(pass)
		for i := 0; i <= around; i++ {
			a := 2 * math.Pi * float64(i) / float64(around)
			r := 250 + 20*math.Sin(17*a)
			x, y := math.Round(1000*(300+r*math.Cos(a)))/1000, math.Round(1000*(300+r*math.Sin(a)))/1000
			if pass == 1 && i == 0 {
				p.to(toolpath.Rapid, x, y, 10)
				p.to(toolpath.Rapid, x, y, 1)
			}
			if i == 0 {
				p.to(toolpath.Linear, x, y, z)
				continue
			}
			p.to(toolpath.Linear, x, y, z)
		}
	}
}

// raster of a relief of 300 by 300 mm: lines side by side, cut in two layers,
// the second shifted by a part of a line's length.
func rasterTask() backplot.Task {
	t := contourTask()
	t.Sheet.Thickness = 40
	return t
}

func raster(n int, shift float64, emit func(*toolpath.Move)) {
	p := pen{at: geom.Point3{Z: 10}, emit: emit}
	rows := int(math.Sqrt(float64(n) / 2))
	for layer := range 2 {
		for r := range rows {
			for i := range rows {
				x := 300 * (float64(i) + shift*float64(layer)) / float64(rows)
				if r%2 == 1 {
					x = 300 - x
				}
				y := 300 * float64(r) / float64(rows)
				p.to(toolpath.Linear, math.Round(x*1000)/1000, math.Round(y*1000)/1000, -2*float64(layer+1)+math.Round(100*math.Sin(x/20)*math.Cos(y/30))/1000)
			}
		}
	}
}

func zigzag(n int, emit func(*toolpath.Move)) {
	p := pen{at: geom.Point3{Z: 10}, emit: emit}
	for r := 0; p.line < n; r++ {
		for c := range 100 {
			p.to(toolpath.Linear, 100+float64(c)*0.137, float64(r)*0.05, -float64((r+c)%300)*0.01)
		}
	}
}

func BenchmarkLong(b *testing.B) {
	for _, p := range longPrograms {
		for _, n := range []int{10_000, 100_000, 1_000_000} {
			b.Run(fmt.Sprintf("%s/%d", p.name, n), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					r := backplot.New(p.task())
					p.make(n, func(m *toolpath.Move) { r.Move(m) })
					res := r.Finish()
					b.ReportMetric(float64(res.Count), "findings")
					var s runtime.MemStats
					runtime.ReadMemStats(&s)
					b.ReportMetric(float64(s.HeapInuse)/1e6, "MB-in-use")
					runtime.KeepAlive(r)
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/move")
			})
		}
	}
}
