package lumber

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// in is a length in inches as mm; 25.4 is the definition of the inch.
func in(v float64) float64 { return v * 25.4 }

func TestNominal(t *testing.T) {
	// PS 20, table of boards, dry, minimum dressed, as reprinted under "Softwood
	// Lumber - Standard Sizes"; 2x rows from memory (dimension lumber).
	rows := []struct {
		name             string
		width, thickness float64
	}{
		{"1x2", 1.5, 0.75}, {"1x3", 2.5, 0.75}, {"1x4", 3.5, 0.75}, {"1x5", 4.5, 0.75},
		{"1x6", 5.5, 0.75}, {"1x7", 6.5, 0.75}, {"1x8", 7.25, 0.75}, {"1x9", 8.25, 0.75},
		{"1x10", 9.25, 0.75}, {"1x11", 10.25, 0.75}, {"1x12", 11.25, 0.75},
		{"1x14", 13.25, 0.75}, {"1x16", 15.25, 0.75},
		{"5/4x6", 5.5, 1}, {"1-1/4x6", 5.5, 1}, {"1 1/4 x 6", 5.5, 1},
		{"1-1/2x4", 3.5, 1.25}, {"6/4x4", 3.5, 1.25},
		{"3/8x4", 3.5, 5.0 / 16}, {"1/2x4", 3.5, 7.0 / 16}, {"5/8x4", 3.5, 9.0 / 16}, {"3/4x4", 3.5, 5.0 / 8},
		{"1 X 6", 5.5, 0.75}, {" 1 × 6 ", 5.5, 0.75}, {"4/4x6", 5.5, 0.75},
		{"2x4", 3.5, 1.5}, {"2x6", 5.5, 1.5},
	}
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			z, ok := Lookup(r.name)
			if !ok || z.Width != in(r.width) || z.Thickness != in(r.thickness) {
				t.Errorf("got %v x %v mm, %v; want %v x %v in", z.Width, z.Thickness, ok, r.width, r.thickness)
			}
		})
	}
}

func TestNominalRefuses(t *testing.T) {
	for _, s := range []string{"", "x", "1x", "x6", "6", "1x6x8", "1 in x 6 in", "0x6", "1x13", "6x1", "1/0x6",
		"-1x6", "1x6 mm", "1.0x6", "1x6.5", "99999999999x6", "1-9/4x6", "1x1000000000000000000000000000000"} {
		t.Run(s, func(t *testing.T) {
			if z, ok := Lookup(s); ok || z != (Size{}) {
				t.Errorf("read as %v", z)
			}
		})
	}
}

func TestNamesAreKnown(t *testing.T) {
	if len(Names()) == 0 {
		t.Fatal("no names to offer")
	}
	for _, n := range Names() {
		if _, ok := Lookup(n); !ok {
			t.Errorf("%q is offered and refused", n)
		}
	}
}

func TestNominalNeverPanics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`[0-9x/ \-X×]{0,12}`).Draw(t, "name")
		z, ok := Lookup(s)
		if ok && (z.Width >= z.NominalWidth || z.Thickness >= z.NominalThickness) {
			t.Errorf("%q: dressed %v x %v is not below nominal %v x %v",
				s, z.Width, z.Thickness, z.NominalWidth, z.NominalThickness)
		}
	})
}

func TestBoardFeet(t *testing.T) {
	// One board foot is 144 cubic inches by definition: 1 in x 12 in x 12 in. A
	// yard counts an 8 ft 1x6 as 1 x 6 x 96 / 144 = 4.
	z, _ := Lookup("1x6")
	rows := []struct {
		name      string
		got, want float64
	}{
		{"one", BoardFeet(in(12), in(12), in(1)), 1},
		{"8 ft 1x6 as the yard counts", BoardFeet(in(96), z.NominalWidth, z.NominalThickness), 4},
		{"8 ft 1x6 as it lies there", BoardFeet(in(96), z.Width, z.Thickness), 96 * 5.5 * 0.75 / 144},
	}
	const slack = 1e-12 // board feet, rounding of float64
	for _, r := range rows {
		t.Run(r.name, func(t *testing.T) {
			if math.Abs(r.got-r.want) > slack {
				t.Errorf("got %v, want %v", r.got, r.want)
			}
		})
	}
}
