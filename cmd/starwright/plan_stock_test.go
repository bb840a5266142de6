package main

import (
	"fmt"
	"strings"
	"testing"
)

// twenty is a rack of boards with bad places, mm: what a reclaimer's shed holds.
var twenty = []struct {
	length int
	bad    [][2]int
}{
	{2180, [][2]int{{420, 465}, {1310, 1330}}}, {1450, nil}, {970, [][2]int{{300, 340}}}, {2400, [][2]int{{1105, 1190}}},
	{1180, nil}, {1180, [][2]int{{0, 60}}}, {1260, [][2]int{{505, 530}, {900, 925}}}, {2050, nil}, {1735, [][2]int{{800, 845}}},
	{1090, nil}, {1540, [][2]int{{1490, 1540}}}, {1320, [][2]int{{250, 285}}}, {2330, [][2]int{{610, 700}, {1500, 1520}, {2010, 2090}}},
	{990, nil}, {1610, nil}, {1870, [][2]int{{930, 960}}}, {1425, [][2]int{{700, 715}}}, {1000, [][2]int{{480, 520}}}, {2210, nil}, {1390, [][2]int{{85, 150}}},
}

const (
	twentyTrim   = 10 // mm
	twentyKerf10 = 24 // tenths of a mm
	twentyStars  = 14
)

// yields returns what each board gives, counted by laying blanks into its clear
// stretches one after the other; blank in tenths of a mm.
func yields(blank int) []int {
	out := make([]int, len(twenty))
	for i, b := range twenty {
		at, n := 10*twentyTrim, 0
		fill := func(end int) {
			for at+blank <= end {
				n++
				at += blank + twentyKerf10
			}
		}
		for _, s := range b.bad {
			fill(10 * s[0])
			at = max(at, 10*s[1])
		}
		fill(10 * (b.length - twentyTrim))
		out[i] = n
	}
	return out
}

// least returns the least length of boards that gives so many blanks, mm, by
// trying every choice of boards, a million of them.
func least(gives []int, need int) int {
	best := 1 << 30
	var walk func(i, got, length int)
	walk = func(i, got, length int) {
		if got >= need {
			best = min(best, length)
			return
		}
		if i == len(twenty) || length >= best {
			return
		}
		walk(i+1, got+gives[i], length+twenty[i].length)
		walk(i+1, got, length)
	}
	walk(0, 0, 0)
	return best
}

// The plan of twenty boards with bad places says that it is exact, and is: no
// choice of boards does it with less.
func TestPlanOfTwentyBoards(t *testing.T) {
	var job strings.Builder
	fmt.Fprintf(&job, "[star]\nboard_width = \"96 mm\"\ncount = %d\n[saw]\nkerf = \"2.4 mm\"\n[jigs]\nmake = []\n[stock]\ntrim = \"%d mm\"\nboards = [\n", twentyStars, twentyTrim)
	for _, b := range twenty {
		fmt.Fprintf(&job, "{ length = %d, bad = [", b.length)
		for _, s := range b.bad {
			fmt.Fprintf(&job, "[%d, %d],", s[0], s[1])
		}
		fmt.Fprintln(&job, "] },")
	}
	fmt.Fprintln(&job, "]")
	doc := planOf(t, job.String())
	blank, _ := at(t, doc, "blank.length_mm").(float64)
	gives := yields(int(10*blank + 0.5))
	need := 5*twentyStars + 5 // and one more star's, to cut the first one again
	if at(t, doc, "stock.exact") != true || at(t, doc, "stock.stars") != float64(twentyStars) || at(t, doc, "stock.blanks") != float64(need) {
		t.Errorf("exact %v, %v stars, %v blanks", at(t, doc, "stock.exact"), at(t, doc, "stock.stars"), at(t, doc, "stock.blanks"))
	}
	if got, want := at(t, doc, "stock.taken_mm"), least(gives, need); got != float64(want) {
		t.Errorf("boards of %v mm taken; trying every choice, %d mm do", got, want)
	}
	boards, _ := at(t, doc, "stock.boards").([]any)
	for i, v := range boards {
		b, _ := v.(map[string]any)
		n, _ := b["blanks"].(float64)
		if b["taken"] == true && int(n) > gives[i] {
			t.Errorf("board %d is to give %v blanks; it holds %d", i+1, n, gives[i])
		}
	}
}
