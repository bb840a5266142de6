package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"starwright/cmd/internal/packet"
	"starwright/geom/words"
	"starwright/toolpath/finding"
)

func (a *app) makeCommand() *cobra.Command {
	var dir string
	var force bool
	c := &cobra.Command{
		Use:   "make [JOB]",
		Short: "Make the packet; every file is proven from disk before any is released",
		Args:  cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.makePacket(args, dir, force)
		},
	}
	c.Flags().StringVarP(&dir, "output", "o", "packet", "folder to make")
	c.Flags().BoolVar(&force, "force", false, "replace a packet of which files were edited, keeping the old one beside it")
	a.jsonFlag(c)
	return c
}

// makeDocument is the JSON document of make.
type makeDocument struct {
	OK       bool              `json:"ok"`
	Packet   string            `json:"packet"`
	Kept     string            `json:"kept,omitempty"`
	Files    []proofDocument   `json:"files"`
	Findings []finding.Finding `json:"findings"`
	Manifest *packet.Manifest  `json:"manifest,omitempty"`
}

// proofDocument is one file's proof.
type proofDocument struct {
	Path   string          `json:"path"`
	OK     bool            `json:"ok"`
	Checks []finding.Check `json:"checks"`
}

func proofDocuments(proofs []packet.Proof) (files []proofDocument, findings []finding.Finding) {
	files, findings = []proofDocument{}, []finding.Finding{}
	for i := range proofs {
		p := &proofs[i]
		checks := p.Checks
		if checks == nil {
			checks = []finding.Check{}
		}
		files = append(files, proofDocument{p.Path, p.OK(), checks})
		findings = append(findings, p.Findings...)
	}
	return files, findings
}

func (a *app) makePacket(args []string, dir string, force bool) error {
	bar := a.progress()
	defer bar.end()
	w, err := load(args, bar.tell)
	if err != nil {
		return err
	}
	made, err := packet.Make(w, dir, force)
	bar.end()
	if err != nil {
		return failure(err)
	}
	doc := makeDocument{OK: made.Released, Packet: dir, Kept: made.Kept}
	doc.Files, doc.Findings = proofDocuments(made.Proofs)
	if made.Released {
		doc.Manifest = &made.Manifest
	}
	if a.json {
		if err := a.document(doc); err != nil {
			return err
		}
	} else {
		a.table(made.Proofs)
	}
	if !made.Released {
		a.findings(made.Proofs)
		fmt.Fprintln(a.err, "starwright: nothing was released, because a file fails its check")
		return &exitError{status: exitFail, said: true}
	}
	if !a.json {
		if made.Kept != "" {
			fmt.Fprintf(a.out, "the edited packet is kept as %s\n", words.OneLine(made.Kept))
		}
		fmt.Fprintf(a.out, "released %d files in %s\n", len(made.Manifest.Files)+2, words.OneLine(dir))
	}
	return nil
}
