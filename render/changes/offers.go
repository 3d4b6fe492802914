package changes

import (
	"fmt"
	"strings"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// Offer is a plan that a client may choose, and of which kind it is.
type Offer struct {
	Kind string
	Plan *plan.Plan
}

// enlarged is how many times life size an offer's larger picture is.
const enlarged = 3

// Offers are the pages of what can be made of a drawing: each with its picture at true size and enlarged, what was changed, and
// what it takes.
func Offers(list []Offer, s sheet.Style) []*page.Page {
	if len(list) == 0 {
		return nil
	}
	t := s.T()
	f := s.StartClient(list[0].Plan, t.Text("offer.title")+t.Text("sheet.dash")+page.Clean(list[0].Plan.Artwork.Title))
	for i, o := range list {
		p := o.Plan
		r := float64(p.Piece.DiameterMM) / 2
		ground := ""
		if len(p.Colours) > 0 {
			ground = p.Colours[0].SRGB
		}
		f.Room(2*enlarged*r + 12)
		sweet := func(at page.Point, drawn float64) {
			f.Page.Add(page.Path{Rings: [][]page.Point{page.Circle(at, drawn)}, Fill: "#ffffff", Stroke: "#808080", Width: 0.3})
			k := float64(p.Log.PictureDiameterMM / p.Log.DiameterMM)
			picture(f.Page, p.Picture, at, drawn*k, float64(p.Log.PictureDiameterMM)/2, ground)
		}
		large := page.Point{sheet.Margin + enlarged*r, f.Y + enlarged*r + 2}
		sweet(large, enlarged*r)
		sweet(page.Point{large[0] + enlarged*r + 4 + r, large[1] + enlarged*r - r}, r)
		x := large[0] + enlarged*r + 10 + 2*r
		y := f.Y + 7
		f.Page.Write(page.Text{At: page.Point{x, y}, Size: sheet.NumberSize, Bold: true, Text: fmt.Sprint(i + 1)})
		f.Page.Write(page.Text{At: page.Point{x + 9, y}, Size: sheet.TextSize, Bold: true, Text: t.Text("offer." + o.Kind)})
		said := []string{t.Text("offer.line", p.Piece.Count, p.Index().Distinct())}
		if c := p.Order; c != nil && c.Price != nil && c.Price.Low >= 0 {
			said[0] += " \u00b7 " + t.Text("offer.price", words.Number{Value: float64(c.Price.Low), Digits: c.Price.Decimals}, s.Money(c.Price.High, c.Price))
		}
		if c := p.Smallest; c != nil {
			least := min(c.MassG, p.Log.MassG) // a scarce colour asks for more, and in this log a rest of it is left over
			said[0] += " \u00b7 " + t.Text("offer.least", s.Grams(float64(least)))
		}
		var sentences []string
		for _, x := range say.Offer(p) {
			sentences = append(sentences, t.Say(x))
		}
		said = append([]string{strings.Join(sentences, " ")}, said...)
		y += 7
		for _, text := range said {
			for _, l := range page.Wrap(page.Text{Text: text, Size: size}, f.Page.W-sheet.Margin-x) {
				f.Page.Write(page.Text{At: page.Point{x, y}, Size: size, Text: l})
				y += 1.7 * size
			}
			y += 1.5
		}
		f.Y += 2*enlarged*r + 8
	}
	f.Column(sheet.Margin, f.W(), t.Text("offer.enlarged"), size, false)
	return f.Done()
}
