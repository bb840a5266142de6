package desk

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"unicode/utf8"

	"starwright/cmd/internal/engine"
	"starwright/cmd/internal/job"
	"starwright/cmd/internal/packet"
)

// maxJob is the largest job file, bytes.
const maxJob = 1 << 20

// Folder is the folder that a desk works in.
type Folder struct {
	path string // absolute
	root *os.Root

	// Usual is the shop's file that is taken where the folder has none, as the
	// commands do; nil without one. The desk reads it and never writes it.
	Usual *job.File
}

// OpenFolder opens a folder for a desk.
func OpenFolder(path string) (*Folder, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	root, err := os.OpenRoot(abs)
	if err != nil {
		return nil, err
	}
	return &Folder{path: abs, root: root}, nil
}

// Close lets go of the folder.
func (f *Folder) Close() error { return f.root.Close() }

// here makes sure that the folder still stands where it was.
func (f *Folder) here() error {
	ours, err := f.root.Stat(".")
	if err == nil {
		var there fs.FileInfo
		if there, err = os.Stat(f.path); err == nil && os.SameFile(ours, there) {
			return nil
		}
	}
	return &engine.Fault{Kind: "io", Lines: []string{"The folder " + f.path + " was moved or removed. What you typed is still on this page: save it to a file, or put the folder back."}}
}

// tag marks the bytes of a file, so that a change by another program shows.
func tag(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// Listing is what stands in the folder.
type Listing struct {
	Folder  string   `json:"folder"`
	Jobs    []string `json:"jobs"`
	Packets []string `json:"packets"`
	Shop    bool     `json:"shop"`
	// Usual is the shop's file of the user, which serves where the folder has none.
	Usual *Opened `json:"usual_shop,omitempty"`
}

// List returns job files and packets of the folder.
func (f *Folder) List() (Listing, error) {
	const most = 1000 // of each
	l := Listing{Folder: f.path, Jobs: []string{}, Packets: []string{}}
	if f.Usual != nil {
		l.Usual = &Opened{Name: f.Usual.Name, Source: string(f.Usual.Data)}
	}
	if err := f.here(); err != nil {
		return l, err
	}
	entries, err := fs.ReadDir(f.root.FS(), ".")
	if err != nil {
		return l, f.wrap(".", err)
	}
	for _, e := range entries {
		switch name := e.Name(); {
		case e.Type().IsRegular() && name == ShopFile:
			l.Shop = true
		case e.Type().IsRegular() && jobName(name) == nil && len(l.Jobs) < most:
			l.Jobs = append(l.Jobs, name)
		case e.IsDir() && packetName(name) == nil && len(l.Packets) < most:
			if info, err := f.root.Lstat(filepath.Join(name, packet.ManifestName)); err == nil && info.Mode().IsRegular() {
				l.Packets = append(l.Packets, name)
			}
		}
	}
	return l, nil
}

// Opened is a file as it was read.
type Opened struct {
	Name   string `json:"name"`
	Source string `json:"source"`
	Tag    string `json:"tag"`
}

// Open reads a job file or the shop file.
func (f *Folder) Open(name string) (Opened, error) {
	if err := jobName(name); err != nil {
		return Opened{}, err
	}
	if err := f.here(); err != nil {
		return Opened{}, err
	}
	data, err := f.read(name)
	if err != nil {
		return Opened{}, err
	}
	if !utf8.Valid(data) {
		return Opened{}, refuse("%s is not UTF-8 text; save it as UTF-8 with your editor first", name)
	}
	return Opened{name, string(data), tag(data)}, nil
}

// read returns a plain file's bytes. The name has been looked at.
func (f *Folder) read(name string) ([]byte, error) {
	info, err := f.root.Lstat(name)
	if err != nil {
		return nil, f.wrap(name, err)
	}
	switch {
	case info.Mode()&fs.ModeSymlink != 0:
		return nil, refuse("%s is a link; the desk opens only files of its own folder", name)
	case !info.Mode().IsRegular():
		return nil, refuse("%s is not a file", name)
	}
	file, err := f.root.Open(name)
	if err != nil {
		return nil, f.wrap(name, err)
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, maxJob+1))
	if err != nil {
		return nil, f.wrap(name, err)
	}
	if len(data) > maxJob {
		return nil, refuse("%s is too large for a job file, which has at most 1 MB", name)
	}
	return data, nil
}

// wrap words an error of the disk.
func (f *Folder) wrap(name string, err error) error {
	var fault *engine.Fault
	if err == nil || errors.As(err, &fault) {
		return err
	}
	what := err.Error()
	switch {
	case errors.Is(err, syscall.ENOSPC):
		what = "there is no room left on this disk, so nothing was changed. Make room, then save again"
	case errors.Is(err, fs.ErrNotExist):
		what = "there is no such file any more"
	case errors.Is(err, fs.ErrPermission):
		what = "you may not read or write here, so nothing was changed"
	default:
		what = strings.TrimPrefix(what, "openat ")
	}
	return &engine.Fault{Kind: "io", Lines: []string{name + ": " + what}}
}
