package packet

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/job"
	"starwright/toolpath"
)

// controller is what the job says of the machine's controller.
func controller(t job.ControllerTable) toolpath.Controller {
	return toolpath.Controller{
		Dwell:  map[string]toolpath.Dwell{"milliseconds": toolpath.DwellMilliseconds, "none": toolpath.DwellNone}[t.Dwell],
		EndM30: t.End == "M30", Percent: t.Percent, Number: t.ProgramNumber, LineNumbers: t.LineNumbers,
		Centres: t.ArcCentres, ExactPath: t.Path == "exact", PathMM: t.PathTolerance,
		Comments: map[string]toolpath.Comments{"semicolon": toolpath.Semicolon, "none": toolpath.NoComments}[t.Comments],
		Unknown:  t.Unknown, CRLF: t.LineEnds == "crlf",
	}
}

// controllerLine says at the head of a program what it takes the controller to be.
func (w *Work) controllerLine() string {
	t := w.Job.Controller
	said := []string{"waits in " + t.Dwell, "ends with " + t.End}
	if t.Dwell == "none" {
		said[0] = "no waits, so hold the feed until the spindle is up to speed"
	}
	if t.Percent {
		said = append(said, "tape lines")
	}
	if t.ProgramNumber > 0 {
		said = append(said, fmt.Sprintf("program number %d", t.ProgramNumber))
	}
	if t.LineNumbers {
		said = append(said, "line numbers")
	}
	said = append(said, "centres of arcs are steps from their start")
	switch t.Path {
	case "exact":
		said = append(said, "exact path")
	case "tolerance":
		said = append(said, "path within "+w.exact(t.PathTolerance))
	default:
		said = append(said, "path as the controller is set")
	}
	if len(t.Unknown) > 0 {
		said = append(said, "without "+strings.Join(t.Unknown, " "))
	}
	return "Controller: " + strings.Join(said, ", ")
}
