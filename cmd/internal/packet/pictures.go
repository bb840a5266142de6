package packet

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/draw"
	"starwright/geom/star"
	"starwright/geom/words"
	"starwright/post/picture"
)

// drawn is a picture to be made: its name within pictures/, and how.
type drawn struct {
	name string
	use  string
	draw func() *picture.Picture
	dots bool // as PNG too, for mail and notes: stars and segments
}

// pictureList returns the pictures of the packet: the star and its segment, each
// jig, and one back-plot for each program, from the moves that were read back.
func (w *Work) pictureList(proofs []Proof) []drawn {
	unit := w.Job.Units
	var out []drawn
	for _, u := range w.Order.Units {
		out = append(out, w.unitPictures(u)...)
	}
	for _, j := range w.Jigs {
		out = append(out, drawn{j.File, j.Use, func() *picture.Picture { return draw.Jig(j, w.Job.Sheet.Thickness, unit) }, false})
	}
	byPath := proofsByPath(proofs)
	for i := range w.Programs {
		g := &w.Programs[i]
		p := byPath[g.Path]
		name := strings.TrimSuffix(strings.TrimPrefix(g.Path, "gcode/"), ".nc")
		out = append(out, drawn{"backplot-" + name, "back-plot of " + g.Path + ": " + g.Use, func() *picture.Picture { return w.plotPicture(g, p) }, false})
	}
	return out
}

// unitPictures returns the pictures of a unit's star and segment.
func (w *Work) unitPictures(u *star.Unit) []drawn {
	starTitle, starUse := w.Title(), "the star with its dimensions"
	segmentTitle, segmentUse := fmt.Sprintf("Segment of the star of %d points", u.Points), "the segment in its blank, with the saw's settings"
	if u.IsOffcut() {
		starTitle, starUse = "Second star, from the off-cuts", "the second star with its dimensions"
		segmentTitle, segmentUse = "Segment of the second star", "the segment of the second star in its two off-cuts"
	}
	segment := func() *picture.Picture { return draw.Segment(u, w.Job.Units, segmentTitle) }
	if w.Job.Segments.CNC {
		segmentUse = "the segment with its dimensions"
		segment = func() *picture.Picture { return draw.FlatSegment(u, w.Job.Units, segmentTitle) }
	}
	if name := u.Spec.Name; name != "" {
		starTitle, segmentTitle = words.Capital(u.Words("star")), words.Capital(u.Words("segment"))
	}
	out := []drawn{
		{u.File("star"), starUse, func() *picture.Picture { return draw.Star(u, w.Job.Units, starTitle) }, true},
		{u.File("segment"), segmentUse, segment, true},
	}
	if u.Plate != nil {
		out = append(out, drawn{u.File("plate"), "the back plate on its star, seen from behind", func() *picture.Picture {
			return draw.Plate(u, w.Job.Sheet.Thickness, w.Job.Units, words.Capital(u.Words("back plate")))
		}, false})
	}
	return out
}

// plotPicture draws the back-plot of one program.
func (w *Work) plotPicture(g *Program, p *Proof) *picture.Picture {
	verdict := "The back-plot found nothing wrong."
	if !p.OK() {
		verdict = fmt.Sprintf("The back-plot found %d faults.", len(p.Findings))
		if len(p.Findings) == 1 {
			verdict = "The back-plot found one fault."
		}
	}
	if g.Sheet != nil {
		return draw.Sheet(draw.SheetProgram{
			Title: words.Capital(g.Use), File: g.Path, Verdict: verdict,
			W: g.Sheet.SheetW, H: g.Sheet.SheetH, Thickness: g.Sheet.Thickness, Breakthrough: g.Sheet.Breakthrough,
			Parts: g.Sheet.Parts, Zones: g.Sheet.ScrewZones, Tabs: g.Tabs, SafeZ: g.Task.Limits.SafeZ, Cutter: g.Task.Cutter, Moves: p.Moves, Findings: p.Findings,
		}, w.Job.Units)
	}
	return draw.Slots(draw.SlotProgram{
		Title: words.Capital(g.Use), File: g.Path, Verdict: verdict,
		Unit: g.Slot.Unit, Thickness: g.Slot.Unit.Thickness(), Mirror: g.Slot.Mirror,
		Stations: w.of(g.Slot.Unit).Slot.Stations, Pitch: w.of(g.Slot.Unit).Slot.Pitch, SafeZ: g.Task.Limits.SafeZ, Cutter: g.Task.Cutter, Moves: p.Moves, Findings: p.Findings,
	}, w.Job.Units)
}

// SlotOf says which facet a slot program cuts.
type SlotOf struct {
	Unit   *star.Unit
	Mirror bool // the right facet
}

func proofsByPath(proofs []Proof) map[string]*Proof {
	out := make(map[string]*Proof, len(proofs))
	for i := range proofs {
		out[proofs[i].Path] = &proofs[i]
	}
	return out
}

// writePicture writes one picture, as SVG and, where it is asked for, PNG.
func writePicture(st sink, d drawn) ([]File, error) {
	sheet := d.draw()
	outputs := []struct {
		ending string
		encode func() ([]byte, error)
	}{{".svg", sheet.SVG}, {".png", func() ([]byte, error) { return sheet.PNG(picture.DPI) }}}
	if !d.dots {
		outputs = outputs[:1]
	}
	var out []File
	for _, o := range outputs {
		path := "pictures/" + d.name + o.ending
		data, err := o.encode()
		if err == nil {
			err = st.Write(path, data)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		out = append(out, lookedAt(path, "picture", d.use, data))
	}
	return out, nil
}

// lookedAt is the manifest's entry for a file that people look at: nothing is
// checked in it but that it is the one that was made.
func lookedAt(path, kind, use string, data []byte) File {
	return File{Path: path, SHA256: sum(data), Kind: kind, Quantity: 1, Use: use}
}
