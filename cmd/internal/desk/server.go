package desk

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"

	"starwright/cmd/internal/deskpage"
	"starwright/cmd/internal/engine"
)

// Server is a desk that is open.
type Server struct {
	folder *Folder
	key    string
	listen net.Listener
	http   *http.Server
}

// Open opens a desk on a folder. port is 0 for any that is free.
func Open(folder *Folder, port int) (*Server, error) {
	l, err := net.Listen("tcp4", fmt.Sprintf("127.0.0.1:%d", port))
	if err != nil {
		return nil, err
	}
	s := &Server{folder: folder, key: rand.Text(), listen: l}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /", s.page)
	mux.HandleFunc("POST /call", s.call)
	s.http = &http.Server{
		Handler:           newGuard(s.port(), s.key, mux),
		ReadHeaderTimeout: 10 * time.Second,
		MaxHeaderBytes:    16 << 10,
	}
	return s, nil
}

func (s *Server) port() int { return s.listen.Addr().(*net.TCPAddr).Port }

// Address is what the browser has to open; the key in its fragment never
// travels with a request for a page.
func (s *Server) Address() string { return fmt.Sprintf("http://127.0.0.1:%d/#%s", s.port(), s.key) }

// Serve serves until the context ends; calls that run then are let go.
func (s *Server) Serve(ctx context.Context) error {
	s.http.BaseContext = func(net.Listener) context.Context { return ctx }
	go s.warm(ctx)
	gone := make(chan struct{})
	go func() {
		defer close(gone)
		<-ctx.Done()
		const patience = 2 * time.Second // for a packet that is being swapped in
		late, cancel := context.WithTimeout(context.Background(), patience)
		defer cancel()
		if s.http.Shutdown(late) != nil {
			s.http.Close()
		}
	}()
	err := s.http.Serve(s.listen)
	if errors.Is(err, http.ErrServerClosed) {
		<-gone
		return nil
	}
	return err
}

// warm has everything ready that the page's first questions need, while the browser
// opens: the policy, the script, and what is worked out once for all drawings.
func (s *Server) warm(ctx context.Context) {
	deskpage.Policy()
	deskpage.Asset(deskpage.Joined)
	s.folder.Begin(ctx)
}

// page serves the page and its parts.
func (s *Server) page(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(r.URL.Path, "/")
	data, kind, ok := deskpage.Asset(name)
	if name == "" {
		page, err := deskpage.Page()
		data, kind, ok = page, "text/html; charset=utf-8", err == nil
	}
	if !ok {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Content-Length", strconv.Itoa(len(data)))
	w.Header().Set("Content-Security-Policy", deskpage.Policy())
	w.Write(data)
}

// call carries out one call. Lines with how far it is come before the reply.
func (s *Server) call(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, engine.MaxHead+engine.MaxFiles)
	w.Header().Set("Content-Type", "application/octet-stream")
	c, err := engine.ReadCall(r.Body)
	if err != nil {
		w.WriteHeader(http.StatusBadRequest)
		engine.WriteReply(w, engine.Reply{}, err)
		return
	}
	t := &teller{w: w}
	c.Tell = t.tell
	reply, err := s.folder.handle(r.Context(), c)
	if t.end() {
		engine.WriteReply(w, reply, err)
		return
	}
	// A reply of known length goes out in one piece, and the browser takes it in one.
	var b bytes.Buffer
	engine.WriteReply(&b, reply, err)
	w.Header().Set("Content-Length", strconv.Itoa(b.Len()))
	w.Write(b.Bytes())
}

// teller writes how far a call is, now and then.
type teller struct {
	mu   sync.Mutex
	w    http.ResponseWriter
	last time.Time
	told bool
	done bool
}

func (t *teller) tell(what string, done, total int) {
	const often = 100 * time.Millisecond
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.done || time.Since(t.last) < often {
		return
	}
	t.last, t.told = time.Now(), true
	if engine.WriteProgress(t.w, what, done, total) == nil {
		http.NewResponseController(t.w).Flush()
	}
}

// end waits for the message that is on its way; none goes out after it. told
// reports whether one did.
func (t *teller) end() (told bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.done = true
	return t.told
}
