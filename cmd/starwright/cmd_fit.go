package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"starwright/cmd/internal/fitting"
	"starwright/cmd/internal/packet"
	"starwright/geom"
	"starwright/geom/bench/fit"
	"starwright/geom/problem"
	"starwright/geom/star"
	"starwright/geom/words"
)

// fitFlags are the values as they were typed.
type fitFlags struct {
	load func(args []string) (*packet.Work, error)

	points                                            int
	unit                                              int    // of the job's order
	name                                              string // its name
	board, tip, gap, at, test, pivot, sawError, limit string
}

func (a *app) fitCommand() *cobra.Command {
	var v fitFlags
	c := &cobra.Command{
		Use:   "fit [JOB]",
		Short: "Turn a gap seen at the test fit into a correction of the saw",
		Long:  fitHelp,
		Args:  atMostOne("job file"),
		RunE: func(_ *cobra.Command, args []string) error {
			v.load = func(args []string) (*packet.Work, error) { return a.load(args, nil) }
			q, w, err := v.question(args)
			if err != nil {
				return err
			}
			answer, err := fitting.Ask(q)
			if err != nil {
				return fitErrors(err)
			}
			if w != nil && answer.Reading != nil {
				if err := w.LayPages(); err != nil {
					return failure(err)
				}
				all, err := w.Corrected(v.unit, geom.Deg(-answer.Reading.Error))
				if err != nil {
					return err
				}
				answer.SetRoute(all[0])
			}
			if a.json {
				return a.document(answer)
			}
			if w != nil && len(args) == 0 {
				a.sayJob(args, w)
			}
			_, err = fmt.Fprint(a.out, answer.Page())
			return err
		},
	}
	f := c.Flags()
	f.StringVar(&v.gap, "gap", "", "the gap you measured, as in \"1 mm\" or \"1/32 in\"")
	f.StringVar(&v.at, "at", "", "where it shows: valley (outside) or centre (inside)")
	f.StringVar(&v.test, "test", "last-joint", "how you looked: last-joint, halves, one-joint or straightedge")
	f.IntVar(&v.points, "points", 0, "points of the star, instead of a job")
	f.StringVar(&v.board, "board", "", "width of the boards, instead of a job")
	f.StringVar(&v.name, "star", "", "which star of the job, where it has several: \"offcut\" is the one from the tip off-cuts")
	f.StringVar(&v.tip, "tip", "", "tip angle, where it is not the usual one")
	f.StringVar(&v.pivot, "pivot", "", "how far from its pivot you measure the saw's movement (usual 300 mm or 12 in)")
	f.StringVar(&v.sawError, "saw-error", "", "instead of a gap: by how much the saw is off, for the gaps it makes")
	f.StringVar(&v.limit, "limit", "", "instead of a gap: the largest gap you accept, for how fine the saw must be set")
	a.shopFlag(c)
	c.ValidArgsFunction = offerFiles
	offer(c, "at", "valley", "centre")
	offer(c, "test", fitting.TestNames()...)
	a.jsonFlag(c)
	return c
}

// fitError is a flag that cannot be used.
func fitError(flag, got, why, would string) *exitError {
	l := "--" + flag + ": " + why
	if got != "" {
		l += fmt.Sprintf(" (got %q)", got)
	}
	if would != "" {
		l += ". Try: " + would
	}
	return &exitError{status: exitUsage, lines: []string{words.OneLine(l)}}
}

// question turns flags and job file into a question.
func (v *fitFlags) question(args []string) (fitting.Question, *packet.Work, error) {
	q := fitting.Question{}
	w, err := v.star(args, &q)
	if err != nil {
		return q, nil, err
	}
	return q, w, v.how(&q)
}

// how reads what was seen and how.
func (v fitFlags) how(q *fitting.Question) error {
	if v.gap == "" && v.sawError == "" && v.limit == "" {
		return &exitError{status: exitUsage, lines: []string{
			`say what you see: --gap "1 mm" --at valley; or --saw-error "0.2 deg", or --limit "0.3 mm"; starwright fit --help explains it`}}
	}
	if v.at != "" && v.gap == "" {
		return fitError("gap", "", "say how wide the gap is", `--gap "1 mm"`)
	}
	var ok bool
	if q.Test, ok = fitting.TestNamed(v.test); !ok {
		return fitError("test", v.test, "there is no such way to look", strings.Join(fitting.TestNames(), ", "))
	}
	q.Pivot = fitting.UsualPivot(q.Unit)
	if v.pivot != "" {
		mm, err := fitLength("pivot", v.pivot, q.Unit, q.Unit.Format(q.Pivot))
		if err != nil {
			return err
		}
		if mm <= 0 {
			return fitError("pivot", v.pivot, "the distance from the pivot must be above nothing", fmt.Sprintf("--pivot %q", q.Unit.Format(q.Pivot)))
		}
		q.Pivot = mm
	}
	return v.asked(q)
}

