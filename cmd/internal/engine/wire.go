package engine

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"starwright/cmd/internal/packet"
)

// File is a file that travels with a call or a reply.
type File struct {
	Name string
	Data []byte
}

// Call is one thing that the page wants done.
type Call struct {
	Name  string
	Args  json.RawMessage
	Files []File
	Tell  packet.Progress // told how far it is; may be nil
}

// Reply is what came of a call.
type Reply struct {
	Result any // written as JSON
	Files  []File
}

// Fault is a call that could not be carried out, in words for the person at
// the page, one sentence a line.
type Fault struct {
	Kind  string   `json:"kind"` // "job", "refused", "io", "call", "gone"
	Lines []string `json:"lines"`
}

func (f *Fault) Error() string { return fmt.Sprint(f.Lines) }

// Bounds of a call, bytes.
const (
	MaxHead  = 3 << 20  // its line of JSON: a job of 1 MB, escaped
	MaxFiles = 64 << 20 // its files together
)

// head is the first line of a call. The files' bytes follow it.
type head struct {
	Call  string          `json:"call"`
	Args  json.RawMessage `json:"args"`
	Files []entry         `json:"files"`
}

type entry struct {
	Name string `json:"name"`
	Size int64  `json:"size"`
}

// errLarge says that a call is larger than any that the page makes.
var errLarge = &Fault{Kind: "call", Lines: []string{"this is more than the desk takes at once: a job file has at most 1 MB, files to check 64 MB together"}}

// ReadCall reads one call: a line of JSON, then the bytes of its files.
func ReadCall(r io.Reader) (Call, error) {
	b := bufio.NewReaderSize(io.LimitReader(r, MaxHead+MaxFiles), 1<<16)
	line, err := readLine(b, MaxHead)
	if err != nil {
		return Call{}, err
	}
	var h head
	if err := json.Unmarshal(line, &h); err != nil {
		return Call{}, &Fault{Kind: "call", Lines: []string{"the page sent something that is no call: " + err.Error()}}
	}
	c := Call{Name: h.Call, Args: h.Args}
	left := int64(MaxFiles)
	for _, f := range h.Files {
		if left -= f.Size; f.Size < 0 || left < 0 {
			return Call{}, errLarge
		}
		data := make([]byte, f.Size)
		if _, err := io.ReadFull(b, data); err != nil {
			return Call{}, &Fault{Kind: "call", Lines: []string{f.Name + ": the file did not arrive whole; drop it again"}}
		}
		c.Files = append(c.Files, File{f.Name, data})
	}
	return c, nil
}

// readLine reads a line of at most so many bytes, without its end.
func readLine(b *bufio.Reader, most int) ([]byte, error) {
	var line []byte
	for {
		part, err := b.ReadSlice('\n')
		line = append(line, part...)
		switch {
		case len(line) > most:
			return nil, errLarge
		case err == nil, errors.Is(err, io.EOF):
			return bytes.TrimSuffix(line, []byte("\n")), nil
		case !errors.Is(err, bufio.ErrBufferFull):
			return nil, err
		}
	}
}

// WriteProgress writes how far a call is, on a line of its own before the reply.
func WriteProgress(w io.Writer, what string, done, total int) error {
	return writeLine(w, map[string]any{"progress": map[string]any{"what": what, "done": done, "total": total}})
}

// WriteReply writes a reply, or the error in its place.
func WriteReply(w io.Writer, r Reply, err error) error {
	if err != nil {
		return writeLine(w, map[string]any{"ok": false, "error": AsFault(err)})
	}
	files := []entry{}
	for _, f := range r.Files {
		files = append(files, entry{f.Name, int64(len(f.Data))})
	}
	if err := writeLine(w, map[string]any{"ok": true, "result": r.Result, "files": files}); err != nil {
		return err
	}
	for _, f := range r.Files {
		if _, err := w.Write(f.Data); err != nil {
			return err
		}
	}
	return nil
}

// writeLine writes a value as one line of JSON.
func writeLine(w io.Writer, v any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
	return err
}
