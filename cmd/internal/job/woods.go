package job

import (
	"fmt"
	"strings"

	"starwright/geom/star"
)

// longestWood is the longest name of a wood, letters.
const longestWood = 40

// TwoWoods reports whether the star is of two woods, of an order the first one.
func (j *Job) TwoWoods() bool { return j.Star.Woods[0] != "" }

// woods reads the two woods of a star and how they come together.
func (s section) woods(t *StarTable) {
	const example = `["walnut", "hard maple"]`
	n := s.get("woods")
	if n == nil {
		if h := s.get("halves"); h != nil {
			s.failTry("halves", h, "only a star of two woods has halves", "woods = "+example+" beside it")
		}
		return
	}
	t.Halves = star.Halves(s.choice("halves", "each point light and dark, as a turning star",
		string(star.Turning), string(star.Mirrored), string(star.Whole)))
	if n.kind != list || len(n.items) != 2 {
		s.failTry("woods", n, "a star of two woods names both; of one wood it needs no woods", "woods = "+example)
		return
	}
	var two [2]string
	for i, item := range n.items {
		two[i] = strings.TrimSpace(item.text)
		why := notWords(item, longestWood)
		if why == "" && two[i] == "" {
			why = "each wood has a name"
		}
		if why == "" && i == 1 && strings.EqualFold(two[0], two[1]) {
			why = fmt.Sprintf("both woods are %s; a star of one wood needs no woods", two[1])
		}
		if why != "" {
			s.failTry("woods", item, why, "woods = "+example)
			return
		}
	}
	t.Woods = two
}
