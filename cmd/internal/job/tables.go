package job

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"starwright/geom"
	"starwright/geom/bench/lumber"
	"starwright/geom/star"
	"starwright/geom/words"
)

// The defaults and ranges of the tables. Ranges only keep out what no bench
// has; what wood allows is the model's to say. Defaults are common practice
// without a source unless a line says otherwise.
const (
	usual     = "usual"
	maxTitle  = 60 // characters; a title must fit a comment and a page's head
	maxStars  = 10000
	maxPiece  = 2500 // mm, longest facet, margin and the like
	maxKerf   = 10   // mm
	maxSheet  = 5000 // mm
	maxTravel = 20000
	maxRPM    = 60000
)

// head reads the keys above the first table.
func (r *reader) head(j *Job) {
	s := r.section("")
	if s.choice("units", "millimetres unless the job says otherwise", "mm", "in") == "in" {
		r.u = geom.Inch
	}
	j.Units = r.u
	j.Title = s.words("title", maxTitle, "stars for the winter fair")
	j.Date = s.day("date")
}

// day reads a date, in quotes or as a TOML date.
func (s section) day(key string) string {
	n := s.get(key)
	if n == nil {
		return ""
	}
	if n.kind == text || n.kind == date {
		if _, err := time.Parse(time.DateOnly, n.text); err == nil {
			return n.text
		}
	}
	s.fail(key, n, "write a day of the calendar as year-month-day", `"2026-12-05"`)
	return ""
}

func (r *reader) star(j *Job) {
	s := r.section("star")
	t := &j.Star
	s.named()
	t.Points = s.count("points", star.MinPoints, star.MaxPoints, 5, usual)
	board := span{lo: star.MinBoardWidth, hi: star.MaxBoardWidth, example: r.pick("100 mm", "4 in")}
	thick, why := r.pick("19 mm", "3/4 in"), "the usual planed board"
	if z, is := s.nominal("board_width"); z != nil {
		t.Nominal, t.BoardWidth = z, z.Width
		thick, why = r.u.FormatSize(z.Thickness), "the thickness of that board, dressed"
	} else if is {
		t.BoardWidth = r.mm(board.example)
	} else if v := s.open("board_width", board); v != nil {
		t.BoardWidth = *v
	}
	if v := s.open("star_width", span{lo: 2 * star.MinBoardWidth, hi: 20 * star.MaxBoardWidth, example: r.pick("400 mm", "16 in")}); v != nil {
		t.StarWidth = *v
	}
	s.oneSize(board.example)
	t.Thickness = s.length("thickness", span{lo: 3, hi: 300, example: thick}, why)
	t.Tip = s.angle("tip", 1*geom.Degree, 179*geom.Degree, "36 deg")
	t.Count = s.count("count", 1, maxStars, 1, "one star")
	t.HangHole = s.open("hang_hole", span{lo: 1, hi: 40, example: r.pick("5 mm", "3/16 in")})
	t.OffcutHang = s.open("offcut_hang_hole", span{lo: 1, hi: 40, example: r.pick("4 mm", "1/8 in")})
	t.HangAt = s.open("hang_at", span{lo: 1, hi: 20 * star.MaxBoardWidth, example: r.pick("150 mm", "6 in")})
	s.woods(t)
	t.Joint = s.joint()
	t.OffcutStar = s.truthy("offcut_star", false, "no second star unless the job asks for it")
	if v := s.open("offcut_spare", span{lo: 0, hi: 50, example: r.pick("1.5 mm", "1/16 in")}); v != nil {
		t.OffcutSpare = *v
	}
}

// nominal reads a width that is written as the trade's name of a board, such as
// "1x6". It returns nil where it is a length, or a name that had to be
// reported; then is says which.
func (s section) nominal(key string) (z *lumber.Size, is bool) {
	if s.node == nil || s.node.kids[key] == nil || s.node.kids[key].kind != text {
		return nil, false
	}
	n := s.node.kids[key]
	if !strings.ContainsAny(n.text, "xX×") || n.text[0] < '0' || n.text[0] > '9' {
		return nil, false
	}
	s.get(key) // is known from here on
	size, ok := lumber.Lookup(n.text)
	if !ok || size.Width < star.MinBoardWidth {
		s.fail(key, n, "there is no board of that name to work; the names are "+strings.Join(lumber.Names()[1:], ", "), quote("1x6"))
		return nil, true
	}
	s.note(key, n.text, fmt.Sprintf("%s wide, as PS 20 dresses it dry; measure yours", s.r.u.FormatSize(size.Width)))
	return &size, true
}

