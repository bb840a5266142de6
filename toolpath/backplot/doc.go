// Package backplot replays moves that were read back from a file and holds
// the wood they leave against the wood that should be left.
//
// The model is exact in 2.5 dimensions: the cutter is an upright cylinder, so
// at each height the wood that is gone is the union of discs swept along
// lines and arcs. No grid of cells decides an answer. Whether wood is left is
// settled on boundaries: if any wood stood within a region, some piece of the
// region's own boundary or of a swept disc's boundary within it would border
// on that wood, and such pieces are cut at every crossing and looked at one by
// one (see [field.standing]). The only tolerances are the ones a finding
// states, and [coverSlack]. The grid in the package only finds sweeps by place.
//
// Moves are taken in one by one ([Replay]), so that the memory for a long
// program is that of the sweeps it makes, and less where it goes over the same
// way again at another depth.
//
// The package knows moves, cutters and outlines. It does not read files, does
// not know stars, and shares nothing with the planner but the types of moves:
// a proof by the code that made the path would prove nothing.
package backplot

// Tolerances of the proof, in mm. Each has one purpose.
const (
	// Tol is how far the cut may leave the outline or the floor, and how much
	// may be left standing, before it is a finding: a fiftieth of what the eye
	// sees at a joint, and ten times what three decimals lose.
	Tol = 0.01

	// coverSlack is how far outside a swept disc's boundary the wood beyond it
	// is looked for. It is far above rounding and far below anything cut.
	coverSlack = 1e-6

	// sliver is the width of standing wood that is not worth a question when a
	// cut's depth is judged: a strip as thin bends away before it is cut.
	// Rounding of coordinates in files makes such, and so do round cutters
	// that come back not quite to where they began.
	sliver = 0.02

	// zSlack is by how much heights may differ through rounding in files.
	zSlack = 0.002

	// biteStep is by how much the deepest bite has to grow to be measured anew.
	biteStep = 0.004
)

// MaxFindings is how many findings of one program are kept. Once that many are
// there the program is past saving, and the questions that take longest (what
// wood stands where) are no longer asked; outlines and floors still are, for
// some ten thousand cuts more. So from there on the count of findings is a least
// one.
const MaxFindings = 1000
