package plan

import (
	"fmt"
	"strings"

	"starwright/cmd/internal/packet"
	"starwright/geom"
	"starwright/geom/route"
)

// SetupDocument is a set-up of `route`.
type SetupDocument struct {
	Name     string            `json:"name"`
	Kind     string            `json:"kind"`
	Machine  string            `json:"machine"`
	Page     int               `json:"page"`
	Count    int               `json:"count"`
	Of       string            `json:"of"`
	Star     string            `json:"star"`
	Stage    string            `json:"stage"`
	Method   string            `json:"method"`
	Keeps    string            `json:"keeps,omitempty"` // of an order: what stays set on the machine from the set-up before on it
	Jigs     []string          `json:"jigs"`
	Readings []ReadingDocument `json:"readings"`

	Piece   *PieceDocument   `json:"piece,omitempty"`
	Hold    *HoldDocument    `json:"hold,omitempty"`
	Cut     *CutDocument     `json:"cut,omitempty"`
	Touches []TouchDocument  `json:"touches,omitempty"`
	Slot    *SlotCutDocument `json:"slot,omitempty"`
	Swing   string           `json:"swing,omitempty"`
	Turn    string           `json:"turn_before,omitempty"`
	SetUp   []string         `json:"set_up,omitempty"`
	Steps   []string         `json:"steps,omitempty"`
	Measure []string         `json:"measure,omitempty"`
	Support string           `json:"support,omitempty"`
	Caution []string         `json:"cautions,omitempty"`
	Join    *JoinDocument    `json:"join,omitempty"`
}

// ReadingDocument is a number that is set or measured, as it is printed.
type ReadingDocument struct {
	Name    string   `json:"name"`
	Printed string   `json:"printed"`
	MM      *float64 `json:"mm,omitempty"`
	Deg     *float64 `json:"deg,omitempty"`
	Set     bool     `json:"set"` // on machine or jig; else measured
}

// PieceDocument is what is cut.
type PieceDocument struct {
	Kind   string       `json:"kind"`
	Before [][2]float64 `json:"before_mm"`
	After  [][2]float64 `json:"after_mm"`
	Falls  string       `json:"falls,omitempty"`
}

// HoldDocument is where the printed readings put the piece.
type HoldDocument struct {
	ShowFace string  `json:"show_face"`
	Turn     float64 `json:"turn_deg"`
	X        float64 `json:"x_mm"`
	Y        float64 `json:"y_mm"`
}

// CutDocument is the line of cut.
type CutDocument struct {
	From [2]float64 `json:"from_mm"`
	To   [2]float64 `json:"to_mm"`
	Keep string     `json:"keep"`
	Kerf float64    `json:"kerf_mm"`
}

// TouchDocument is what the piece lies against.
type TouchDocument struct {
	What   string `json:"what"`
	Edge   *int   `json:"edge,omitempty"`
	Corner *int   `json:"corner,omitempty"`
	Jig    string `json:"jig,omitempty"`
}

// SlotCutDocument is a slot in one facet, as printed.
type SlotCutDocument struct {
	Hand     string  `json:"hand"`
	Edge     int     `json:"edge"`
	Start    float64 `json:"start_mm"`
	End      float64 `json:"end_mm"`
	Depth    float64 `json:"depth_mm"`
	Width    float64 `json:"width_mm"`
	FromFace float64 `json:"from_face_mm"`
	Program  string  `json:"program,omitempty"`
}

// JoinDocument is pieces glued to a new one.
type JoinDocument struct {
	Makes string             `json:"makes"`
	After [][2]float64       `json:"after_mm"`
	Parts []JoinPartDocument `json:"parts"`
}

// JoinPartDocument is a piece and where it lies in what it becomes part of.
type JoinPartDocument struct {
	Kind string  `json:"kind"`
	Turn float64 `json:"turn_deg"`
	X    float64 `json:"x_mm"`
	Y    float64 `json:"y_mm"`
}

// ChoiceDocument is how an operation is done.
type ChoiceDocument struct {
	Operation string `json:"operation"`
	Star      string `json:"star"`
	Method    string `json:"method"`
	Why       string `json:"why"`
	Next      string `json:"next_needs,omitempty"`
}

