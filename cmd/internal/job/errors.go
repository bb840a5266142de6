package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"starwright/geom/problem"
)

// Error is one thing that is wrong with a job file.
type Error struct {
	File  string // as the user named it
	Line  int    // from 1; 0 where the file has no such line
	Col   int    // in bytes from 1, of errors in the TOML itself; else 0
	Table string // "" at the head of the file
	Key   string // "" where the whole table is meant
	Star  string // of an order: the star that it is about, "" for none
	Place int    // its place in the order, from 1; 0 for none
	Why   string // what is wrong
	Got   string // the value as read, "" where there is none
	Would string // a value that goes through, "" where Why says it all
}

// Error returns the error as one line, the place first:
//
//	job.toml:12: [slot] depth: what is wrong (got "14 mm"). Try: depth = "9 mm"
func (e Error) Error() string {
	var b strings.Builder
	b.WriteString(printable(e.File, maxFileShown))
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d", e.Line)
	}
	if e.Col > 0 {
		fmt.Fprintf(&b, ":%d", e.Col)
	}
	b.WriteString(": ")
	if e.Table != "" {
		fmt.Fprintf(&b, "[%s]", printable(e.Table, maxShown))
		if e.Key != "" {
			b.WriteByte(' ')
		}
	}
	b.WriteString(printable(e.Key, maxShown))
	if e.Star != "" {
		b.WriteString(" of " + printable(e.Star, maxShown))
	}
	if e.Table+e.Key+e.Star != "" {
		b.WriteString(": ")
	}
	b.WriteString(e.Why)
	if e.Got != "" {
		fmt.Fprintf(&b, " (got %s)", printable(e.Got, maxShown))
	}
	if e.Would != "" {
		b.WriteString(". Try: " + e.Would)
	}
	return b.String()
}

// The longest pieces of a file that are echoed in an error, in characters.
const (
	maxShown     = 60
	maxFileShown = 4096 // the longest path of common systems
	maxErrors    = 100  // after so many no reader learns more
)

// printable returns s fit for one line on a terminal: what has no glyph is
// shown by its number, and what runs on is cut.
func printable(s string, most int) string {
	var b strings.Builder
	n := 0
	for _, r := range s {
		if n++; n > most {
			b.WriteString("...")
			break
		}
		if unicode.IsPrint(r) {
			b.WriteRune(r)
		} else {
			q := strconv.QuoteRuneToASCII(r)
			b.WriteString(q[1 : len(q)-1])
		}
	}
	return b.String()
}

// Error turns a problem that was found later, by the star's model or by a
// planner, into an error at the key's line. A value that the maker did not write is
// not blamed: then the error stands where the value is that clashes with it.
func (j *Job) Error(p problem.Problem) Error {
	if k := j.Of(p.Star); k != j {
		p.Star = ""
		return k.ofStar(k.Error(p))
	}
	n := j.root.find(p.Key)
	if n == nil && p.Got != "" {
		if key := j.culprit(p.Key); key != "" {
			p.Would = fromElsewhere(p.Key, key, p.Would)
			p.Key, n = key, j.root.find(key)
		}
	}
	if n == nil {
		n, p.Got = j.root.find(tableOf(p.Key)), ""
	}
	e := Error{File: j.Name, Key: p.Key, Why: p.Why, Got: p.Got, Would: p.Would}
	if t, k, ok := strings.Cut(p.Key, "."); ok {
		e.Table, e.Key = t, k
	}
	if n == nil {
		e.Got = ""
		return e
	}
	e.Line = n.line
	if n.from != nil {
		e.File = n.from.file
	}
	if n.raw != "" && n.kind != table {
		e.Got = n.raw
	}
	return e
}

// At returns the line of a key ("slot.depth", "units") or table ("slot") in
// the file, and 0 where the file does not have it.
func (j *Job) At(key string) int {
	if n := j.root.find(key); n != nil {
		return n.line
	}
	return 0
}

// shopLast is a file's name with what puts the shop's file behind the job's.
func shopLast(file string) string {
	if file == ShopName || strings.HasSuffix(file, ShopName) {
		return "1" + file
	}
	return "0" + file
}

// sorted returns the errors in the order of the file, no more than maxErrors
// and a last one that counts the rest.
func sorted(errs []Error) []Error {
	slices.SortStableFunc(errs, func(a, b Error) int {
		if a.File != b.File { // the job file's first
			return strings.Compare(shopLast(a.File), shopLast(b.File))
		}
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Col - b.Col
	})
	if more := len(errs) - maxErrors; more > 0 {
		last := errs[maxErrors-1]
		errs = append(errs[:maxErrors:maxErrors], Error{File: last.File, Line: last.Line,
			Why: fmt.Sprintf("and %d more errors after this line", more)})
	}
	return errs
}
