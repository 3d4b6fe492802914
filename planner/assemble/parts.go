package assemble

import (
	"sugarwright/planner/build"
	"sugarwright/planner/plan"
	"sugarwright/planner/set"
	"sugarwright/planner/work"
)

// colourID is the id of a colour in the plan.
// letter of a colour on the sheets.
func letter(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letter(i/26-1) + letter(i%26)
}

// colours fills the colour budget (P5).
func (s *Stages) colours(p *plan.Plan) {
	if s.Map == nil {
		return
	}
	area := make([]float64, len(s.Map.Colours))
	for _, r := range s.Map.Regions {
		area[r.Colour] += r.Area
	}
	total := 0.0
	for i, c := range s.Map.Colours {
		x := s.Palette.Shades[i]
		mass := area[i] * s.Palette.Density(i) * s.Log.LengthMM / 1000
		total += mass
		p.Colours = append(
			p.Colours,
			plan.Colour{ID: set.ColourID(i), Name: x.Name, SRGB: c.RGB.Hex(), Finish: plan.Finish(x.Finish),
				Density: plan.Num(
					s.Palette.Density(i)), MassG: plan.Num(mass), Letter: letter(i), From: x.From, Mix: append([]plan.MixPart{}, x.Parts...),
				Made: x.Made.Hex(), DE2000: plan.Num(x.OffDE2000), Guess: x.Guess, Coloured: s.Palette.Tinted(i)},
		)
	}
	ratio := s.Log.DiameterMM / s.Order.PieceMM
	p.Log.MassG = plan.Num(total)
	p.Piece.MassG = plan.Num(total / s.Log.LengthMM / ratio / ratio * s.Order.CutMM)
}

// elements are the parts, true and laid.
func (s *Stages) elements(p *plan.Plan) {
	num := func(v float64) plan.Num { return plan.Num(v) }
	length, allowance := s.Log.LengthMM, s.Shop.AllowanceMM
	pieces := s.Set.Pieces()
	for i, e := range s.Set.Elements {
		origin := s.Set.Origin(i)
		laid, win, area := s.Laid.Parts[i], s.Windows.Parts[i], e.True.Area()
		turned := win.Window.Turned || s.Holds.Turned[i] > 0
		out := plan.Element{
			ID:        s.Set.ID(i),
			Number:    e.Number,
			Kind:      plan.Kind(e.Kind.String()),
			Form:      plan.Form(e.Fit.Base.String()),
			Bent:      e.Fit.Bent(),
			Operation: plan.Operation(e.Fit.Op.String()),
			Colour:    set.ColourID(e.Colour),
			Block:     s.Set.Name(e.Block),
			Mirrored:  e.Mirror,
			True:      plan.PolygonOf(e.True),
			Laid:      plan.PolygonOf(laid.Shape),
			InBlock:   plan.PolygonOf(laid.InBlock),
			Size:      map[string]plan.Num{},
			Fit:       num(e.Fit.IoU()),
			Misfit:    num(100 * e.Fit.Misfit),
			Lump:      num(e.Fit.Lump),
			Class:     plan.FitClass(e.Fit.Class.String()),
			AreaMM2:   num(area),
			MassG:     num(area * s.Palette.Density(e.Colour) * length / 1000),
			WindowC: [2]plan.Num{
				num(win.Window.Low),
				num(win.Window.High),
			},
			LayC:    num(win.LayC),
			EtaRel:  num(s.Cooling.EtaRel[i]),
			RollC:   num(s.Cooling.RollC[i]),
			HoldMin: num(s.Holds.Min[i]),
			Turned:  turned,
			Label:   plan.PointOf(e.Inside()),
		}
		if e.CopyOf >= 0 {
			id := s.Set.ID(e.CopyOf)
			out.CopiesOf = &id
		}
		made := s.Laid.Parts[origin].Fit
		thick := made.Recipe
		if k := s.Set.Blocks[e.Block].Scale; k > 0 {
			thick = thick.Sized(k)
		}
		for k, v := range thick.Printed() {
			out.Size[k] = num(v)
		}
		for _, a := range thick.Arcs {
			out.Arcs = append(out.Arcs, plan.Arc{LengthMM: num(a.LengthMM), TurnDeg: num(a.TurnDeg)})
		}
		if e.Kind == set.Jacket || e.Kind == set.Ground && e.Block == len(s.Set.Blocks)-1 {
			out.Class = plan.ClosingClass
		}
		out.Size["part_length_mm"] = num(length + allowance)
		if n := pieces[origin]; n > 1 {
			out.Size["made_length_mm"] = num(float64(n) * (length + allowance))
		}
		p.Elements = append(p.Elements, out)
	}
}

// layup is the order in which the parts are put together.
func (s *Stages) layup(p *plan.Plan) {
	for b, entries := range s.Build.Blocks {
		out := plan.Block{Block: s.Set.Name(b), Scale: plan.Num(s.Set.Blocks[b].Scale)}
		for _, e := range entries {
			part := plan.Part{
				Part:    work.PartID(s.Set, e.Part),
				How:     plan.How(e.Move.String()),
				TurnDeg: plan.Num(e.Turn),
				Stands:  plan.Stands(e.Stands.String()),
			}
			if e.Move == build.First {
				out.StartDeg, part.TurnDeg = part.TurnDeg, 0
			}
			if e.Move == build.Lay {
				d := plan.PointOf(e.Direction)
				part.Direction = &d
			}
			out.Parts = append(out.Parts, part)
		}
		p.Layup = append(p.Layup, out)
	}
}
