package benchwork

import (
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
	FromMC, ToMC   float64 // percent
	FromAir, ToAir bool    // the moisture comes from the air's humidity
	FromRH, ToRH   float64 // percent, where it does
	Limit          float64
	Movement       wood.Movement // flatsawn boards, the worst
	Quartersawn    wood.Movement
	Width, Facets  float64 // board width and facet length, mm
}

// wood computes the movement, where the job names a species.
func (w *Work) wood(j *job.Job, u *star.Unit) problem.List {
	t := j.Wood
	if t.Species == "" {
		return nil
	}
	s, err := wood.Find(t.Species)
	if err != nil {
		ps := asProblems(err, func(problem.Problem) string { return "wood.species" })
		for i := range ps {
			ps[i].Would = "one of: " + ps[i].Would
		}
		return ps
	}
	out := &Wood{Species: s, Limit: t.MovementLimit, Width: u.Segment.Width, Facets: u.Segment.Facet}
	now, ps := moisture("now", t.MCNow, t.RHNow)
	service, ps2 := moisture("service", t.MCService, t.RHService)
	if ps = append(ps, ps2...); len(ps) > 0 {
		return ps
	}
	if now == nil || service == nil {
		w.warn("wood.species", t.Species, "without the wood's moisture now and in service (mc_now and mc_service, or rh_now and rh_service) its movement is not computed")
		return nil
	}
	out.FromMC, out.ToMC = *now, *service
	if t.RHNow != nil {
		out.FromAir, out.FromRH = true, *t.RHNow
	}
	if t.RHService != nil {
		out.ToAir, out.ToRH = true, *t.RHService
	}
	ask := wood.Change{Points: u.Points, BoardWidth: u.Segment.Width, Species: s,
		FromMC: out.FromMC, ToMC: out.ToMC, Limit: t.MovementLimit, Say: j.Units.FormatFine}
	keys := map[string]string{"limit": "wood.movement_limit", "moisture in service": "wood.mc_service", "moisture in the shop": "wood.mc_now"}
	key := func(p problem.Problem) string {
		if k := keys[p.Key]; k != "" {
			return k
		}
		return "wood.species"
	}
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
	return &WoodDocument{w.Species.Name, w.FromMC, w.ToMC, string(m.Equation), m.WidthChange,
		m.HalfBefore.Degrees(), m.HalfAfter.Degrees(), m.AllJoints.Degrees(), m.Last.At.String(),
		m.Each.MM, m.Last.MM, w.Quartersawn.Last.MM, w.Limit, m.Warning == "", helps}
}