// Setups returns set-ups as `route` has them.
func Setups(list []route.Setup) []SetupDocument {
	out := []SetupDocument{}
	for _, s := range list {
		out = append(out, newSetup(s))
	}
	return out
}

func newSetup(s route.Setup) SetupDocument {
	out := SetupDocument{Name: s.Name, Kind: string(s.Kind), Machine: string(s.Machine), Page: s.Page, Count: s.Count, Of: s.Of,
		Star: s.Star, Stage: string(s.Stage), Method: string(s.Method), Keeps: s.Keeps, Jigs: []string{}, Readings: []ReadingDocument{},
		Swing: string(s.Swing), Turn: s.TurnBefore, SetUp: s.SetUp, Steps: s.Steps, Measure: s.Measure, Support: s.Support, Caution: s.Cautions}
	for _, j := range s.Jigs {
		for _, path := range []string{j.Path, j.Base, j.Bed} {
			if path != "" {
				out.Jigs = append(out.Jigs, path)
			}
		}
	}
	for _, r := range s.Readings {
		out.Readings = append(out.Readings, ReadingDocument(r))
	}
	if p := s.Piece; p != nil {
		out.Piece = &PieceDocument{p.Kind, pairs(p.Before), pairs(p.After), p.Falls}
	}
	if h := s.Hold; h != nil {
		face := "up"
		if h.ShowFaceDown {
			face = "down"
		}
		out.Hold = &HoldDocument{face, h.Turn.Normal().Degrees(), h.X, h.Y}
	}
	if c := s.Cut; c != nil {
		keep := "right"
		if c.KeepLeft {
			keep = "left"
		}
		out.Cut = &CutDocument{pair(c.From), pair(c.To), keep, c.Kerf}
	}
	for _, t := range s.Touches {
		out.Touches = append(out.Touches, TouchDocument{t.What, index(t.Edge), index(t.Corner), t.Jig})
	}
	if c := s.Slot; c != nil {
		out.Slot = &SlotCutDocument{string(c.Hand), c.Edge, c.Start, c.End, c.Depth, c.Width, c.FromFace, c.Program}
	}
	if j := s.Join; j != nil {
		out.Join = &JoinDocument{Makes: j.Makes, After: pairs(j.After), Parts: []JoinPartDocument{}}
		for _, p := range j.Parts {
			out.Join.Parts = append(out.Join.Parts, JoinPartDocument{p.Kind, p.At.Turn.Normal().Degrees(), p.At.Move.X, p.At.Move.Y})
		}
	}
	return out
}

func index(i int) *int {
	if i < 0 {
		return nil
	}
	return &i
}

func pair(p geom.Point) [2]float64 { return [2]float64{p.X, p.Y} }

func pairs(ps []geom.Point) [][2]float64 {
	out := make([][2]float64, len(ps))
	for i, p := range ps {
		out[i] = pair(p)
	}
	return out
}

func newChoices(list []route.Choice) []ChoiceDocument {
	out := []ChoiceDocument{}
	for _, c := range list {
		out = append(out, ChoiceDocument(c))
	}
	return out
}

// route lists which ways were chosen, and the set-ups, a line each.
func (p *page) route(w *packet.Work, all bool) {
	p.group("How it is made in this shop")
	for _, c := range w.Route.Choices {
		name := c.Operation
		if c.Star != "" {
			name += ", " + c.Star
		}
		text := name + ": " + c.Method
		if all && c.Why != "" {
			text += " (" + c.Why + ")"
		}
		if all && c.Next != "" {
			text += "; the next best needs " + c.Next
		}
		p.line(text + ".")
	}
	p.group("Set-ups, in the order of work")
	for i, s := range w.Route.Setups {
		p.line(fmt.Sprintf("%d. %s, %s: %d %s%s", i+1, s.Name, s.Machine.Word(), s.Count, s.Of, settings(s)))
	}
}

// settings are the numbers that are set, in one line.
func settings(s route.Setup) string {
	var out []string
	for _, r := range s.Readings {
		if r.Set || r.Name == route.ReadBlock {
			out = append(out, r.Name+" "+r.Printed)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return "; " + strings.Join(out, ", ")
}
