package main

import (
	"os"

	"starwright/cmd/internal/plan"
)

// The width of a page: what a narrow printer takes, unless the terminal has less;
// more is used as far as a line can be read without losing it.
const (
	usualWidth    = plan.Width
	leastWidth    = 48
	mostWidth     = 110
	marginOfLines = 1 // some terminals break a line that fills them
)

// width is how many letters wide a page is printed here.
func (a *app) width() int {
	f, ok := a.out.(*os.File)
	if !ok {
		return usualWidth
	}
	w := terminalWidth(f)
	if w == 0 {
		return usualWidth
	}
	return min(max(w-marginOfLines, leastWidth), mostWidth)
}
