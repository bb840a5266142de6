package mutate

import (
	"math"
	"strconv"
	"strings"
)

const (
	// drawnTol is how far a contour may lie from where it was drawn, mm, by
	// the terms of the packet.
	drawnTol = 0.002

	// drawnNear is how near to it the places along a contour do not tell.
	drawnNear = 0.0008

	// boxChord is how far chords may leave the arcs of a contour where only its
	// width and height are asked for, mm.
	boxChord = 0.02

	// noNumber is beyond all that a coordinate can be, whatever its unit.
	noNumber = 1e9
)

// JudgeDrawing says what a change to a drawing does to what is cut from it.
// was is the drawing as it was made.
func JudgeDrawing(was, now []byte) (Verdict, string) {
	a, b := parse(was), parse(now)
	var r ruling
	if len(b.faults) > 0 {
		return Harmful, b.faults[0]
	}
	if v := b.header["$ACADVER"]; v == nil || v.text(1) != "AC1009" {
		r.add(Harmful, "the release is not stated as AC1009")
	}
	if b.unit != a.unit {
		r.add(Harmful, "the unit is stated as %g, it was %g", b.unit, a.unit)
	}
	if b.sections != a.sections {
		r.add(Harmful, "sections %s, were %s", b.sections, a.sections)
	}
	r.layers(a, b)
	r.colours(b)
	r.headerUnit(b)
	for i := range b.entities {
		r.entity(&b.entities[i])
	}
	if r.Verdict == Harmful {
		return r.Verdict, r.why
	}
	r.contours(a, b)
	r.lines(a, b)
	r.texts(a, b)
	r.checkBar(b)
	r.extents(b)
	if r.Verdict == Harmless && tablesDiffer(was, now) {
		// What a table says of line types and letters cuts nothing; whether
		// every program opens the file without it nobody can say.
		r.add(Either, "another table")
	}
	return r.Verdict, r.why
}

func cutLayer(l string) bool { return l == "OUTLINE" || l == "HOLE" }
func ourLayer(l string) bool { return cutLayer(l) || l == "GUIDE" || l == "TEXT" }

// layers judges layers that are off or frozen ("LAYER (DXF)": a negative
// colour is off, bit 1 of group 70 frozen).
func (r *ruling) layers(a, b *drawing) {
	for name := range a.layers {
		l := b.layers[name]
		if l == nil {
			r.add(Either, "layer %s has no record", name)
			continue
		}
		colour, err := strconv.Atoi(l.text(62))
		flags, err2 := strconv.Atoi(l.text(70))
		if err != nil || err2 != nil {
			r.add(Either, "layer %s has no colour or flags", name)
			continue
		}
		if colour < 0 || flags&3 != 0 || l.text(290) == "0" {
			r.add(Harmful, "layer %s is off, frozen or not plotted", name)
		}
	}
	for name, l := range b.layers {
		if k := strings.ToUpper(l.text(6)); cutLayer(name) && k != "" && k != "CONTINUOUS" {
			r.add(Harmful, "layer %s has lines of %s", name, k)
		}
	}
	if ourLayer(b.twice) {
		r.add(Harmful, "layer %s has two records", b.twice)
	}
}

