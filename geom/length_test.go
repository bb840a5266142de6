package geom

import (
	"errors"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseLength(t *testing.T) {
	// The forms are those of the project's contract for job files; the inch is
	// 25.4 mm exactly (international yard and pound agreement of 1959).
	for _, c := range []struct {
		name string
		s    string
		bare Unit
		mm   float64
	}{
		{"mixed with space", "3 1/2 in", Millimetre, 88.9},
		{"mixed with hyphen", "3-1/2in", Millimetre, 88.9},
		{"mixed with spaced hyphen", "3 - 1/2 in", Millimetre, 88.9},
		{"mixed with en dash", "3–1/2 in", Millimetre, 88.9},
		{"spaces round the slash", "3  1 / 2 in", Millimetre, 88.9},
		{"fraction slash", "3 1⁄2 in", Millimetre, 88.9},
		{"inch mark", `9 1/4"`, Millimetre, 234.95},
		{"double prime", "9 1/4″", Millimetre, 234.95},
		{"closing quote of a phone", "9 1/4”", Millimetre, 234.95},
		{"millimetres", "19 mm", Inch, 19},
		{"millimetres joined", "19mm", Inch, 19},
		{"centimetres stay exact", "1.9 cm", Inch, 19},
		{"metres", "1.18 m", Inch, 1180},
		{"upper case", "19 MM", Inch, 19},
		{"inch", "1 inch", Millimetre, 25.4},
		{"inches", "5.5 inches", Millimetre, 139.7},
		{"abbreviation point", "3 in.", Millimetre, 76.2},
		{"fraction, bare inch", "1/8", Inch, 3.175},
		{"fraction, bare mm", "1/2", Millimetre, 0.5},
		{"fraction above one", "7/2 in", Millimetre, 88.9},
		{"fraction character alone", "½", Inch, 12.7},
		{"fraction character joined", "3½ in", Millimetre, 88.9},
		{"fraction character spaced", "3 ⅞ in", Millimetre, 98.425},
		{"seventh", "⅐ m", Inch, 1000.0 / 7},
		{"leading point", ".5 in", Millimetre, 12.7},
		{"leading noughts", "007.50", Millimetre, 7.5},
		{"spaces round", "  19 mm\t", Inch, 19},
		{"no-break space", "19\u00a0mm", Inch, 19},
		{"nought", "0", Inch, 0},
		// A foot is 12 inches of 25.4 mm (NIST Handbook 44, appendix C, from memory).
		{"feet", "4 ft", Millimetre, 1219.2},
		{"feet mark", "4'", Inch, 1219.2},
		{"feet and inches", `5' 3"`, Millimetre, 1600.2},
		{"feet, inches and a fraction", "5 ft 3-1/2 in", Millimetre, 1612.9},
		{"feet with a hyphen", `5'-3"`, Millimetre, 1600.2},
		{"feet and bare inches", "5ft 3", Millimetre, 1600.2},
		{"half a foot", "1/2 ft", Millimetre, 152.4},
		{"two marks are inches", "3''", Millimetre, 76.2},
		{"longest", "100 m", Inch, 100000},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := ParseLength(c.s, c.bare)
			if err != nil || got != c.mm {
				t.Errorf("ParseLength(%q, %v) = %v, %v; want %v", c.s, c.bare, got, err, c.mm)
			}
		})
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for _, c := range []struct{ name, s, why string }{
		{"empty", "", "it is empty"},
		{"blank", " \t ", "it is empty"},
		{"negative", "-3 in", "it is negative"},
		{"negative, minus sign", "−3 in", "it is negative"},
		{"decimal comma", "3,5 in", "a comma is not read, write a decimal point"},
		{"grouping comma", "1,200 mm", "a comma is not read, write a decimal point"},
		{"feet and too many inches", "2 ft 12 in", "there are 12 inches or more behind the feet"},
		{"feet and millimetres", "2 ft 3 mm", `the unit "mm" is not known`},
		{"unit alone", "mm", "it does not begin with a number"},
		{"not a number", "NaN", "it does not begin with a number"},
		{"infinity", "Inf", "it does not begin with a number"},
		{"plus", "+3 in", "it does not begin with a number"},
		{"exponent", "1e3", `the unit "e3" is not known`},
		{"hexadecimal", "0x10", `the unit "x10" is not known`},
		{"other unit", "3 yd", `the unit "yd" is not known`},
		{"two units", "3 in 4 mm", `the unit "in 4 mm" is not known`},
		{"two fractions", "3 1/2 1/2", "the number cannot be read"},
		{"two points", "1.2.3", "the number cannot be read"},
		{"ending point", "5. mm", "the number cannot be read"},
		{"point alone", ".", "the number cannot be read"},
		{"decimal and fraction", "3.5 1/2", "the number cannot be read"},
		{"decimal below the line", "1/2.5", "the number cannot be read"},
		{"two numbers", "3 4", "the number cannot be read"},
		{"two hyphens", "3--1/2", "the number cannot be read"},
		{"nothing below the line", "1/", "the number cannot be read"},
		{"nought below the line", "1/0", "the fraction has nothing below the line"},
		{"fraction of one or more", "3 5/4 in", "the fraction of a mixed number is one or more"},
		{"absurd", "100001", "more than 100 m is not believed"},
		{"absurd, many digits", strings.Repeat("9", 60) + " m", "more than 100 m is not believed"},
		{"too long", strings.Repeat(" ", 64) + "1", "it is longer than 64 bytes"},
		{"not UTF-8", "1\xff", "it is not UTF-8 text"},
		{"other digits", "١٩ mm", "it does not begin with a number"},
	} {
		t.Run(c.name, func(t *testing.T) {
			v, err := ParseLength(c.s, Millimetre)
			var e *ValueError
			if !errors.As(err, &e) {
				t.Fatalf("ParseLength(%q) = %v, %v; want a ValueError", c.s, v, err)
			}
			if e.Why != c.why {
				t.Errorf("why = %q; want %q", e.Why, c.why)
			}
			if !strings.Contains(err.Error(), "3 1/2 in") || len(err.Error()) > 300 {
				t.Errorf("text shows no form that works, or runs on: %s", err)
			}
		})
	}
}

