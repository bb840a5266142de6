// Command driver is this project's side of the comparison that peers.sh
// makes: one small process for each thing that is measured, and the maker of
// the inputs. It lies under testdata so that no build of ./... takes it in:
//
//	go build -o driver ./testdata/bench/driver
//	driver inputs DIR            write the program and the drawing that all read
//	driver replay FILE           read and replay a program, from disk, as a stream
//	driver dxfread FILE          read a drawing
//	driver dxfjudge FILE         read it and judge what was read
//	driver dxfwrite FILE         write the drawing of 20,000 outlines
//	driver long KIND N FROM TO   a program of about N blocks from a packet's own
package main

import (
	"fmt"
	"math"
	"os"
	"strconv"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/dxf/dxfread"
	"starwright/post/dxf/dxfwrite"
	"starwright/post/outline"
	"starwright/post/rs274/ncread"
	"starwright/toolpath"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "driver:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) == 5 && args[0] == "long" {
		n, err := strconv.Atoi(args[2])
		if err != nil {
			return err
		}
		return long(args[1], n, args[3], args[4])
	}
	if len(args) != 2 {
		return fmt.Errorf("%d words: a verb and a name are wanted, see main.go", len(args))
	}
	switch verb, name := args[0], args[1]; verb {
	case "inputs":
		return inputs(name)
	case "replay":
		return replay(name)
	case "dxfread", "dxfjudge":
		return read(name, verb == "dxfjudge")
	case "dxfwrite":
		return write(name)
	default:
		return fmt.Errorf("no such verb: %s", verb)
	}
}

// replay reads a program as a stream, counts its moves and adds up how long they are.
func replay(name string) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	var length float64
	rep, err := ncread.Read(f, name, ncread.Events{Move: func(m *toolpath.Move) error {
		if m.Kind != toolpath.Rapid {
			x, y, z := m.To.X-m.From.X, m.To.Y-m.From.Y, m.To.Z-m.From.Z
			length += math.Sqrt(x*x + y*y + z*z)
		}
		return nil
	}})
	if err != nil {
		return err
	}
	fmt.Printf("%d blocks, %d moves, %d findings, %.1f mm cut\n", rep.Blocks, rep.Moves, rep.FindingCount, length)
	return nil
}

// read reads a drawing, and judges it where that is asked for.
func read(name string, judge bool) error {
	src, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	f, err := dxfread.Read(src, name, geom.Millimetre)
	if err != nil {
		return err
	}
	found := len(f.Faults)
	if judge {
		found = len(outline.Judge(f))
	}
	fmt.Printf("%d contours, %d findings\n", len(f.Contours), found)
	return nil
}

// write writes the drawing that the peers write too.
func write(name string) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	if err := dxfwrite.Write(f, outlines()); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}

// outlines is the drawing that is measured: 20,000 closed outlines of four
// corners side by side, of which none meets another.
func outlines() cut.Drawing {
	d := cut.Drawing{Name: "20,000 outlines", UnitMM: 1, Contours: make([]cut.Contour, 20000)}
	for i := range d.Contours {
		x, y := float64(i%200)*12.345678, float64(i/200)*23.456789
		d.Contours[i] = cut.Contour{Layer: cut.Outline, Contour: geom.Polygon(
			geom.Pt(x, y), geom.Pt(x+10.123456, y+0.5), geom.Pt(x+10.5, y+20.25), geom.Pt(x+0.125, y+20.75))}
	}
	return d.WithCheckBar()
}
