package mutate

// Sheet is work cut through from a sheet.
type Sheet struct {
	W, H      float64
	Thickness float64
	Parts     []Part
	Keepouts  [][]float64
	Tabs      int
	TabWidth  float64
	TabHeight float64
}

// Part is a part with its outline and holes as polygons, x and y in turn,
// arcs as chords.
type Part struct{ Outline, Holes [][2]float64 }

func (r *ruling) sheetEdges(j *Job, segs []seg) {}
func (r *ruling) sheetRest(j *Job, segs []seg)  {}
