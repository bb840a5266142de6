package desk

import (
	"context"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"starwright/cmd/internal/engine"
	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
	"starwright/cmd/internal/release"
)

// packetRoot opens a packet of the folder.
func (f *Folder) packetRoot(name string) (*os.Root, error) {
	if err := packetName(name); err != nil {
		return nil, err
	}
	if err := f.here(); err != nil {
		return nil, err
	}
	info, err := f.root.Lstat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, refuse("there is no packet %s here any more", name)
	}
	if err != nil {
		return nil, f.wrap(name, err)
	}
	if info.Mode()&fs.ModeSymlink != 0 || !info.IsDir() {
		return nil, refuse("%s is a link or a file; the desk opens only packets of its own folder", name)
	}
	root, err := f.root.OpenRoot(name)
	return root, f.wrap(name, err)
}

// Look returns a packet: what its manifest says, what was changed since, and
// with whole its files.
func (f *Folder) Look(name string, whole bool) (packet.Seen, error) {
	root, err := f.packetRoot(name)
	if err != nil {
		return packet.Seen{}, err
	}
	defer root.Close()
	return packet.Look(root, whole)
}

// Make makes the packet of a job in the folder.
func (f *Folder) Make(ctx context.Context, jobFile string, source []byte, force bool, tell packet.Progress) (engine.Packet, error) {
	name := engine.PacketName(jobFile)
	if err := errors.Join(jobName(jobFile), packetName(name), f.here()); err != nil {
		return engine.Packet{}, err
	}
	if info, err := f.root.Lstat(name); err == nil && info.Mode()&fs.ModeSymlink != 0 {
		return engine.Packet{}, refuse("%s is a link; the desk makes packets only in its own folder. Move the link away, or give the job another name", name)
	}
	in := job.Input{Job: job.File{Name: jobFile, Data: source}, Shop: f.Usual}
	if _, err := f.root.Lstat(ShopFile); err == nil {
		shop, err := f.read(ShopFile)
		if err != nil {
			return engine.Packet{}, err
		}
		in.Shop = &job.File{Name: ShopFile, Data: shop}
	}
	w, err := packet.Load(ctx, in, tell)
	if err != nil {
		return engine.Packet{}, err
	}
	made, err := packet.Make(ctx, w, filepath.Join(f.path, name), force)
	if errors.Is(err, release.ErrBusy) {
		return engine.Packet{}, refuse("%s is being made now, by another desk or a command; wait until it is done", name)
	}
	if err != nil {
		var refused *packet.RefusedError
		if errors.As(err, &refused) {
			return engine.Packet{}, err
		}
		return engine.Packet{}, f.wrap(name, err)
	}
	out := engine.AsPacket(name, made.Proofs)
	if made.Kept != "" {
		out.Kept = filepath.Base(made.Kept)
	}
	if made.Released {
		out.Manifest = &made.Manifest
	}
	return out, nil
}

// files are a packet's files in the order of their names.
func files(t packet.Tree) []engine.File {
	var out []engine.File
	for _, p := range slices.Sorted(maps.Keys(t)) {
		out = append(out, engine.File{Name: p, Data: t[p]})
	}
	return out
}
