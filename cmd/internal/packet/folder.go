package packet

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"strings"
)

// The largest files of a packet that are read, in bytes; what make writes is
// far below.
const (
	maxJobBytes      = 1 << 20   // a job of every key there is has a few thousand
	maxManifestBytes = 8 << 20   // that of a hundred files has a hundred thousand
	maxFileBytes     = 256 << 20 // ten million blocks of a program
)

// folder is a packet folder opened for reading. What lies outside of it cannot
// be reached through it, whatever a manifest says and whatever links are in it.
// It may also be a packet in memory.
type folder struct {
	root  *os.Root
	tree  Tree         // instead of root
	ended func() error // why nothing more is read, nil while it is; may be nil
	begun begun        // files that are being read already
}

func openFolder(dir string) (folder, error) {
	root, err := os.OpenRoot(dir)
	return folder{root: root}, err
}

func (f folder) close() {
	if f.root != nil {
		f.root.Close()
	}
}

// standsAt reports whether the folder still is the one of that path.
func (f folder) standsAt(dir string) bool {
	ours, err := f.root.Stat(".")
	if err != nil {
		return false
	}
	there, err := os.Stat(dir)
	return err == nil && os.SameFile(ours, there)
}

// oddFileError says that something in a packet is not a file that can be read:
// a link, a folder, a pipe, or larger than any packet's.
type oddFileError struct{ path, why string }

func (e *oddFileError) Error() string { return e.path + ": " + e.why }

// open opens a file of the packet by its path with slashes and returns its
// size. A file that is missing gives fs.ErrNotExist, one that is no plain file
// or holds more than most bytes an oddFileError.
func (f folder) open(name string, most int64) (*os.File, int64, error) {
	if why := pathFault(name); why != "" {
		return nil, 0, &oddFileError{name, why}
	}
	for at := 0; at < len(name); { // no part of the way may be a link
		n := strings.IndexByte(name[at:], '/')
		if n < 0 {
			n = len(name) - at
		}
		at += n
		info, err := f.root.Lstat(name[:at])
		if err != nil {
			return nil, 0, err
		}
		if why := oddKind(info.Mode(), at == len(name)); why != "" {
			return nil, 0, &oddFileError{name[:at], why}
		}
		at++
	}
	file, err := f.root.Open(name)
	if err != nil {
		return nil, 0, err
	}
	info, err := file.Stat()
	if err == nil && info.Size() > most {
		file.Close()
		return nil, 0, tooLarge(name, most)
	}
	if err != nil {
		file.Close()
		return nil, 0, err
	}
	return file, info.Size(), nil
}

// tooLarge says that a file is larger than is read. Its own size in whole megabytes may
// be the limit's, so it is not told.
func tooLarge(name string, most int64) error {
	return &oddFileError{name, fmt.Sprintf("is larger than %d MB, and no file of its kind in a packet is", most>>20)}
}

// read returns what is in a file that open opens.
func (f folder) read(name string, most int64) ([]byte, error) {
	if f.ended != nil && f.ended() != nil {
		return nil, f.ended()
	}
	if f.root == nil {
		return f.tree.read(name, most)
	}
	file, size, err := f.open(name, most)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return appendAll(make([]byte, 0, size+1), io.LimitReader(file, most))
}

// digest returns the SHA-256 of a file that open opens, in hexadecimal.
func (f folder) digest(name string) (string, error) {
	if f.root == nil {
		data, err := f.tree.read(name, maxFileBytes)
		return sum(data), err
	}
	file, _, err := f.open(name, maxFileBytes)
	if err != nil {
		return "", err
	}
	defer file.Close()
	h := sha256.New()
	if _, err := io.Copy(h, file); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}

// appendAll reads r to its end.
func appendAll(data []byte, r io.Reader) ([]byte, error) {
	for {
		n, err := r.Read(data[len(data):cap(data)])
		data = data[:len(data)+n]
		if err == io.EOF {
			return data, nil
		}
		if err != nil {
			return nil, err
		}
		if len(data) == cap(data) {
			data = append(data, 0)[:len(data)]
		}
	}
}

// oddKind says why something is not a plain file, or before the last part of
// a path not a folder.
func oddKind(mode fs.FileMode, last bool) string {
	switch {
	case mode&fs.ModeSymlink != 0:
		return "is a link; a packet holds its files themselves"
	case last && mode.IsDir():
		return "is a folder where a file should be"
	case last && !mode.IsRegular():
		return "is a device or pipe, not a file"
	case !last && !mode.IsDir():
		return "is a file where a folder should be"
	}
	return ""
}

// odd returns what is odd about a file that could not be read, "" where it is
// another error.
func odd(err error) string {
	var o *oddFileError
	if errors.As(err, &o) {
		return o.Error()
	}
	return ""
}

// pathFault says why a path is none that a packet may hold: only plain names
// below the packet that mean the same on every system.
func pathFault(p string) string {
	const longest = 200 // bytes
	switch {
	case p == "" || len(p) > longest:
		return fmt.Sprintf("is not a path of 1 to %d letters", longest)
	case strings.Trim(p, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./") != "":
		return "has a sign other than letters, digits, - _ . and /"
	case path.Clean(p) != p || p[0] == '/' || p == "." || p == ".." || strings.HasPrefix(p, "../"):
		return "lies outside the packet, or is no plain path"
	}
	for _, part := range strings.Split(p, "/") {
		if why, _ := NameFault(part); why != "" {
			return why
		}
	}
	return ""
}
