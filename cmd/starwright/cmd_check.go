package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"starwright/cmd/internal/packet"
	"starwright/geom/words"
	"starwright/toolpath/finding"
)

func (a *app) checkCommand() *cobra.Command {
	ignorePapers := false
	c := &cobra.Command{
		Use:   "check DIR [FILE...]",
		Short: "Prove a packet's files as they lie on disk now; writes nothing",
		Args:  cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.check(args[0], packet.Asked{Files: args[1:], IgnorePapers: ignorePapers})
		},
	}
	c.Flags().BoolVar(&ignorePapers, "ignore-papers", false, "pass over edited, missing and added papers and pictures, for those who write on them")
	a.jsonFlag(c)
	return c
}

func (a *app) check(dir string, asked packet.Asked) error {
	takeRoom()
	bar := a.progress()
	asked.Watch = bar.tell
	c, err := packet.Check(dir, asked)
	bar.end()
	if err != nil {
		return failure(err)
	}
	if a.json {
		doc := struct {
			OK       bool              `json:"ok"`
			Packet   string            `json:"packet"`
			Files    []proofDocument   `json:"files"`
			Findings []finding.Finding `json:"findings"`
			Notes    []finding.Finding `json:"notes"`
			Changed  []packet.Change   `json:"changed"`
		}{OK: c.OK(), Packet: dir, Changed: append([]packet.Change{}, c.Changes...), Notes: []finding.Finding{}}
		doc.Files, doc.Findings = proofDocuments(c.Proofs)
		for i := range c.Proofs {
			doc.Notes = append(doc.Notes, c.Proofs[i].Notes...)
		}
		if err := a.document(doc); err != nil {
			return err
		}
	} else {
		a.table(c.Proofs, c.Work.Job.Units)
		for _, ch := range c.Changes {
			if ch.Fails() {
				continue
			}
			fmt.Fprintf(a.out, "notice: %s %s since made\n", words.OneLine(ch.Path), ch.How)
		}
		for i := range c.Proofs {
			for _, n := range c.Proofs[i].Notes {
				fmt.Fprintf(a.out, "notice: %s\n", words.OneLine(n.String()))
			}
		}
	}
	if !c.OK() {
		a.findings(c.Proofs)
		return &exitError{status: exitFail, said: true}
	}
	return nil
}