// entity judges one entity for itself.
func (r *ruling) entity(t *thing) {
	layer := t.text(8)
	if !ourLayer(layer) {
		r.add(Harmful, "line %d: %s on layer %q", t.line, t.kind, layer)
		return
	}
	if !t.finite() {
		r.add(Harmful, "line %d: a value is no number", t.line)
		return
	}
	if cutLayer(layer) && t.kind != "POLYLINE" {
		r.add(Harmful, "line %d: %s on a cut layer", t.line, t.kind)
	}
	if t.kind == "INSERT" || t.kind == "DIMENSION" {
		r.add(Harmful, "line %d: %s draws what lies in a block", t.line, t.kind)
	}
	if t.kind != "POLYLINE" {
		if t.kind != "LINE" && t.kind != "TEXT" {
			r.add(Either, "line %d: a %s that is not cut", t.line, t.kind)
		}
		return
	}
	worst := Harmful
	if !cutLayer(layer) {
		worst = Either // a guide is looked at, not cut
	}
	switch {
	case !t.closed:
		r.add(Harmful, "line %d: a polyline without SEQEND", t.line)
	case t.text(66) != "1":
		r.add(worst, "line %d: group 66 does not say that vertices follow", t.line)
	case t.text(70) != "1":
		r.add(worst, "line %d: flags %s: not simply closed", t.line, t.text(70))
	}
	r.flat(t)
	for i := range t.verts {
		v := &t.verts[i]
		switch {
		case !v.finite():
			r.add(Harmful, "line %d: a value is no number", v.line)
		case !v.has(10) || !v.has(20):
			r.add(Harmful, "line %d: a vertex without a place", v.line)
		case v.text(8) != layer:
			r.add(Either, "line %d: a vertex on another layer", v.line)
		case v.real(30) != 0 || v.has(70):
			r.add(Either, "line %d: a vertex of its own height", v.line)
		}
	}
}

// finite reports whether all real groups are numbers.
func (t *thing) finite() bool {
	for _, g := range t.groups {
		if g.code >= 10 && g.code < 60 {
			if v, err := strconv.ParseFloat(g.value, 64); err != nil || !(math.Abs(v) <= noNumber) {
				return false
			}
		}
	}
	return true
}

// contours holds the cut contours against those that were: each has its twin,
// neither leaves the other by more than may be, whatever vertex and direction
// it begins with.
func (r *ruling) contours(a, b *drawing) {
	was, now := a.polylines(), b.polylines()
	if len(was) != len(now) {
		r.add(Harmful, "%d contours, were %d", len(now), len(was))
		return
	}
	used := make([]bool, len(now))
	for _, w := range was {
		best, at := math.Inf(1), -1
		for i, n := range now {
			if used[i] || n.text(8) != w.text(8) {
				continue
			}
			if d := apart(w, n, a.unit, b.unit); d < best {
				best, at = d, i
			}
		}
		switch {
		case at < 0 || best > drawnTol+drawnNear:
			r.add(Harmful, "a contour lies %.4f mm from its place", best)
			return
		case best > drawnTol-drawnNear:
			r.add(Either, "a contour lies %.4f mm from its place", best)
		}
		used[at] = true
		r.corners(now[at], b.unit)
	}
}

// oneVertex is how near two vertices lie that are one to a controller, mm.
const oneVertex = 1e-4

// backTurn is the sine of the angle within which a piece runs back along the one
// before: over 100 mm it parts from it by less than a drawing's last digit.
const backTurn = 1e-6

// corners judges vertices that are repeated: no contour may have any.
func (r *ruling) corners(t *thing, scale float64) {
	n := len(t.verts)
	for i := range t.verts {
		a, b := &t.verts[i], &t.verts[(i+1)%n]
		if d := math.Hypot(a.real(10)-b.real(10), a.real(20)-b.real(20)) * scale; d < oneVertex {
			worst := Harmful
			if !cutLayer(t.text(8)) {
				worst = Either
			}
			r.add(worst, "line %d: a vertex is repeated", b.line)
		}
		c := &t.verts[(i+2)%n]
		if a.real(42) == 0 && b.real(42) == 0 && n > 2 {
			ux, uy, vx, vy := b.real(10)-a.real(10), b.real(20)-a.real(20), c.real(10)-b.real(10), c.real(20)-b.real(20)
			if math.Abs(ux*vy-uy*vx) < backTurn*math.Hypot(ux, uy)*math.Hypot(vx, vy) && ux*vx+uy*vy < 0 {
				r.add(Either, "line %d: the contour runs back on itself", b.line) // a cut there and back, within what may be off
			}
		}
	}
}

func (d *drawing) polylines() []*thing {
	var out []*thing
	for i := range d.entities {
		if d.entities[i].kind == "POLYLINE" {
			out = append(out, &d.entities[i])
		}
	}
	return out
}