func TestParseAngle(t *testing.T) {
	for _, c := range []struct {
		name, s string
		deg     float64
		why     string
	}{
		{"with unit", "36 deg", 36, ""},
		{"degree sign", "36°", 36, ""},
		{"bare", "36", 36, ""},
		{"decimal", "25.71 degrees", 25.71, ""},
		{"half", "22 1/2 deg", 22.5, ""},
		{"negative", "-1 deg", 0, "it is negative"},
		{"radians", "1 rad", 0, `the unit "rad" is not known`},
		{"absurd", "361", 0, "more than 360 degrees is not believed"},
		{"empty", "", 0, "it is empty"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := ParseAngle(c.s)
			if got != Deg(c.deg) || reason(err) != c.why {
				t.Errorf("ParseAngle(%q) = %v deg, %v; want %v, %q", c.s, got.Degrees(), err, c.deg, c.why)
			}
		})
	}
}

func TestParseFeed(t *testing.T) {
	for _, c := range []struct {
		name, s string
		bare    Unit
		mm      float64
		why     string
	}{
		{"metric", "1200 mm/min", Inch, 1200, ""},
		{"metres", "1.2 m/min", Inch, 1200, ""},
		{"inch", "47 in/min", Millimetre, 1193.8, ""},
		{"trade form", "47 ipm", Millimetre, 1193.8, ""},
		{"bare inch", "100", Inch, 2540, ""},
		{"bare mm", "100", Millimetre, 100, ""},
		{"spaced", "1200 mm / min", Inch, 1200, ""},
		{"length only", "1200 mm", Inch, 0, `the unit "mm" is not known`},
		{"negative", "-5", Inch, 0, "it is negative"},
		{"absurd", "101 m/min", Inch, 0, "more than 100 m/min is not believed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := ParseFeed(c.s, c.bare)
			if got != c.mm || reason(err) != c.why {
				t.Errorf("ParseFeed(%q) = %v, %v; want %v, %q", c.s, got, err, c.mm, c.why)
			}
		})
	}
}