// oneSize reports a star sized by neither or by both of its widths.
func (s section) oneSize(example string) {
	var b, w *node
	if s.node != nil {
		b, w = s.node.kids["board_width"], s.node.kids["star_width"]
	}
	switch {
	case s.node == nil && s.r.root.kids[s.name] != nil: // [reader.section] has said so
	case b == nil && w == nil:
		if s.r.sizeless = true; s.misplaced() {
			return
		}
		s.r.add(Error{Line: s.line(), Table: s.name, Key: "board_width",
			Why:   "the star has no size: the job must give board_width or star_width",
			Would: fmt.Sprintf("board_width = %s under [star]", quote(example))})
	case b != nil && w != nil:
		second, key, first := w, "star_width", b
		if b.line > w.line {
			second, key, first = b, "board_width", w
		}
		s.failTry(key, second, fmt.Sprintf("the star is sized twice: by board_width on line %d and by star_width on line %d", b.line, w.line),
			fmt.Sprintf("leaving out %s, or %s = %s on line %d", key, other(key), got(first), first.line))
	}
}

// misplaced reports whether a size of the star seems to stand in the file under
// another name or in another place, which has an error of its own.
func (s section) misplaced() bool {
	sizes := []string{"board_width", "star_width"}
	root := s.r.root
	if s.node == nil && slices.ContainsFunc(root.keys, func(k string) bool { return words.Meant(k, []string{"star"}) != "" }) {
		return true
	}
	near := func(k string) bool {
		return words.Meant(k, sizes) != "" || slices.ContainsFunc(sizes, func(size string) bool { return holds(size, k) })
	}
	if s.node != nil && slices.ContainsFunc(s.node.keys, near) {
		return true
	}
	for _, k := range root.keys {
		n := root.kids[k]
		switch {
		case slices.Contains(sizes, k):
			return true
		case n.kind == table && k != "stock" && (n.kids["board_width"] != nil || n.kids["star_width"] != nil), n.kids["star_width"] != nil:
			return true
		}
	}
	return false
}

// other returns the other of the two sizes.
func other(key string) string {
	if key == "board_width" {
		return "star_width"
	}
	return "board_width"
}

func (r *reader) blankAndSaw(j *Job) {
	s := r.section("blank")
	j.Blank.EndTrim = s.length("end_trim", span{lo: 0, hi: 500, example: r.pick("8 mm", "5/16 in")}, "room to square the ends")
	j.Blank.RoundTo = s.length("round_to", span{lo: 0, hi: 100, example: r.pick("1 mm", "1/8 in")}, "what a rule shows")
	s = r.section("saw")
	j.Saw.Kerf = s.length("kerf", span{lo: 0, hi: maxKerf, example: r.pick("2.4 mm", "3/32 in")}, "a thin-kerf blade")
	j.Saw.MaxMiter = 50 * geom.Degree
	if a := s.angle("max_miter", 0, 70*geom.Degree, "50 deg"); a != nil {
		j.Saw.MaxMiter = *a
	} else if !s.has("max_miter") {
		s.note("max_miter", "50 deg", "what most mitre saws reach")
	}
	s.reach(&j.Saw)
}

func (r *reader) slots(j *Job) {
	s := r.section("slot")
	t := &j.Slot
	s.slotShape(t)
	t.Width = s.open("width", span{lo: 0.5, hi: 50, example: r.pick("6.35 mm", "1/4 in")})
	t.FromFace = s.open("from_face", span{lo: 0.5, hi: 300, example: r.pick("9.5 mm", "3/8 in")})
	t.Wall = s.open("wall", span{lo: 0.5, hi: 150, example: r.pick("5 mm", "3/16 in")})
	t.Stations = s.count("stations", 1, 50, 1, "one segment at a time")
	t.Loads = s.count("loads", 1, 200, 1, "the stations are filled once in a program")
	s.pitch(j)
	r.section("offcut_slot").slotShape(&j.OffcutSlot)

	s = r.section("spline")
	j.Spline.Thickness = s.open("thickness", span{lo: 0.5, hi: 50, example: r.pick("6.2 mm", "1/4 in")})
	j.Spline.Fit = s.length("fit", span{lo: 0, hi: 2, example: r.pick("0.15 mm", "0.006 in")}, "a hand fit with room for glue")
	r.settleJoint(j)
	j.Spline.GlueGap = s.length("glue_gap", span{lo: 0, hi: 20, example: r.pick("1 mm", "1/32 in")}, "room for glue at the spline's edges")
}

