package packet

import (
	"crypto/sha256"
	"encoding/hex"
	"hash"
	"io"
	"sync"
)

// arriving is a file of a packet that is used while it is still being read. Its
// SHA-256 is taken with the reading, piece by piece as they come, out of the
// processor's cache. A program of a million blocks is judged as it comes in: read
// whole before that, it took a fifth more time.
type arriving struct {
	mu    sync.Mutex
	more  sync.Cond // something was read, or it ended
	text  []byte    // read so far; what stands there is never changed
	size  int       // of the file when it was opened
	ended bool
	err   error // why it ended before the file did
	sum   string
	done  chan struct{} // closed when the sum is known
}

// pieceBytes is how much of a file is read at once: little enough to lie in the
// processor's cache still when its digest is taken.
const pieceBytes = 256 << 10

// arrive opens a file of the packet and begins to read it. It has the errors of
// [folder.open] and [folder.read].
func (f folder) arrive(name string, most int64) (*arriving, error) {
	if f.ended != nil && f.ended() != nil {
		return nil, f.ended()
	}
	if a := f.begun[name]; a != nil {
		return a, nil
	}
	if f.root == nil {
		data, err := f.tree.read(name, most)
		if err != nil {
			return nil, err
		}
		a := arrived(data)
		go func() { a.sum = sum(data); close(a.done) }()
		return a, nil
	}
	file, size, err := f.open(name, most)
	if err != nil {
		return nil, err
	}
	a := arrived(nil)
	a.size, a.ended = int(size), false
	go func() {
		defer close(a.done)
		defer file.Close()
		h := sha256.New()
		a.take(io.LimitReader(file, most), h)
		a.sum = hex.EncodeToString(h.Sum(nil))
	}()
	return a, nil
}

// begun are files that are read before anybody needs them, by their paths.
type begun map[string]*arriving

// begin begins to read the files that a check is asked for, while the job is still
// worked out. What cannot be opened is left to [folder.arrive], which says why.
func (f folder) begin(dir string, files []string) begun {
	b := begun{}
	for _, name := range files {
		for _, path := range pathsOf(dir, name) {
			if b[path] != nil {
				break
			}
			if a, err := f.arrive(path, maxFileBytes); err == nil {
				b[path] = a
				break
			}
		}
	}
	return b
}

// settle waits until none of them is read any more.
func (b begun) settle() {
	for _, a := range b {
		a.digest()
	}
}

// arrived is a text all of which is there.
func arrived(text []byte) *arriving {
	a := &arriving{text: text, size: len(text), ended: true, done: make(chan struct{})}
	a.more.L = &a.mu
	return a
}

// take reads r to its end.
func (a *arriving) take(r io.Reader, h hash.Hash) {
	text := make([]byte, 0, a.size+1) // and one to see the end
	for {
		if len(text) == cap(text) { // it grew meanwhile
			text = append(text, 0)[:len(text)]
		}
		at := len(text)
		n, err := r.Read(text[at:min(cap(text), at+pieceBytes)])
		text = text[:at+n]
		a.mu.Lock()
		a.text = text
		if err != nil {
			a.ended = true
			if err != io.EOF {
				a.err = err
			}
		}
		a.mu.Unlock()
		a.more.Broadcast()
		h.Write(text[at:])
		if err != nil {
			return
		}
	}
}

// soFar returns what was read up to now.
func (a *arriving) soFar() []byte {
	a.mu.Lock()
	defer a.mu.Unlock()
	return a.text
}

// beyond waits until more than n bytes were read and returns all of them; where
// there are no more it returns the reason.
func (a *arriving) beyond(n int) ([]byte, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	for len(a.text) <= n && !a.ended {
		a.more.Wait()
	}
	switch {
	case len(a.text) > n:
		return a.text, nil
	case a.err != nil:
		return nil, a.err
	}
	return nil, io.EOF
}

// whole waits for all of the file and returns it.
func (a *arriving) whole() ([]byte, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	for !a.ended {
		a.more.Wait()
	}
	return a.text, a.err
}

// digest waits for the file's SHA-256.
func (a *arriving) digest() string {
	<-a.done
	return a.sum
}

// reader reads the file from its beginning, as it comes.
func (a *arriving) reader() io.Reader { return &arrivingReader{a: a} }

type arrivingReader struct {
	a    *arriving
	text []byte // read from the file
	at   int    // given out of that
}

func (r *arrivingReader) Read(p []byte) (int, error) {
	if r.at == len(r.text) {
		text, err := r.a.beyond(r.at)
		if err != nil {
			return 0, err
		}
		r.text = text
	}
	n := copy(p, r.text[r.at:])
	r.at += n
	return n, nil
}

func sum(data []byte) string {
	h := sha256.Sum256(data)
	return hex.EncodeToString(h[:])
}
