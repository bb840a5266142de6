package job

import "unicode/utf8"

// mostMoney is the largest sum that is believed, in any currency.
const mostMoney = 1e9

// CostTable is `[cost]`. A nil price is one that the file does not give; what it
// would be paid for is then left out, and said to be.
type CostTable struct {
	Currency    string // "" works out no money
	Hour        *float64
	MachineHour *float64
	Wood        *float64 // for one of WoodPer
	WoodPer     WoodPer
	Sheet       *float64
	Glue        *float64 // a kilogram
	Finish      *float64 // a square metre
	Cutter      *float64
	CutterHours *float64
	Fees        float64 // percent of the price
	Margin      float64 // percent of the price
}

// WoodPer is what the price of wood is for.
type WoodPer string

// What wood is sold by.
const (
	PerBoardFoot  WoodPer = "board foot"
	PerMetre      WoodPer = "metre"
	PerCubicMetre WoodPer = "cubic metre"
	PerBoard      WoodPer = "board"
)

// TimesTable is `[times]`, in minutes.
type TimesTable struct {
	Setup, Stop, Cut, HandCut, Rip, Slot, Spline, Joint, Plate, Program, Fit, Finish, Drying float64
}

// practice is why the minutes of `[times]` are taken.
const practice = "common practice, no source; your own minutes are better"

// cost reads what things cost and how long work takes.
func (r *reader) cost(j *Job) {
	s := r.section("cost")
	t := &j.Cost
	const longest = 8
	t.Currency = s.words("currency", longest, "EUR")
	unit := t.Currency
	if unit == "" || utf8.RuneCountInString(unit) > longest {
		unit = "the currency"
	}
	money := func(key, example string) *float64 { return s.number(key, 0, mostMoney, unit, example) }
	t.Hour, t.MachineHour = money("hour", "38"), money("machine_hour", "6")
	t.Wood = money("wood", "4.20")
	t.WoodPer = WoodPer(s.choice("wood_per", "as yards in many places sell it",
		string(PerBoardFoot), string(PerMetre), string(PerCubicMetre), string(PerBoard)))
	t.Sheet, t.Glue, t.Finish = money("sheet", "9"), money("glue", "11"), money("finish", "2.50")
	t.Cutter, t.CutterHours = money("cutter", "24"), s.number("cutter_hours", 0.1, 10000, "h", "15")
	share := func(key, example string) float64 {
		if v := s.number(key, 0, 95, "%", example); v != nil {
			return *v
		}
		return 0
	}
	t.Fees, t.Margin = share("fees", "8"), share("margin", "20")
	if t.Fees+t.Margin >= 100 {
		s.fail("margin", s.node.kids["margin"], "fees and margin together leave nothing of the price for the work", show(max(0, 90-t.Fees)))
	}
	if t.Currency == "" && !s.has("currency") && t.priced() {
		r.add(Error{File: s.node.file(), Line: s.line(), Table: s.name, Key: "currency", Why: "the prices are in no currency", Would: `currency = "EUR", or whatever you write`})
	}
	r.times(j)
}

// priced reports whether the file gives any price.
func (t *CostTable) priced() bool {
	for _, p := range []*float64{t.Hour, t.MachineHour, t.Wood, t.Sheet, t.Glue, t.Finish, t.Cutter} {
		if p != nil {
			return true
		}
	}
	return false
}

// times reads the minutes.
func (r *reader) times(j *Job) {
	s := r.section("times")
	t := &j.Times
	for _, one := range []struct {
		key   string
		to    *float64
		usual float64
	}{
		{"setup", &t.Setup, 8}, {"stop", &t.Stop, 2}, {"cut", &t.Cut, 0.6}, {"hand_cut", &t.HandCut, 6}, {"rip", &t.Rip, 0.5},
		{"slot", &t.Slot, 1}, {"spline", &t.Spline, 0.3}, {"joint", &t.Joint, 3}, {"plate", &t.Plate, 4}, {"program", &t.Program, 5},
		{"fit", &t.Fit, 6}, {"finish", &t.Finish, 15}, {"drying", &t.Drying, 60},
	} {
		*one.to = one.usual
		if v := s.number(one.key, 0, 100000, "min", show(one.usual)); v != nil {
			*one.to = *v
		} else if !s.has(one.key) {
			s.note(one.key, show(one.usual)+" min", practice)
		}
	}
}
