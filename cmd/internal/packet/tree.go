package packet

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"sync"
)

// Tree is a packet in memory: the bytes of each file by its path with slashes.
// It is for where there are no folders, as in a browser.
type Tree map[string][]byte

// growing is a tree that several goroutines write to.
type growing struct {
	mu   sync.Mutex
	tree Tree
}

// Write keeps a copy of a file's bytes, as a disk would.
func (g *growing) Write(path string, data []byte) error {
	if why := pathFault(path); why != "" {
		return fmt.Errorf("%s %s", path, why)
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	if _, twice := g.tree[path]; twice {
		return &fs.PathError{Op: "write", Path: path, Err: fs.ErrExist}
	}
	g.tree[path] = bytes.Clone(data)
	return nil
}

// MakeTree is [Make] in memory: the same files, proven from the bytes that were
// kept. Where a file fails its check the tree is nil.
func MakeTree(ctx context.Context, w *Work) (*Made, Tree, error) {
	g := &growing{tree: Tree{}}
	made, err := w.build(ctx, g, func() (folder, error) { return folder{tree: g.tree}, nil })
	if err != nil || !made.OK() {
		return made, nil, err
	}
	made.Released = true
	return made, g.tree, nil
}

// CheckTree is [Check] of a packet in memory; name is what people call it.
func CheckTree(name string, t Tree, files []string, watch Progress) (*Checked, error) {
	return folder{tree: t}.check(name, Asked{Files: files, Watch: watch})
}

// read returns a file's bytes, with the errors of [folder.read].
func (t Tree) read(name string, most int64) ([]byte, error) {
	if why := pathFault(name); why != "" {
		return nil, &oddFileError{name, why}
	}
	data, there := t[name]
	if !there {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	if int64(len(data)) > most {
		return nil, tooLarge(name, most)
	}
	return data, nil
}

// added returns the files that are not known, at most so many.
func (t Tree) added(known map[string]bool, most int) (out []Change) {
	for _, p := range slices.Sorted(maps.Keys(t)) {
		if !known[p] && len(out) < most {
			out = append(out, Change{Path: p, How: "added"})
		}
	}
	return out
}

// Page returns the back-plot page of what was checked, findings and all.
func (c *Checked) Page() ([]byte, error) { return c.Work.buildPage(c.Proofs) }
