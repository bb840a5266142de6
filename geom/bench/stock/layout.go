package stock

// packed is how many pieces of each length are cut from each run: indexed by
// board, run, length. A nil board is not taken.
type packed [][][]int

// plan turns an answer in counts into cuts with places.
func (j CutList) plan(rack []board, ask *demand, a answer) Plan {
	p := Plan{
		Stars: a.stars, Extra: a.extra, Exact: a.exact, StarsBound: a.starsBound, ExtraBound: a.extraBound,
		TakenBound: toMM(a.takenBound), Steps: a.steps,
		Pieces: make([]int, len(j.Parts)), Missing: make([]int, len(j.Parts)),
	}
	left := make([]int, len(j.Parts)) // pieces still to be named
	for i, part := range j.Parts {
		p.Pieces[i] = a.stars*part.PerStar + a.extra[i]
		p.Missing[i] = max(0, max(j.Stars, a.stars)*part.PerStar+part.Extra-p.Pieces[i])
		left[i] = p.Pieces[i]
	}
	for i, b := range rack {
		c := Sawn{Board: b.index, Copy: b.copy, Length: toMM(b.length)}
		if a.cuts[i] != nil {
			c.Taken = true
			c.Stretches = b.stretches(ask, a.cuts[i], toNM(j.Kerf), left)
			p.add(c)
		}
		p.Boards = append(p.Boards, c)
	}
	if p.TakenLength > 0 {
		p.WastePercent = 100 * (1 - p.PiecesLength/p.TakenLength)
	}
	p.BoardFeet = boardFeet(p.TakenLength, j.Width, j.Thickness)
	return p
}

func (p *Plan) add(c Sawn) {
	p.TakenLength += c.Length
	for _, s := range c.Stretches {
		l := s.End - s.Start
		switch s.Kind {
		case Piece:
			p.PiecesLength += l
		case Kerf:
			p.KerfLength += l
		case Trim:
			p.TrimLength += l
		case Bad:
			p.BadLength += l
		case Rest:
			p.RestLength += l
			p.LongestRest = max(p.LongestRest, l)
		}
	}
}

// stretches lays a board's pieces out, long ones first, each run filled from
// its left. left counts down the pieces of each part that are still to be
// named.
func (b board) stretches(ask *demand, counts [][]int, kerf int64, left []int) []Stretch {
	type piece struct {
		span
		part int
	}
	var pieces []piece
	for r, run := range b.runs {
		at := run.a
		for k, n := range counts[r] {
			for range n {
				part := ask.name(k, left)
				pieces = append(pieces, piece{span{at, at + ask.lengths[k]}, part})
				at += ask.lengths[k] + kerf
			}
		}
	}
	var out []Stretch
	at := int64(0)
	upTo := func(end int64, kind Kind) {
		if end > at {
			out = append(out, Stretch{Span{toMM(at), toMM(end)}, kind, -1})
			at = end
		}
	}
	waste := func(end int64) { // from at to end there is no piece and no kerf
		for at < end {
			kind, until := b.under(at)
			upTo(min(until, end), kind)
		}
	}
	for _, p := range pieces {
		waste(max(at, p.a-kerf))
		upTo(p.a, Kerf)
		out = append(out, Stretch{Span{toMM(p.a), toMM(p.b)}, Piece, p.part})
		at = p.b
		upTo(min(p.b+kerf, b.length), Kerf)
	}
	waste(b.length)
	return out
}

// under returns what the board is at a place, pieces and kerfs not looked at,
// and where that ends. A bad place says so even within a trim.
func (b board) under(at int64) (Kind, int64) {
	next := b.length
	for _, s := range b.bad {
		if at >= s.a && at < s.b {
			return Bad, s.b
		}
		if s.a > at {
			next = min(next, s.a)
		}
	}
	switch {
	case at < b.trim:
		return Trim, min(next, b.trim)
	case at >= b.length-b.trim:
		return Trim, next
	}
	return Rest, min(next, b.length-b.trim)
}
