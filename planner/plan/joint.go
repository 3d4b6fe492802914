package plan

import (
	"encoding/json"
	"fmt"
	"path"
	"slices"
	"strings"
)

// Joint is several drawings' plans as one order, for the sheets of the office and the client: all that goes into the boils
// and the packs together, and each drawing's share of it. It has no parts and no steps. Colours are lettered by the
// drawing's number and their own letter.
func Joint(plans []*Plan) *Plan {
	first := plans[0]
	out := &Plan{
		Format: Format, Version: Version, Verdict: first.Verdict, Shop: first.Shop, Job: first.Job, Piece: first.Piece,
		Order: &Order{LeastG: first.Order.LeastG, MostG: first.Order.MostG},
		Label: &Label{BestBefore: first.Label.BestBefore, Weighed: first.Label.Weighed},
	}
	var titles []string
	digests := ""
	pieces, grams := 0, 0.0
	for i, p := range plans {
		titles = append(titles, p.Artwork.Title)
		digests += p.Artwork.SHA256
		rename := map[string]string{"": ""}
		for _, c := range p.Colours {
			rename[c.ID] = fmt.Sprintf("%d.%s", i+1, c.ID)
			c.ID, c.Letter = rename[c.ID], fmt.Sprintf("%d%s", i+1, c.Letter)
			out.Colours = append(out.Colours, c)
		}
		out.Order.add(p, rename)
		out.Label.add(p.Label)
		pieces += p.Order.Made - p.Order.Spare
		grams += float64(p.Order.Made-p.Order.Spare) * float64(p.Piece.MassG)
	}
	out.Artwork.Title, out.Artwork.SHA256 = strings.Join(titles, " + "), Digest([]byte(digests))
	out.Piece.Count = pieces
	if pieces > 0 {
		out.Piece.MassG = Num(grams / float64(pieces))
	}
	out.Order.Shared = shared(plans)
	known := func(x Ingredient) int {
		if x.Grams > 0 {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(out.Label.Ingredients, func(a, b Ingredient) int {
		if k := known(a) - known(b); k != 0 {
			return k
		}
		return int(float64(b.Grams - a.Grams))
	})
	out.index = newIndex(out)
	return out
}

// OrderFileName is the file of an order of several drawings, beside its sheets.
const OrderFileName = "order.json"

// OrderFormat of that file; its version is that of a plan.
const OrderFormat = "sugarwright-order"

// WriteOrder is the file of a joint plan: of which order's file it is, what goes into the packs, and the files beside it. The
// plan of each drawing lies in a folder of its own.
func WriteOrder(of string, p *Plan, beside []File) ([]byte, error) {
	out := struct {
		Format  string            `json:"format"`
		Version int               `json:"version"`
		Of      string            `json:"of"`
		Job     *Job              `json:"job,omitempty"`
		Order   *Order            `json:"order"`
		Label   *Label            `json:"label"`
		Files   []string          `json:"files"`
		Digests map[string]string `json:"digests"`
	}{OrderFormat, Version, of, p.Job, p.Order, p.Label, []string{OrderFileName}, map[string]string{}}
	for _, f := range beside {
		out.Files = append(out.Files, f.Name)
		out.Digests[f.Name] = Digest(f.Data)
	}
	data, err := json.MarshalIndent(out, "", " ")
	return append(data, '\n'), err
}

// add a drawing's plan to an order of several.
func (o *Order) add(p *Plan, rename map[string]string) {
	x := p.Order
	share := 1
	for _, d := range x.Designs {
		if strings.EqualFold(path.Base(strings.ReplaceAll(d.File, "\\", "/")), p.Given()) {
			share = d.Share
		}
	}
	o.Designs = append(o.Designs, Design{
		File: p.Given(), Share: share, Title: p.Artwork.Title, Logs: x.Logs, LogG: p.Log.MassG, LogMM: p.Log.DiameterMM, LengthMM: p.Log.LengthMM,
		Made: x.Made, Wanted: x.Wanted, Spare: x.Spare,
	})
	o.Logs += x.Logs
	o.Made, o.Wanted, o.Spare, o.EndsG = o.Made+x.Made, o.Wanted+x.Wanted, o.Spare+x.Spare, o.EndsG+x.EndsG
	for _, b := range x.Ledger {
		k := slices.IndexFunc(o.Ledger, func(a Balance) bool { return a.Key == b.Key })
		if k < 0 {
			o.Ledger = append(o.Ledger, Balance{Key: b.Key})
			k = len(o.Ledger) - 1
		}
		o.Ledger[k].Off, o.Ledger[k].Left = o.Ledger[k].Off+b.Off, o.Ledger[k].Left+b.Left
	}
	for i, k := range x.Packs {
		if i == len(o.Packs) {
			o.Packs = append(o.Packs, Pack{Number: k.Number, Pieces: k.Pieces, AskedG: k.AskedG, NetG: k.NetG})
		}
		o.Packs[i].Own += k.Own
		o.Packs[i].Of = append(o.Packs[i].Of, k.Own)
	}
	for _, l := range x.Left {
		l.Colour = rename[l.Colour]
		o.Left = append(o.Left, l)
	}
	for _, d := range x.Doses {
		if d.Colour == "" && slices.ContainsFunc(o.Doses, func(e Dose) bool { return e.Colour == "" && e.Additive == d.Additive }) {
			continue // in all sugar alike
		}
		d.Colour = rename[d.Colour]
		o.Doses = append(o.Doses, d)
	}
	switch {
	case x.Price == nil:
	case o.Price == nil:
		sum := *x.Price
		sum.Lines, sum.More = slices.Clone(sum.Lines), nil
		o.Price = &sum
	default:
		o.Price.Low, o.Price.High = both(o.Price.Low, x.Price.Low), both(o.Price.High, x.Price.High)
		for i := range o.Price.Lines {
			o.Price.Lines[i].Amount = both(o.Price.Lines[i].Amount, x.Price.Lines[i].Amount)
		}
	}
}

// both amounts; blank where one is.
func both(a, b Num) Num {
	if a < 0 || b < 0 {
		return -1
	}
	return a + b
}

// add what another drawing's sweets hold.
func (l *Label) add(x *Label) {
	for _, in := range x.Ingredients {
		k := slices.IndexFunc(l.Ingredients, func(a Ingredient) bool { return a.Key == in.Key && a.Name == in.Name })
		if k < 0 {
			l.Ingredients = append(l.Ingredients, in)
			continue
		}
		l.Ingredients[k].Grams += in.Grams
		l.Ingredients[k].Allergen = l.Ingredients[k].Allergen || in.Allergen
	}
	union := func(to []string, more []string) []string {
		for _, m := range more {
			if !slices.Contains(to, m) {
				to = append(to, m)
			}
		}
		return to
	}
	l.Allergens, l.MayContain = union(l.Allergens, x.Allergens), union(l.MayContain, x.MayContain)
	for _, w := range x.Warnings {
		k := slices.IndexFunc(l.Warnings, func(a Warning) bool { return a.Key == w.Key })
		if k < 0 {
			l.Warnings = append(l.Warnings, Warning{Key: w.Key})
			k = len(l.Warnings) - 1
		}
		l.Warnings[k].Of = union(l.Warnings[k].Of, w.Of)
	}
}

// shared are the colours that more than one drawing needs: what is weighed off of them for all logs.
func shared(plans []*Plan) (out []Shared) {
	for i, p := range plans {
		for _, c := range p.Colours {
			k := slices.IndexFunc(out, func(s Shared) bool {
				return s.Name == c.Name && s.SRGB == c.SRGB && s.Finish == c.Finish
			})
			if k < 0 {
				out = append(out, Shared{Name: c.Name, SRGB: c.SRGB, Finish: c.Finish})
				k = len(out) - 1
			}
			n := Num(p.Order.Logs)
			out[k].Grams += n * c.NeedG
			out[k].DoseG += n * c.DoseG
			out[k].Of = append(out[k].Of, i+1)
		}
	}
	return slices.DeleteFunc(out, func(s Shared) bool { return len(s.Of) < 2 })
}

// Given is the file that the client gave.
func (p *Plan) Given() string {
	if p.SimplifiedFrom != nil {
		return p.SimplifiedFrom.File
	}
	return p.Artwork.File
}
