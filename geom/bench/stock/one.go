package stock

import (
	"math"

	"starwright/geom/bench/lumber"
)

func boardFeet(length, width, thickness float64) float64 {
	return lumber.BoardFeet(length, width, thickness)
}

// oneLength plans a single length, exactly. How many pieces a board gives is
// arithmetic; which boards to take is a knapsack over pieces:
//
// least(i, n) is the least length of boards among the first i that give n
// pieces or more. In a least choice at most one board needs to be left partly
// uncut: what the choice gives too much is less than any of its boards gives,
// or that board could stay in the rack, and all of it left in one board makes
// the longest rest. So each board is tried as that one, with the least choice
// among the others, from tables for the boards before and after it.
func (d *demand) oneLength(rack []board, kerf int64) answer {
	length := d.lengths[0]
	gives := make([]int, len(rack))
	total := 0
	for i, b := range rack {
		gives[i] = b.yield(length, kerf)
		total += gives[i]
	}
	a := answer{extra: make([]int, len(d.extra)), cuts: make(packed, len(rack)), exact: true}
	need := 0
	if per := d.perStar[0]; per > 0 {
		a.stars = min(d.stars, total/per)
		need = a.stars * per
	}
	a.starsBound = a.stars
	for i, want := range d.extra {
		if d.kind[i] == 0 {
			a.extra[i] = min(want, total-need)
			need += a.extra[i]
		}
	}
	a.extraBound = a.extra
	if need == 0 {
		return a
	}
	pick := newChoice(rack, gives, need)
	part, pieces := pick.part(rack, length, kerf)
	for i, taken := range pick.with(part, need-pieces) {
		if taken {
			a.cuts[i] = rack[i].full(length, kerf)
			need -= gives[i]
			a.takenBound += rack[i].length
		}
	}
	a.cuts[part] = rack[part].partly(length, kerf, need)
	a.takenBound += rack[part].length
	return a
}

// full returns the counts of a board cut up wholly.
func (b board) full(length, kerf int64) [][]int {
	out := make([][]int, len(b.runs))
	for r, run := range b.runs {
		out[r] = []int{int((run.length() + kerf) / (length + kerf))}
	}
	return out
}

// partly returns the counts of a board that gives n pieces only, with the
// longest clear rest in one run.
func (b board) partly(length, kerf int64, n int) [][]int {
	out := b.full(length, kerf)
	_, run := b.longestRest(length, kerf, n)
	for r := range out {
		if r != run {
			out[r][0] = min(out[r][0], n)
			n -= out[r][0]
		}
	}
	out[run][0] = n
	return out
}

// longestRest returns the longest clear rest in a board that gives n pieces,
// and its run: all other runs are filled first.
func (b board) longestRest(length, kerf int64, n int) (rest int64, run int) {
	all := b.yield(length, kerf)
	rest = -1
	for r, s := range b.runs {
		gives := int((s.length() + kerf) / (length + kerf))
		here := max(0, n-(all-gives))
		free := s.length() - int64(here)*(length+kerf)
		if free = max(free, 0); free > rest {
			rest, run = free, r
		}
	}
	return rest, run
}

// choice holds the tables of least lengths, in nm.
type choice struct {
	rack          []board
	gives         []int
	before, after [][]int64 // before[i][n]: boards below i; after[i][n]: boards from i on
}

// never stands for more pieces than there is wood for; twice it is no overflow.
const never = math.MaxInt64 / 4

func newChoice(rack []board, gives []int, need int) choice {
	c := choice{rack: rack, gives: gives}
	nothing := make([]int64, need+1)
	for n := 1; n <= need; n++ {
		nothing[n] = never
	}
	c.before = make([][]int64, len(rack)+1)
	c.after = make([][]int64, len(rack)+1)
	c.before[0], c.after[len(rack)] = nothing, nothing
	for i := range rack {
		c.before[i+1] = add(c.before[i], rack[i].length, gives[i])
		k := len(rack) - 1 - i
		c.after[k] = add(c.after[k+1], rack[k].length, gives[k])
	}
	return c
}

// add returns the table with one more board to choose from.
func add(table []int64, length int64, gives int) []int64 {
	out := make([]int64, len(table))
	for n := range table {
		out[n] = min(table[n], table[max(0, n-gives)]+length)
	}
	return out
}

// part returns the board to leave partly uncut and how many pieces it gives:
// the one with the longest rest among all least choices, the first of equals.
func (c choice) part(rack []board, length, kerf int64) (part, pieces int) {
	need := len(c.before[0]) - 1
	least := c.after[0][need]
	best := int64(-1)
	for i, b := range rack {
		for n := 1; n <= min(c.gives[i], need); n++ {
			if b.length+c.without(i, need-n) != least {
				continue
			}
			if rest, _ := b.longestRest(length, kerf, n); rest > best {
				best, part, pieces = rest, i, n
			}
			break // more pieces from this board leave no longer rest
		}
	}
	return part, pieces
}

// without returns the least length for n pieces from all boards but one.
func (c choice) without(i, n int) int64 {
	least, _ := c.split(i, n)
	return least
}

// split returns that least length and how many of the n pieces then come from
// the boards before i.
func (c choice) split(i, n int) (least int64, fromBefore int) {
	least = never
	for k := 0; k <= n; k++ {
		if sum := c.before[i][k] + c.after[i+1][n-k]; sum < least {
			least, fromBefore = sum, k
		}
	}
	return least, fromBefore
}

// with returns which boards but i are taken for n pieces from them.
func (c choice) with(i, n int) []bool {
	taken := make([]bool, len(c.rack))
	_, low := c.split(i, n)
	high := n - low
	for k := i; k > 0; k-- {
		if c.before[k][low] != c.before[k-1][low] {
			taken[k-1] = true
			low = max(0, low-c.gives[k-1])
		}
	}
	for k := i + 1; k < len(c.rack); k++ {
		if c.after[k][high] != c.after[k+1][high] {
			taken[k] = true
			high = max(0, high-c.gives[k])
		}
	}
	return taken
}
