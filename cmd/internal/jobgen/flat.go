package jobgen

import "regexp"

// notFlat are lines of a job that do not go with segments from the CNC.
var notFlat = []*regexp.Regexp{
	regexp.MustCompile(`(?m)^offcut_star = true\n`),
	regexp.MustCompile(`(?m)^woods = .*\nhalves = "(turning|mirrored)"\n`),
	regexp.MustCompile(`(?ms)^\[offcut_slot\]\n[^\[]*`),
}

// Flat returns a job as [Job] does whose segments the CNC cuts, some from a rack.
func Flat(pick Pick) string {
	source := Job(pick, false)
	for _, no := range notFlat {
		source = no.ReplaceAllString(source, "")
	}
	source += []string{"[segments]\ncut = \"cnc\"\n", "[segments]\ncut = \"cnc\"\nlongest = \"1500 mm\"\nboard_length = \"3 m\"\n"}[pick("pieces of board", 2)]
	if pick("a rack", 2) == 0 && !regexp.MustCompile(`woods|\[stock\]`).MatchString(source) {
		source += "[stock]\ntrim = \"8 mm\"\nboards = [{ length = \"2.2 m\", width = \"310 mm\", bad = [[\"700 mm\", \"760 mm\"]] }, { length = \"2.9 m\", width = \"290 mm\" }]\n"
	}
	return source
}
