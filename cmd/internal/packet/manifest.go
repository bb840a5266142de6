package packet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"starwright/cmd/internal/job"
	"starwright/geom/words"
	"starwright/toolpath/finding"
)

// Format is the version of manifest.json that this program writes. It reads
// every one from 1: format 1 has no digest of the manifest itself.
const Format = 2

// ManifestName is the file that makes a folder a packet.
const ManifestName = "manifest.json"

// maxFiles is the most files that a manifest may name; a batch of ten thousand
// stars has some hundred.
const maxFiles = 5000

// maxValues is the most values of all kinds: some fifty for each file.
const maxValues = 60 * maxFiles

// Manifest is what a packet says of its files.
type Manifest struct {
	Format    int    `json:"format"`
	Program   string `json:"program"`
	Version   string `json:"version"`
	Own       string `json:"manifest_sha256,omitempty"` // of this file with zeros for the digits of this value
	Job       string `json:"job"`                       // what people call it
	JobFile   string `json:"job_file,omitempty"`        // its name without the folder; none for the built-in job, and in older packets
	JobSHA256 string `json:"job_sha256"`
	Shop256   string `json:"shop_sha256,omitempty"` // of shop.toml, where the packet has one
	Files     []File `json:"files"`
}

// Count returns how many files the packet has, the manifest among them.
func (m Manifest) Count() int {
	n := len(m.Files) + 2 // job.toml and the manifest
	if m.Shop256 != "" {
		n++
	}
	return n
}

// File is one file of a packet.
type File struct {
	Path     string          `json:"path"`
	SHA256   string          `json:"sha256"`
	Kind     string          `json:"kind"` // dxf, svg, gcode, picture, sheet, ticket
	Quantity int             `json:"quantity"`
	Use      string          `json:"use,omitempty"`
	Minutes  float64         `json:"minutes,omitempty"`
	Checks   []finding.Check `json:"checks"`
}

// noDigest stands for the manifest's own digest while that is worked out.
var noDigest = strings.Repeat("0", 64)

// ownDigest finds the manifest's own digest. Within a text its quotes would
// have a backslash before them.
var ownDigest = words.Pattern(`"manifest_sha256": ?"([0-9a-f]{64})"`)

// encode returns the manifest as it stands on disk.
func (m Manifest) encode() ([]byte, error) {
	if err := m.check(); err != nil {
		return nil, err
	}
	m.Own = noDigest
	b, err := json.MarshalIndent(m, "", "  ")
	if err != nil {
		return nil, err
	}
	b = append(PlainJSON(b), '\n')
	return bytes.Replace(b, []byte(noDigest), []byte(sum(b)), 1), nil
}

// edited reports whether the bytes of a manifest are not those that were
// written. Format 1 cannot tell.
func (m Manifest) edited(data []byte) bool {
	if m.Format < 2 {
		return false
	}
	at := ownDigest().FindSubmatchIndex(data)
	if at == nil {
		return true
	}
	was := string(data[at[2]:at[3]])
	blank := bytes.Clone(data)
	copy(blank[at[2]:at[3]], noDigest)
	return sum(blank) != was
}

// ManifestError says why a manifest cannot be read or believed.
type ManifestError struct{ Why string }

func (e *ManifestError) Error() string { return ManifestName + " " + e.Why }

func badManifest(format string, args ...any) error {
	return &ManifestError{fmt.Sprintf(format, args...)}
}

// decodeManifest reads a manifest, refusing formats this program cannot know
// and paths that no packet may have.
func decodeManifest(data []byte) (Manifest, error) {
	// Values without number take far more memory than room in the file.
	if n := bytes.Count(data, []byte{','}); n > maxValues {
		return Manifest{}, badManifest("has %d values; no packet has more than %d", n, maxValues)
	}
	// The format comes first, for a later one may have anything else.
	var head struct{ Format *int }
	if err := json.Unmarshal(data, &head); err != nil {
		return Manifest{}, badManifest("cannot be read: %v", err)
	}
	const again = "; make the packet again from its job.toml"
	switch f := head.Format; {
	case f == nil:
		return Manifest{}, badManifest("has no format number, so it is not one of starwright's" + again)
	case *f > Format:
		return Manifest{}, badManifest("has format %d, and starwright %s reads formats 1 to %d; use the newer version that wrote it, or make the packet again from its job.toml", *f, Version(), Format)
	case *f < 1:
		return Manifest{}, badManifest("has format %d, which never was; this program reads formats 1 to %d"+again, *f, Format)
	}
	var m Manifest
	if err := json.Unmarshal(data, &m); err != nil {
		return m, badManifest("cannot be read: %v", err)
	}
	return m, m.check()
}

// check says what of a manifest cannot be believed.
func (m Manifest) check() error {
	if len(m.Files) > maxFiles {
		return badManifest("names %d files; no packet has more than %d", len(m.Files), maxFiles)
	}
	seen := map[string]string{"job.toml": "job.toml", job.ShopName: job.ShopName, ManifestName: ManifestName}
	for _, f := range m.Files {
		if why := pathFault(f.Path); why != "" {
			return badManifest("names the file %.80q: this %s", f.Path, why)
		}
		low := strings.ToLower(f.Path) // as some systems do
		if other, twice := seen[low]; twice {
			return badManifest("names %.80q and %.80q, which are one file on some systems", other, f.Path)
		}
		seen[low] = f.Path
	}
	return nil
}
