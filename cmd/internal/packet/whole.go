package packet

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"starwright/toolpath/finding"
)

// Asked is what a check is asked for.
type Asked struct {
	Files        []string // drawings and programs, within the packet or as paths from here; none means the whole packet
	IgnorePapers bool     // what people look at may be edited, missing or added
	Watch        Progress // told how far it is; may be nil
}

// machineEndings are endings of files that a machine runs or imports.
var machineEndings = strings.Fields(".nc .ngc .tap .gcode .gc .cnc .ncc .mpf .dxf .svg .dwg")

// wholePacket holds a packet against what was released: its manifest against
// itself and against the job, and the files that nobody proves against their
// digests. What people set up and order by is no less dangerous when it is
// exchanged than what the machine runs. Each file at fault is a proof of its own.
func (c *Checked) wholePacket(made asMade, a Asked) {
	proofs := map[string]*Proof{}
	var order []string
	fail := func(path, rule, what, inWood string) {
		if proofs[path] == nil {
			proofs[path] = &Proof{Path: path}
			order = append(order, path)
		}
		proofs[path].Findings = append(proofs[path].Findings, finding.Finding{File: path, Rule: rule, What: what, InWood: inWood})
	}
	if made.Format < 2 {
		fail(ManifestName, "manifest", fmt.Sprintf("the manifest has format %d, without a digest of its own, so nobody can tell whether it was edited; make the packet again from its job.toml", made.Format), "")
	}
	for _, what := range c.Work.amiss(made.Manifest) {
		fail(ManifestName, "manifest", what, "what is cut and ordered by these numbers is the wrong count")
	}
	kinds := map[string]string{ManifestName: "manifest"}
	for _, f := range made.Files {
		kinds[f.Path] = f.Kind
	}
	for i := range c.Changes {
		ch := &c.Changes[i]
		switch kind := kinds[ch.Path]; {
		case ch.Path == ManifestName:
			fail(ch.Path, "manifest", "edited since the packet was made", "")
		case ch.folder: // with nothing in it
			continue
		case ch.How == "added":
			if what := c.unknown(ch.Path, kinds, a.IgnorePapers); what != "" {
				fail(ch.Path, "added", what, "")
			} else {
				continue
			}
		case kind == "picture" || kind == "sheet" || kind == "ticket":
			if a.IgnorePapers {
				continue
			}
			fail(ch.Path, "paper", ch.How+" since the packet was made; check --ignore-papers passes over what people write on", "the work is set up by what it says")
		default:
			continue
		}
		ch.fails = true
	}
	for _, p := range order {
		c.Proofs = append(c.Proofs, *proofs[p])
	}
}

// unknown says why a file that the manifest does not name is a fault; "" where
// it is none.
func (c *Checked) unknown(name string, kinds map[string]string, ignorePapers bool) string {
	for known := range kinds {
		if strings.EqualFold(known, name) {
			return "differs from " + known + " by case alone; on some systems they are one file"
		}
	}
	folder, _, _ := strings.Cut(name, "/")
	switch {
	case slices.Contains(machineEndings, strings.ToLower(path.Ext(name))) || slices.ContainsFunc([]string{"gcode", "dxf", "svg"}, func(f string) bool { return strings.EqualFold(f, folder) }):
		return "added since the packet was made: nothing proves it, and a machine may take it for one of the packet's"
	case ignorePapers:
		return ""
	}
	return "added since the packet was made; check --ignore-papers passes over notes of your own"
}

// amiss says what a manifest has of drawings and programs that the job does not.
func (w *Work) amiss(m Manifest) (out []string) {
	type what struct {
		kind     string
		quantity int
	}
	want := map[string]what{}
	w.eachDrawing(func(d *Drawing, f format) { want[d.in(f)] = what{f.kind, d.Quantity} })
	for _, g := range w.Programs {
		want[g.Path] = what{"gcode", g.Quantity}
	}
	machine := map[string]bool{"gcode": true}
	for _, f := range formats {
		machine[f.kind] = true
	}
	for _, f := range m.Files {
		x, known := want[f.Path]
		switch {
		case !known && machine[f.Kind]:
			out = append(out, fmt.Sprintf("the manifest names %s, which the job does not make", f.Path))
		case known && f.Kind != x.kind:
			out = append(out, fmt.Sprintf("the manifest has kind %q for %s, the job %q", f.Kind, f.Path, x.kind))
		case known && f.Quantity != x.quantity:
			out = append(out, fmt.Sprintf("the manifest has quantity %d for %s, the job %d", f.Quantity, f.Path, x.quantity))
		}
	}
	return out
}
