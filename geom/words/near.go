package words

import "strings"

// mostLetters bounds the work of a comparison; no name that the program knows is
// as long.
const mostLetters = 64

// Distance returns how many letters must be changed, put in, left out or
// exchanged with their neighbour to make b of a (optimal string alignment), of
// at most the first 64 of each.
func Distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	s, t = s[:min(len(s), mostLetters)], t[:min(len(t), mostLetters)]
	before, row := make([]int, len(t)+1), make([]int, len(t)+1)
	next := make([]int, len(t)+1)
	for k := range row {
		row[k] = k
	}
	for i := 1; i <= len(s); i++ {
		next[0] = i
		for k := 1; k <= len(t); k++ {
			change := 1
			if s[i-1] == t[k-1] {
				change = 0
			}
			next[k] = min(row[k]+1, next[k-1]+1, row[k-1]+change)
			if i > 1 && k > 1 && s[i-1] == t[k-2] && s[i-2] == t[k-1] {
				next[k] = min(next[k], before[k-2]+1)
			}
		}
		before, row, next = row, next, before
	}
	return row[len(t)]
}

// Nearest returns which of the known names lies nearest to one, and how far; of
// equals the first. It is "" only where none is known.
func Nearest(name string, known []string) (string, int) {
	name = strings.ToLower(name)
	best, least := "", -1
	for _, k := range known {
		if d := Distance(name, strings.ToLower(k)); least < 0 || d < least {
			best, least = k, d
		}
	}
	return best, max(0, least)
}

// mostTypos is the most letters by which a name may differ from the one that it
// was meant to be; short ones must be nearer.
const mostTypos = 3

// Meant returns the known name that a misspelt one was meant to be, of equals the
// first; "" where none is near enough to be sure: a third of the letters may be
// wrong, one at least and three at most.
func Meant(name string, known []string) string {
	name = strings.ToLower(name)
	best, least := "", mostTypos+1
	for _, k := range known {
		d := Distance(name, strings.ToLower(k))
		if d < least && d <= max(1, max(len(k), len(name))/3) {
			best, least = k, d
		}
	}
	return best
}
