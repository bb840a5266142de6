package packet

import (
	"path"
	"strings"

	"starwright/geom"
	"starwright/post/cut"
	"starwright/post/dxf/dxfread"
	"starwright/post/dxf/dxfwrite"
	"starwright/post/svg/svgread"
	"starwright/post/svg/svgwrite"
)

// format is a kind of file in which every drawing of a packet stands. A writer
// and a reader that share no code make one; all else is the same for all.
type format struct {
	kind  string // in the manifest; folder and ending of the files
	write func(cut.Drawing) ([]byte, error)
	read  func(src []byte, name string, in geom.Unit) (*cut.File, error)
}

// formats are those of every packet, the first the one that papers and pages
// name.
var formats = []format{
	{"dxf", dxfwrite.Bytes, dxfread.Read},
	{"svg", svgwrite.Bytes, svgread.Read},
}

// in returns the path within the packet at which a drawing stands in a format.
func (d *Drawing) in(f format) string {
	name := strings.TrimSuffix(path.Base(d.Path), path.Ext(d.Path))
	return f.kind + "/" + name + "." + f.kind
}

// eachDrawing calls f for every file that holds a drawing: all drawings in one
// format, then all in the next.
func (w *Work) eachDrawing(f func(*Drawing, format)) {
	for _, one := range formats {
		for i := range w.Drawings {
			f(&w.Drawings[i], one)
		}
	}
}

// older returns the drawings and programs of a packet that was made before one of
// the formats came: its files are not missing. It is nil for all, and where the
// manifest is not the one that was written.
func (w *Work) older(made asMade) map[string]bool {
	known := map[string]bool{}
	for _, f := range made.Files {
		known[f.Kind] = true
	}
	only, left := map[string]bool{}, false
	w.eachDrawing(func(d *Drawing, f format) {
		if f.kind == formats[0].kind || known[f.kind] {
			only[d.in(f)] = true
		} else {
			left = true
		}
	})
	if !left || made.touched {
		return nil
	}
	for i := range w.Programs {
		only[w.Programs[i].Path] = true
	}
	return only
}
