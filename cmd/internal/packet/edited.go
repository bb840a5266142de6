package packet

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"strings"

	"starwright/cmd/internal/job"
)

// Change is a file of a packet that is not as it was made.
type Change struct {
	Path string `json:"path"`
	How  string `json:"how"` // edited, missing, added

	fails  bool
	folder bool // it is an empty folder
}

// Fails reports whether the check fails for the change itself, which then is
// among the findings; other changes are judged by what the files now do.
func (c Change) Fails() bool { return c.fails }

// maxChanges is how many changes a check names; nobody reads more.
const maxChanges = 1000

// asMade is what the manifest of a packet says of its files.
type asMade struct {
	Manifest
	touched bool // the manifest itself is not as it was made
}

// readManifest reads the manifest of a packet folder.
func (f folder) readManifest() (asMade, error) {
	data, err := f.read(ManifestName, maxManifestBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return asMade{}, badManifest("is missing, so nobody can tell what was edited since the packet was made")
	}
	if why := odd(err); why != "" {
		return asMade{}, badManifest("cannot be read: %s", why)
	}
	if err != nil {
		return asMade{}, err
	}
	m, err := decodeManifest(data)
	return asMade{m, m.edited(data)}, err
}

// sums returns the SHA-256 of each file as it was released.
func (r asMade) sums() map[string]string {
	sums := make(map[string]string, len(r.Files))
	for _, one := range r.Files {
		sums[one.Path] = one.SHA256
	}
	return sums
}

// editedSince returns the files of a packet that were edited, removed or added
// since it was made, its manifest among them, and what the manifest says.
func editedSince(dir string) ([]Change, Manifest, error) {
	f, err := openFolder(dir)
	if err != nil {
		return nil, Manifest{}, err
	}
	defer f.close()
	made, err := f.readManifest()
	if err != nil {
		return nil, Manifest{}, err
	}
	changes, err := f.edited(made, nil)
	return changes, made.Manifest, err
}

// digestsBeside works out, beside other work, the SHA-256 of the files that the
// manifest names and that are not among those proven; of none where all are. What
// cannot be read is left out.
func (f folder) digestsBeside(m asMade, proven map[string]bool) <-chan map[string]string {
	done := make(chan map[string]string, 1)
	sums := map[string]string{}
	if proven == nil {
		done <- sums
		return done
	}
	go func() {
		for _, one := range m.Files {
			if proven[one.Path] {
				continue
			}
			if sum, err := f.digest(one.Path); err == nil {
				sums[one.Path] = sum
			}
		}
		done <- sums
	}()
	return done
}

// edited is [editedSince] of an open folder; sums has the SHA-256 of files that
// were read already.
func (f folder) edited(m asMade, sums map[string]string) ([]Change, error) {
	var out []Change
	if m.touched {
		out = append(out, Change{Path: ManifestName, How: "edited"})
	}
	known := map[string]bool{".": true, ManifestName: true}
	sources := []File{{Path: "job.toml", SHA256: m.JobSHA256}}
	if m.Shop256 != "" {
		sources = append(sources, File{Path: job.ShopName, SHA256: m.Shop256})
	}
	for _, one := range append(sources, m.Files...) {
		for p := one.Path; !known[p]; p = path.Dir(p) {
			known[p] = true
		}
		how, err := f.compare(one, sums[one.Path])
		if err != nil {
			return nil, err
		}
		if how != "" && len(out) < maxChanges {
			out = append(out, Change{Path: one.Path, How: how})
		}
	}
	added, err := f.added(known, maxChanges-len(out))
	return append(out, added...), err
}

// compare says how a file differs from what the manifest says, "" where it is
// the same. is is the file's SHA-256 where that is known, else it is worked out.
func (f folder) compare(one File, is string) (how string, err error) {
	if is == "" {
		is, err = f.digest(one.Path)
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "missing", nil
	case odd(err) != "":
		return "edited", nil
	case err != nil:
		return "", err
	case is != one.SHA256:
		return "edited", nil
	}
	return "", nil
}

// added returns the files and empty folders that are not known, at most so many.
func (f folder) added(known map[string]bool, most int) (out []Change, err error) {
	if f.root == nil {
		return f.tree.added(known, most), nil
	}
	err = fs.WalkDir(f.root.FS(), ".", func(p string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case known[p]:
			return nil
		case len(out) >= most:
			return fs.SkipAll
		}
		if d.IsDir() && !empty(f.root.FS(), p) {
			return nil // its files are reported, one by one
		}
		out = append(out, Change{Path: p, How: "added", folder: d.IsDir()})
		return nil
	})
	return out, err
}

// empty reports whether a folder has nothing in it.
func empty(f fs.FS, name string) bool {
	entries, err := fs.ReadDir(f, name)
	return err != nil || len(entries) == 0
}

// worthKeeping reports whether a folder that a packet has replaced holds
// anything that cannot be made again.
func worthKeeping(dir string) bool {
	if entries, err := os.ReadDir(dir); err == nil && len(entries) == 0 {
		return false
	}
	changed, _, err := editedSince(dir)
	return err != nil || len(changed) > 0
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
