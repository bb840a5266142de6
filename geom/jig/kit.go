package jig

import (
	"fmt"
	"slices"
	"strings"

	"starwright/geom/problem"
	"starwright/geom/star"
	"starwright/geom/words"
)

// Kit makes the plates of the jigs that are wanted, in that order, each as often
// as they take, or says what is wrong. Plates that serve several wants are made
// once. The plate that holds the work has the jig's [Build].
func Kit(o *star.Order, p Params, wants []Want) ([]Jig, problem.List) {
	return NewKits(o, p).Kit(wants)
}

// Kits makes kits for one order. To weigh jigs against each other, ask it for
// the same ones again and again; they are made the first time, which takes most of
// the time out of the choice of a route.
type Kits struct {
	order  *star.Order
	params Params
	made   map[string]*platesMade // by kind and angles
}

// platesMade is what a maker made.
type platesMade struct {
	done     chan struct{} // closed once it is made
	jigs     []Jig
	problems problem.List
}

// NewKits makes nothing yet.
func NewKits(o *star.Order, p Params) *Kits { return &Kits{o, p, map[string]*platesMade{}} }

// Kit is [Kit] of the order.
func (k *Kits) Kit(wants []Want) ([]Jig, problem.List) {
	var jigs []Jig
	var problems problem.List
	p := k.params
	for _, w := range wants {
		if w.Key == "angle-block" && w.Angle > 0 {
			p.angles = append(p.angles[:len(p.angles):len(p.angles)], w.Angle)
		}
	}
	for i, w := range wants {
		if slices.ContainsFunc(wants[:i], func(v Want) bool { return v.Key == w.Key }) {
			continue // made with the first of its kind
		}
		n := slices.IndexFunc(makers, func(m maker) bool { return m.key == w.Key })
		if n < 0 {
			problems = append(problems, unknown(w.Key))
			continue
		}
		made, ps := k.plates(makers[n], p)
		ps = p.spelt(w.Key, ps)
		made = counted(k.order, made, wants)
		jigs, problems = append(jigs, made...), append(problems, ps...)
		problems = append(problems, loose(wants, w.Key, made)...)
	}
	if len(problems) > 0 {
		return nil, problems
	}
	return jigs, nil
}

// Ahead begins to make jigs that will certainly be asked for, one after the other,
// beside those that are asked for before them.
func (k *Kits) Ahead(keys ...string) {
	var ahead []func()
	for _, key := range keys {
		n := slices.IndexFunc(makers, func(m maker) bool { return m.key == key })
		if _, had := k.made[key]; had || n < 0 {
			continue
		}
		had := &platesMade{done: make(chan struct{})}
		k.made[key] = had
		ahead = append(ahead, func() { had.make(makers[n], k.order, k.params) })
	}
	go func() {
		for _, begin := range ahead {
			begin()
		}
	}()
}

func (p *platesMade) make(m maker, o *star.Order, params Params) {
	defer close(p.done)
	p.jigs, p.problems = m.make(o.Units, params)
}

// plates returns what a maker makes, to be counted and named anew.
func (k *Kits) plates(m maker, p Params) ([]Jig, problem.List) {
	key := m.key
	if m.key == "angle-block" {
		key += fmt.Sprint(p.angles)
	}
	had, ok := k.made[key]
	if !ok {
		had = &platesMade{done: make(chan struct{})}
		k.made[key] = had
		had.make(m, k.order, p)
	}
	<-had.done
	out := slices.Clone(had.jigs)
	for i := range out {
		if b := out[i].Build; b != nil {
			own := *b
			out[i].Build = &own
		}
	}
	return out, had.problems
}

