package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"starwright/cmd/internal/packet"
	"starwright/cmd/internal/plan"
	"starwright/geom/words"
	"starwright/toolpath/finding"
)

func (a *app) makeCommand() *cobra.Command {
	var dir string
	var force bool
	c := &cobra.Command{
		Use:   "make [JOB]",
		Short: "Make the packet; every file is proven from disk before any is released",
		Args:  atMostOne("job file"),
		RunE: func(c *cobra.Command, args []string) error {
			if c.Flags().Changed("output") && dir == "" {
				return failure(&packet.RefusedError{Target: `""`, Why: "the folder to make has no name; name one with -o"})
			}
			collectAt(gcOfAJob)
			takeRoom()
			return a.makePacket(args, dir, force)
		},
	}
	c.Flags().StringVarP(&dir, "output", "o", "", "folder to make (left out: porch-packet for porch.toml)")
	c.Flags().BoolVar(&force, "force", false, "replace a packet that was edited or is another job's; the old one is kept beside it")
	a.shopFlag(c)
	c.ValidArgsFunction = offerFiles
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
	w, err := a.load(args, bar.tell)
	if err != nil {
		return err
	}
	if dir == "" {
		dir = packet.NameFor(w.Job.Name)
	}
	made, err := packet.Make(context.Background(), w, dir, force)
	bar.end()
	if err != nil {
		return failure(err)
	}
	a.unlessStopped() // what a stop throws away is missing for the proof, which is no finding
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
		a.sayJob(args, w)
		fmt.Fprint(a.out, plan.WarningLines(w, a.width()))
		a.table(made.Proofs, w.Job.Units)
	}
	if !made.Released {
		a.findings(made.Proofs)
		fmt.Fprintln(a.err, "starwright: nothing was released, because a file fails its check")
		return &exitError{status: exitFail, said: true}
	}
	if !a.json {
		if made.Kept != "" {
			fmt.Fprintf(a.out, "the old packet is kept as %s\n", words.OneLine(made.Kept))
		}
		fmt.Fprintf(a.out, "released %d files in %s\n", made.Manifest.Count(), words.OneLine(dir))
	}
	return nil
}
