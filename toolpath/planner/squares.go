package planner

// squares is a sheet in squares, each of which stands or is taken: a bit each, a row
// in whole words, so that what looks at sheets takes many at a time.
type squares struct {
	w, h  int
	words int // of a row
	taken []uint64
}

const wordBits = 64

// lay divides a sheet into w by h squares, all standing, in the memory of the last.
func (s *squares) lay(w, h int) {
	s.w, s.h, s.words = w, h, (w+wordBits-1)/wordBits
	if n := s.words * h; cap(s.taken) < n {
		s.taken = make([]uint64, n)
	} else {
		s.taken = s.taken[:n]
	}
	s.clear()
}

// clear lets all squares stand. What a row's last word has beyond the sheet is taken.
func (s *squares) clear() {
	clear(s.taken)
	if rest := s.w % wordBits; rest > 0 {
		for i := s.words - 1; i < len(s.taken); i += s.words {
			s.taken[i] = ^uint64(0) << rest
		}
	}
}

// row is the words of a row.
func (s *squares) row(y int) []uint64 { return s.taken[y*s.words : (y+1)*s.words] }

// stands reports whether there is such a square, and stands.
func (s *squares) stands(x, y int) bool {
	return x >= 0 && y >= 0 && x < s.w && y < s.h && s.row(y)[x/wordBits]>>(x%wordBits)&1 == 0
}

// take takes squares of a row away, from one to before another behind it.
func (s *squares) take(y, from, to int) {
	row, behind := s.row(y), uint(to-1)
	first, last := uint(from)/wordBits, behind/wordBits
	begin, end := ^uint64(0)<<(uint(from)%wordBits), ^uint64(0)>>(wordBits-1-behind%wordBits)
	if first == last {
		row[first] |= begin & end
		return
	}
	row[first] |= begin
	for i := first + 1; i < last; i++ {
		row[i] = ^uint64(0)
	}
	row[last] |= end
}