// counted keeps the plates of what is wanted and counts them.
func counted(o *star.Order, made []Jig, wants []Want) []Jig {
	need, part := map[string]int{}, map[string]bool{}
	for i := range made {
		j := &made[i]
		if j.Build == nil {
			continue
		}
		j.Build.Title = j.Title
		j.Build.Sets = j.asked(o, wants)
		for _, l := range j.Build.Layers {
			need[l.File] += l.Count * j.Build.Sets
			part[l.File] = true
		}
	}
	var out []Jig
	for _, j := range made {
		if !part[j.File] { // a jig of one kind of plate
			sets := j.asked(o, wants)
			need[j.File] = j.Quantity * sets
			j.Build = j.alone(sets)
		}
		if j.Quantity = need[j.File]; j.Quantity == 0 {
			continue
		}
		if j.Build != nil {
			j.Use = j.Build.Use(o.Units[0].Spec.Unit)
		}
		out = append(out, j)
	}
	for i := range out {
		if out[i].Build != nil {
			continue
		}
		for _, j := range out {
			if j.Build != nil && slices.ContainsFunc(j.Build.Layers, func(l Layer) bool { return l.File == out[i].File }) {
				out[i].Use = strings.Join(j.Build.Assembly(o.Units[0].Spec.Unit), " ")
				break
			}
		}
	}
	return out
}

// alone is the build of a jig that is one kind of plate.
func (j *Jig) alone(sets int) *Build {
	h := &Build{Key: j.Key, Title: j.Title, Hand: j.Hand, Angle: j.Angle, Sets: sets,
		Layers: []Layer{{File: j.File, Plate: "plate", Count: j.Quantity, Screws: screwsIn(j.Holes)}}}
	h.Scribed = j.Key == "drill-guide" && len(j.Holes) == 0
	for _, s := range j.Seats {
		if s.What != fenceName {
			h.What, h.Work, h.Seats, h.Play = s.What, s.Work, s.Edges, s.Play
		} else {
			h.Fence = s.Edges
		}
	}
	return h
}

// leastScrews is how many screws keep a plate from turning.
const leastScrews = 2

// loose says which plate of a jig finds too little room for the screws that hold
// it.
func loose(wants []Want, key string, made []Jig) problem.List {
	for _, j := range made {
		n := len(j.Screws())
		if !j.Screwed || n >= leastScrews {
			continue
		}
		var others []string
		for _, w := range wants {
			others = append(others, w.Key)
		}
		return problem.List{{
			Key: "jigs.make", Got: key,
			Why:   fmt.Sprintf("the %s has room for %d of the %d screws that hold it", j.Title, n, leastScrews),
			Would: "make = " + listWithout(others, key),
		}}
	}
	return nil
}

// without stands in the advice of a maker for the job's list of jigs without one of
// them, which makers do not know: see [Params.spelt].
func without(key string) string { return "no " + key }

// spelt returns the problems of a jig with the list without it spelt out, as it
// stands in a job: what the job names but for it, and nothing where it names none.
func (p Params) spelt(key string, ps problem.List) problem.List {
	out := slices.Clone(ps)
	for i := range out {
		would := "make = " + listWithout(p.Named, key)
		if out[i].Key != "jigs.make" {
			would = "[jigs] " + would
		}
		out[i].Would = strings.Replace(out[i].Would, without(key), would, 1)
	}
	return out
}

// listWithout is a list of jigs without one, each once, as a job has it.
func listWithout(keys []string, but string) string {
	var rest []string
	for _, k := range keys {
		if name := fmt.Sprintf("%q", k); k != but && !slices.Contains(rest, name) {
			rest = append(rest, name)
		}
	}
	return "[" + strings.Join(rest, ", ") + "]"
}

// unknown says that there is no such jig, and which one was probably meant.
func unknown(key string) problem.Problem {
	meant, _ := words.Nearest(key, Keys())
	for _, k := range Keys() {
		if key != "" && strings.Contains(k, key) { // a part of a name
			meant = k
			break
		}
	}
	return problem.Problem{
		Key: "jigs.make", Got: key,
		Why:   "there is no such jig; the jigs are " + strings.Join(Keys(), ", "),
		Would: fmt.Sprintf("make = [%q]", meant),
	}
}

// uniqueFiles numbers the second and later jigs of the same file name.
func uniqueFiles(jigs []Jig) []Jig {
	used := map[string]bool{}
	for i, j := range jigs {
		name := j.File
		for n := 2; used[name]; n++ {
			name = fmt.Sprintf("%s-%d", j.File, n)
		}
		used[name] = true
		jigs[i].File = name
	}
	return jigs
}
