package desk

import (
	"crypto/subtle"
	"net/http"
	"strconv"
)

// KeyHeader carries the key.
const KeyHeader = "X-Desk-Key"

// guard lets only the desk's own page through.
type guard struct {
	hosts map[string]bool // Host, exactly; by prefix 127.0.0.1.example.com would pass
	key   string
	cross *http.CrossOriginProtection
	next  http.Handler
}

func newGuard(port int, key string, next http.Handler) *guard {
	g := &guard{hosts: map[string]bool{}, key: key, cross: http.NewCrossOriginProtection(), next: next}
	for _, h := range []string{"127.0.0.1", "localhost", "[::1]"} {
		g.hosts[h+":"+strconv.Itoa(port)] = true
	}
	return g
}

// ServeHTTP refuses what does not come from the page itself.
func (g *guard) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
	switch {
	case !g.hosts[r.Host]:
		http.Error(w, "this desk is not served under that name", http.StatusMisdirectedRequest)
	case !g.sameOrigin(r) || g.cross.Check(r) != nil:
		http.Error(w, "this desk answers its own page only", http.StatusForbidden)
	case r.Method != http.MethodGet && r.Method != http.MethodPost:
		http.Error(w, "no such request", http.StatusMethodNotAllowed)
	case r.Method == http.MethodPost && subtle.ConstantTimeCompare([]byte(r.Header.Get(KeyHeader)), []byte(g.key)) != 1:
		http.Error(w, "the key is missing or wrong; open the address that starwright desk printed", http.StatusForbidden)
	default:
		g.next.ServeHTTP(w, r)
	}
}

// sameOrigin reports whether the Origin, where a browser gives one, is ours.
func (g *guard) sameOrigin(r *http.Request) bool {
	o := r.Header.Values("Origin")
	switch len(o) {
	case 0:
		return true
	case 1:
		return o[0] == "http://"+r.Host
	}
	return false
}
