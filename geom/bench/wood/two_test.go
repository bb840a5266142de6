package wood

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
)

// TestTwoWoodsByHand is worked by hand with the coefficients of the Wood Handbook,
// Table 13-5: black walnut 0.00190 radial and 0.00274 tangential, hard maple
// 0.00165 and 0.00353. From 10 to 7 % flatsawn boards lose 0.822 and 1.059 % of
// their width, 0.9405 % in the mean, and 0.570 and 0.495 % of their thickness: at
// 19 mm they differ by 0.01425 mm. Quartersawn ones lose 0.822 and 1.059 % of it and
// differ by 0.04503 mm. The facets of a star of five points from boards 100 mm wide
// lie at 36 degrees to the grain, 50 mm to the side and 68.819 mm along it: their
// length changes by 50 mm times sin 36 times the loss, so that they slide by
// 29.389 x 0.00237 = 0.0697 mm. All joints open by 5 x 0.009405 x sin 72 = 0.04472
// rad, 2.562 degrees, by the linear rule.
func TestTwoWoodsByHand(t *testing.T) {
	second := must(t, "hard maple")
	j := Change{Points: 5, BoardWidth: 100, Thickness: 19, Species: must(t, "black walnut"), Second: &second, FromMC: 10, ToMC: 7}
	m, err := Move(j)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name           string
		got, want, tol float64
	}{
		{"mean loss", m.Fraction, -0.009405, 1e-9}, {"width", m.WidthChange, -0.9405, 1e-7}, {"step", m.Step, 0.01425, 1e-7},
		{"slide", m.Slide, 0.0697, 2e-3}, {"all joints", m.AllJoints.Degrees(), -2.562, 0.03},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s %g, by hand %g", c.name, c.got, c.want)
		}
	}
	j.Grain = Quartersawn
	if m, err = Move(j); err != nil || math.Abs(m.Step-0.04503) > 1e-7 {
		t.Errorf("quartersawn step %g (%v), by hand 0.04503", m.Step, err)
	}
}

// TestTwoWoodsLieBetween: a ring of both woods opens by no less and no more than one
// of either, and of the same wood twice just as one of it.
func TestTwoWoodsLieBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.SampledFrom(Table()).Draw(t, "one"), rapid.SampledFrom(Table()).Draw(t, "other")
		j := Change{Points: rapid.IntRange(4, 12).Draw(t, "points"), BoardWidth: rapid.Float64Range(30, 300).Draw(t, "width"), Thickness: 19, Species: a,
			Grain:  rapid.SampledFrom([]Grain{Flatsawn, Quartersawn, Rift}).Draw(t, "grain"),
			FromMC: rapid.Float64Range(6, 14).Draw(t, "from"), ToMC: rapid.Float64Range(6, 14).Draw(t, "to")}
		open := func(s Species, second *Species) (Movement, geom.Angle) {
			k := j
			k.Species, k.Second = s, second
			m, err := Move(k)
			if err != nil {
				t.Fatal(err)
			}
			return m, m.AllJoints
		}
		one, x := open(a, nil)
		_, y := open(b, nil)
		both, z := open(a, &b)
		const slack = 1e-12
		if z < min(x, y)-slack || z > max(x, y)+slack {
			t.Errorf("both woods turn by %v, each by %v and %v", z, x, y)
		}
		same, _ := open(a, &a)
		if math.Abs(same.Last.MM-one.Last.MM) > 1e-9 || same.Step != 0 || same.Slide != 0 {
			t.Errorf("twice the same wood opens by %g, once by %g; step %g, slide %g", same.Last.MM, one.Last.MM, same.Step, same.Slide)
		}
		if one.Step != 0 || one.Slide != 0 || (both.Step == 0) != (a.Coef(Quartersawn) == b.Coef(Quartersawn)) && j.Grain == Flatsawn && j.FromMC != j.ToMC {
			t.Errorf("steps %g and %g", one.Step, both.Step)
		}
	})
}
