package ncread

import "slices"

// Lines that move and do nothing else are nearly all there are in a long program,
// and no such line needs another to be taken apart. Those of a chunk are taken apart
// in one look, without looking for their ends first. Whatever is not plain at sight
// is left to [lines] and [block.parse].

// aheadLine is a line of a chunk.
type aheadLine struct {
	from, to int32 // its text in that of the chunk
	bare     bool  // ends with CR alone
	moves    bool  // only moves, and is taken apart
	moveWords
}

// moveWords are the words of a line that only moves.
type moveWords struct {
	motion code    // none without a G word
	seen   letters // of moveLetters
	val    [len(moveLetters)]float64
}

// moveLetters are the letters of such words, G apart.
const moveLetters = "XYZIJF"

// Places in moveWords.val.
const (
	slotX = iota
	slotY
	slotZ
	slotI
	slotJ
	slotF
	slotG     // of a motion
	slotBlank // of no word
	noSlot    // of whatever else
)

// moveSlot is what stands at a character of a line that only moves.
var moveSlot = func() (slots [256]uint8) {
	for i := range slots {
		slots[i] = noSlot
	}
	for i, c := range moveLetters + "G" {
		slots[c], slots[c|0x20] = uint8(i), uint8(i)
	}
	slots[' '] = slotBlank
	return slots
}()

// load makes the block that [block.parse] would have made of the line, but for its
// points and how many words it has, which nothing asks for where a line only moves.
func (b *block) load(w *moveWords) {
	b.reset()
	b.head = false
	b.seen = w.seen
	for i, v := range w.val {
		b.val[moveLetters[i]-'A'] = v
	}
	if w.motion != none {
		b.gSeen = 1 << gMotion
		b.g[gMotion] = w.motion
	}
}

// words returns the line's words where it is taken apart, nil otherwise.
func (l *aheadLine) words() *moveWords {
	if !l.moves {
		return nil
	}
	return &l.moveWords
}

// takeApart takes the lines of a chunk apart; like are the shapes of those before.
func (c *chunk) takeApart(like *shapesBySize) {
	plain := lines{buf: c.text, end: len(c.text), lf: -1, eof: true}
	s := c.text[:len(c.text)+behind]
	c.lines = c.lines[:0]
	for at := 0; at < len(c.text); {
		if len(c.lines) == cap(c.lines) {
			c.lines = slices.Grow(c.lines, 1)
		}
		c.lines = c.lines[:len(c.lines)+1] // not cleared: what a line does not say is not asked for
		l := &c.lines[len(c.lines)-1]
		next := like.read(l, s, at)
		if next == 0 {
			if next = l.parse(s, at); next > 0 {
				like.missed(l, s[at:next])
			} else {
				next = l.leave(&plain, at)
			}
		}
		at = next
	}
}

// leave leaves the line at text[i:] as it is, to be read the plain way, and returns
// the place of the next.
func (l *aheadLine) leave(text *lines, i int) (next int) {
	text.pos = i
	s, _ := text.scan() // there is one: a chunk ends with a line
	l.from, l.to, l.bare, l.moves = int32(i), int32(i+len(s)), text.bare, false
	return text.pos
}

// parse takes the line at s[i:] apart and returns the place of the next; 0 where it
// does not only move, or has a word that is not sound, or is too long or ends with CR
// alone. No line is looked at beyond its end: that is part of no number.
func (l *aheadLine) parse(s []byte, i int) (next int) {
	l.from, l.seen, l.motion = int32(i), 0, none
	for {
		slot := moveSlot[s[i]]
		switch {
		case slot < slotG:
			letter := bit(s[i] &^ 0x20)
			v, next, _, ok := number(s, i+1)
			if !ok || l.seen&letter != 0 {
				return 0
			}
			l.seen |= letter
			l.val[slot] = v
			i = next
		case slot == slotG:
			v, next, _, ok := number(s, i+1)
			if !ok || l.motion != none || v != 0 && v != 1 && v != 2 && v != 3 {
				return 0
			}
			l.motion = code(v * 10)
			i = next
		case slot == slotBlank:
			i++
		default:
			return l.end(s, i)
		}
	}
}

// end ends the line at s[i] and returns the place of the next.
func (l *aheadLine) end(s []byte, i int) (next int) {
	next = i + 1
	if s[i] == '\r' {
		next++
	}
	if s[next-1] != '\n' || i-int(l.from) > lineSub || l.seen == 0 && l.motion == none {
		return 0
	}
	l.to, l.bare, l.moves = int32(i), false, true
	return next
}
