package print

// Paper is a page size in mm, upright.
type Paper struct {
	Name string
	W, H float64
}

// Papers returns the papers there are: A4 of ISO 216 and Letter of
// ANSI/ASME Y14.1, 8 1/2 in by 11 in.
func Papers() []Paper {
	return []Paper{{"A4", 210, 297}, {"Letter", 215.9, 279.4}}
}

// PaperNamed returns the paper of a name, and whether there is one.
func PaperNamed(name string) (Paper, bool) {
	for _, p := range Papers() {
		if p.Name == name {
			return p, true
		}
	}
	return Paper{}, false
}

// Margins of a page in mm: what common printers cannot reach and a little, on
// the left room for a punch.
const (
	marginLeft  = 18.0
	marginRight = 14.0
	marginTop   = 14.0
	marginFoot  = 13.0 // to the foot's words
	footRoom    = 9.0  // from there to the lowest line of the body
)
