package ncread

import (
	"bytes"
	"fmt"
	"testing"

	"starwright/toolpath"
)

// millionBlocks is a program of 1,010,008 blocks and about 26 MB: rows of
// short cuts with a lift at the end of each.
func millionBlocks() []byte {
	var b bytes.Buffer
	b.WriteString("G17 G21 G40 G54 G80 G90 G94\nG0 Z10.0\nG0 X0.0 Y0.0\nS18000 M3\nG4 P3.0\n")
	const rows, perRow = 10_000, 100
	for r := range rows {
		y := float64(r) * 0.05
		fmt.Fprintf(&b, "G1 X%.3f Y%.3f F1200.0\n", 0.0, y)
		for c := range perRow {
			fmt.Fprintf(&b, "G1 X%.3f Y%.3f Z-%.2f\n", 100+float64(c)*0.137, y, float64((r+c)%300)*0.01)
		}
	}
	b.WriteString("G0 Z10.0\nM5\nM2\n")
	return b.Bytes()
}

func BenchmarkRead(b *testing.B) {
	text := millionBlocks()
	moves := 0
	ev := Events{Move: func(*toolpath.Move) error { moves++; return nil }}
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		rep, err := Read(bytes.NewReader(text), "million.nc", ev)
		if err != nil || rep.Blocks != 1_010_008 || !rep.OK() {
			b.Fatalf("blocks %d, error %v, findings %v", rep.Blocks, err, rep.Findings)
		}
	}
	if moves == 0 {
		b.Fatal("no moves")
	}
}
