package planner

// Blocks that any program spends on one cut, whatever its way: one over to it,
// one down to it, one out of it.
const entryBlocks = 3

// leastBlocks returns a number of blocks that no program for these cuts could
// do with less of, its passes being no deeper and its ramps no steeper than the
// job wants, and a block being one line or one arc of at most a full turn.
func (p *sheetPlan) leastBlocks() int {
	n := 0
	for _, ops := range p.ops {
		for _, op := range ops {
			n += op.least(p)
		}
	}
	return n
}

// least is the bound of one cut. Every piece of a way is passed over once for
// each pass that its depth takes, and once more where the last ramp left wood.
// A tab cuts a pass below its top into two and takes the cutter up and down.
func (op operation) least(p *sheetPlan) int {
	if len(op.turns) > 0 {
		n := entryBlocks
		for _, t := range op.turns {
			n += t + 1 // a helix of full turns, and a level one at its foot
		}
		return n
	}
	n := entryBlocks
	for _, c := range op.ways() {
		pieces := len(c.curves)
		if c.toAndFro() {
			pieces = 1
		}
		n += len(c.levels)*pieces + 1
		if len(c.tabs) > 0 {
			const aTab = 3 // the cut goes on behind it, besides up and down
			below, _ := Passes(p.depth+c.tabTop, p.DepthPerPass)
			n += aTab * below * len(c.tabs)
		}
	}
	return n
}

// ways are the closed ways of a cut.
func (op operation) ways() []contourCut {
	if op.rings != nil {
		return op.rings
	}
	return []contourCut{op.cut}
}
