package dxfread

// order holds the pairs of a file against what strict programs want of their
// order, where the reader itself would not mind.
type order struct {
	last  int    // code of the pair before
	table string // name of the open table
	open  bool   // within a table
	named bool   // its name has come
	seen  uint64 // codes of the present header variable or layer
}

// point judges that the parts of a point follow each other: X, then Y, then Z.
// The reference lets groups come in any order but these ("Group codes in
// numerical order": 20 to 28 are the Y that goes with 10 to 18, 30 to 37 the
// Z); programs that read points refuse others.
func (p *pairs) point() {
	c, last := p.code, p.order.last
	p.order.last = c
	switch {
	case last >= 10 && last <= 18 && c != last+10:
		p.fault(p.line, "structure", string(p.value), "group %d without group %d behind it: the Y of a point follows its X", last, last+10)
	case c >= 20 && c <= 28 && last != c-10, c >= 30 && c <= 37 && last != c-10:
		p.fault(p.line, "structure", string(p.value), "group %d without group %d before it: X, Y and Z of a point follow each other", c, c-10)
	}
}

// once judges that a header variable, or a layer, has each of its groups once.
func (r *reader) once() {
	bit := uint64(1) << (r.code % 64) // no two that are looked at are 64 apart
	if r.order.seen&bit != 0 {
		r.fault(r.line, "structure", string(r.value), "group %d twice in one entry of the header or of the layers: the beginning of the next may be missing", r.code)
	}
	r.order.seen |= bit
}

// tables judges the current pair as one of the section TABLES ("TABLES
// section": TABLE, its name, records of that name, ENDTAB).
func (r *reader) tables() {
	o := &r.order
	switch {
	case r.is(0, "TABLE"):
		if o.open {
			r.fault(r.line+1, "structure", "TABLE", "table %s is not closed: ENDTAB is missing before this line", clip(o.table))
		}
		o.open, o.named, o.table = true, false, ""
	case r.is(0, "ENDTAB"):
		if !o.open || !o.named {
			r.fault(r.line+1, "structure", "ENDTAB", "ENDTAB of a table that has not begun or has no name")
		}
		o.open = false
	case r.code == 0 && r.word() != "ENDSEC":
		if w := r.word(); !o.open || w != o.table {
			r.fault(r.line+1, "structure", w, "%s is no record of the table %q", clip(w), clip(o.table))
		}
	case r.code == 0:
		if o.open {
			r.fault(r.line+1, "structure", "ENDSEC", "table %s is not closed: ENDTAB is missing before this line", clip(o.table))
		}
		o.open = false
	case o.open && !o.named:
		if r.code != 2 {
			r.fault(r.line, "structure", string(r.value), "a table without a name: group 2 follows TABLE")
		}
		o.named, o.table = true, r.word()
	}
}
