package toolpath

import ("testing";"fmt";"starwright/geom")

func DebugRoll(c geom.Contour, r float64) {
	g := newRolling(c, r)
	raw := g.raw()
	for _, p := range raw { fmt.Println("raw", p) }
	sp := g.split(raw)
	for _, p := range sp { fmt.Printf("split %v len %.3g clear %v\n", p, p.Length(), g.clear(p.At(.5))); if g.clear(p.At(.5)) {fmt.Println("    KEEP")} ; for _,e := range g.src { if d:=e.DistTo(p.At(.5)); d<r-1e-9 {fmt.Println("      near",d-r)}}}
}
var _ = testing.Short