// apart is the largest distance from a place of either contour to the other.
func apart(a, b *thing, scaleA, scaleB float64) float64 {
	const (
		coarse = 0.5 // mm between the places along an arc that are measured
		fine   = 0.05
		along  = 10 // mm along a straight piece
	)
	if boxA, boxB := a.box(scaleA), b.box(scaleB); boxesApart(boxA, boxB) > 1 {
		return math.Inf(1)
	}
	long := math.Inf(1)
	return max(oneWay(a.outline(scaleA, coarse, along), b.outline(scaleB, fine, long)),
		oneWay(b.outline(scaleB, coarse, along), a.outline(scaleA, fine, long)))
}

// box is the least and the largest x and y of places along the contour.
func (t *thing) box(scale float64) [4]float64 {
	b := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, p := range t.outline(scale, 0.5, math.Inf(1)) {
		b = [4]float64{min(b[0], p[0]), min(b[1], p[1]), max(b[2], p[0]), max(b[3], p[1])}
	}
	return b
}

func boxesApart(a, b [4]float64) float64 {
	d := 0.0
	for k := range a {
		d = max(d, math.Abs(a[k]-b[k]))
	}
	return d
}

// oneWay is the largest distance from a place to a closed row of chords.
func oneWay(pts, chords [][2]float64) float64 {
	most := 0.0
	for _, p := range pts {
		least := math.Inf(1)
		for i := range chords {
			a, b := chords[i], chords[(i+1)%len(chords)]
			least = min(least, segDist2(&[3]float64{a[0], a[1]}, &[3]float64{b[0], b[1]}, p[0], p[1]))
		}
		if math.IsInf(least, 1) {
			return least
		}
		most = max(most, math.Sqrt(least))
	}
	return most
}

// lines holds the guide lines, check bar left out, against those that were.
func (r *ruling) lines(a, b *drawing) {
	was, now := a.guides(), b.guides()
	if len(was) != len(now) {
		r.add(Harmful, "%d guide lines, were %d", len(now), len(was))
		return
	}
	bar := a.bar()
	for _, w := range was {
		if bar.holds(w) {
			continue
		}
		best := math.Inf(1)
		for _, n := range now {
			if n.text(8) == w.text(8) {
				best = min(best, min(max(gap(w, n, 10, 10, a.unit, b.unit), gap(w, n, 11, 11, a.unit, b.unit)),
					max(gap(w, n, 10, 11, a.unit, b.unit), gap(w, n, 11, 10, a.unit, b.unit))))
			}
		}
		switch {
		case best > drawnTol+drawnNear:
			r.add(Harmful, "a guide line lies %.4f mm from its place", best)
		case best > drawnTol-drawnNear:
			r.add(Either, "a guide line lies %.4f mm from its place", best)
		}
	}
}

func (d *drawing) guides() []*thing {
	var out []*thing
	for i := range d.entities {
		if d.entities[i].kind == "LINE" {
			out = append(out, &d.entities[i])
		}
	}
	return out
}

func gap(a, b *thing, ca, cb int, sa, sb float64) float64 {
	return math.Hypot(a.real(ca)*sa-b.real(cb)*sb, a.real(ca+10)*sa-b.real(cb+10)*sb)
}

func tablesDiffer(was, now []byte) bool {
	cut := func(b []byte) string {
		lines := strings.Split(string(b), "\n")
		for i, l := range lines {
			l = strings.TrimSpace(l)
			if x, err := strconv.ParseFloat(l, 64); err == nil {
				l = strconv.FormatFloat(x, 'g', -1, 64)
			}
			lines[i] = l
		}
		s := strings.Join(lines, "\n")
		i, k := strings.Index(s, "TABLES\n"), strings.Index(s, "BLOCKS\n")
		if i < 0 || k < i {
			return s
		}
		return s[i:k]
	}
	return !strings.EqualFold(cut(was), cut(now))
}
