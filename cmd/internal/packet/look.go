package packet

import (
	"errors"
	"io/fs"
	"os"
)

// Seen is a packet in a folder as it is now.
type Seen struct {
	Manifest Manifest
	Changes  []Change // since it was made
	Tree     Tree     // its files that the manifest names and that are there, and the manifest
}

// Look reads a packet whose folder is open, all of its files or, without whole,
// only what its manifest says.
func Look(root *os.Root, whole bool) (Seen, error) {
	f := folder{root: root}
	made, err := f.readManifest()
	if err != nil || !whole {
		return Seen{Manifest: made.Manifest}, err
	}
	s := Seen{Manifest: made.Manifest, Tree: Tree{}}
	if s.Changes, err = f.edited(made, nil); err != nil {
		return s, err
	}
	names := []string{"job.toml", "shop.toml", ManifestName}
	for _, one := range made.Files {
		names = append(names, one.Path)
	}
	for _, p := range names {
		data, err := f.read(p, maxFileBytes)
		if errors.Is(err, fs.ErrNotExist) || odd(err) != "" {
			continue // stands among the changes
		}
		if err != nil {
			return s, err
		}
		s.Tree[p] = data
	}
	return s, nil
}
