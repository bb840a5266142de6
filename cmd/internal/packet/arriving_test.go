package packet

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"starwright/post/rs274/ncread"
)

// A file that is used while it is read gives what a plain reading gives, and its
// digest, whatever its size; one that grows meanwhile is read to the
// end that it has by then.
func TestArriving(t *testing.T) {
	dir := t.TempDir()
	f, err := openFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.close()
	for _, size := range []int{0, 1, pieceBytes - 1, pieceBytes, 3*pieceBytes + 7} {
		want := []byte(strings.Repeat("G1 X1.0\n", size/8+1))[:size]
		if err := os.WriteFile(filepath.Join(dir, "a.nc"), want, 0o644); err != nil {
			t.Fatal(err)
		}
		a, err := f.arrive("a.nc", maxFileBytes)
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(a.reader())
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%d bytes: read %d, %v", size, len(got), err)
		}
		if text, err := a.whole(); err != nil || !bytes.Equal(text, want) || a.digest() != sum(want) {
			t.Errorf("%d bytes: %d in all, %v, digest %s", size, len(text), err, a.digest())
		}
	}
	grown := bytes.Repeat([]byte("grows "), 1000)
	a := arrived(nil)
	a.size, a.ended = 10, false
	h := sha256.New()
	a.take(iotest.OneByteReader(bytes.NewReader(grown)), h)
	if text, err := a.whole(); err != nil || !bytes.Equal(text, grown) || fmt.Sprintf("%x", h.Sum(nil)) != sum(grown) {
		t.Errorf("a file that grew: %d bytes, %v", len(text), err)
	}
}

// Who reads on gets the error that ended the reading, after what was read before.
func TestArrivingEnds(t *testing.T) {
	broken := errors.New("the disk is broken")
	a := arrived(nil)
	a.size, a.ended = 100, false
	r := a.reader()
	go a.take(io.MultiReader(strings.NewReader("G0 Z1.0\n"), iotest.ErrReader(broken)), sha256.New())
	if got, err := io.ReadAll(r); string(got) != "G0 Z1.0\n" || !errors.Is(err, broken) {
		t.Errorf("read %q, %v", got, err)
	}
	if _, err := a.whole(); !errors.Is(err, broken) {
		t.Errorf("all of it: %v", err)
	}
}

// While a program is still being read, the lines that were read are found as in all
// of it, whatever they end with.
func TestBlocksOfWhatIsRead(t *testing.T) {
	for _, end := range []string{"\n", "\r\n", "\r", "\r\r\n", "\n\r\n"} {
		text := []byte(strings.Repeat("G1 X1.0"+end+"G1 Y2.0"+end+end, 3) + "M2")
		for upto := range text {
			b := &blocks{text: func() []byte { return text[:upto] }}
			for line := 1; ncread.Block(text[:upto], line+1) != ""; line++ { // has its end
				if got, want := b.at(line), ncread.Block(text, line); got != want {
					t.Fatalf("%q, line %d of the first %d bytes: %q, want %q", end, line, upto, got, want)
				}
			}
			b.text = func() []byte { return text }
			for line := range 20 {
				if got, want := b.at(line), ncread.Block(text, line); got != want {
					t.Fatalf("%q, line %d after %d bytes: %q, want %q", end, line, upto, got, want)
				}
			}
		}
	}
	// About a mark, of a text in which lines end there in every way.
	for _, end := range []string{"\n", "\r\n", "\r", "\r\r\n", "\n\r\n"} {
		for gap := range 4 {
			text := []byte(strings.Repeat("G1\n", markBytes/3-1) + strings.Repeat("X", gap) + end + "Y1\nY2\nY3")
			lines := bytes.Count(text, []byte("\n")) + 2
			for upto := markBytes - 4; upto <= len(text); upto++ {
				b := &blocks{text: func() []byte { return text[:upto] }}
				for line := 1; ncread.Block(text[:upto], line+1) != ""; line += 1 + line/50*30 { // has its end
					b.at(line)
				}
				b.text = func() []byte { return text }
				for line := lines - 8; line < lines+4; line++ {
					if got, want := b.at(line), ncread.Block(text, line); got != want {
						t.Fatalf("%q after %d, line %d after %d bytes: %q, want %q", end, gap, line, upto, got, want)
					}
				}
			}
		}
	}
}
