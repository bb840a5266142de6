package desk

import (
	"context"
	"encoding/json"

	"starwright/cmd/internal/engine"
	"starwright/cmd/internal/packet"
)

// handle carries out one call of the page.
func (f *Folder) handle(ctx context.Context, c engine.Call) (engine.Reply, error) {
	var in struct {
		Name    string `json:"name"`
		Source  string `json:"source"`
		Tag     string `json:"tag"`
		Force   bool   `json:"force"`
		Path    string `json:"path"`
		Dropped int    `json:"dropped"`
		Packet  string `json:"packet"`
	}
	own := func() error {
		if err := json.Unmarshal(c.Args, &in); err != nil {
			return &engine.Fault{Kind: "call", Lines: []string{c.Name + ": " + err.Error()}}
		}
		return nil
	}
	var result any
	var out []engine.File
	var err error
	switch c.Name {
	case "begin":
		result, err = f.Begin(ctx)
	case "list":
		result, err = f.List()
	case "open":
		if err = own(); err == nil {
			result, err = f.Open(in.Name)
		}
	case "save":
		if err = own(); err == nil {
			result, err = f.Save(in.Name, in.Source, in.Tag)
		}
	case "make":
		if err = own(); err == nil {
			result, err = f.Make(ctx, in.Name, []byte(in.Source), in.Force, c.Tell)
		}
	case "packet":
		if err = own(); err == nil {
			result, out, err = f.packet(in.Packet)
		}
	case "zip":
		if err = own(); err == nil {
			out, err = f.zip(in.Packet)
		}
	case "check":
		if err = own(); err == nil {
			return f.check(in.Packet, c)
		}
	default:
		r, err, known := engine.Handle(ctx, c)
		if !known {
			err = &engine.Fault{Kind: "call", Lines: []string{"the desk knows no call of this name"}}
		}
		return r, err
	}
	return engine.Reply{Result: result, Files: out}, err
}

// packet returns a packet with all of its files.
func (f *Folder) packet(name string) (any, []engine.File, error) {
	s, err := f.Look(name, true)
	if err != nil {
		return nil, nil, err
	}
	result := engine.Packet{OK: true, Name: name, Manifest: &s.Manifest, Files: []engine.Proved{}, Changed: append([]packet.Change{}, s.Changes...)}
	return result, files(s.Tree), nil
}

func (f *Folder) zip(name string) ([]engine.File, error) {
	s, err := f.Look(name, true)
	if err != nil {
		return nil, err
	}
	data, err := engine.Zip(name, files(s.Tree))
	return []engine.File{{Name: name + ".zip", Data: data}}, err
}

// check proves a packet of the folder, or one that was dropped whole, with the
// dropped files in the place of its own. It writes nothing.
func (f *Folder) check(name string, c engine.Call) (engine.Reply, error) {
	var base []engine.File
	if name != "" {
		s, err := f.Look(name, true)
		if err != nil {
			return engine.Reply{}, err
		}
		base = files(s.Tree)
	}
	if name == "" {
		name = "packet"
	}
	return engine.CheckFiles(name, base, c.Files, c.Tell)
}
