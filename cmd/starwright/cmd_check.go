package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"starwright/cmd/internal/packet"
	"starwright/geom/words"
	"starwright/toolpath/finding"
)

func (a *app) checkCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "check DIR [FILE...]",
		Short: "Prove a packet's files as they lie on disk now; writes nothing",
		Args:  cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.check(args[0], args[1:])
		},
	}
	a.jsonFlag(c)
	return c
}

func (a *app) check(dir string, files []string) error {
	bar := a.progress()
	c, err := packet.CheckWatched(dir, files, bar.tell)
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
		a.table(c.Proofs)
		for _, ch := range c.Changes {
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
