package shopsheet

import (
	"slices"
	"strings"

	"starwright/geom/route"
	"starwright/geom/words"
	"starwright/post/print"
)

// reachAsked is what a set-up says of the reach in words; the page has the number
// for it among its facts.
const reachAsked = "Look whether your saw reaches that far from the fence."

// said is what a page says in words, each sentence once.
type said struct{ steps, measure, care []string }

// forWhom names the stars that a sentence holds for, "" where it holds for all
// whose set-ups of that kind stand on the page.
func (g *group) forWhom(sentence string) string {
	of, kind := map[int]bool{}, map[route.Kind]bool{}
	var stars []string
	for _, s := range g.setups {
		if slices.Contains(slices.Concat(s.SetUp, s.Steps, s.Measure, s.Cautions, []string{s.TurnBefore}), sentence) {
			if name := starOf(s); !slices.Contains(stars, name) {
				stars = append(stars, name)
			}
			of[s.Unit], kind[s.Kind] = true, true
		}
	}
	for _, s := range g.setups {
		if kind[s.Kind] && !of[s.Unit] {
			return words.Capital(words.List(stars...)) + ": "
		}
	}
	return ""
}

// wordsOf gathers the words of a page: the set-up, the steps with what is turned
// between them, what is measured, what to take care of.
func wordsOf(g *group) said {
	once := map[string]bool{}
	fresh := func(list ...string) []string {
		var out []string
		for _, s := range list {
			if s != "" && !once[s] && s != reachAsked {
				once[s] = true
				out = append(out, g.forWhom(s)+s)
			}
		}
		return out
	}
	var w said
	for i, s := range g.setups {
		// The set-up of one operation comes before its steps, and these before
		// the next operation.
		if i == 0 || s.Kind != g.setups[i-1].Kind {
			for _, t := range g.setups[i:] {
				if t.Kind != s.Kind {
					break
				}
				w.steps = append(w.steps, fresh(t.SetUp...)...)
			}
		}
		if s.Stage == route.Rest { // as the first star, in the numbers of the list
			w.steps = append(w.steps, fresh(s.Steps[:min(1, len(s.Steps))]...)...)
			continue
		}
		w.steps = append(w.steps, fresh(s.TurnBefore)...)
		w.steps = append(w.steps, fresh(s.Steps...)...)
	}
	for _, s := range g.setups {
		w.measure = append(w.measure, fresh(s.Measure...)...)
		w.care = append(w.care, fresh(s.Cautions...)...)
	}
	return w
}

// words writes them.
func (m *maker) words(f *print.Flow, g *group) {
	w := wordsOf(g)
	f.Steps(w.steps...)
	if len(w.measure) > 0 {
		if !f.IsCompact() {
			f.Head("Look before you go on")
		}
		f.Ticks(w.measure...)
	}
	if len(w.care) > 0 {
		f.Strong(w.caution())
	}
}

// caution is what to take care of, in one paragraph.
func (w said) caution() string { return "Take care. " + strings.Join(w.care, " ") }

// tall is how much of the page the words take, mm.
func (w said) tall(f *print.Flow) float64 {
	h := f.Tall(w.steps...)
	if len(w.measure) > 0 {
		h += f.Tall(w.measure...)
		if !f.IsCompact() {
			h += f.HeadTall()
		}
	}
	if len(w.care) > 0 {
		h += f.Tall(w.caution()) + 2
	}
	return h
}
