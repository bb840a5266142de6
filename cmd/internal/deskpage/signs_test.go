package deskpage

import (
	"bytes"
	"encoding/ascii85"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The signs are those of Ascii85 under other names: the standard library's reader
// takes them when each is called as it calls it.
func TestSigns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data := rapid.SliceOf(rapid.Byte()).Draw(t, "data")
		text := bytes.Map(func(r rune) rune { return rune('!' + strings.IndexRune(alphabet, r)) }, signs(data))
		got := make([]byte, len(text)+4)
		n, used, err := ascii85.Decode(got, text, true)
		if err != nil || used != len(text) || !bytes.Equal(got[:n], data) {
			t.Fatalf("%x became %q: %x, %v", data, text, got[:n], err)
		}
	})
}

func TestAlphabet(t *testing.T) {
	if len(alphabet) != 85 || strings.ContainsAny(alphabet, "<>&\"'`\\-! \n") {
		t.Errorf("%d signs: %s", len(alphabet), alphabet)
	}
	seen := map[rune]bool{}
	for _, r := range alphabet {
		if seen[r] || r > '~' {
			t.Errorf("%q stands twice, or takes more than a byte", r)
		}
		seen[r] = true
	}
	worker, _, _ := Asset("worker/worker.js")
	if !bytes.Contains(worker, []byte(`"`+alphabet+`"`)) {
		t.Error("the worker reads other signs")
	}
}