// reason returns why a value was refused.
func reason(err error) string {
	var e *ValueError
	if errors.As(err, &e) {
		return e.Why
	}
	return ""
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		name string
		u    Unit
		mm   float64
		want string
	}{
		{"whole mm", Millimetre, 19, "19 mm"},
		{"tenth", Millimetre, 19.04, "19 mm"},
		{"tenth up", Millimetre, 19.06, "19.1 mm"},
		{"nought", Millimetre, 0, "0 mm"},
		{"no negative nought", Millimetre, -0.01, "0 mm"},
		{"negative", Millimetre, -1.26, "-1.3 mm"},
		{"mixed", Inch, 88.9, "3 1/2 in"},
		{"thirty-seconds", Inch, 25.4 * 5 / 32, "5/32 in"},
		{"whole inch", Inch, 254, "10 in"},
		{"rounds to whole", Inch, 25.39, "1 in"},
		{"rounds to nought", Inch, 0.3, "0 in"},
		{"negative inch", Inch, -88.9, "-3 1/2 in"},
		{"NaN", Inch, math.NaN(), "no length"},
		{"infinite", Millimetre, math.Inf(-1), "no length"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.u.Format(c.mm); got != c.want {
				t.Errorf("Format(%v) = %q; want %q", c.mm, got, c.want)
			}
		})
	}
	if got := Inch.FormatFeed(1200); got != "47.2 in/min" { // 1200/25.4 = 47.244
		t.Errorf("feed %q", got)
	}
	if got := Millimetre.FormatFeed(1200); got != "1200 mm/min" {
		t.Errorf("feed %q", got)
	}
	if got := Millimetre.FormatFine(0.154); got != "0.15 mm" {
		t.Errorf("fine %q", got)
	}
	for _, c := range []struct {
		u    Unit
		mm   float64
		want string
	}{{Millimetre, 6.35, "6.35 mm"}, {Millimetre, 19, "19 mm"}, {Inch, 6.35, "1/4 in"}, {Inch, 6, "0.236 in"}} { // 6/25.4 = 0.2362
		if got := c.u.FormatSize(c.mm); got != c.want {
			t.Errorf("size %q; want %q", got, c.want)
		}
	}
	if got := Inch.FormatFine(0.15); got != "0.006 in" { // 0.15/25.4 = 0.0059
		t.Errorf("fine %q", got)
	}
	if got := Deg(180.0 / 7).Format(); got != "25.71 deg" { // 180/7 = 25.714
		t.Errorf("angle %q", got)
	}
}

