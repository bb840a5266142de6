package packet

import (
	"path"
	"path/filepath"
	"strings"

	"starwright/cmd/internal/job"
)

// NameFor returns the name of the packet that a job file makes where nobody
// names one: porch-packet for porch.toml, packet for the built-in job.
func NameFor(jobName string) string {
	if jobName == job.BuiltInName {
		return "packet"
	}
	return strings.TrimSuffix(fileOf(jobName), ".toml") + "-packet"
}

// fileOf returns the name of a job file without its folder, "" for the built-in
// job.
func fileOf(jobName string) string {
	if jobName == job.BuiltInName {
		return ""
	}
	return path.Base(filepath.ToSlash(jobName))
}

// whose says which job a packet was made from, where that is another than w's:
// one of another file name and other content. It is "" for w's own packets and
// for those that do not say, as older ones.
func (w *Work) whose(m Manifest) string {
	if m.JobFile == "" || m.JobFile == fileOf(w.Job.Name) || m.JobSHA256 == sum(w.Source) {
		return ""
	}
	return m.JobFile
}

// worthKeeping reports whether a folder that this job's packet replaces holds
// anything that cannot be made again: the packet of another job, for its job
// file may be gone, or what somebody edited.
func (w *Work) worthKeeping(dir string) bool {
	if f, err := openFolder(dir); err == nil {
		made, err := f.readManifest()
		f.close()
		if err == nil && w.whose(made.Manifest) != "" {
			return true
		}
	}
	return worthKeeping(dir)
}
