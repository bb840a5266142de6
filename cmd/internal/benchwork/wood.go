package benchwork

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"starwright/cmd/internal/job"
	"starwright/geom/bench/wood"
	"starwright/geom/problem"
	"starwright/geom/star"
)

// roomC is the temperature at which a humidity is turned into moisture, degrees
// Celsius: 70 F, for which the handbook's table is mostly read.
const roomC = 21.1

// Wood is the movement between shop and home.
type Wood struct {
	Species        wood.Species
	Second         *wood.Species // of a star of two woods, else nil
	FromMC, ToMC   float64       // percent
	FromAir, ToAir bool          // the moisture comes from the air's humidity
	FromRH, ToRH   float64       // percent, where it does
	Limit          float64
	Movement       wood.Movement // flatsawn boards, the worst
	Quartersawn    wood.Movement
	Width, Facets  float64 // board width and facet length, mm
}

// wood computes the movement, where the job names a species.
func (w *Work) wood(j *job.Job, u *star.Unit) problem.List {
	j = j.Of(u.Spec.Name)
	t := j.Wood
	out := &Wood{Limit: t.MovementLimit, Width: u.Segment.Width, Facets: u.Segment.Facet}
	says, known, ps := out.species(j, u)
	if len(ps) > 0 || says.Key == "" {
		return ps
	}
	now, ps1 := moisture("now", t.MCNow, t.RHNow)
	service, ps2 := moisture("service", t.MCService, t.RHService)
	if ps = append(ps1, ps2...); len(ps) > 0 {
		return ps
	}
	if now == nil || service == nil {
		w.warn(says.Key, says.Value, says.Why+"without the wood's moisture now and in service (mc_now and mc_service, or rh_now and rh_service, under [wood]) the movement is not computed")
		return nil
	}
	if len(known) > 0 { // names of woods are free where nothing is computed with them
		return known
	}
	out.FromMC, out.ToMC = *now, *service
	if t.RHNow != nil {
		out.FromAir, out.FromRH = true, *t.RHNow
	}
	if t.RHService != nil {
		out.ToAir, out.ToRH = true, *t.RHService
	}
	ask := wood.Change{Points: u.Points, BoardWidth: u.Segment.Width, Species: out.Species, Second: out.Second, Thickness: u.Thickness(),
		FromMC: out.FromMC, ToMC: out.ToMC, Limit: t.MovementLimit, Say: j.Units.FormatFine}
	keys := map[string]string{"limit": "wood.movement_limit", "moisture in service": "wood.mc_service", "moisture in the shop": "wood.mc_now"}
	key := func(p problem.Problem) string {
		if k := keys[p.Key]; k != "" {
			return k
		}
		return says.Key
	}
	var err error
	if out.Movement, err = wood.Move(ask); err != nil {
		return asProblems(err, key)
	}
	ask.Grain = wood.Quartersawn
	if out.Quartersawn, err = wood.Move(ask); err != nil {
		return asProblems(err, key)
	}
	w.Wood = out
	if m := out.Movement; m.Warning != "" {
		w.warn("wood.movement_limit", j.Units.FormatFine(t.MovementLimit), m.Warning)
	}
	return nil
}

// species finds the woods that a star is of, by what the job says of them; the
// problems known are those of names that no table has. It says nothing where the
// job names no wood.
func (w *Wood) species(j *job.Job, u *star.Unit) (says problem.Note, known, ps problem.List) {
	if !u.TwoWoods() {
		name := j.Wood.Species
		if name == "" {
			return says, nil, nil
		}
		var err error
		if w.Species, err = wood.Find(name); err != nil {
			near := wood.Near(name)
			ps = problem.List{{Key: "wood.species", Got: name, Why: noSpecies, Would: fmt.Sprintf("species = %q", near[0]) + orOneOf(near[1:])}}
		}
		return problem.Note{Key: "wood.species", Value: name}, nil, ps
	}
	two := u.Spec.Woods
	first, err1 := wood.Find(two[0])
	second, err2 := wood.Find(two[1])
	if err1 != nil || err2 != nil {
		known = problem.List{meantWoods(two)}
	}
	w.Species, w.Second = first, &second
	return problem.Note{Key: "star.woods", Value: two[0] + " and " + two[1], Why: "two woods move differently; "}, known, nil
}

const noSpecies = "no such species in the table"

// orOneOf lists other names that may have been meant.
func orOneOf(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return ", or one of: " + strings.Join(names, ", ")
}

