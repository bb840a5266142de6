package svgread_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"starwright/geom"
	"starwright/post/cut/cuttest"
	"starwright/post/outline"
	"starwright/post/svg/svgread"
	"starwright/post/svg/svgwrite"
)

// Whatever is written reads back as it was drawn, and is judged sound.
func TestWhatIsWrittenReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := cuttest.Random(t)
		b, err := svgwrite.Bytes(d)
		if err != nil {
			t.Fatal(err)
		}
		f, err := svgread.Read(b, "written.svg", geom.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		r := outline.Compare(f, d, cuttest.Tolerance)
		if len(r.Findings) > 0 || r.Contours != len(d.Contours) || r.Lines != len(d.Lines) || !(r.MaxDeviationMM < 5e-6) {
			t.Errorf("%d of %d contours, %d of %d lines, deviation %g:\n%s", r.Contours, len(d.Contours), r.Lines, len(d.Lines), r.MaxDeviationMM, cuttest.All(r.Findings))
		}
		if fs := outline.Judge(f); len(fs) > 0 {
			t.Errorf("judged:\n%s", cuttest.All(fs))
		}
		for i, l := range f.Texts {
			if w := d.Texts[(i+1)%2]; l.At.Dist(w.At) > 2e-6 || l.Layer != w.Layer { // GUIDE is written before TEXT
				t.Errorf("text %d: %+v, want %+v", i, l, w)
			}
		}
	})
}

// The reader is an independent proof only as long as it has no code of the
// writer's.
func TestReaderImportsNoWriter(t *testing.T) { cuttest.NoImportOf(t, "write", "draft") }

// FuzzRead: no file makes the reader or the judge fail, and every line that they
// name is one of the file's.
func FuzzRead(f *testing.F) {
	f.Add([]byte(written(f, plate())))
	f.Add([]byte(strings.ToLower(written(f, plate()))))
	f.Add([]byte(`<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9"><g id="HOLE"><path d="m0 0a1 1 0 1 1 0 2h3v-1z l1 1zM1,1,2,2,1,3"/><path d='M 0 0 A 1e9 1e9 0 1 0 1e12 5 Z'/></g></svg>`))
	f.Add([]byte("<svg xmlns='http://www.w3.org/2000/svg' width='1e-300mm' height='1e-300mm' viewBox='0 0 1e12 1e12'><text x='1' y='2'><tspan>a</tspan>b&amp;c</text></svg>"))
	f.Add([]byte("<!DOCTYPE svg [<!ENTITY a 'b'>]><svg>&a;</svg><svg/>"))
	f.Fuzz(func(t *testing.T, src []byte) {
		file, err := svgread.Read(src, "fuzz.svg", geom.Millimetre)
		if err != nil {
			t.Fatal(err)
		}
		cuttest.Sane(t, file, strings.Count(string(src), "\n")+1)
	})
}

func BenchmarkRead20k(b *testing.B) {
	src := []byte(written(b, cuttest.Long()))
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		f, err := svgread.Read(src, "speed.svg", geom.Millimetre)
		if err != nil || len(f.Contours) != cuttest.Many || len(f.Faults)+len(f.Form) > 0 {
			b.Fatal(err, len(f.Contours), f.Faults, f.Form)
		}
	}
}
