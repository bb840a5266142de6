package ncread

import "fmt"

// letters is a set of word letters, bit 0 for A.
type letters uint32

// bit returns the set of one letter.
func bit(letter byte) letters { return 1 << (letter - 'A') }

// Sets of letters.
const (
	lX, lY, lZ = letters(1 << ('X' - 'A')), letters(1 << ('Y' - 'A')), letters(1 << ('Z' - 'A'))
	axes       = lX | lY | lZ
	lI, lJ     = letters(1 << ('I' - 'A')), letters(1 << ('J' - 'A'))
	lF, lS, lT = letters(1 << ('F' - 'A')), letters(1 << ('S' - 'A')), letters(1 << ('T' - 'A'))
	lP, lR, lK = letters(1 << ('P' - 'A')), letters(1 << ('R' - 'A')), letters(1 << ('K' - 'A'))
	lQ, lL     = letters(1 << ('Q' - 'A')), letters(1 << ('L' - 'A'))
	lD, lH     = letters(1 << ('D' - 'A')), letters(1 << ('H' - 'A'))
	turning    = letters(1<<0 | 1<<1 | 1<<2) // A, B, C
	unknown    = letters(1<<('E'-'A') | 1<<('O'-'A') | 1<<('U'-'A') | 1<<('V'-'A') | 1<<('W'-'A'))
)

// block is one line taken apart into words. It is used again for each line.
type block struct {
	seen  letters     // letters with a value, G, M and N apart
	point letters     // of those, with a decimal point
	lost  letters     // letters whose value could not be read
	val   [26]float64 // by letter

	gSeen uint16 // modal groups that have a word
	mSeen uint16
	g     [gGroups]code // by group
	m     [mGroups]code

	mCount     int
	words      int  // words of all kinds
	head       bool // nothing but / has stood on the line so far
	deleted    bool // begins with /
	percent    bool // is a % line
	strange    bool // has a G word that is no code: whose its axis words are is not known
	faults     []fault
	comment    []byte // last comment, without its parentheses
	hasComment bool
}

// fault is what the block itself shows to be wrong, before it is executed.
type fault struct {
	rule rule
	what string
}

// faultsPerLine is the most faults that one line is reported for.
const faultsPerLine = 8

func (b *block) fault(r rule, format string, args ...any) {
	if len(b.faults) < faultsPerLine {
		b.faults = append(b.faults, fault{r, fmt.Sprintf(format, args...)})
	}
}

// value returns the number after a letter.
func (b *block) value(letter byte) float64 { return b.val[letter-'A'] }

// has reports whether any of the letters has a value.
func (b *block) has(l letters) bool { return b.seen&l != 0 }

// hasG reports whether the block has a word of a G group.
func (b *block) hasG(group int) bool { return b.gSeen&(1<<group) != 0 }

// hasM reports whether the block has a word of an M group.
func (b *block) hasM(group int) bool { return b.mSeen&(1<<group) != 0 }

// word takes in one word other than a line number. Of words that must not be
// repeated the last one is kept.
func (b *block) word(letter byte, v float64, point bool) {
	b.words++
	b.head = false
	switch letter {
	case 'G':
		b.gWord(v)
		return
	case 'M':
		b.mWord(v)
		return
	}
	l := bit(letter)
	if l&unknown != 0 {
		b.noSuchLetter(letter)
		return
	}
	if (b.seen|b.lost)&l != 0 {
		b.fault(stdRepeat, "second %c word in one block", letter)
	}
	b.seen |= l
	b.val[letter-'A'] = v
	if point {
		b.point |= l
	}
}

// noSuchLetter tells what a letter outside the language may have meant.
func (b *block) noSuchLetter(letter byte) {
	switch letter {
	case 'E':
		b.fault(stdLetter, "E is no word; numbers have no exponent")
	case 'O':
		b.fault(stdLetter, "O is no word; some controls take it for a program number")
	default:
		b.fault(stdLetter, "%c is no word", letter)
	}
}

// gWord takes in a G word.
func (b *block) gWord(v float64) {
	c, ok := asCode(v)
	group := -1
	if ok {
		group = gGroup(c)
	}
	if group < 0 {
		b.strange = true
		b.fault(stdCode, "G%s is no code", plain(v))
		return
	}
	if b.hasG(group) {
		b.fault(stdGroup, "%s and %s are both of modal group %d and stand in one block",
			b.g[group].text("G"), c.text("G"), group)
	}
	b.gSeen |= 1 << group
	b.g[group] = c
}

// mWord takes in an M word.
func (b *block) mWord(v float64) {
	if b.mCount++; b.mCount == 5 {
		b.fault(stdMCount, "more than four M words in one block")
	}
	c, ok := asCode(v)
	group := -1
	if ok && c%10 == 0 {
		group = mGroup(c)
	}
	if group < 0 {
		b.fault(stdCode, "M%s is no code", plain(v))
		return
	}
	if b.hasM(group) {
		b.fault(stdGroup, "%s and %s are both of modal group %d and stand in one block",
			b.m[group].text("M"), c.text("M"), group)
	}
	b.mSeen |= 1 << group
	b.m[group] = c
}