// What is printed exactly is read back as it was; the ways to write it are a
// workshop's: thousandths, 64ths and 128ths of an inch (0.0625/4 = 1/64), and a size
// of the other unit under its own name.
func TestFormatExact(t *testing.T) {
	for _, c := range []struct {
		name string
		u    Unit
		mm   float64
		want string
	}{
		{"tenth", Millimetre, 19.5, "19.5 mm"},
		{"half a planed board", Millimetre, 17.33 / 2, "8.665 mm"},
		{"a thousandth", Millimetre, 31.474, "31.474 mm"},
		{"an inch bit", Millimetre, 3.175, "3.175 mm"},
		{"a thin inch bit", Millimetre, 25.4 / 32, "1/32 in"},
		{"inches on a step", Inch, 88.9, "3 1/2 in"},
		{"a 64th", Inch, 25.4 * 23 / 64, "23/64 in"},
		{"a 128th", Inch, 25.4 * 257 / 128, "2 1/128 in"},
		{"a thousandth of an inch", Inch, 25.4 * 0.743, "0.743 in"},
		{"ten-thousandths", Inch, 25.4 * 0.7429, "0.7429 in"},
		{"a metric bit", Inch, 3, "3 mm"},
		{"half of a metric board", Inch, 8.365, "8.365 mm"},
		{"none of these", Millimetre, 10.0 / 3, "3.333333 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := c.u.FormatExact(c.mm)
			if got != c.want {
				t.Errorf("%v prints as %q; want %q", c.mm, got, c.want)
			}
			if back, err := ParseLength(got, c.u); err != nil || math.Abs(back-c.mm) > 1e-6 {
				t.Errorf("%q reads as %v, %v", got, back, err)
			}
		})
	}
	for _, c := range []struct {
		u    Unit
		feed float64
		want string
	}{{Millimetre, 2050, "2050 mm/min"}, {Millimetre, 777.75, "777.75 mm/min"}, {Inch, 80 * 25.4, "80 in/min"}, {Inch, 1500, "1500 mm/min"}} {
		if got := c.u.FormatFeedExact(c.feed); got != c.want {
			t.Errorf("feed %v prints as %q; want %q", c.feed, got, c.want)
		}
	}
	for _, c := range []struct {
		deg  float64
		want string
	}{{36, "36 deg"}, {180.0 / 7, "25 5/7 deg"}, {180.0 / 11, "16 4/11 deg"}, {37.123456, "37.123456 deg"}} {
		got := Deg(c.deg).FormatExact()
		if back, err := ParseAngle(got); got != c.want || err != nil || math.Abs(back.Degrees()-c.deg) > 1e-9 {
			t.Errorf("angle %v prints as %q, which reads as %v, %v; want %q", c.deg, got, back, err, c.want)
		}
	}
}

// A length that is offered as the most is no longer than the most, never nothing, and
// neat where that costs little: 1/32 in is 0.79 mm.
func TestFormatFloor(t *testing.T) {
	for _, c := range []struct {
		u    Unit
		mm   float64
		want string
	}{{Millimetre, 9.97, "9.9 mm"}, {Inch, 88, "3 7/16 in"}, {Inch, 0.65, "0.65 mm"}, {Inch, 3.00273, "0.1182 in"}, {Millimetre, 0.0456, "0.045 mm"}, {Inch, 0, "0 in"}} {
		if got := c.u.FormatFloor(c.mm); got != c.want {
			t.Errorf("%v is offered as %q; want %q", c.mm, got, c.want)
		}
	}
}

// Fine steps are rounded to the side that is asked for, print whole, and read back
// bit for bit.
func TestFineSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u, mm := drawUnit(t), rapid.Float64Range(0, 3000).Draw(t, "mm")
		step := map[Unit]float64{Millimetre: 0.001, Inch: 0.00254}[u]
		f, c := u.FloorFine(mm), u.CeilFine(mm)
		if f > mm+1e-8 || c < mm-1e-8 || c-f > step+1e-9 {
			t.Errorf("%v lies from %v to %v", mm, f, c)
		}
		for _, v := range []float64{f, c} {
			if back, err := ParseLength(u.FormatExact(v), u); err != nil || math.Abs(back-v) > 1e-12 {
				t.Errorf("%v prints as %q and reads as %v, %v", v, u.FormatExact(v), back, err)
			}
		}
	})
}

func TestFloorAndCeil(t *testing.T) {
	in := 25.4
	for _, c := range []struct {
		name        string
		u           Unit
		mm          float64
		floor, ceil float64
	}{
		{"on a step", Inch, 3.5 * in, 88.9, 88.9}, // the product lies just below 88.9
		{"a hair over", Inch, 88.9 + 1e-9, 88.9, 88.9},
		{"between", Inch, 10, 12 * in / 32, 13 * in / 32}, // 10 mm = 12.598 thirty-seconds
		{"tenth on a step", Millimetre, 0.1 + 0.2, 0.3, 0.3},
		{"tenth between", Millimetre, 7.77, 7.7, 7.8},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.u.Floor(c.mm); math.Abs(got-c.floor) > 1e-12 {
				t.Errorf("Floor = %v; want %v", got, c.floor)
			}
			if got := c.u.Ceil(c.mm); math.Abs(got-c.ceil) > 1e-12 {
				t.Errorf("Ceil = %v; want %v", got, c.ceil)
			}
		})
	}
	if got, want := Inch.FractionError(10), 13*in/32-10; math.Abs(got-want) > 1e-12 {
		t.Errorf("FractionError = %v; want %v", got, want)
	}
}

