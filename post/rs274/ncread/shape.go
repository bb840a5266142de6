package ncread

import (
	"bytes"
	"encoding/binary"
)

// The lines of a long program come from another program and look alike: the same
// letters, signs and points at the same places, and only other digits. Where a line
// has the shape of one before it, its numbers stand where they stood there, and it is
// taken apart eight characters at a time: nothing is looked for. That takes a third
// of the time, 13 ns for a line of three numbers instead of 35.

const (
	eight      = 8         // characters looked at together
	shapeWords = 8         // of eight characters: longer lines have no shape
	behind     = 9 * eight // bytes that can be read behind the text of a chunk, whatever they are
)

// shapesBySize are the shapes of lines before, one for each size of a line with its
// end. Where lines of a few kinds come in turn, as in a pass cut again and again, each
// kind has its own: that takes a third off the time for such.
type shapesBySize struct {
	last *shape // of the line before, or of the last one that had any
	same bool   // so had the one before that: the next one most likely has it too
	of   [shapeWords*eight + 1]shape
}

// read takes the line at s[i:] apart where it has a shape, and returns the place of
// the next; 0 where it has none.
func (f *shapesBySize) read(l *aheadLine, s []byte, i int) (next int) {
	if f.same {
		if next = f.last.read(l, s, i); next > 0 {
			return next
		}
	}
	it := &f.of[bytes.IndexByte(s[i:i+len(f.of)-1], '\n')+1]
	if next = it.read(l, s, i); next > 0 {
		f.same, f.last = it == f.last, it
	}
	return next
}

// missed takes in a line that was taken apart and has none of the shapes.
func (f *shapesBySize) missed(l *aheadLine, s []byte) {
	if len(s) < len(f.of) {
		f.of[len(s)].missed(l, s)
	}
}

// shape is where the digits of a line stand, and what else it says. The zero shape
// is that of no line.
type shape struct {
	size    int   // of the line with its end
	end     int32 // where that stands
	motion  code
	seen    letters
	words   [shapeWords]shapeWord
	long    int // of words
	numbers [len(moveLetters)]shapeNumber
	many    int  // of numbers
	other   bool // the line of its size before had another shape
	vain    int  // shapes in a row that no line had
	passed  int  // times since that a line could have become a shape
}

// shapeWord is eight characters of a line.
type shapeWord struct {
	line   uint64 // keeps those that are of the line
	text   uint64 // what stands there, '0' for any digit
	differ uint64 // takes to its highest bit whatever differs from text, or from '0' by more than 9
}

// shapeNumber is where a number stands.
type shapeNumber struct {
	slot            uint8
	first           int     // of its digits
	whole, decimals uint64  // keep the digits before and behind the point, without a gap for it
	up              int     // takes the last digit to the last place, bits
	power           float64 // what the digits are divided by, negative where the number is
}

// read takes the line at s[i:] apart where it has the shape, and returns the place of
// the next; 0 where it has not.
func (f *shape) read(l *aheadLine, s []byte, i int) (next int) {
	t := (*[behind]byte)(s[i:])
	differ := uint64(0)
	for k := range f.words[:f.long] {
		w := &f.words[k]
		x := eightAt(t, eight*k)&w.line ^ w.text
		differ |= x + w.differ | x
	}
	if differ&allHighest != 0 || f.size == 0 {
		return 0
	}
	for k := range f.numbers[:f.many] {
		n := &f.numbers[k]
		w := eightAt(t, n.first)
		w = (w&n.whole | w>>8&n.decimals) << (n.up & 63)
		l.val[n.slot] = float64(int64(decimal(w))) / n.power
	}
	l.from, l.to = int32(i), int32(i)+f.end
	l.bare, l.moves, l.motion, l.seen = false, true, f.motion, f.seen
	f.other, f.vain = false, 0
	return i + f.size
}

// eightAt is eight characters, the first one lowest. The slice is written so that
// it costs nothing but the look at its bounds.
func eightAt(t *[behind]byte, i int) uint64 {
	return binary.LittleEndian.Uint64(t[i : i+eight : i+eight])
}

// decimal is the number that eight digits make, the first one lowest: tens and ones
// of pairs, then of two pairs, then of both halves.
func decimal(w uint64) uint64 {
	w = (w * (1 + 10<<8)) >> 8 & pairs
	w = (w * (1 + 100<<16)) >> 16 & fours
	return (w * (1 + 10_000<<32)) >> 32
}

// Masks of eight characters.
const (
	allHighest = 0x8080808080808080 // the highest bit of each
	pairs      = 0x00FF00FF00FF00FF
	fours      = 0x0000FFFF0000FFFF
)

// missed takes in a line s of the shape's size that was taken apart and has another
// shape. One line in between changes nothing; a second one is a shape for those to
// come. Where lines look all different, that is done ever more seldom: it takes as long
// as four lines.
func (f *shape) missed(l *aheadLine, s []byte) {
	if f.other = !f.other; f.other {
		return
	}
	if f.passed++; f.passed <= f.vain {
		return
	}
	f.passed = 0
	f.vain++
	f.set(l, s)
}

// set makes the shape that of a line s that was taken apart, or none where one of its
// numbers is written in another way than nearly all are.
func (f *shape) set(l *aheadLine, s []byte) {
	f.size, f.long, f.many = 0, 0, 0
	f.words = [shapeWords]shapeWord{}
	for i := range s {
		if i%eight == 0 {
			f.long++
		}
		w := &f.words[i/eight]
		w.line |= nth(i, 0xFF)
		w.text |= nth(i, s[i])
		w.differ |= nth(i, 0x7F)
	}
	for i := 0; i < len(s); {
		slot := moveSlot[s[i]]
		if slot > slotG {
			i++
			continue
		}
		_, next, _, _ := number(s, i+1)
		if slot != slotG && !f.number(slot, bytes.TrimRight(s[i+1:next], " \t"), i+1) {
			return
		}
		i = next
	}
	f.size, f.end, f.motion, f.seen = len(s), l.to-l.from, l.motion, l.seen
}

// number makes a number of the line, written as text from place i on, any number of
// as many digits, and reports whether it is written in the usual way: a minus or no
// sign, and eight characters at most.
func (f *shape) number(slot uint8, text []byte, i int) bool {
	n := shapeNumber{slot: slot, first: i, power: 1}
	if text[0] == '-' {
		n.first, n.power, text = i+1, -1, text[1:]
	}
	if len(text) > eight {
		return false
	}
	count, point := 0, false
	for k, c := range text {
		if c == '.' {
			point = true
			continue
		}
		if c-'0' > 9 {
			return false
		}
		if point {
			n.decimals |= nth(count, 0x0F)
			n.power *= 10
		} else {
			n.whole |= nth(count, 0x0F)
		}
		count++
		w := &f.words[(n.first+k)/eight]
		w.text = w.text&^nth(n.first+k, 0xFF) | nth(n.first+k, '0')
		w.differ -= nth(n.first+k, 9)
	}
	n.up = 8 * (eight - count)
	f.numbers[f.many] = n
	f.many++
	return true
}

// nth is a byte at place i of a line, within the eight characters it is of.
func nth(i int, b byte) uint64 { return uint64(b) << (8 * (i % eight)) }
