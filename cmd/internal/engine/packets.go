package engine

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"io"
	"maps"
	"path"
	"slices"
	"strings"

	"starwright/cmd/internal/packet"
	"starwright/toolpath/finding"
)

// Packet is what the page shows of a packet that was made or checked.
type Packet struct {
	OK       bool              `json:"ok"`
	Name     string            `json:"name"`
	Kept     string            `json:"kept,omitempty"`
	Files    []Proved          `json:"files"`
	Findings []finding.Finding `json:"findings"`
	Notes    []finding.Finding `json:"notes"`
	Changed  []packet.Change   `json:"changed"`
	Manifest *packet.Manifest  `json:"manifest,omitempty"`
}

// Proved is one file's proof.
type Proved struct {
	Path   string          `json:"path"`
	OK     bool            `json:"ok"`
	Checks []finding.Check `json:"checks"`
}

// AsPacket collects proofs for the page.
func AsPacket(name string, proofs []packet.Proof) Packet {
	p := Packet{OK: true, Name: name, Files: []Proved{}, Findings: []finding.Finding{}, Notes: []finding.Finding{}, Changed: []packet.Change{}}
	for i := range proofs {
		one := &proofs[i]
		p.OK = p.OK && one.OK()
		p.Files = append(p.Files, Proved{one.Path, one.OK(), append([]finding.Check{}, one.Checks...)})
		p.Findings = append(p.Findings, one.Findings...)
		p.Notes = append(p.Notes, one.Notes...)
	}
	return p
}

// makePacket makes a packet in memory; its files are the reply's.
func makePacket(ctx context.Context, c Call) (Reply, error) {
	w, j, err := worked(ctx, c)
	if err != nil {
		return Reply{}, err
	}
	made, tree, err := packet.MakeTree(ctx, w)
	if err != nil {
		return Reply{}, err
	}
	out := AsPacket(PacketName(j.Name), made.Proofs)
	if made.Released {
		out.Manifest = &made.Manifest
	}
	return Reply{out, treeFiles(tree)}, nil
}

// PacketName is what the packet of a job file is called.
func PacketName(jobFile string) string {
	return packet.NameFor(jobFile)
}

// treeFiles are the files of a packet in the order of their names.
func treeFiles(t packet.Tree) []File {
	var out []File
	for _, p := range slices.Sorted(maps.Keys(t)) {
		out = append(out, File{p, t[p]})
	}
	return out
}

// check proves a packet in memory: the packet's files, then those that were
// dropped and take the place of the file of the same name.
func check(ctx context.Context, c Call) (Reply, error) {
	var in struct {
		Name    string `json:"name"`
		Dropped int    `json:"dropped"` // how many of the files, from the end, were dropped
	}
	if err := arguments(c, &in); err != nil {
		return Reply{}, err
	}
	n := len(c.Files) - in.Dropped
	if in.Dropped < 0 || n < 0 {
		return Reply{}, &Fault{Kind: "call", Lines: []string{"check: more files were dropped than came"}}
	}
	return CheckFiles(in.Name, c.Files[:n], c.Files[n:], c.Tell)
}

// backplot is the page that plays a packet's programs.
const backplot = "pictures/backplot.html"

// CheckFiles proves a packet's files with others in their place. The reply has
// them all, with a back-plot page of what was found.
func CheckFiles(name string, base, dropped []File, tell packet.Progress) (Reply, error) {
	tree := packet.Tree{}
	for _, f := range base {
		tree[f.Name] = f.Data
	}
	if err := lay(tree, dropped); err != nil {
		return Reply{}, err
	}
	if _, ok := tree["job.toml"]; !ok {
		return Reply{}, &Fault{Kind: "refused", Lines: []string{"these files are no packet, for there is no job.toml with them. Drop the packet's zip first, or make the packet"}}
	}
	checked, err := packet.CheckTree(name, tree, nil, tell)
	if err != nil {
		return Reply{}, err
	}
	out := AsPacket(name, checked.Proofs)
	out.Changed = append(out.Changed, checked.Changes...)
	page, err := checked.Page()
	if err != nil {
		return Reply{}, err
	}
	tree[backplot] = page
	return Reply{out, treeFiles(tree)}, nil
}

// lay puts dropped files into a packet: a zip is opened, a file takes the place
// of the one of the same name.
func lay(tree packet.Tree, dropped []File) error {
	for _, f := range dropped {
		if strings.HasSuffix(strings.ToLower(f.Name), ".zip") {
			inside, err := Unzip(f.Data)
			if err != nil {
				return &Fault{Kind: "refused", Lines: []string{f.Name + ": " + err.Error()}}
			}
			clear(tree)
			maps.Copy(tree, inside)
			continue
		}
		at := placeOf(tree, f.Name)
		if at == "" {
			return &Fault{Kind: "refused", Lines: []string{f.Name + ": the packet has no file of this name"}}
		}
		tree[at] = f.Data
	}
	return nil
}

// placeOf finds the packet's file that a dropped one stands for.
func placeOf(tree packet.Tree, name string) string {
	name = strings.ReplaceAll(name, `\`, "/")
	if _, ok := tree[name]; ok {
		return name
	}
	at := ""
	for p := range tree {
		if path.Base(p) == path.Base(name) && (at == "" || p < at) {
			at = p
		}
	}
	return at
}

// Zip packs a packet, each file below a folder of the packet's name. The same
// packet gives the same bytes.
func Zip(name string, files []File) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		w, err := z.CreateHeader(&zip.FileHeader{Name: name + "/" + f.Name, Method: zip.Deflate})
		if err != nil {
			return nil, err
		}
		if _, err := w.Write(f.Data); err != nil {
			return nil, err
		}
	}
	err := z.Close()
	return b.Bytes(), err
}

// The most that a zip may hold.
const (
	maxZipFiles = 6000
	maxZipBytes = 512 << 20
)

// Unzip reads a packet's zip. Where all stands in one folder, that is left out
// of the paths.
func Unzip(data []byte) (packet.Tree, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("this zip cannot be read; zip the packet's folder again")
	}
	if len(z.File) > maxZipFiles {
		return nil, fmt.Errorf("this zip has %d files; no packet has more than %d", len(z.File), maxZipFiles)
	}
	tree := packet.Tree{}
	left := int64(maxZipBytes)
	for _, f := range z.File {
		if strings.HasSuffix(f.Name, "/") {
			continue
		}
		r, err := f.Open()
		if err != nil {
			return nil, fmt.Errorf("%s cannot be unpacked: %v", f.Name, err)
		}
		data, err := io.ReadAll(io.LimitReader(r, left+1))
		r.Close()
		if left -= int64(len(data)); err != nil || left < 0 {
			return nil, fmt.Errorf("%s cannot be unpacked, or the zip holds more than %d MB", f.Name, maxZipBytes>>20)
		}
		tree[f.Name] = data
	}
	return within(tree), nil
}

// within leaves out the one folder in which all files stand.
func within(tree packet.Tree) packet.Tree {
	folder := ""
	for p := range tree {
		if path.Base(p) == packet.ManifestName && (folder == "" || len(p) < len(folder)) {
			folder = strings.TrimSuffix(p, packet.ManifestName)
		}
	}
	if folder == "" {
		return tree
	}
	out := packet.Tree{}
	for p, data := range tree {
		if rest, ok := strings.CutPrefix(p, folder); ok {
			out[rest] = data
		}
	}
	return out
}
