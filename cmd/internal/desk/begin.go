package desk

import (
	"context"
	"encoding/json"
	"slices"

	"starwright/cmd/internal/engine"
)

// Begun is all that the page needs to show its first star, in one answer: each
// question by itself would wait for the one before.
type Begun struct {
	About   any     `json:"about"`
	Listing Listing `json:"listing"`
	Shop    *Opened `json:"shop"`   // the folder's, null without one
	Job     *Opened `json:"job"`    // the one that is opened first, null where there is none
	Glance  any     `json:"glance"` // of that job; null where the page has to ask
}

// firstJob is the job file that is opened first where there are several.
const firstJob = "job.toml"

// Begin lists the folder, opens its shop and the first of its jobs, and works out
// the numbers and the star. A file that cannot be opened is left to be opened by
// the page, which then says why.
func (f *Folder) Begin(ctx context.Context) (Begun, error) {
	var b Begun
	var err error
	if b.Listing, err = f.List(); err != nil {
		return b, err
	}
	about, _, _ := engine.Handle(ctx, engine.Call{Name: "about", Args: json.RawMessage("{}")})
	b.About = about.Result
	shop := ""
	if b.Listing.Shop {
		if b.Shop = f.openOr(ShopFile); b.Shop == nil {
			return b, nil
		}
		shop = b.Shop.Source
	} else if f.Usual != nil {
		shop = string(f.Usual.Data)
	}
	if len(b.Listing.Jobs) == 0 {
		return b, nil
	}
	name := b.Listing.Jobs[0]
	if slices.Contains(b.Listing.Jobs, firstJob) {
		name = firstJob
	}
	if b.Job = f.openOr(name); b.Job == nil {
		return b, nil
	}
	args, err := json.Marshal(engine.Draft{Name: name, Source: b.Job.Source, Shop: shop})
	if err != nil {
		return b, err
	}
	if r, err, _ := engine.Handle(ctx, engine.Call{Name: "glance", Args: args}); err == nil {
		b.Glance = r.Result
	}
	return b, nil
}

func (f *Folder) openOr(name string) *Opened {
	o, err := f.Open(name)
	if err != nil {
		return nil
	}
	return &o
}
