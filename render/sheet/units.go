package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/words"
)

// MM prints a thickness for hands: to half a millimetre, or sixteenths of an inch.
func (s Style) MM(v float64) string { return s.length(v, 0.5) }

// Section prints a section's width or height: to a millimetre, or sixteenths of an inch.
func (s Style) Section(v float64) string { return s.length(v, 1) }

// Length prints a part's length: to 5 mm, or sixteenths of an inch.
func (s Style) Length(v float64) string { return s.length(v, 5) }

func (s Style) length(v, step float64) string {
	if !s.US {
		digits := 0
		if r := math.Round(v / step); step < 1 && r != math.Trunc(r*step)/step {
			digits = 1
		}
		return s.T().Number(math.Round(v/step)*step, digits) + "\u00a0mm"
	}
	n := int(math.Round(v / 25.4 * 16))
	whole, rest := n/16, n%16
	den := 16
	for rest > 0 && rest%2 == 0 {
		rest, den = rest/2, den/2
	}
	switch {
	case rest == 0:
		return fmt.Sprintf("%d\u00a0in", whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d\u00a0in", rest, den)
	}
	return fmt.Sprintf("%d\u00a0%d/%d\u00a0in", whole, rest, den)
}

// Fine prints a small length of a piece: to a tenth of a millimetre, or hundredths of an inch, thousandths below a
// tenth.
func (s Style) Fine(v float64) string {
	if s.US {
		digits := 2
		if v < 2.5 {
			digits = 3
		}
		return s.T().Number(v/25.4, digits) + "\u00a0in"
	}
	return s.T().Number(v, 1) + "\u00a0mm"
}

// ounce in grams.
const ounce = 28.349523125

// Grams prints a mass: to 5 g, below 20 g to the gram, from 10 kg on in kilograms; or pounds and ounces, below a pound
// to a tenth.
func (s Style) Grams(v float64) string {
	if s.US {
		oz := math.Round(v / ounce * 10)
		if oz < 160 {
			return s.T().Number(oz/10, 1) + "\u00a0oz"
		}
		whole := int(math.Round(v / ounce))
		return fmt.Sprintf("%d\u00a0lb\u00a0%d\u00a0oz", whole/16, whole%16)
	}
	switch {
	case v < 20:
		return s.T().Number(v, 0) + "\u00a0g"
	case v >= 10_000:
		return s.T().Number(v/1000, 2) + "\u00a0kg"
	}
	return s.T().Number(math.Round(v/5)*5, 0) + "\u00a0g"
}

// Exact prints a small mass: to a tenth of a gram, below a gram to a hundredth, or hundredths of an ounce, below a
// tenth of an ounce in grams too: doses are weighed so.
func (s Style) Exact(v float64) string {
	switch {
	case v < 1 && v > 0:
		return s.T().Number(v, 2) + "\u00a0g"
	case s.US && v < ounce/10 && v > 0:
		return s.T().Number(v, 1) + "\u00a0g"
	case s.US:
		return s.T().Number(v/ounce, 2) + "\u00a0oz"
	}
	return s.T().Number(v, 1) + "\u00a0g"
}

// Heat prints a temperature as a band of 5 degrees Celsius, or what that is in Fahrenheit, marked as a guess; where the
// shop has measured its sugar, as two degrees either way.
func (s Style) Heat(c float64, guess bool) string {
	lo, hi, mark := math.Floor(c/5)*5, math.Floor(c/5)*5+5, "?"
	if !guess {
		lo, hi, mark = math.Round(c)-2, math.Round(c)+2, ""
	}
	if s.US {
		return fmt.Sprintf("%.0f-%.0f\u00a0F%s", math.Round(lo*1.8+32), math.Round(hi*1.8+32), mark)
	}
	return fmt.Sprintf("%.0f-%.0f\u00a0C%s", lo, hi, mark)
}

// Limit prints the upper end of a window in which a part is laid at some heat: to 5 degrees and marked while it is a
// guess, not below the band of that heat.
func (s Style) Limit(c, lay float64, guess bool) string {
	if !guess {
		return s.Degrees(math.Max(c, math.Round(lay)+2))
	}
	return s.Degrees(math.Max(math.Round(c/5)*5, math.Floor(lay/5)*5+5)) + "?"
}

// Degrees prints one temperature.
func (s Style) Degrees(c float64) string {
	if s.US {
		return strconv.Itoa(int(math.Round(c*1.8+32))) + "\u00a0F"
	}
	return strconv.Itoa(int(math.Round(c))) + "\u00a0C"
}

// Clock prints minutes as minutes and seconds.
func Clock(m float64) string {
	t := int(math.Round(m * 60))
	return fmt.Sprintf("%d:%02d", t/60, t%60)
}

// Size prints a part's section in kitchen words: the bar, how it leans, and what is done to it.
func (s Style) Size(e plan.Element) string {
	said := s.bar(e)
	for _, more := range []string{s.lean(e), s.operation(e)} {
		if more != "" {
			said = s.T().Text("size.with", said, more)
		}
	}
	return said
}

// leanMM is a slant that a knife follows; less is lost in the softness of the sugar.
const leanMM = 1.5

// lean says by how much a bar leans; nothing where it stands upright.
func (s Style) lean(e plan.Element) string {
	mm := math.Abs(float64(e.Size["slant_mm"]))
	switch {
	case mm < leanMM:
		return ""
	case e.Form == plan.Wedge:
		return s.T().Text("size.lean", s.Section(mm))
	}
	return s.T().Text("size.slant", s.Section(mm))
}

// bar prints the bar that a part is made from.
func (s Style) bar(e plan.Element) string {
	t := s.T()
	v := func(k string) string { return s.Section(float64(e.Size[k])) }
	thin := s.MM(float64(e.Size["thickness_mm"]))
	switch e.Form {
	case plan.Rod:
		return t.Text("size.rod", v("diameter_mm"))
	case plan.Strip, plan.Wrap:
		return t.Text("size.strip", thin, v("width_mm"))
	case plan.Bar:
		return t.Text("size.bar", v("width_mm"), v("thickness_mm"))
	case plan.Oval:
		return t.Text("size.oval", v("long_mm"), v("short_mm"))
	case plan.Wedge:
		return t.Text("size.wedge", v("base_mm"), v("top_mm"), v("height_mm"))
	case plan.Triangle:
		return t.Text("size.triangle", v("base_mm"), v("height_mm"), v("apex_mm"))
	case plan.FlatRod:
		return t.Text("size.flat-rod", v("diameter_mm"), v("height_mm"))
	case plan.Leaf:
		a, b := min(e.Size["height_mm"], e.Size["height_2_mm"]), max(e.Size["height_mm"], e.Size["height_2_mm"])
		if b-a < leanMM {
			return t.Text("size.leaf", v("chord_mm"), s.Section(float64(a+b)))
		}
		return t.Text("size.leaf_uneven", v("chord_mm"), s.Section(float64(b)), s.Section(float64(a)))
	case plan.Tapered:
		return t.Text("size.tapered-strip", v("width_mm"), thin, s.MM(float64(e.Size["end_mm"])),
			s.MM(float64(e.Size["end_2_mm"])))
	case plan.Segment:
		return t.Text("size.segment", v("chord_mm"), v("height_mm"))
	}
	return t.Text("size.teardrop", v("diameter_mm"), v("length_mm"))
}

// rodAtHand is the thickest rod that a groove is pressed with, mm: a rolling pin (common practice, no source). A wider one
// is pressed by hand.
const rodAtHand = 60

// operation says what is done to a part's bar; nothing where nothing is.
func (s Style) operation(e plan.Element) string {
	t := s.T()
	v := func(k string) string { return s.Section(float64(e.Size[k])) }
	switch e.Operation {
	case plan.Bow:
		a, b := e.Size["bow_mm"], e.Size["bow_2_mm"]
		switch {
		case a < 0 && b < 0:
			return t.Text("size.hollows", s.Section(float64(-a)), s.Section(float64(-b)))
		case a > 0 && b > 0:
			return t.Text("size.rounds", v("bow_mm"), v("bow_2_mm"))
		case a*b < 0:
			return t.Text("size.hollow_round", s.Section(float64(-min(a, b))), s.Section(float64(max(a, b))))
		case a+b < 0:
			return t.Text("size.hollow", s.Section(float64(-a-b)))
		}
		return t.Text("size.round", s.Section(float64(a+b)))
	case plan.CutEdge:
		return t.Text("size.cut", v("cut_width_mm"), v("cut_depth_mm"))
	case plan.Groove:
		if d, deep := float64(e.Size["groove_mm"]), float64(e.Size["groove_depth_mm"]); d > rodAtHand {
			return t.Text("size.wide_groove", s.Section(2*math.Sqrt(deep*(d-deep))), v("groove_depth_mm"), v("groove_at_mm"))
		}
		return t.Text("size.groove", v("groove_mm"), v("groove_depth_mm"), v("groove_at_mm"))
	case plan.Grooves:
		said := t.Text("size.grooves", int(e.Size["grooves"]), v("groove_mm"), v("groove_depth_mm"), v("groove_at_mm"))
		if n := int(e.Size["across"]); n > 0 {
			said = t.Text("size.with", said, t.Text("size.across", n, v("across_mm"), v("across_depth_mm")))
		}
		return said
	case plan.BendOnce, plan.BendTwice:
		var said []string
		for _, a := range e.Arcs {
			turn := math.Abs(float64(a.TurnDeg))
			if turn < 3 {
				continue
			}
			inner := float64(a.LengthMM)/(turn*math.Pi/180) - float64(e.Size["thickness_mm"])/2
			said = append(said, t.Text("size.bend", s.Section(math.Max(0, inner)), int(math.Round(turn/5)*5)))
		}
		return strings.Join(said, ", ")
	case plan.Follow:
		return t.Text("size.follow")
	}
	return ""
}

// Made is what a part weighs as it is made, with its extra length, and as thick as it is built in its block, grams.
func Made(p *plan.Plan, e plan.Element) float64 {
	k := p.Index().Scale(&e)
	grams := k * k * float64(e.MassG)
	if l := p.Log.LengthMM; l > 0 && e.Size["part_length_mm"] > 0 {
		return grams * float64(e.Size["part_length_mm"]/l)
	}
	return grams
}

// Long is how long a part is made: with its copies when it has some.
func (s Style) Long(e plan.Element) string {
	l := e.Size["part_length_mm"]
	if m, ok := e.Size["made_length_mm"]; ok {
		l = m
	}
	return s.Length(float64(l))
}

func distance(a, b page.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// turned is the point at a distance from another, at a share of the full turn.
func turned(at page.Point, r, share float64) page.Point {
	sin, cos := math.Sincos(2 * math.Pi * share)
	return page.Point{at[0] + r*cos, at[1] + r*sin}
}

// Who works on a step: pairs of hands by letter.
func (s Style) Who(st plan.Step, crew int) string {
	if crew == 1 {
		return s.T().Text("who.alone")
	}
	if st.Hands >= crew {
		return s.T().Text("who.all")
	}
	var out words.All
	for _, k := range st.Pairs {
		out = append(out, string(rune('A'+k-1)))
	}
	return s.T().Text("who.person", out)
}

// Kelvins prints a difference of temperatures in the style's degrees.
func (s Style) Kelvins(k float64) float64 {
	if s.US {
		return k * 1.8
	}
	return k
}
