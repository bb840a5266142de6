package job

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom/bench/stock"
	"starwright/geom/star"
	"starwright/geom/words"
)

// Bounds of the rack.
const (
	maxBoards   = stock.MaxBoards // all counts together
	maxBoardLen = 20000           // mm
	maxBad      = 50              // stretches of one board
)

// boardKeys are the keys of a board that is written as a table.
var boardKeys = [...]string{"length", "bad", "count", "width", "thickness", "price", "wood"}

func (r *reader) stock(j *Job) {
	s := r.section("stock")
	example := r.pick(`["1180 mm", "2.4 m"]`, `["62 in", "96 in"]`)
	j.Stock.Trim = s.length("trim", span{hi: 500, example: r.pick("0 mm", "0 in")}, "the boards' ends are sound")
	s.strips(j)
	n := s.get("boards")
	if n == nil {
		return
	}
	if n.kind != list {
		s.fail("boards", n, "write a list of boards in brackets", example)
		return
	}
	total := 0
	for i, item := range n.items {
		b, ok := s.board(i+1, item)
		if !ok {
			continue
		}
		if (b.Width > 0 || b.Thickness > 0 || b.Wood != "") && r.item == nil && !j.TwoWoods() && !j.Segments.CNC {
			s.failTry("boards", item, fmt.Sprintf("board %d: a board's own width, thickness or wood is for an order, whose stars differ, or for a star of two woods", i+1),
				"board_width under [stock], for all boards, or [[star]] in place of [star]")
			continue
		}
		if total += b.Count; total > maxBoards {
			s.failTry("boards", item, fmt.Sprintf("with this there are %d boards, and %d are planned at once", total, maxBoards),
				"a job for each half of the batch, with half of the boards")
			return
		}
		if 2*j.Stock.Trim >= b.Length {
			s.failTry("boards", item, fmt.Sprintf("board %d: nothing is left of %s when both ends are trimmed by %s",
				i+1, r.u.Format(b.Length), r.u.Format(j.Stock.Trim)), "a longer board, or less trim under [stock]")
			continue
		}
		j.Stock.Boards = append(j.Stock.Boards, b)
	}
}

// strips reads what becomes of boards that are not as wide as the star's.
func (s section) strips(j *Job) {
	t, r := &j.Stock, s.r
	t.Laminate = s.truthy("laminate", false, "the boards are as wide as the star's, or wider")
	wide := span{lo: star.MinBoardWidth / 2, hi: star.MaxBoardWidth, example: r.pick("68 mm", "2 1/2 in")}
	if z, is := s.nominal("board_width"); z != nil {
		t.Nominal, t.Width = z, z.Width
	} else if v := s.openUnless(is, "board_width", wide); v != nil {
		t.Width = *v
	} else if t.Laminate && !s.has("board_width") {
		s.failTry("laminate", s.node.kids["laminate"], "the strips are ripped from boards whose width is not given",
			"board_width = "+quote(wide.example)+" beside it")
	}
	kerf := r.u.FormatExact(j.Saw.Kerf)
	if v := s.open("rip_kerf", span{hi: maxKerf, example: kerf}); v != nil {
		t.RipKerf = *v
	} else if (t.Width > 0 || r.item != nil || j.TwoWoods()) && !j.Segments.CNC && !s.has("rip_kerf") {
		t.RipKerf = j.Saw.Kerf
		s.note("rip_kerf", kerf, "as the mitre saw's")
	}
	joint := span{hi: 10, example: r.pick("0.8 mm", "1/32 in")}
	if v := s.open("jointing", joint); v != nil {
		t.Jointing = *v
	} else if (t.Laminate || j.TwoWoods() && j.Star.Halves != star.Whole) && !s.has("jointing") {
		t.Jointing = r.mm(joint.example)
		s.note("jointing", joint.example, "what a plane takes until an edge is true")
	}
}

// openUnless is [section.open], or nothing where the key was reported before.
func (s section) openUnless(done bool, key string, sp span) *float64 {
	if done {
		return nil
	}
	return s.open(key, sp)
}

// board reads one board: a length, or a table with its bad stretches.
func (s section) board(i int, n *node) (Board, bool) {
	sp := span{lo: 10, hi: maxBoardLen, example: s.r.pick("1180 mm", "62 in")}
	sp.would = quote(sp.example) + " for this board"
	b := Board{Count: 1, Line: n.line}
	if n.kind != table {
		v, ok := s.lengthOf("boards", n, sp)
		b.Length = v
		return b, ok
	}
	ok := true
	for _, k := range n.keys {
		if slices.Contains(boardKeys[:], k) {
			continue
		}
		ok = false
		would := words.Meant(k, boardKeys[:])
		why := fmt.Sprintf("board %d: the key %q is not known", i, printable(k, maxShown))
		if would == "" {
			why += "; the keys of a board are " + strings.Join(boardKeys[:], ", ")
		}
		kid := n.kids[k]
		s.r.add(Error{File: kid.file(), Line: kid.line, Table: s.name, Key: "boards", Why: why, Would: would})
	}
	l := n.kids["length"]
	if l == nil {
		s.failTry("boards", n, fmt.Sprintf("board %d has no length", i), fmt.Sprintf("{ length = %s }", quote(sp.example)))
		return b, false
	}
	good := s.ofBoard(i, "length", func() (fine bool) {
		b.Length, fine = s.lengthOf("boards", l, sp)
		return fine
	})
	ok = s.boardSize(i, n, &b) && ok && good
	if c := n.kids["count"]; c != nil {
		ok = s.ofBoard(i, "count", func() (fine bool) {
			b.Count, fine = s.wholeOf("count", c, 1, maxBoards, 1)
			return fine
		}) && ok
	}
	if bad := n.kids["bad"]; bad != nil && good {
		ok = s.badStretches(i, bad, &b) && ok
	}
	return b, ok
}