// slotShape reads the keys that the slots of both stars have.
func (s section) slotShape(t *SlotTable) {
	t.Make = s.yes("make", true)
	t.Depth = s.open("depth", span{lo: 0.5, hi: 200, example: s.r.pick("8 mm", "5/16 in")})
	t.Start = s.open("start", span{lo: 0, hi: maxPiece, example: s.r.pick("20 mm", "3/4 in")})
	t.EndMargin = s.open("end_margin", span{lo: 0, hi: maxPiece, example: s.r.pick("12 mm", "1/2 in")})
	t.Web = s.open("web", span{lo: 1, hi: 500, example: s.r.pick("6 mm", "1/4 in")})
}

// pitch reads the distance between stations. By default a strap over the back of
// one segment and the fence board of the next, both of sheet of the usual 12 mm,
// have room between two boards.
func (s section) pitch(j *Job) {
	room, step := s.r.mm(s.r.pick("25 mm", "1 in")), s.r.mm(s.r.pick("1 mm", "1/8 in"))
	d := s.r.u.Round(math.Ceil((j.Star.Thickness+room)/step-rounding) * step)
	usual := s.r.u.Format(d)
	if v := s.open("pitch", span{lo: j.Star.Thickness, hi: 1000, example: usual}); v != nil {
		d = *v
	} else if !s.has("pitch") && j.Slot.Stations > 1 {
		s.note("pitch", usual, "the thickness, a strap and a fence board")
	}
	j.Slot.Pitch = d
}

func (r *reader) cutter(j *Job) {
	s := r.section("cutter")
	t := &j.Cutter
	t.Diameter = s.open("diameter", span{lo: 0.5, hi: 50, example: r.pick("6.35 mm", "1/4 in")})
	t.CutLength = s.open("cut_length", span{lo: 1, hi: 300, example: r.pick("22 mm", "7/8 in")})
	t.DepthPerPass = s.pass(t)
	t.Feed = s.openFeed("feed", 10, 20000, r.pick("2000 mm/min", "80 in/min"))
	plunge := r.pick("500 mm/min", "20 in/min")
	if t.Feed > 0 {
		plunge = r.u.FormatFeed(t.Feed / 4)
	}
	t.PlungeFeed = s.openFeed("plunge_feed", 1, 20000, plunge)
	if v := s.whole("spindle_rpm", 1, maxRPM, 12000); v != nil {
		t.SpindleRPM = float64(*v)
	}
	t.Flutes = s.count("flutes", 1, 12, usualFlutes, usual)
	t.Ramp = 5 * geom.Degree
	if a := s.angle("ramp", 1*geom.Degree, 30*geom.Degree, "5 deg"); a != nil {
		t.Ramp = *a
	} else if !s.has("ramp") {
		s.note("ramp", "5 deg", "gentle on a cutter that cuts poorly at its centre")
	}
	t.Climb = s.choice("side", "the cutter pulls away from the wood, so a light machine stays put", "conventional", "climb") == "climb"
	t.Arcs = s.truthy("arcs", true, "most controllers cut arcs")
}

// pass reads the depth of a pass, 0 where the file lacks it.
func (s section) pass(t *CutterTable) float64 {
	most := s.r.mm(s.r.pick("3 mm", "1/8 in"))
	if d := t.Diameter; d != nil {
		most = min(most, *d)
	}
	if l := t.CutLength; l != nil {
		most = min(most, *l)
	}
	if v := s.open("depth_per_pass", span{lo: 0.1, hi: 50, example: s.r.u.FormatSize(most)}); v != nil {
		return *v
	}
	return 0
}

func (r *reader) tabs(j *Job) {
	s := r.section("tabs")
	j.Tabs.Count = s.count("count", 0, 50, 4, usual)
	j.Tabs.Width = s.length("width", span{lo: 0.5, hi: 100, example: r.pick("6 mm", "1/4 in")}, usual)
	j.Tabs.Height = s.length("height", span{lo: 0.1, hi: 50, example: r.pick("1.5 mm", "1/16 in")}, usual)
}

