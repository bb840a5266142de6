package route

// Names of readings.
const (
	ReadSaw       = "saw"        // degrees from a square cut
	ReadStop      = "stop"       // line of cut to stop along the fence, or block's nose to stop along its face
	ReadNose      = "nose"       // line of cut to the block's nose, along the fence
	ReadBlock     = "block"      // degrees between the block's face and the fence
	ReadReach     = "reach"      // what the saw must reach, from the fence along the cut; rounded up
	ReadLength    = "length"     // of a piece, from end to end
	ReadWidth     = "width"      // of a piece, across the grain
	ReadThick     = "thickness"  // of a piece
	ReadShim      = "shim"       // thickness of a paper shim behind the work or jig
	ReadShimAt    = "shim at"    // line of cut to the shim, along the fence
	ReadBit       = "bit"        // diameter
	ReadBitHeight = "bit height" // over the table
	ReadFence     = "fence"      // bit's middle to the router table's fence
	ReadTall      = "fence high" // height of fence that a tall carriage leans on
	ReadLong      = "fence long" // length of fence that takes both stops, the bit at its middle
	ReadStopStart = "start stop" // bit's middle to the stop at which the slot starts
	ReadStopEnd   = "end stop"   // bit's middle to the stop at which the slot ends
	ReadAngle     = "angle"      // degrees between two faces, measured afterwards
	ReadAlong     = "along"      // hand work: along an edge to where the line starts, from the squared end or the pair's tip
	ReadHole      = "hole"       // diameter of a hole that is bored
	ReadScrew     = "screw"      // longest screw that holds a back plate
	ReadAcross    = "across"     // hand work: across the end to where the line ends
	ReadAxis      = "axis"       // hand work: along the middle line, from a segment's star's centre or a pair's tip
	ReadSlotStart = "slot start" // star's centre to the slot's near end
	ReadSlotEnd   = "slot end"   // star's centre to the slot's far end
	ReadSlotDepth = "slot depth" // from the facet
	ReadFromFace  = "from face"  // show face to the slot's middle
)

// Reading is a number that the maker sets or measures. Printed is the text as it
// stands on the page; the number is what this text says, so that rounding shows.
type Reading struct {
	Name    string
	Printed string
	MM      *float64 // of a length
	Deg     *float64 // of an angle
	Set     bool     // set on machine or jig; else looked at afterwards
}
