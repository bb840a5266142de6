package packet

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"starwright/cmd/internal/shopsheet"
	"starwright/geom/words"
)

// paper is a file that people read, print or open: not cut, so not proven.
type paper struct {
	path, kind, use string
	make            func() ([]byte, error)
}

// papers are the files of the packet for people.
func (w *Work) papers(proofs []Proof) ([]paper, error) {
	in, err := w.sheetInput()
	if err != nil {
		return nil, err
	}
	papers := []paper{
		{"pictures/backplot.html", "picture", "programs and drawings as read back, to play and measure in any browser",
			func() ([]byte, error) { return w.buildPage(proofs) }},
		{"shop-sheet.pdf", "sheet", "the printed sheet for the bench, from the rack to the last glue-up",
			func() ([]byte, error) { return shopsheet.Build(in) }},
		{"bench.html", "sheet", "the same on a phone: one set-up a screen, to tick off at the machine",
			func() ([]byte, error) { return shopsheet.Screens(in) }},
		{"templates.pdf", "sheet", "segment, off-cut segment and angle blocks at full size, with check bars",
			func() ([]byte, error) { return shopsheet.Templates(in) }},
		{"operator.txt", "ticket", "for the person at the laser or the makerspace",
			func() ([]byte, error) { return shopsheet.Ticket(in), nil }},
	}
	if w.Cost != nil && w.Cost.Currency != "" {
		papers = append(papers, paper{"cost-sheet.pdf", "sheet", "what it takes, costs and sells for; for you, not for the bench",
			func() ([]byte, error) { return shopsheet.CostSheet(in) }})
	}
	if w.Job.Print.Labels {
		papers = append(papers, paper{"labels.pdf", "sheet", "labels to print and cut: segments, pairs of off-cuts, boxes",
			func() ([]byte, error) { return shopsheet.Labels(in) }})
	}
	return papers, nil
}

// BenchPage returns the page for a phone at the machine, as it stands in the
// packet.
func (w *Work) BenchPage() ([]byte, error) {
	in, err := w.sheetInput()
	if err != nil {
		return nil, err
	}
	return shopsheet.Screens(in)
}

// writePapers writes the files for people, pictures among them, and returns
// them for the manifest.
func (w *Work) writePapers(st sink, proofs []Proof) ([]File, error) {
	papers, err := w.papers(proofs)
	if err != nil {
		return nil, err
	}
	pictures := w.pictureList(proofs)
	files := make([][]File, len(papers)+len(pictures))
	errs := make([]error, len(files))
	// What takes longest comes first, the papers and then the back-plots, so
	// that no processor waits at the end.
	done := w.begin("drawing pictures", len(files))
	inParallel(len(files), func(i int) {
		defer done.file()
		if i < len(papers) {
			files[i], errs[i] = writePaper(st, papers[i])
			return
		}
		i = len(files) - 1 - (i - len(papers))
		files[i], errs[i] = writePicture(st, pictures[i-len(papers)])
	})
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	var out []File
	for _, f := range append(files[len(papers):], files[:len(papers)]...) {
		out = append(out, f...)
	}
	return out, nil
}

func writePaper(st sink, p paper) ([]File, error) {
	data, err := p.make()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", p.path, err)
	}
	return []File{lookedAt(p.path, p.kind, p.use, data)}, st.Write(p.path, data)
}

// sheetInput is what the printed sheet is made from.
func (w *Work) sheetInput() (shopsheet.Input, error) {
	date, err := shopsheet.Date(w.Job, os.Getenv(shopsheet.EpochVariable))
	if err != nil {
		return shopsheet.Input{}, &RefusedError{"date", err.Error()}
	}
	job := *w.Job
	job.Title, job.Wood.Species = words.OneLine(job.Title), words.OneLine(job.Wood.Species)
	in := shopsheet.Input{Job: &job, Order: w.Order, Title: words.OneLine(w.Title()), Date: words.OneLine(date), Jigs: w.Jigs, Route: &w.Route, Shop: w.shopNames(), Bench: w.Bench,
		Cost: w.Cost, Corrected: w.Corrected}
	for _, g := range w.Programs {
		in.Programs = append(in.Programs, shopsheet.File{Path: g.Path, Use: words.OneLine(g.Use), Brief: words.OneLine(g.Brief), Quantity: g.Quantity, Minutes: g.Minutes})
		if g.Sheet != nil {
			in.Sheets = append(in.Sheets, w.sheetOf(&g))
		}
	}
	for _, d := range w.Drawings {
		in.Drawings = append(in.Drawings, shopsheet.File{Path: d.Path, Use: words.OneLine(d.Use), Quantity: d.Quantity})
	}
	return in, nil
}

// sheetOf is a sheet as the printed pages show it.
func (w *Work) sheetOf(g *Program) shopsheet.Sheet {
	j := g.Sheet
	s := shopsheet.Sheet{Path: g.Path, W: j.SheetW, H: j.SheetH, Screws: j.ScrewZones, Deep: w.exact(j.Breakthrough), Board: g.board}
	if !w.Job.OneCutter(w.Order) || w.Job.OwnSegmentCutter(w.Order) {
		s.Bit = w.exact(j.CutterDiameter)
	}
	for _, p := range j.Parts {
		s.Parts = append(s.Parts, p.Outline)
	}
	for _, l := range w.holdLines(*j, g.UnitMM) {
		name, text, _ := strings.Cut(l, ": ")
		s.Hold = append(s.Hold, [2]string{name, text})
	}
	if j.Park != nil {
		_, s.Park, _ = strings.Cut(w.parkLine(j.Park, g.UnitMM, ""), ": ")
		s.Park = "the cutter goes " + strings.TrimSuffix(s.Park, ", ")
	}
	return s
}

// shopNames are the machines of the shop.
func (w *Work) shopNames() []string {
	var out []string
	for _, m := range w.Job.Shop.Has {
		out = append(out, string(m))
	}
	return out
}

// LayPages writes into the route on which page of the printed sheet each set-up
// stands.
func (w *Work) LayPages() error {
	in, err := w.sheetInput()
	if err != nil {
		return err
	}
	return shopsheet.Lay(in)
}
