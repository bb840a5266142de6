package shopsheet

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom"
	"starwright/geom/jig"
	"starwright/geom/route"
	"starwright/geom/words"
	"starwright/post/picture"
	"starwright/post/print"
)

// jigBuilds shows each jig with the work in it: its parts, how they are screwed
// together, how the work lies, and the page that uses it. Of a left and a right
// one the left one is shown.
func (m *maker) jigBuilds(f *print.Flow) {
	const slack = 2.0 // mm
	f.Compact()
	f.Text(fmt.Sprintf("From sheet %s thick. The drawings are in the packet's folders dxf and svg.", m.say(m.Job.Sheet.Thickness)))
	var show []jig.Jig
	for _, j := range m.Jigs {
		if j.Build != nil && (j.Hand != "right" || !m.hasLeft(j)) {
			show = append(show, j)
		}
	}
	high := m.jigsHigh(f, show)
	for rest := show; len(rest) > 0; rest = rest[min(2, len(rest)):] {
		f.Need(high + slack)
		if len(rest) > 1 {
			f.Beside(m.jigPanel(rest[0]), m.jigPanel(rest[1]), 0.5, high, m.say)
		} else {
			f.View(m.jigPanel(rest[0]), high, m.say)
		}
	}
	said := map[string]bool{}
	for _, j := range show {
		steps := m.buildSteps(j, said)
		f.Need(f.HeadTall() + f.Tall(steps...))
		f.Head(m.jigTitle(j) + m.usedOn(j))
		f.Steps(steps...)
	}
}

// jigsHigh is how high the drawings of jigs are, mm: as high as the page has room
// for beside the words.
func (m *maker) jigsHigh(f *print.Flow, show []jig.Jig) float64 {
	const least, most, slack = 32.0, 62.0, 4.0
	said, words := map[string]bool{}, 0.0
	for _, j := range show {
		words += f.HeadTall() + f.Tall(m.buildSteps(j, said)...) + slack
	}
	rows := float64((len(show) + 1) / 2)
	return max(least, min(most, (f.Left()-words)/max(1, rows)-slack))
}

// buildSteps are what a jig is cut from, how it is screwed together and how the
// work lies in it. What the page of another one of its kind says it does not repeat.
func (m *maker) buildSteps(j jig.Jig, said map[string]bool) []string {
	out := []string{m.plates(j)}
	again := said[j.Key]
	for _, s := range j.Build.Steps(m.u) {
		if key := j.Key + s; !said[key] {
			said[key] = true
			out = append(out, s)
		}
	}
	if again {
		out = append(out, "All else as with the one before.")
	}
	said[j.Key] = true
	return out
}

// jigTitle names a jig, or both hands of it.
func (m *maker) jigTitle(j jig.Jig) string {
	if j.Hand != "left" {
		return j.Title
	}
	return strings.Replace(j.Title, "left", "left and right", 1)
}

// plates says which drawings a jig is made of, and how often each is cut.
func (m *maker) plates(j jig.Jig) string {
	hand := func(file string) string { return strings.Replace(file, "-left", "-left and -right", 1) }
	var parts []string
	for _, l := range j.Build.Layers {
		parts = append(parts, fmt.Sprintf("%d of %s", l.Count, hand(l.File)))
	}
	words := "Cut " + strings.Join(parts, ", ")
	if j.Hand == "left" {
		words += ", for each hand; the right one is built as the left one, the other way round"
	}
	words += "."
	if n := j.Build.Sets; n > 1 {
		words += fmt.Sprintf(" Make %d such jigs", n)
		if j.Hand == "left" {
			words += " for each hand"
		}
		words += "."
	}
	return words
}

// hasLeft reports whether the kit has the left one of a right jig.
func (m *maker) hasLeft(right jig.Jig) bool {
	for _, j := range m.Jigs {
		if j.Key == right.Key && j.Hand == "left" && j.Build != nil && slices.Equal(j.For, right.For) {
			return true
		}
	}
	return false
}

// usedOn says which pages use a jig, to stand behind its name.
func (m *maker) usedOn(j jig.Jig) string {
	var pages []string
	for _, s := range m.Route.Setups {
		if s.Kind == route.CutJigs || s.Page == 0 {
			continue
		}
		uses := slices.ContainsFunc(s.Jigs, func(u route.JigUse) bool { return u.Path == jigPath(j) || u.Base == jigPath(j) })
		if p := fmt.Sprint(s.Page); uses && !slices.Contains(pages, p) {
			pages = append(pages, p)
		}
	}
	if len(pages) == 0 {
		return ""
	}
	return ", for page " + words.List(pages...)
}

// jigPanel draws a jig with the work where it lies.
func (m *maker) jigPanel(j jig.Jig) picture.Panel {
	p := picture.Panel{Name: j.Title, Note: "dashed: the work", Room: picture.Room{Left: 6, Right: 6, Above: 1, Below: 1}}
	s := picture.Shape{Contour: j.Outline, Look: picture.Facet}
	for _, h := range j.Holes {
		s.Holes = append(s.Holes, h.Contour)
	}
	p.Shapes = append(p.Shapes, s)
	for _, h := range j.Holes {
		p.Shapes = append(p.Shapes, picture.Shape{Contour: h.Contour, Look: picture.Hole})
	}
	if b := j.Build; len(b.Work) >= 3 {
		p.Shapes = append(p.Shapes, picture.Shape{Contour: b.Work, Look: picture.Work})
		for _, e := range b.Seats {
			p.Lines = append(p.Lines, picture.Path{Curves: []geom.Curve{e}, Look: picture.Seat})
		}
		p.Labels = append(p.Labels, picture.Label{At: b.Work.Bounds().Center(), Text: b.What, Mark: picture.On, In: b.Work, NotIn: []geom.Contour{j.Outline}, Spare: true})
	}
	return p
}
