package planner

import (
	"fmt"
	"math"
	"strings"

	"sugarwright/planner/form"
	"sugarwright/planner/heat"
	"sugarwright/planner/shop"
	"sugarwright/planner/sugar"
)

// ShopReport is what a shop file comes to: what its own tests say, the heat at which its sugar can be worked, and windows of common parts.
func ShopReport(s *shop.Shop) string {
	var b strings.Builder
	def := shop.Default()
	if s.TgFrom == shop.FromTest {
		l := s.Tests.Lump
		fmt.Fprintf(&b, "lump test: %g mm of %g left after %g minutes at %g C: %.1e Pa s; glass transition %.1f C (%+.1f on the default), known to %.1f C\n",
			l.HeightMM, l.DiameterMM, l.Minutes, l.AtC, l.Viscosity(), s.TgC, s.TgC-def.TgC, s.TgPlusMinus)
	} else {
		fmt.Fprintf(&b, "glass transition %.1f C from %s, known to %.0f C: a lump test narrows it\n", s.TgC, fromWords[s.TgFrom], s.TgPlusMinus)
	}
	if o := s.Tests.Oval; o.WidthMM > 0 {
		fmt.Fprintf(&b, "oval test: %g x %g mm, height over width %.3f (%+.3f on the default)\n", o.WidthMM, o.HeightMM, s.Oval, s.Oval-def.Oval)
	} else {
		fmt.Fprintf(&b, "oval %.2f, not measured: lay a test log and measure it before rolling\n", s.Oval)
	}
	fmt.Fprintf(&b, "workable from %.0f C (%.1e Pa s), pours from %.0f C (1.0e+03 Pa s)\n", sugar.Workable(s.TgC), math.Pow(10, must(sugar.LogEta(sugar.Workable(s.TgC), s.TgC))), sugar.TempOf(1e3, s.TgC))
	b.WriteString("windows, C:")
	limits := heat.Limits{TgC: s.TgC, HoldMin: s.HoldMin, LengthMM: s.LengthMM, BendS: bendShare * 60 * s.Minutes.Bend, FromC: s.LayFromC, ToC: s.LayToC}
	for i, c := range []struct {
		name  string
		form  form.Form
		thick float64
	}{{"strip 3", form.Strip, 3}, {"strip 5", form.Strip, 5}, {"strip 8", form.Strip, 8}, {"rod 10", form.Rod, 10}, {"rod 20", form.Rod, 20}, {"rod 30", form.Rod, 30}, {"rod 50", form.Rod, 50}} {
		w := limits.Of(c.form, c.thick, 0)
		if i > 0 {
			b.WriteString(",")
		}
		if w.High < w.Low {
			fmt.Fprintf(&b, " %s mm none", c.name)
			continue
		}
		fmt.Fprintf(&b, " %s mm %.0f-%.0f", c.name, w.Low, w.High)
		if w.Turned {
			b.WriteString(" turned each minute")
		}
	}
	b.WriteString("\n")
	return b.String()
}

var fromWords = map[string]string{shop.FromDefault: "the default", shop.FromSetting: "the setting", shop.FromMoisture: "moisture and syrup"}

// must is for laws asked inside their range.
func must(v float64, err error) float64 {
	if err != nil {
		panic("internal: " + err.Error())
	}
	return v
}
