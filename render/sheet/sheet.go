// Package sheet holds what all sheets share: paper, units, words, colour swatches with letter and hatch, cautions.
//
// Guarantees: colour is never the only key; every working sheet carries the cautions.
package sheet

import (
	"fmt"
	"math"
	"strconv"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
)

// Paper sizes in millimetres (ISO 216; Letter is 8.5 by 11 inches).
type Paper struct{ W, H float64 }

// Papers by name.
var Papers = map[string]Paper{"a4": {210, 297}, "letter": {215.9, 279.4}}

// Style is how sheets are printed.
type Style struct {
	Paper Paper
	US    bool
}

// Margin of every sheet, millimetres.
const Margin = 12

// Type sizes: heights of capitals in millimetres. AS 1319: 5 mm per metre, half more in poor light; a bench is 0.8 m away.
const (
	NumberSize = 6
	TextSize   = 4
	SmallSize  = 3
)

// MM prints a length for hands: millimetres, or sixteenths of an inch.
func (s Style) MM(v float64) string {
	if !s.US {
		return strconv.FormatFloat(math.Round(v*2)/2, 'f', -1, 64) + " mm"
	}
	n := int(math.Round(v / 25.4 * 16))
	whole, rest := n/16, n%16
	den := 16
	for rest > 0 && rest%2 == 0 {
		rest, den = rest/2, den/2
	}
	switch {
	case rest == 0:
		return fmt.Sprintf("%d in", whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d in", rest, den)
	}
	return fmt.Sprintf("%d %d/%d in", whole, rest, den)
}

// Grams prints a mass: to 5 g, or ounces to a tenth.
func (s Style) Grams(v float64) string {
	if s.US {
		return strconv.FormatFloat(math.Round(v/28.349523125*10)/10, 'f', -1, 64) + " oz"
	}
	if v < 20 {
		return fmt.Sprintf("%.0f g", v)
	}
	return fmt.Sprintf("%.0f g", math.Round(v/5)*5)
}

// Heat prints a temperature as a band of 5 degrees Celsius, or 10 Fahrenheit, marked as a guess; where the shop has measured its sugar, as two
// degrees either way.
func (s Style) Heat(c float64, guess bool) string {
	lo, hi, mark := math.Floor(c/5)*5, math.Floor(c/5)*5+5, "?"
	if !guess {
		lo, hi, mark = math.Round(c)-2, math.Round(c)+2, ""
	}
	if s.US {
		return fmt.Sprintf("%.0f-%.0f F%s", math.Round(lo*1.8+32), math.Round(hi*1.8+32), mark)
	}
	return fmt.Sprintf("%.0f-%.0f C%s", lo, hi, mark)
}

// Guessed tells whether the plan's temperatures are guesses: no shop test has narrowed the glass transition.
func Guessed(p *plan.Plan) bool { return p.Clock == nil || p.Clock.TgFrom != "lump test" }

// Size prints a part's section in kitchen words.
func (s Style) Size(e plan.Element) string {
	v := func(k string) string { return s.MM(float64(e.Size[k])) }
	switch e.Form {
	case "rod":
		return v("diameter_mm") + " across"
	case "strip", "wrap":
		return v("thickness_mm") + " thick, " + v("width_mm") + " wide"
	case "block":
		return v("width_mm") + " x " + v("height_mm")
	case "wedge":
		if e.Size["top_mm"] > 1 {
			return v("base_mm") + " down to " + v("top_mm") + ", " + v("height_mm") + " high"
		}
		return v("base_mm") + " to a point, " + v("height_mm") + " high"
	case "segment":
		return v("chord_mm") + " flat, " + v("height_mm") + " high"
	}
	return v("diameter_mm") + " round end, " + v("length_mm") + " long"
}

// Words of the kitchen for forms.
var Words = map[string]string{"rod": "rod", "strip": "strip", "block": "block", "wedge": "wedge", "segment": "half-moon", "teardrop": "teardrop", "wrap": "wrap"}

// Hatches for the colours of a plan, each of its own angle and spacing; the ground has none.
func Hatches(p *plan.Plan) []page.Hatch {
	var out []page.Hatch
	for i, c := range p.Colours {
		if i == 0 {
			continue
		}
		k := i - 1
		out = append(out, page.Hatch{ID: c.ID, Angle: float64((k*45)%180) + 22, Spacing: 2 * math.Pow(1.6, float64(k/4%3)), Colour: Ink(c.SRGB), Cross: k/12%2 == 1})
	}
	return out
}

// Ink is black or white, whichever stands out more on a colour (WCAG contrast).
func Ink(hex string) string {
	if luminance(hex) > 0.18 {
		return "#000000"
	}
	return "#ffffff"
}

func luminance(hex string) float64 {
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		return 1
	}
	lin := func(c uint64) float64 {
		x := float64(c&255) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(v>>16) + 0.7152*lin(v>>8) + 0.0722*lin(v)
}

// Cautions writes the cautions at the foot and returns the height that they take.
func Cautions(pg *page.Page, list []string, size float64) float64 {
	y := pg.H - Margin
	w := pg.W - 2*Margin
	var lines []string
	for _, c := range list {
		lines = append(lines, page.Wrap(page.Text{Text: c, Size: size}, w)...)
	}
	step := size * 1.6
	top := y - step*float64(len(lines)-1)
	for i, l := range lines {
		pg.Write(page.Text{At: page.Point{Margin, top + step*float64(i)}, Size: size, Text: l})
	}
	pg.Line(page.Point{Margin, top - 1.6*size}, page.Point{pg.W - Margin, top - 1.6*size}, 0.5)
	return y - top + 3*size
}

// keyRow and keyColumns lay out the key.
const (
	keyRow     = 9.0
	keyColumns = 2
)

// KeyHeight is the height of the key.
func (s Style) KeyHeight(p *plan.Plan) float64 {
	return keyRow * math.Max(2.6, math.Ceil(float64(len(p.Colours))/keyColumns))
}

// Key draws the colours with letter, hatch, name and grams, in columns, from y down; it returns the y below.
func (s Style) Key(pg *page.Page, p *plan.Plan, y float64) float64 {
	const row, box, cols = keyRow, 8.0, keyColumns
	w := (pg.W - 2*Margin) / float64(cols)
	for i, c := range p.Colours {
		x := Margin + w*float64(i%cols)
		r := y + row*float64(i/cols)
		sq := []page.Point{{x, r}, {x + box, r}, {x + box, r + box - 1}, {x, r + box - 1}}
		pg.Add(page.Path{Rings: [][]page.Point{sq}, Fill: c.SRGB})
		if i > 0 {
			pg.Add(page.Path{Rings: [][]page.Point{sq}, Fill: "hatch:" + c.ID})
		}
		pg.Add(page.Path{Rings: [][]page.Point{sq}, Stroke: "#000000", Width: 0.35})
		t := page.Text{At: page.Point{x + box + 2, r + 5.5}, Size: TextSize, Text: fmt.Sprintf("%s  %s, %s  %s", c.Letter, c.Name, c.Finish, s.Grams(float64(c.MassG)))}
		for page.Width(t) > w-box-3 && t.Size > 2.5 {
			t.Size *= 0.9
		}
		pg.Write(t)
	}
	return y + row*math.Ceil(float64(len(p.Colours))/float64(cols))
}

// Spot is the nearest spot, on rings round a place, that keeps its distance from those taken.
func Spot(at page.Point, put []page.Point, dist float64) (page.Point, bool) {
	for ring := 0; ring < 12; ring++ {
		for j := range max(1, 8*ring) {
			a := 2 * math.Pi * float64(j) / float64(max(1, 8*ring))
			p := page.Point{at[0] + float64(ring)*3.5*math.Cos(a), at[1] + float64(ring)*3.5*math.Sin(a)}
			ok := true
			for _, q := range put {
				ok = ok && math.Hypot(p[0]-q[0], p[1]-q[1]) >= dist
			}
			if ok {
				return p, true
			}
		}
	}
	return at, false
}
