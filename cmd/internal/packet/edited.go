package packet

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Change is a file of a packet that is not as it was made.
type Change struct {
	Path string
	How  string // edited, missing, added
}

// readManifest reads the manifest of a packet folder.
func readManifest(dir string) (Manifest, error) {
	const most = 64 << 20 // bytes; a manifest of a thousand files is a megabyte
	path := filepath.Join(dir, ManifestName)
	info, err := os.Stat(path)
	if err != nil {
		return Manifest{}, err
	}
	if info.Size() > most {
		return Manifest{}, fmt.Errorf("%s is %d MB large, too large for a manifest", ManifestName, info.Size()>>20)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return Manifest{}, err
	}
	return decodeManifest(data)
}

// editedSince returns the files of a packet that were edited, removed or added
// since it was made.
func editedSince(dir string) ([]Change, error) {
	m, err := readManifest(dir)
	if err != nil {
		return nil, err
	}
	known := map[string]bool{ManifestName: true, "job.toml": true}
	var out []Change
	look := func(path, want string) error {
		data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(path)))
		switch {
		case errors.Is(err, fs.ErrNotExist):
			out = append(out, Change{path, "missing"})
		case err != nil:
			return err
		case sum(data) != want:
			out = append(out, Change{path, "edited"})
		}
		return nil
	}
	if err := look("job.toml", m.JobSHA256); err != nil {
		return nil, err
	}
	for _, f := range m.Files {
		if !filepath.IsLocal(f.Path) {
			return nil, fmt.Errorf("%s names %q, which lies outside the packet", ManifestName, f.Path)
		}
		if known[f.Path] {
			continue
		}
		known[f.Path] = true
		if err := look(f.Path, f.SHA256); err != nil {
			return nil, err
		}
	}
	err = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err == nil && !known[filepath.ToSlash(rel)] {
			out = append(out, Change{filepath.ToSlash(rel), "added"})
		}
		return err
	})
	return out, err
}

// describe says in one clause what was changed.
func describe(changes []Change) string {
	const most = 3
	var b strings.Builder
	for i, c := range changes {
		if i == most {
			fmt.Fprintf(&b, " and %d more", len(changes)-most)
			break
		}
		if i > 0 {
			b.WriteString(", ")
		}
		fmt.Fprintf(&b, "%s %s", c.Path, c.How)
	}
	return "changed since it was made: " + b.String()
}
