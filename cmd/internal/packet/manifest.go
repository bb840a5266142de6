package packet

import (
	"encoding/json"
	"fmt"

	"starwright/toolpath/finding"
)

// Format is the version of manifest.json that this program writes.
const Format = 1

// ManifestName is the file that makes a folder a packet.
const ManifestName = "manifest.json"

// Manifest is what a packet says of its files.
type Manifest struct {
	Format    int    `json:"format"`
	Program   string `json:"program"`
	Version   string `json:"version"`
	Job       string `json:"job"` // what people call it
	JobSHA256 string `json:"job_sha256"`
	Files     []File `json:"files"`
}

// File is one file of a packet.
type File struct {
	Path     string          `json:"path"`
	SHA256   string          `json:"sha256"`
	Kind     string          `json:"kind"` // dxf, gcode, picture, sheet, ticket
	Quantity int             `json:"quantity"`
	Use      string          `json:"use,omitempty"`
	Minutes  float64         `json:"minutes,omitempty"`
	Checks   []finding.Check `json:"checks"`
}

// encode returns the manifest as it stands on disk.
func (m Manifest) encode() ([]byte, error) {
	b, err := json.MarshalIndent(m, "", "  ")
	return append(b, '\n'), err
}

// decodeManifest reads a manifest, refusing formats this program cannot know.
func decodeManifest(data []byte) (Manifest, error) {
	var m Manifest
	if err := json.Unmarshal(data, &m); err != nil {
		return m, fmt.Errorf("%s cannot be read: %w", ManifestName, err)
	}
	if m.Format < 1 || m.Format > Format {
		return m, fmt.Errorf("%s has format %d, this program reads formats 1 to %d; make the packet again from its job.toml", ManifestName, m.Format, Format)
	}
	return m, nil
}
