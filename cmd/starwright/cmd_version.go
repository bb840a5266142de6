package main

import (
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"starwright/cmd/internal/packet"
)

// mattering are the modules whose version can change what is read from a job
// or what stands in a packet.
var mattering = [...]string{
	"codeberg.org/go-pdf/fpdf",
	"github.com/pelletier/go-toml/v2",
	"github.com/srwiley/rasterx",
	"golang.org/x/image",
}

// component is one thing that the program was built from.
type component struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

func (a *app) versionCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "version",
		Short: "Say the program's version, and what it was built from",
		Args:  cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			parts := builtFrom()
			if a.json {
				return a.document(struct {
					Version   string      `json:"version"`
					Format    int         `json:"manifest_format"`
					BuiltFrom []component `json:"built_from"`
				}{packet.Version(), packet.Format, parts})
			}
			var b strings.Builder
			fmt.Fprintf(&b, "starwright %s, manifest format %d\n", packet.Version(), packet.Format)
			for _, p := range parts {
				fmt.Fprintf(&b, "  %-32s %s\n", p.Name, p.Version)
			}
			_, err := fmt.Fprint(a.out, b.String())
			return err
		},
	}
	a.jsonFlag(c)
	return c
}

// builtFrom lists compiler, state of the source and modules, as far as the
// binary says.
func builtFrom() []component {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return []component{}
	}
	out := []component{{"go", strings.TrimPrefix(info.GoVersion, "go")}}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			out = append(out, component{"source", s.Value})
		}
	}
	for _, name := range mattering {
		for _, d := range info.Deps {
			if d.Path == name {
				out = append(out, component{d.Path, d.Version})
			}
		}
	}
	return out
}