// asked reads what is asked about.
func (v fitFlags) asked(q *fitting.Question) error {
	small := q.Unit.FormatSize(1)
	if q.Unit == geom.Inch {
		small = "1/32 in"
	}
	if v.gap != "" {
		mm, err := fitLength("gap", v.gap, q.Unit, small)
		if err != nil {
			return err
		}
		at, ok := fitting.EndNamed(v.at)
		if !ok {
			why := "there is no such end of a joint"
			if v.at == "" {
				why = "say where the gap shows"
			}
			return fitError("at", v.at, why, "--at valley (outside) or --at centre (inside)")
		}
		q.Gap, q.At = &mm, at
	}
	if v.sawError != "" {
		e, err := geom.ParseAngle(strings.TrimLeft(v.sawError, "+-"))
		if err != nil {
			return fitError("saw-error", v.sawError, "this is not an angle: "+why(err), `--saw-error "0.2 deg"`)
		}
		q.SawError = &e
	}
	if v.limit != "" {
		mm, err := fitLength("limit", v.limit, q.Unit, small)
		if err != nil {
			return err
		}
		q.Limit = &mm
	}
	return nil
}

// star reads which star it is: of the job, of the flags, or of the job with
// what the flags say otherwise. With neither it is the job that every command
// takes where none is named.
func (v *fitFlags) star(args []string, q *fitting.Question) (*packet.Work, error) {
	flags := v.points != 0 || v.board != "" || v.tip != ""
	if len(args) == 0 && flags {
		return nil, v.noJob(q)
	}
	w, err := v.load(args)
	if err != nil {
		return nil, err
	}
	if flags {
		return nil, &exitError{status: exitUsage, lines: []string{"the job file gives the star; leave out --points, --board and --tip, or leave out the job file"}}
	}
	var names []string
	v.unit = -1
	for i, u := range w.Order.Units {
		name := u.File("")
		if name != "" {
			names = append(names, name)
		}
		if name == v.name || v.name == "" && v.unit < 0 {
			v.unit = i
		}
	}
	if v.unit < 0 {
		if len(names) == 0 {
			return nil, fitError("star", v.name, "the job has one star, without a name", "leaving --star out")
		}
		return nil, fitError("star", v.name, "the job has no such star; it has "+strings.Join(names, ", "), "--star "+names[len(names)-1])
	}
	u := w.Order.Units[v.unit]
	q.Unit = w.Job.Units
	q.Star = fit.Ring{Points: u.Points, BoardWidth: u.Segment.Width, Tip: u.Segment.Tip}
	return w, nil
}

// noJob reads the star from the flags.
func (v *fitFlags) noJob(q *fitting.Question) error {
	if v.points == 0 {
		return fitError("points", "", "say which star it is", `--points 5 --board "100 mm", or a job file: starwright fit job.toml ...`)
	}
	if v.points < fit.MinPoints || v.points > fit.MaxPoints {
		return fitError("points", fmt.Sprint(v.points), fmt.Sprintf("a star here has %d to %d points", fit.MinPoints, fit.MaxPoints), "--points 5")
	}
	if v.board == "" {
		return fitError("board", "", "say how wide the boards are", `--board "100 mm" or --board "3 1/2 in"`)
	}
	if strings.ContainsAny(v.board, `"″”`) || strings.Contains(v.board, "in") {
		q.Unit = geom.Inch
	}
	mm, err := fitLength("board", v.board, q.Unit, q.Unit.Format(100))
	if err != nil {
		return err
	}
	if mm < star.MinBoardWidth || mm > star.MaxBoardWidth {
		return fitError("board", v.board, fmt.Sprintf("boards from %s to %s can be worked", q.Unit.Format(star.MinBoardWidth), q.Unit.Format(star.MaxBoardWidth)), `--board "100 mm"`)
	}
	q.Star = fit.Ring{Points: v.points, BoardWidth: mm}
	return v.tipAngle(q)
}

// tipAngle reads the tip, or takes the usual one.
func (v fitFlags) tipAngle(q *fitting.Question) error {
	if v.tip == "" {
		var ok bool
		if q.Star.Tip, ok = star.DefaultTip(v.points); !ok {
			q.Star.Tip = star.MaxTip(v.points) / 2 // four points have no usual tip; it only tells how round the star stays
		}
		return nil
	}
	t, err := geom.ParseAngle(v.tip)
	if err != nil {
		return fitError("tip", v.tip, "this is not an angle: "+why(err), `--tip "36 deg"`)
	}
	q.Star.Tip = t
	return nil
}

// fitLength reads a length of a flag.
func fitLength(flag, text string, u geom.Unit, would string) (float64, error) {
	mm, err := geom.ParseLength(text, u)
	if err != nil {
		return 0, fitError(flag, text, "this is not a length: "+why(err), fmt.Sprintf("--%s %q", flag, would))
	}
	return mm, nil
}

// why returns why geom refused a value, without the value.
func why(err error) string {
	var v *geom.ValueError
	if errors.As(err, &v) {
		return v.Why
	}
	return err.Error()
}

// fitErrors tells the problems of the computation by the flags they come from.
func fitErrors(err error) error {
	var ps problem.List
	if !errors.As(err, &ps) {
		return err
	}
	flags := map[string]string{"board width": "board", "place": "at", "error": "saw-error"}
	e := &exitError{status: exitUsage}
	for _, p := range ps {
		flag := p.Key
		if f := flags[flag]; f != "" {
			flag = f
		}
		e.lines = append(e.lines, fitError(flag, p.Got, p.Why, p.Would).lines...)
	}
	return e
}
