package packet

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"

	"starwright/cmd/internal/job"
	"starwright/cmd/internal/release"
	"starwright/post/rs274/ncwrite"
)

func workers() int { return runtime.GOMAXPROCS(0) }

// Made is what came of making a packet.
type Made struct {
	Proofs   []Proof
	Manifest Manifest
	Kept     string // where an edited packet that was replaced is kept
	Released bool
}

// OK reports whether every file passed.
func (m *Made) OK() bool {
	for i := range m.Proofs {
		if !m.Proofs[i].OK() {
			return false
		}
	}
	return true
}

// RefusedError says why a folder is not replaced.
type RefusedError struct{ Target, Why string }

func (e *RefusedError) Error() string { return e.Target + ": " + e.Why }

// Make writes the packet to target. The files are written beside it, read back
// from disk and proven there; only if all pass does the folder take the
// target's place. An error means that nothing was changed; a fault in a file is
// not an error but stands in the proofs, with Released false. Where the context
// ends before the last file is written, nothing was changed either.
func Make(ctx context.Context, w *Work, target string, force bool) (*Made, error) {
	target, err := resolveTarget(target)
	if err != nil {
		return nil, err
	}
	st, err := release.Begin(target, w.worthKeeping)
	if err != nil {
		return nil, err
	}
	defer st.Abort()
	// Not before the lock is held: another run may be swapping folders.
	if err := w.mayReplace(target, force); err != nil {
		return nil, err
	}
	made, err := w.build(ctx, st, func() (folder, error) { return openFolder(st.Dir()) })
	if err != nil || !made.OK() {
		return made, err
	}
	made.Kept, err = st.Commit()
	made.Released = err == nil
	return made, err
}

// sink takes the files of a packet in the making.
type sink interface {
	Write(path string, data []byte) error
}

// heeding is a sink that takes nothing more when its context has ended.
type heeding struct {
	ctx context.Context
	to  sink
}

// Write writes a file, or returns why the context has ended.
func (h heeding) Write(path string, data []byte) error {
	if err := h.ctx.Err(); err != nil {
		return err
	}
	return h.to.Write(path, data)
}

// build writes the files of the packet, reads them back through what open
// returns and proves them. Where one fails, no paper is written.
func (w *Work) build(ctx context.Context, to sink, open func() (folder, error)) (*Made, error) {
	to = heeding{ctx, to}
	if err := w.writeFiles(to); err != nil {
		return nil, err
	}
	back, err := open()
	if err != nil {
		return nil, err
	}
	defer back.close()
	back.ended = ctx.Err
	made := &Made{}
	if made.Proofs, err = w.prove(back, nil, nil); err != nil {
		return nil, err
	}
	if !made.OK() {
		return made, nil
	}
	tried := w.tryRoute(made.Proofs)
	if !tried.OK() {
		made.Proofs = append(made.Proofs, tried)
		return made, nil
	}
	others, err := w.writePapers(to, made.Proofs)
	if err != nil {
		return nil, err
	}
	for i := range others {
		if others[i].Path == sheetPath {
			others[i].Checks = tried.Checks
		}
	}
	made.Manifest = w.manifest(made.Proofs, others)
	data, err := made.Manifest.encode()
	if err != nil {
		return nil, err
	}
	return made, to.Write(ManifestName, data)
}

// mayReplace says whether the target may be replaced: it must not exist, or
// be an empty folder, or a packet of this job of which no file was edited since
// it was made. With force any packet may be replaced; one that was edited or is
// another job's is kept beside.
func (w *Work) mayReplace(target string, force bool) error {
	info, err := os.Stat(target)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if !info.IsDir() {
		return &RefusedError{target, "there is a file of this name; choose another folder with -o"}
	}
	entries, err := os.ReadDir(target)
	if err != nil {
		return err
	}
	if len(entries) == 0 {
		return nil
	}
	if _, err := os.Lstat(filepath.Join(target, ManifestName)); errors.Is(err, fs.ErrNotExist) {
		return &RefusedError{target, "this folder is not a packet (it has no " + ManifestName + ") and is left alone; choose another with -o"}
	}
	if force {
		return nil
	}
	changed, made, err := editedSince(target)
	why := ""
	switch {
	case err != nil:
		why = err.Error()
	case w.whose(made) != "":
		return &RefusedError{target, "this is the packet of another job, " + w.whose(made) + "; name another folder with -o, or --force replaces the packet and keeps the old one beside it"}
	case len(changed) == 0:
		return nil
	default:
		why = describe(changed)
	}
	return &RefusedError{target, why + "; --force replaces the packet and keeps the old one beside it"}
}

// writeFiles writes job file, drawings and programs.
func (w *Work) writeFiles(st sink) error {
	if err := st.Write("job.toml", w.Source); err != nil {
		return err
	}
	if w.Shop != nil {
		if err := st.Write(job.ShopName, w.Shop); err != nil {
			return err
		}
	}
	type file struct {
		path  string
		bytes func() ([]byte, error)
	}
	var files []file
	w.eachDrawing(func(d *Drawing, f format) {
		files = append(files, file{d.in(f), func() ([]byte, error) { return f.write(d.Want) }})
	})
	for i := range w.Programs {
		g := &w.Programs[i]
		files = append(files, file{g.Path, func() ([]byte, error) { return ncwrite.Bytes(g.Plan, g.UnitMM) }})
	}
	errs := make([]error, len(files))
	done := w.begin("writing", len(files))
	inParallel(len(files), func(i int) {
		defer done.file()
		data, err := files[i].bytes()
		if err == nil {
			err = st.Write(files[i].path, data)
		}
		errs[i] = err
	})
	return errors.Join(errs...)
}
