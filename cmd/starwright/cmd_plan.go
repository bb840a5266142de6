package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"starwright/cmd/internal/plan"
)

func (a *app) planCommand() *cobra.Command {
	var defaults bool
	c := &cobra.Command{
		Use:   "plan [JOB]",
		Short: "Say every number of a job; writes nothing",
		Args:  atMostOne("job file"),
		RunE: func(_ *cobra.Command, args []string) error {
			collectAt(gcOfAJob)
			bar := a.progress()
			w, err := a.load(args, bar.tell)
			bar.end()
			if err != nil {
				return err
			}
			if a.json {
				if err := w.LayPages(); err != nil {
					return failure(err)
				}
				return a.document(plan.New(w))
			}
			a.sayJob(args, w)
			_, err = fmt.Fprint(a.out, plan.Page(w, defaults, a.width()))
			return err
		},
	}
	c.Flags().BoolVar(&defaults, "defaults", false, "also what is looked up rarely: all of the slots, feeds, and the defaults that were taken")
	a.shopFlag(c)
	c.ValidArgsFunction = offerFiles
	a.jsonFlag(c)
	return c
}
