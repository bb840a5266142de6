package packet

import (
	"bytes"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// plainChange is changedBlocks by what all lines say that are not the same at either
// end.
func plainChange(released, text []byte) (c change, ok bool) {
	r, t := linesOf(released), linesOf(text)
	from := dropAlike(&r, &t)
	was := r.all()
	a, atWas := blocksOf(was)
	b, at := blocksOf(t.all())
	n, m := 0, 0
	for n < min(len(a), len(b)) && a[n] == b[n] {
		n++
	}
	for m < min(len(a), len(b))-n && a[len(a)-1-m] == b[len(b)-1-m] {
		m++
	}
	c.line = from + 1
	if n > 0 {
		c.line = from + at[n-1] + 2
	}
	c.last = c.line - 1
	if c.is = n < len(b)-m; c.is {
		c.line, c.last = from+at[n]+1, from+at[len(b)-m-1]+1
	}
	for _, i := range atWas[n : len(a)-m] {
		c.was = append(c.was, string(bytes.TrimSpace(was[i])))
	}
	return c, len(c.was) > 0 || c.is
}

// Where a file leaves the released program is found as by a look at all of it,
// whatever was taken out, put in, said again or written another way.
func TestChangedBlocks(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	some := []string{"G1 X1.0", "G1X1", "g1 x1.000", "G1 X2.0", "", "(pass)", "G1 X2.0 (pass)", "N5 G1 X1.0", "M5", " "}
	draw := func(n int) (lines []string) {
		for range n {
			lines = append(lines, some[random.IntN(len(some))])
		}
		return lines
	}
	changes, alike := 0, 0
	for range 10_000 {
		was, is := draw(random.IntN(8)), draw(random.IntN(8))
		if random.IntN(2) == 0 {
			from := random.IntN(len(was) + 1)
			is = slices.Concat(was[:from], draw(random.IntN(3)), was[from+random.IntN(len(was)-from+1):])
		}
		released, text := []byte(strings.Join(was, "\n")+"\n"), []byte(strings.Join(is, "\n")+"\n")
		got, ok := changedBlocks(released, text)
		want, differs := plainChange(released, text)
		if ok != differs || !reflect.DeepEqual(got, want) {
			t.Fatalf("%q to %q: %+v %v, want %+v %v", was, is, got, ok, want, differs)
		}
		if ok {
			changes++
		} else {
			alike++
		}
	}
	if changes == 0 || alike == 0 {
		t.Errorf("%d changes, %d alike: both were wanted", changes, alike)
	}
}