// badStretches reads the stretches to leave out of a board.
func (s section) badStretches(i int, n *node, b *Board) bool {
	example := s.r.pick(`bad = [["400 mm", "450 mm"]]`, `bad = [["18 in", "21 in"]]`)
	if n.kind != list || len(n.items) > maxBad {
		s.failTry("boards", n, fmt.Sprintf("board %d: bad must be a list of stretches, %d at most", i, maxBad), example)
		return false
	}
	ok := true
	for _, item := range n.items {
		if item.kind != list || len(item.items) != 2 {
			s.failTry("boards", item, fmt.Sprintf("board %d: a bad stretch is two lengths in brackets, from and to", i), example)
			ok = false
			continue
		}
		sp := span{hi: maxBoardLen, would: example}
		from, good1 := s.lengthOf("boards", item.items[0], sp)
		to, good2 := s.lengthOf("boards", item.items[1], sp)
		switch {
		case !good1 || !good2:
			ok = false
		case from >= to:
			s.failTry("boards", item.items[1], fmt.Sprintf("board %d: a bad stretch must end beyond its beginning at %s", i, s.r.u.Format(from)),
				fmt.Sprintf("bad = [[%s, %s]]", item.items[1].raw, item.items[0].raw))
			ok = false
		case to > b.Length+b.Length*rounding:
			s.failTry("boards", item.items[1], fmt.Sprintf("board %d: the bad stretch ends beyond the board, which is %s long", i, s.r.u.Format(b.Length)),
				fmt.Sprintf("an end of %s at most", s.r.u.FormatFloor(b.Length)))
			ok = false
		default:
			b.Bad = append(b.Bad, [2]float64{from, to})
		}
	}
	return ok
}

// ofBoard reads a value that the i-th board has of its own under key. An error in it
// names that board: the table has no such key.
func (s section) ofBoard(i int, key string, read func() bool) bool {
	from := len(s.r.errs)
	ok := read()
	for k := range s.r.errs[from:] {
		e := &s.r.errs[from+k]
		e.Key, e.Why = "boards", fmt.Sprintf("board %d: %s: %s", i, key, e.Why)
	}
	return ok
}

// boardSize reads what the i-th board is beside its length: width, thickness, wood and
// price.
func (s section) boardSize(i int, n *node, b *Board) bool {
	ok := true
	for _, own := range []struct {
		key  string
		read func(kid *node) bool
	}{
		{"width", func(kid *node) (fine bool) {
			sp := span{lo: star.MinBoardWidth / 2, hi: star.MaxBoardWidth, example: s.r.pick("150 mm", "6 in")}
			b.Width, fine = s.lengthOf("width", kid, sp)
			return fine
		}},
		{"thickness", func(kid *node) (fine bool) {
			sp := span{lo: 3, hi: 300, example: s.r.pick("19 mm", "3/4 in")}
			b.Thickness, fine = s.lengthOf("thickness", kid, sp)
			return fine
		}},
		{"wood", func(kid *node) bool {
			b.Wood = kid.text
			why := notWords(kid, longestWood)
			if why != "" {
				s.failTry("wood", kid, why, `wood = "walnut"`)
			}
			return why == ""
		}},
		{"price", func(kid *node) bool {
			v, fine := s.numberOf("price", kid, 0, mostMoney, "the currency of [cost]", "14.50")
			b.Price = &v
			return fine
		}},
	} {
		if kid := n.kids[own.key]; kid != nil {
			ok = s.ofBoard(i, own.key, func() bool { return own.read(kid) }) && ok
		}
	}
	return ok
}

// yard reads the boards that the shop's yard sells.
func (r *reader) yard(j *Job) {
	s := r.section("yard")
	n := s.get("boards")
	if n == nil {
		return
	}
	const most = 30
	example := r.pick(`["2.4 m", { length = "3 m", width = "150 mm" }]`, `["8 ft", { length = "10 ft", width = "6 in" }]`)
	if n.kind != list || len(n.items) == 0 || len(n.items) > most {
		s.fail("boards", n, fmt.Sprintf("write a list of the boards that your yard sells, 1 to %d", most), example)
		return
	}
	for i, item := range n.items {
		b, ok := s.board(i+1, item)
		if ok && 2*j.Stock.Trim >= b.Length {
			s.failTry("boards", item, fmt.Sprintf("board %d: nothing is left of %s when both ends are trimmed by %s", i+1, r.u.Format(b.Length), r.u.Format(j.Stock.Trim)),
				"a longer board, or less trim under [stock]")
			continue
		}
		if ok {
			j.Yard = append(j.Yard, b)
		}
	}
}
