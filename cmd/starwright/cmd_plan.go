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
		Short: "Print every number of a job; writes nothing",
		Args:  atMostOne("job file"),
		RunE: func(_ *cobra.Command, args []string) error {
			collectAt(gcOfAJob)
			takeRoom()
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
	c.Flags().BoolVar(&defaults, "defaults", false, "add what you look up rarely: every number of the slots, the feeds, and the defaults taken")
	a.shopFlag(c)
	c.ValidArgsFunction = offerFiles
	a.jsonFlag(c)
	return c
}
