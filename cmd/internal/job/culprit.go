package job

import "strings"

// clashes are, for the keys of a table, the keys that may clash with a value of it
// that was taken without being written: the likeliest first. The star's size comes
// last and for every table, because what it asks for is all that a job must say.
var clashes = map[string][]string{
	"slot": {"slot.depth", "slot.start", "slot.end_margin", "slot.web", "slot.width", "slot.wall", "slot.from_face", "slot.make", "star.joint",
		"cutter.diameter", "cutter.cut_length", "machine.travel"},
	"offcut_slot": {"offcut_slot.depth", "offcut_slot.start", "offcut_slot.end_margin", "offcut_slot.web", "offcut_slot.make", "star.joint",
		"slot.depth", "slot.width", "cutter.diameter", "star.offcut_star"},
	"spline":   {"spline.thickness", "spline.fit", "spline.glue_gap", "slot.width", "slot.depth"},
	"sheet":    {"sheet.width", "sheet.height", "sheet.margin", "sheet.spacing", "sheet.thickness", "cutter.cut_length", "cutter.diameter", "shop.cutters", "machine.travel", "jigs.make"},
	"tabs":     {"tabs.height", "tabs.width", "tabs.count", "sheet.thickness", "sheet.spacing", "spline.thickness", "sheet.width", "sheet.height"},
	"cutter":   {"cutter.diameter", "cutter.ramp", "cutter.cut_length", "cutter.depth_per_pass", "shop.cutters", "slot.width", "slot.depth", "sheet.thickness"},
	"machine":  {"machine.travel", "machine.safe_z", "machine.approach", "slot.stations", "slot.pitch"},
	"saw":      {"star.offcut_star", "blank.end_trim", "saw.max_miter"},
	"stock":    {"stock.boards", "stock.board_width", "stock.laminate", "stock.trim"},
	"segments": {"segments.margin", "segments.spacing", "segments.longest", "segments.board_width", "segments.board_length", "segments.cut"},
	"shop":     {"jigs.make", "slot.make", "star.joint"},
	"jigs":     {"sheet.width", "sheet.height"},
	"wood":     {"wood.species"},
	"blank":    {"star.offcut_star", "stock.boards"},
}

// culprit returns the key that the maker wrote and that clashes with one that was
// left out; "" where there is none.
func (j *Job) culprit(key string) string {
	keys := clashes[tableOf(key)]
	keys = append(keys[:len(keys):len(keys)], "star.thickness", "star.star_width", "star.board_width")
	for _, k := range keys {
		if k == "star.thickness" && tableOf(key) != "slot" {
			continue
		}
		if k != key && j.root.find(k) != nil {
			return k
		}
	}
	return ""
}

func tableOf(key string) string {
	table, _, _ := strings.Cut(key, ".")
	return table
}

// fromElsewhere words what to try so that it can be followed from the line of
// another key: the table is named where the value belongs to another than that
// line's, and only there.
func fromElsewhere(key, at, would string) string {
	would = strings.TrimPrefix(would, "["+tableOf(at)+"] ")
	table, name, ok := strings.Cut(key, ".")
	if !ok || tableOf(at) == table || !strings.HasPrefix(would, name+" = ") {
		return would
	}
	return "[" + table + "] " + would
}
