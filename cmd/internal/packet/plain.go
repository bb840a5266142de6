package packet

import (
	"fmt"
	"unicode"
	"unicode/utf8"
)

// PlainJSON returns a JSON document with every sign in it that does not print
// written as its number, which JSON allows within texts, the only place where
// such signs can stand. So a name with control signs in it cannot reach a
// terminal, and one that turns the direction of writing cannot mislead.
func PlainJSON(doc []byte) []byte {
	clean := true
	for _, c := range doc {
		if c >= 0x7f {
			clean = false
			break
		}
	}
	if clean { // the encoder has seen to what is below
		return doc
	}
	out := make([]byte, 0, len(doc)+len(doc)/8)
	for len(doc) > 0 {
		r, n := utf8.DecodeRune(doc)
		switch {
		case r == '\n' || r < 0x7f || unicode.IsPrint(r):
			out = append(out, doc[:n]...)
		case r > 0xffff:
			out = fmt.Appendf(out, `\u%04x\u%04x`, 0xd800+(r-0x10000)>>10, 0xdc00+(r-0x10000)&0x3ff)
		default:
			out = fmt.Appendf(out, `\u%04x`, r)
		}
		doc = doc[n:]
	}
	return out
}
