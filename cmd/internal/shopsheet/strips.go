package shopsheet

import (
	"fmt"

	"starwright/cmd/internal/benchwork"
	"starwright/cmd/internal/draw"
	"starwright/geom"
	"starwright/geom/route"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/post/picture"
)

// strips is how the boards of the only star are made from those on the rack; nil
// where they are as wide.
func (m *maker) strips() *benchwork.Strips { return m.Bench.StripsOf(m.star) }

// stripsFor is [maker.strips] of the star of a set-up.
func (m *maker) stripsFor(s *route.Setup) *benchwork.Strips {
	return m.Bench.StripsOf(m.Order.Units[s.Unit])
}

// wide prints a width that is set at a saw or a plane: inches to a
// thousandth where they lie on no 1/32.
func (m *maker) wide(mm float64) string { return m.u.FormatSize(mm) }

func (m *maker) glueWords(s *benchwork.Strips) string {
	glue, rate := s.Glue(m.u)
	return fmt.Sprintf("%s in each blank, %s of joint in all; about %s of glue at %s (common practice)",
		words.Count(s.Joints, "joint", "joints"), s.GlueArea(m.u), glue, rate)
}

// stripPanel shows a strip whose board the stock plan of an order shows, seen onto
// its end.
func (m *maker) stripPanel(s *benchwork.Strips) picture.Panel {
	wide, thick := s.StripWidth, s.Ask.Thickness
	p := picture.Panel{Name: "a strip", Note: "seen onto its end; dashed: what is planed off", Room: picture.Room{Left: 4, Right: 4, Above: 2}}
	p.Shapes = []picture.Shape{{Contour: geom.Rect(geom.Box{Max: geom.Pt(wide, thick)}), Look: picture.Part}}
	for _, x := range []float64{s.Ask.Jointing, wide - s.Ask.Jointing} {
		p.Lines = append(p.Lines, picture.Straight(geom.Pt(x, 0), geom.Pt(x, thick), picture.Slot))
	}
	p.Dims = []picture.Dim{{A: geom.Pt(0, thick), B: geom.Pt(wide, thick), Side: picture.Above, Text: "rip " + m.wide(wide)}}
	return p
}

// ripPanel shows what a board's width is ripped into, seen onto its end.
func (m *maker) ripPanel(s *benchwork.Strips) picture.Panel {
	if s.Planned {
		return m.stripPanel(s)
	}
	wide, thick := s.Ask.BoardWidth, s.Ask.Thickness
	p := picture.Panel{Name: "a board of the rack", Note: "seen onto its end", Room: picture.Room{Left: 4, Right: 4, Above: 2}}
	rect := func(from, to float64, l picture.Look) {
		if to-from > leastDrawnMM {
			p.Shapes = append(p.Shapes, picture.Shape{Contour: geom.Rect(geom.Box{Min: geom.Pt(from, 0), Max: geom.Pt(to, thick)}), Look: l})
		}
	}
	at := 0.0
	for range s.Across {
		rect(at, at+s.StripWidth, picture.Part)
		p.Dims = append(p.Dims, picture.Dim{A: geom.Pt(at, thick), B: geom.Pt(at+s.StripWidth, thick), Side: picture.Above, Text: "rip " + m.wide(s.StripWidth)})
		at += s.StripWidth
		rect(at, min(at+s.Ask.RipKerf, wide), picture.Kerf)
		at += s.Ask.RipKerf
	}
	rect(at, wide, picture.Waste)
	p.Dims = append(p.Dims, picture.Dim{A: geom.Pt(0, 0), B: geom.Pt(wide, 0), Side: picture.Below, Text: "board " + m.say(wide)})
	return p
}

// leastDrawnMM is the narrowest piece of wood that a drawing shows.
const leastDrawnMM = 0.05

// clampPanel shows the glue-up with its clamps, seen onto its face. Of two woods
// the first lies above, as in the picture of the segment.
func (m *maker) clampPanel(u *star.Unit, s *benchwork.Strips) picture.Panel {
	end, wide := s.Ask.Length, s.Ask.Width
	p := picture.Panel{Name: "the glue-up", Note: "seen from above", Room: picture.Room{Left: 3, Right: 3, Above: 7}}
	for i := range s.PerBlank {
		y := float64(i) * s.Planed
		strip := picture.Shape{Contour: geom.Rect(geom.Box{Min: geom.Pt(0, y), Max: geom.Pt(end, y+s.Planed)}), Look: picture.Part}
		if s.Woods[0] != "" {
			wood := 1
			if 2*i >= s.PerBlank {
				wood = 0
			}
			strip.Look = draw.WoodLook(u, wood)
			p.Labels = append(p.Labels, picture.Label{At: strip.Contour.Bounds().Center(), Text: s.Woods[wood], Mark: picture.On, In: strip.Contour, Spare: true})
		}
		p.Shapes = append(p.Shapes, strip)
	}
	reach := wide * 0.12
	at := s.Ask.ClampsAt(s.Clamps)
	for i, x := range at {
		look, where := picture.Seat, "clamp above"
		if i%2 == 1 {
			look, where = picture.Slot, "clamp below"
		}
		p.Labels = append(p.Labels, picture.Label{At: geom.Pt(x, wide+reach), Text: where, Mark: picture.Near, Away: geom.Pt(0, 1)})
		p.Lines = append(p.Lines, picture.Straight(geom.Pt(x, -reach), geom.Pt(x, wide+reach), look))
	}
	p.Dims = []picture.Dim{{A: geom.Pt(0, 0), B: geom.Pt(at[0], 0), Side: picture.Below}}
	if len(at) > 1 {
		p.Dims = append(p.Dims, picture.Dim{A: geom.Pt(at[0], 0), B: geom.Pt(at[1], 0), Side: picture.Below})
	}
	return p
}
