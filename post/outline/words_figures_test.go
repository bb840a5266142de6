package outline

import "testing"

// A comma ends a figure: what follows is another, not its fraction.
func TestCommaEndsAFigure(t *testing.T) {
	s := TakeApart("centre Y 1 , 1/4 in wide, 4 1/2 in long")
	want := []Figure{{1, Count}, {6.35, Length}, {114.3, Length}}
	if len(s.Figures) != len(want) {
		t.Fatalf("%+v", s)
	}
	for i, f := range want {
		if s.Figures[i] != f {
			t.Errorf("figure %d: %+v, want %+v", i, s.Figures[i], f)
		}
	}
	for _, w := range s.Words {
		if w == "," {
			t.Error("a comma is a word")
		}
	}
}
