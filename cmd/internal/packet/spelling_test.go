package packet

import (
	"bytes"
	"testing"

	"starwright/post/dxf/dxfwrite"
	"starwright/post/rs274/ncwrite"
)

// A drawing and a program spell the job's title alike, with letters that every
// machine has.
func TestTitleIsSpeltAlike(t *testing.T) {
	w := loaded(t, "title = \"Søren à Ñandú ±\"\n"+kits["five, mm"])
	const want = "Soeren a Nandu +-"
	for _, d := range w.Drawings {
		text, err := dxfwrite.Bytes(d.Want)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(text, []byte("999\njob: "+want+"\n")) && !bytes.Contains(text, []byte("999\r\njob: "+want+"\r\n")) {
			t.Errorf("%s does not say %q", d.Path, want)
		}
	}
	for _, g := range w.Programs {
		text, err := ncwrite.Bytes(g.Plan, g.UnitMM)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(text, []byte("(Job: "+want+")\n")) {
			t.Errorf("%s does not say %q", g.Path, want)
		}
	}
}