// drawUnit picks one of the two units.
func drawUnit(t *rapid.T) Unit {
	return rapid.SampledFrom([]Unit{Millimetre, Inch}).Draw(t, "unit")
}

func TestFormatRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u, mm := drawUnit(t), rapid.Float64Range(0, MaxLength).Draw(t, "mm")
		s := u.Format(mm)
		got, err := ParseLength(s, 1-u) // the other unit bare: the printed one must count
		if err != nil {
			t.Fatalf("%v prints as %q: %v", mm, s, err)
		}
		if got != u.Round(mm) {
			t.Errorf("%q reads as %v, Round gives %v", s, got, u.Round(mm))
		}
		half := map[Unit]float64{Millimetre: 0.05, Inch: 25.4 / 64}[u]
		if d := math.Abs(got - mm); d > half+1e-9 {
			t.Errorf("%v prints as %q, off by %v", mm, s, d)
		}
		if s2 := u.Format(got); s2 != s {
			t.Errorf("%q reads and prints again as %q", s, s2)
		}
		f, c := u.Floor(mm), u.Ceil(mm)
		if f > mm+1e-6 || c < mm-1e-6 || c-f > 2*half+1e-9 {
			t.Errorf("%v: floor %v, ceil %v", mm, f, c)
		}
		if u.Floor(f) != f || u.Ceil(f) != f {
			t.Errorf("floor %v is not on a step", f)
		}
	})
}

// TestParseLengthExact reads random mixed numbers and compares with rational
// arithmetic, rounded once at the end.
func TestParseLengthExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.Int64Range(0, 3000).Draw(t, "whole")
		bottom := int64(1) << rapid.IntRange(1, 6).Draw(t, "power")
		top := rapid.Int64Range(0, bottom-1).Draw(t, "top")
		sep := rapid.SampledFrom([]string{" ", "-", " - ", "  "}).Draw(t, "sep")
		s := big.NewInt(whole).String() + sep + big.NewInt(top).String() + "/" + big.NewInt(bottom).String() + " in"
		exact := new(big.Rat).Add(big.NewRat(whole, 1), big.NewRat(top, bottom))
		want, _ := exact.Mul(exact, big.NewRat(254, 10)).Float64()
		if got, err := ParseLength(s, Millimetre); err != nil || got != want {
			t.Errorf("%q = %v, %v; want %v", s, got, err, want)
		}
	})
}

func FuzzParseLength(f *testing.F) {
	for _, s := range []string{"3 1/2 in", "3-1/2in", `9 1/4"`, "19 mm", "1.9 cm", "1/8", "3½ in", "2 ft", "1,9 cm",
		"-3", "NaN", "1e308", "0x1p-2", "1/0", "½½", "1 1 1/1", "", "\xff", "9999999999 9999999999/1 m"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, u := range []Unit{Millimetre, Inch} {
			mm, err := ParseLength(s, u)
			if err != nil {
				if mm != 0 || len(err.Error()) > 600 {
					t.Errorf("%q: %v with %d bytes of error", s, mm, len(err.Error()))
				}
				continue
			}
			if !(mm >= 0 && mm <= MaxLength) || math.Signbit(mm) {
				t.Fatalf("%q reads as %v", s, mm)
			}
			if got, err := ParseLength(u.Format(mm), u); err != nil || got != u.Round(mm) {
				t.Errorf("%q reads as %v, prints as %q, reads as %v, %v", s, mm, u.Format(mm), got, err)
			}
		}
		if a, err := ParseAngle(s); err == nil && !(a >= 0 && a <= Deg(360)) {
			t.Errorf("%q reads as angle %v", s, a)
		}
		if v, err := ParseFeed(s, Inch); err == nil && !(v >= 0 && v <= MaxFeed) {
			t.Errorf("%q reads as feed %v", s, v)
		}
	})
}