func (r *reader) sheet(j *Job) {
	s := r.section("sheet")
	t := &j.Sheet
	t.Width = s.side("width", j.Machine.Travel[0])
	t.Height = s.side("height", j.Machine.Travel[1])
	t.Thickness = s.length("thickness", span{lo: 1, hi: 100, example: r.pick("12 mm", "1/2 in")}, "stiff enough for a saw block")
	margin, why := r.pick("10 mm", "3/8 in"), "room for screws and rough edges"
	if short := math.Min(t.Width, t.Height); r.mm(margin) > short/10 {
		margin, why = r.u.FormatFloor(short/10), "a tenth of so small a sheet"
	}
	t.Margin = s.length("margin", span{lo: 0, hi: 500, example: margin}, why)
	spacing := r.pick("9 mm", "3/8 in")
	if d := j.Cutter.Diameter; d != nil {
		spacing = r.u.Format(r.u.Ceil(*d + usualSliver))
	}
	t.Spacing = s.open("spacing", span{lo: 0.5, hi: 500, example: spacing})
	t.Breakthrough = s.length("breakthrough", span{lo: 0, hi: 5, example: r.pick("0.3 mm", "0.012 in")}, "so that no skin is left")
	t.ScrewZones = s.truthy("screw_zones", true, "the sheet is screwed down")
}

// side reads a side of the sheet, by default no longer than the travel.
func (s section) side(key string, travel float64) float64 {
	def, why := s.r.pick("300 mm", "12 in"), usual
	if travel > 0 && travel < s.r.mm(def) {
		def, why = s.r.u.FormatFloor(travel), "what the machine's travel reaches"
	}
	return s.length(key, span{lo: 10, hi: maxSheet, example: def}, why)
}

func (r *reader) output(j *Job) {
	s := r.section("output")
	words := []string{"mm", "in"}
	if r.u == geom.Inch {
		words = []string{"in", "mm"}
	}
	unit := func(key string) geom.Unit {
		if s.choice(key, "as the job's units", words...) == "in" {
			return geom.Inch
		}
		return geom.Millimetre
	}
	j.Output = OutputTable{DXFUnits: unit("dxf_units"), GCodeUnits: unit("gcode_units")}
	j.Jigs.Make = r.section("jigs").names("make")
	j.Laser.Kerf = r.section("laser").open("kerf", span{lo: 0, hi: 2, example: r.pick("0.2 mm", "0.008 in")})
	sizes := []string{"A4", "Letter"}
	if r.u == geom.Inch {
		sizes = []string{"Letter", "A4"}
	}
	s = r.section("print")
	j.Print.Paper = s.choice("paper", "usual with "+r.pick("millimetres", "inches"), sizes...)
	if r.item != nil {
		j.Print.Labels = s.truthy("labels", true, "the pieces of several stars look alike")
	} else {
		j.Print.Labels = s.truthy("labels", false, "the pieces of one star belong together anyway")
	}
}

// whatPays are the jigs that are made where the job names none, and may be written.
const whatPays = "what pays"

// names reads a list of names, nil where the file lacks it.
func (s section) names(key string) []string {
	const most, longest = 50, 40
	n := s.get(key)
	if n == nil {
		s.note(key, whatPays, "those that the work needs and that pay for so many stars")
		return nil
	}
	if n.kind == text && n.text == whatPays {
		return nil
	}
	out := []string{}
	if n.kind != list || len(n.items) > most {
		s.fail(key, n, fmt.Sprintf("write a list of names in brackets, %d at most; leave it out for those that the work needs", most), "[]")
		return out
	}
	seen := map[string]bool{}
	for _, item := range n.items {
		why := notWords(item, longest)
		if why == "" && seen[item.text] {
			why = "this name is given twice"
		}
		if why != "" {
			s.failTry(key, item, why, "leaving this name out")
			continue
		}
		seen[item.text] = true
		out = append(out, item.text)
	}
	return out
}

func (r *reader) wood(j *Job) {
	s := r.section("wood")
	t := &j.Wood
	t.Species = s.words("species", 40, "western redcedar")
	t.MCNow = s.number("mc_now", 0, 30, "%", "10")
	t.MCService = s.number("mc_service", 0, 30, "%", "8")
	t.RHNow = s.number("rh_now", 0, 99, "%", "55")
	t.RHService = s.number("rh_service", 0, 99, "%", "45")
	limit := span{lo: 0.01, hi: 50, example: r.pick("0.5 mm", "0.016 in")}
	if v := s.open("movement_limit", limit); v != nil {
		t.MovementLimit = *v
	} else if t.Species != "" || j.TwoWoods() {
		t.MovementLimit = r.mm(limit.example)
		if !s.has("movement_limit") {
			s.note("movement_limit", limit.example, "an opening that is seen at arm's length")
		}
	}
}
