//go:build torture && linux

package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"strings"
)

// hostileSVGs are drawings in SVG built to cost time or memory.
func hostileSVGs(rng *rand.Rand) map[string][]byte {
	const head = `<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="900mm" viewBox="0 0 900 900"><g id="OUTLINE" fill="none" stroke="#000" stroke-width="0.01">` + "\n"
	const tail = "</g></svg>\n"
	many := func(next func(b *bytes.Buffer, i int)) []byte { return again(head, next, tail) }
	one := func(next func(b *bytes.Buffer, i int)) []byte {
		return again(head+`<path d="M 0 0`, next, ` Z"/>`+tail)
	}
	num := func(span float64) string { return fmt.Sprintf("%.2f", rng.Float64()*span) }
	return map[string][]byte{
		"the same triangle": many(text("<path d=\"M 0 0 L 9 0 L 0 9 Z\"/>\n")),
		"concentric circles": many(func(b *bytes.Buffer, i int) {
			r := fmt.Sprintf("%.2f", 1+float64(i)*0.05)
			b.WriteString(`<path d="M -` + r + " 0 A " + r + " " + r + " 0 0 0 " + r + " 0 A " + r + " " + r + " 0 0 0 -" + r + " 0 Z\"/>\n")
		}),
		"tangle":           one(func(b *bytes.Buffer, _ int) { b.WriteString(" L " + num(900) + " " + num(900)) }),
		"tangle without L": one(func(b *bytes.Buffer, _ int) { b.WriteString(" " + num(900) + " " + num(900)) }),
		"tangle of arcs": one(func(b *bytes.Buffer, i int) {
			b.WriteString(fmt.Sprintf(" A 900 900 0 %d 1 ", i%2) + num(900) + " " + num(900))
		}),
		"one point":            one(text(" L 1 1")),
		"many contours a path": one(text(" Z M 1 1 L 2 1 L 1 2")),
		"moves alone":          one(text(" M 1 1")),
		"ends alone":           one(text("Z")),
		"faults in a path":     one(text(" C 1 1 1 1 1 1")),
		"one number":           one(text("9")),
		"letters in a path":    one(text("x")),
		"groups in groups":     again(head, text("<g>"), ""),
		"groups":               many(text("<g/>")),
		"layers":               many(text(`<g id="HOLE"/>`)),
		"attributes":           again(head+"<path ", func(b *bytes.Buffer, i int) { fmt.Fprintf(b, "a%d='' ", i) }, "/>"+tail),
		"the same attribute":   again(head+"<path ", text("d='' "), "/>"+tail),
		"faults of attributes": many(text("<path x='' y='' z='' a='' b='' c=''/>")),
		"one attribute":        again(head+`<path x="`, text("a"), `"/>`+tail),
		"one name":             again(head+"<", text("a"), "/>"+tail),
		"one comment":          again(head+"<!--", text("a"), "-->"+tail),
		"comments":             many(text("<!---->")),
		"open tags":            again(head, text("<"), ""),
		"references":           many(text("&amp;")),
		"long reference":       again(head+"&", text("a"), ";"+tail),
		"letters":              many(text("letters ")),
		"one text":             again(head+`<text x="1" y="1">`, text("a"), "</text>"+tail),
		"text in parts":        again(head+`<text x="1" y="1">`, text("a<!---->"), "</text>"+tail),
		"texts on the guide":   again(strings.Replace(head, "OUTLINE", "GUIDE", 1), text(`<text x="1" y="1">100 mm</text>`), tail),
		"bars on the guide": again(strings.Replace(head, "OUTLINE", "GUIDE", 1), func(b *bytes.Buffer, i int) {
			fmt.Fprintf(b, `<line x1="0" y1="0" x2="100" y2="0"/><line x1="0" y1="-2" x2="0" y2="2"/><line x1="100" y1="-2" x2="100" y2="2"/><text x="%d" y="0">100 mm</text>`, i%100)
		}, tail),
		"colours":       many(func(b *bytes.Buffer, i int) { fmt.Fprintf(b, `<path stroke="#%06x" d="M 0 0"/>`, i) }),
		"name spaces":   many(func(b *bytes.Buffer, i int) { fmt.Fprintf(b, `<a%d:b xmlns:a%d="c"/>`, i, i) }),
		"other drawing": many(text("<rect/><use/>")),
		"notes":         again(head+"<metadata>", text("<a>"), ""),
		"entities":      again("<!DOCTYPE svg [", func(b *bytes.Buffer, i int) { fmt.Fprintf(b, `<!ENTITY a%d "&a%d;&a%d;">`, i+1, i, i) }, "]>"+head+tail),
		"instructions":  again("", text("<?a?>"), head+tail),
		"line ends":     many(text("\n")),
		"zeros":         make([]byte, hostileBytes),
		"bytes":         again("", func(b *bytes.Buffer, _ int) { b.WriteByte(byte(rng.Uint32())) }, ""),
	}
}
