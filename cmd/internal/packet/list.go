package packet

import "starwright/toolpath/finding"

// manifest lists the files of the packet with their proofs.
func (w *Work) manifest(proofs []Proof, others []File) Manifest {
	m := Manifest{Format: Format, Program: "starwright", Version: Version(), Job: w.Title(), JobFile: fileOf(w.Job.Name), JobSHA256: sum(w.Source)}
	if w.Shop != nil {
		m.Shop256 = sum(w.Shop)
	}
	byPath := proofsByPath(proofs)
	w.eachDrawing(func(d *Drawing, f format) {
		p := byPath[d.in(f)]
		m.Files = append(m.Files, File{Path: p.Path, SHA256: p.SHA256, Kind: f.kind, Quantity: d.Quantity, Use: d.Use, Checks: p.Checks})
	})
	for _, g := range w.Programs {
		p := byPath[g.Path]
		m.Files = append(m.Files, File{Path: g.Path, SHA256: p.SHA256, Kind: "gcode", Quantity: g.Quantity, Use: g.Use, Minutes: g.Minutes, Checks: p.Checks})
	}
	for _, f := range others {
		f.Checks = []finding.Check{}
		m.Files = append(m.Files, f)
	}
	return m
}
