// Package problem is how the packages below say to the maker what is wrong with
// a job, and what they chose where the job left a choice open. It judges
// nothing, and knows no file: the command turns a key into the place where the
// job gives it.
package problem

import (
	"strconv"
	"strings"
)

// Problem is one value that cannot be worked with.
type Problem struct {
	Star  string // name of the star of an order that it is about; "" where it holds for the whole job
	Key   string // table.key of the job file, or the input's name: "slot.depth", "boards"
	Item  int    // place in a list, from 1; 0 where the value is no list
	Got   string // the value as read, "" where it is missing
	Why   string // what is wrong with it
	Would string // a value that goes through, "" where only the maker can know
}

// Error returns the problem on one line.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.Key)
	if p.Item > 0 {
		b.WriteString(" " + strconv.Itoa(p.Item))
	}
	if p.Got != "" {
		b.WriteString(" = " + p.Got)
	}
	b.WriteString(": " + p.Why)
	if p.Would != "" {
		b.WriteString(". Try: " + p.Would)
	}
	return b.String()
}

// List is all that is wrong, in the order in which it was found. As an error it
// is found by errors.As.
type List []Problem

// Error returns one line for each problem.
func (l List) Error() string {
	lines := make([]string, len(l))
	for i, p := range l {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// Err returns the list as an error, nil where it is empty.
func (l List) Err() error {
	if len(l) == 0 {
		return nil
	}
	return l
}

// Note is something that was chosen or that the maker should know, with the key
// that changes it.
type Note struct {
	Key, Value, Why string
	Star            string // name of the star of an order that it is about; "" where it holds for the whole job
}

// Of returns the problems as those of a star of an order.
func (l List) Of(star string) List {
	for i := range l {
		l[i].Star = star
	}
	return l
}
