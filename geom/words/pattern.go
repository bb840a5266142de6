package words

import (
	"regexp"
	"sync"
)

// Pattern is a regular expression that is compiled when it is first asked for: most
// runs ask for few of them, and all together take as long to compile as a program of
// this size takes to start.
func Pattern(expr string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expr) })
}
