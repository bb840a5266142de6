package stock

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// extrasOnly turns a job into one that asks for fixed counts.
func extrasOnly(j CutList, t *rapid.T) CutList {
	j.Stars = 0
	for i := range j.Parts {
		j.Parts[i].PerStar = 0
		j.Parts[i].Extra = rapid.IntRange(1, 4).Draw(t, "pieces")
	}
	return j
}

// TestSearchAndBoundAlone takes the greedy packing away: the branch and bound
// has to find the least wood, or prove that there is none, by itself, and the
// price bound may not say more than that.
func TestSearchAndBoundAlone(t *testing.T) {
	packable, not := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		j := extrasOnly(smallJob(t, rapid.IntRange(2, 3).Draw(t, "parts")), t)
		rack := j.rack()
		if j.longEnough(rack) != nil {
			return
		}
		d, err := newDemand(j, rack)
		if err != nil {
			t.Fatal(err)
		}
		w := newWood(rack, d.lengths, toNM(j.Kerf))
		counts := d.counts(0, d.extra)
		truth := exhaustive(j)
		all := true
		for i, p := range j.Parts {
			all = all && truth.extra[i] == p.Extra
		}
		b := w.lowerBound(counts, w.total+1)
		for _, anyBoard := range []bool{false, true} {
			s := newSearch(w, counts, b, DefaultEffort)
			s.anyBoard = anyBoard
			s.run(counts)
			if s.ok != all || !all && !s.complete {
				t.Fatalf("found %v, complete %v; exhaustive search says %v\n%+v", s.ok, s.complete, all, j)
			}
			if all && !anyBoard && (s.best.taken != -truth.minusTaken || !s.complete) {
				t.Errorf("takes %d nm, exhaustive %d nm, complete %v\n%+v", s.best.taken, -truth.minusTaken, s.complete, j)
			}
		}
		if all {
			packable++
			if least := w.reachable(b.least); least > -truth.minusTaken {
				t.Errorf("the bound says %d nm, there is a packing in %d nm\n%+v", least, -truth.minusTaken, j)
			}
		} else {
			not++
		}
	})
	// One in eight can be packed: of eighty none by chance once in thirty thousand.
	if packable+not >= 80 && (packable == 0 || not == 0) {
		t.Errorf("%d jobs could and %d could not be packed", packable, not)
	}
}

func TestFillAgainstEveryFilling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(t, "lengths")
		size, price, limit := make([]int64, n), make([]int64, n), make([]int, n)
		for k := range n {
			size[k] = rapid.Int64Range(3, 40).Draw(t, "size")
			price[k] = rapid.Int64Range(0, 60).Draw(t, "price")
			limit[k] = rapid.IntRange(0, 5).Draw(t, "limit")
		}
		room := rapid.Int64Range(0, 120).Draw(t, "room")
		var best int64
		var walk func(k int, room, value int64)
		walk = func(k int, room, value int64) {
			if k == n {
				best = max(best, value)
				return
			}
			for c := 0; c <= limit[k] && int64(c)*size[k] <= room; c++ {
				walk(k+1, room-int64(c)*size[k], value+int64(c)*price[k])
			}
		}
		walk(0, room, 0)
		counts, got, bound := newFiller(size, price, limit).fill(room)
		if got != best || bound != best || worth(counts, price) != best {
			t.Errorf("filled for %d (bound %d, counts %v), best is %d", got, bound, counts, best)
		}
		// Every filling that is listed leaves no room, and the best is listed.
		ways, looked := patterns(size, price, limit, room)
		top := int64(0)
		for _, way := range ways {
			rest := room
			for k, c := range way {
				rest -= int64(c) * size[k]
			}
			for k, c := range way {
				if c < limit[k] && size[k] <= rest || rest < 0 {
					t.Errorf("filling %v leaves room for length %d", way, k)
				}
			}
			top = max(top, worth(way, price))
		}
		if looked > maxWalk || top != best {
			t.Errorf("best listed filling is worth %d of %d, looked at %d", top, best, looked)
		}
	})
}

func TestSixtyBoardsOfSeveralLengths(t *testing.T) {
	// What a small shop has at most; the plan must come in reasonable time and
	// say honestly how good it is.
	for lengths := 2; lengths <= 4; lengths++ {
		for _, stars := range []int{0, 10} {
			t.Run(fmt.Sprintf("%d lengths, %d stars", lengths, stars), func(t *testing.T) {
				j := CutList{Kerf: 3.175, EndTrim: 12, Stars: stars}
				for i := range lengths {
					j.Parts = append(j.Parts, Part{Length: 235 + 63*float64(i), PerStar: 5 - i, Extra: 2 * i})
				}
				for i := range 60 {
					b := Board{Length: 900 + float64(i*i*131%1500)}
					if i%3 == 0 {
						b.Bad = []Span{{b.Length * 0.4, b.Length*0.4 + 40}}
					}
					j.Boards = append(j.Boards, b)
				}
				start := time.Now()
				p := plan(t, j)
				t.Logf("%d of %d stars, %.0f mm, bound %.0f mm, exact %v, %d steps, %v",
					p.Stars, p.StarsBound, p.TakenLength, p.TakenBound, p.Exact, p.Steps, time.Since(start))
				if p.StarsBound-p.Stars > 1 || p.TakenLength > p.TakenBound*1.02 {
					t.Errorf("%d of %d stars, %.0f mm, bound %.0f mm", p.Stars, p.StarsBound, p.TakenLength, p.TakenBound)
				}
			})
		}
	}
}

func TestHostileJobEnds(t *testing.T) {
	// Far beyond any shop: many different boards in many runs, many lengths of
	// which a run holds dozens. No answer needs to be good; it must come.
	j := CutList{Kerf: 1, Stars: 90}
	for i := range MaxParts {
		j.Parts = append(j.Parts, Part{Length: 51.3 + 7.7*float64(i), PerStar: 1 + i%3, Extra: 40})
	}
	for i := range 25 {
		b := Board{Length: 9000 + 137*float64(i)}
		for k := range 12 {
			b.Bad = append(b.Bad, Span{600*float64(k) + 11*float64(i), 600*float64(k) + 11*float64(i) + 5})
		}
		j.Boards = append(j.Boards, b)
	}
	start := time.Now()
	p, err := Make(j)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range faults(j, p) {
		t.Error(f)
	}
	t.Logf("%d of %d stars, %d steps, %v", p.Stars, p.StarsBound, p.Steps, time.Since(start))
}
