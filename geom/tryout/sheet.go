package tryout

import (
	"starwright/geom"
	"starwright/geom/route"
)

// Sheet is a sheet's program of the packet: what it was proven to cut, as the drawing
// of the sheet was read, and how often the packet says it is run.
type Sheet struct {
	Parts []geom.Contour
	Runs  int
}

// sheets carries out a set-up that cuts pieces with the programs of sheets: what lies
// on them, as read, is what comes out.
func (b *bench) sheets(s *route.Setup) {
	if s.Piece == nil || len(s.Piece.After) < 3 {
		b.fault("outline", s.Name, "it cuts pieces and does not say which")
		return
	}
	if s.Stage == route.Rest && !b.fitted[s.Unit] {
		b.fault("order", s.Name, "the batch is cut, and no star of it has been tried")
	}
	n := 0
	for _, c := range s.Sheets {
		sheet, ok := b.want.Sheets[c.Program]
		if !ok {
			b.fault("order", s.Name, "the packet has no program %s", c.Program)
			continue
		}
		var like []outline
		for _, p := range sheet.Parts {
			if o := lying(p, s.Piece.After); apart(o, s.Piece.After) <= OutlineTol {
				like = append(like, o)
			}
		}
		if len(like) != c.Each {
			b.fault("count", s.Name, "%s gives %d such pieces in a run, and the route says %d", c.Program, len(like), c.Each)
		}
		for _, o := range like {
			b.put(key{s.Unit, s.Piece.Kind}, o, c.Runs)
		}
		b.ran[ran{c.Program, s.Unit}] += c.Runs
		n += c.Runs * c.Each
	}
	if n != s.Count {
		b.fault("count", s.Name, "its programs give %d pieces, and it counts %d", n, s.Count)
	}
}

// ran is a program, run for a unit.
type ran struct {
	program string
	unit    int
}

// lying returns an outline with four corners in the coordinates of a kite whose
// star's centre is the origin: as it lies on the sheet, or turned half round,
// whichever comes nearer.
func lying(c geom.Contour, like outline) outline {
	var best outline
	for _, turn := range []geom.Angle{0, 180 * geom.Degree} {
		var o outline
		for _, v := range (geom.Place{Turn: turn}).Contour(c) {
			o = append(o, v.Point)
		}
		left := 0
		for i, p := range o {
			if p.X < o[left].X {
				left = i
			}
		}
		o = o.placed(geom.Place{Move: o[left].Mul(-1)})
		if o.area() < 0 {
			o = reversed(o)
		}
		if best == nil || apart(o, like) < apart(best, like) {
			best = o
		}
	}
	return best
}

// runs looks, at the end, that each program was run as often as the packet says, on
// as many pieces of board.
func (b *bench) runs() {
	most := map[string]int{}
	for r, n := range b.ran {
		if want := b.want.Sheets[r.program].Runs; n != want {
			b.fault("count", "", "%s is run %d times for %s; the packet says %d", r.program, n, star(b.want.Units[r.unit].Name), want)
		}
		most[r.program] = max(most[r.program], n)
	}
	pieces, all := 0, 0
	for _, s := range b.route.Setups {
		if s.Kind == route.Boards {
			pieces += s.Count
		}
	}
	for _, n := range most {
		all += n
	}
	if all != pieces {
		b.fault("count", "", "%d pieces of board are cut, and the programs are run %d times", pieces, all)
	}
}
