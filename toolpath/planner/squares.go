package planner

import "math/bits"

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

// take takes squares of a row away, from one to before another behind it.
func (s *squares) take(y, from, to int) {
	row := s.row(y)
	first, last := from/wordBits, (to-1)/wordBits
	begin, end := ^uint64(0)<<(from%wordBits), ^uint64(0)>>(wordBits-1-(to-1)%wordBits)
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

// next returns the first square of a row from x on that stands, or is taken where
// flip has all bits; the row's length in bits where there is none.
func next(row []uint64, x int, flip uint64) int {
	i := x / wordBits
	if i >= len(row) {
		return len(row) * wordBits
	}
	for word := (^row[i] ^ flip) >> (x % wordBits) << (x % wordBits); ; word = ^row[i] ^ flip {
		if word != 0 {
			return i*wordBits + bits.TrailingZeros64(word)
		}
		if i++; i == len(row) {
			return i * wordBits
		}
	}
}

// standing returns the first square of a row from x on that stands.
func standing(row []uint64, x int) int { return next(row, x, 0) }

// gone returns the first square of a row from x on that is taken.
func gone(row []uint64, x int) int { return next(row, x, ^uint64(0)) }