// meantWoods says which of a star's two woods no table has, with the list as it was
// meant: in the place of such a name the nearest that is not the other wood.
func meantWoods(two [2]string) problem.Problem {
	p := problem.Problem{Key: "star.woods", Why: noSpecies}
	var wrong, others []string
	for i, name := range two {
		if _, err := wood.Find(name); err == nil {
			continue
		}
		wrong = append(wrong, strconv.Quote(name))
		other, _ := wood.Find(two[1-i])
		isOther := func(n string) bool { return n == other.Name }
		near := slices.DeleteFunc(wood.Near(name), isOther)
		if len(near) == 0 { // any but the other
			near = slices.DeleteFunc(wood.Near(""), isOther)
		}
		two[i] = near[0]
		for _, n := range near[1:] {
			if !slices.Contains(others, n) {
				others = append(others, n)
			}
		}
	}
	others = slices.DeleteFunc(others, func(n string) bool { return n == two[0] || n == two[1] })
	p.Got = strings.Join(wrong, " and ")
	p.Would = fmt.Sprintf("woods = [%q, %q]", two[0], two[1]) + orOneOf(others)
	return p
}

// Name says which woods they are.
func (w *Wood) Name() string {
	if w.Second != nil {
		return w.Species.Name + " and " + w.Second.Name
	}
	return w.Species.Name
}

// Status says how far the coefficients were checked against their source.
func (w *Wood) Status() string {
	if w.Second != nil && w.Second.Status != w.Species.Status {
		return fmt.Sprintf("%s: %s; %s: %s", w.Species.Name, w.Species.Status, w.Second.Name, w.Second.Status)
	}
	return fmt.Sprintf("%s: %s", w.Name(), w.Species.Status)
}

// moisture returns the moisture that the job gives as such or by the air's
// humidity, nil where it gives neither. The dampest air a job may name, 99 %,
// comes to 28 %: wood that still shrinks and swells.
func moisture(when string, mc, rh *float64) (*float64, problem.List) {
	if mc != nil || rh == nil {
		return mc, nil
	}
	v, _, err := wood.EMC(*rh, roomC)
	if err != nil {
		return nil, asProblems(err, func(problem.Problem) string { return "wood.rh_" + when })
	}
	return &v, nil
}

// WoodDocument is `wood` of `plan --json`; lengths mm, angles degrees, moisture
// percent. Openings are those of flatsawn boards.
type WoodDocument struct {
	Species     string   `json:"species"`
	Second      string   `json:"second_species,omitempty"` // of a star of two woods
	Step        *float64 `json:"step_mm,omitempty"`        // one wood thicker than the other, at their joint
	Slide       *float64 `json:"slide_mm,omitempty"`       // their facets along each other
	From        float64  `json:"mc_now_percent"`
	To          float64  `json:"mc_service_percent"`
	Equation    string   `json:"equation"`
	WidthChange float64  `json:"width_change_mm"`
	HalfBefore  float64  `json:"facet_before_deg"`
	HalfAfter   float64  `json:"facet_after_deg"`
	AllJoints   float64  `json:"all_joints_deg"`
	At          string   `json:"opens_at"`
	Each        float64  `json:"each_joint_mm"`
	Last        float64  `json:"one_joint_mm"`
	Quarter     float64  `json:"one_joint_quartersawn_mm"`
	Limit       float64  `json:"limit_mm"`
	Within      bool     `json:"within_limit"`
	Helps       []string `json:"helps"`
}

// Document returns what `plan --json` prints.
func (w *Wood) Document() *WoodDocument {
	if w == nil {
		return nil
	}
	m := w.Movement
	helps := m.Helps
	if helps == nil {
		helps = []string{}
	}
	d := &WoodDocument{Species: w.Species.Name, From: w.FromMC, To: w.ToMC, Equation: string(m.Equation), WidthChange: m.WidthChange,
		HalfBefore: m.HalfBefore.Degrees(), HalfAfter: m.HalfAfter.Degrees(), AllJoints: m.AllJoints.Degrees(), At: m.Last.At.String(),
		Each: m.Each.MM, Last: m.Last.MM, Quarter: w.Quartersawn.Last.MM, Limit: w.Limit, Within: m.Warning == "", Helps: helps}
	if w.Second != nil {
		d.Second, d.Step, d.Slide = w.Second.Name, &m.Step, &m.Slide
	}
	return d
}
