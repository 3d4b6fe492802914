package sheets_test

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/internal/golden"
	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/sheet"
	"sugarwright/render/sheets"
	"sugarwright/render/words"
)

// all sheets of a plan.
func all(p *plan.Plan, s sheet.Style) (out []sheets.Sheet) {
	for _, set := range sheets.Sets(p, s) {
		out = append(out, set.Sheets...)
	}
	return out
}

// plans are those that are kept for tests, of drawings that are planned.
func plans(t testing.TB) map[string]*plan.Plan {
	out := map[string]*plan.Plan{}
	for _, n := range golden.Names(t) {
		if p := golden.Plan(t, n); p.Verdict == plan.AsDrawn {
			out[n] = p
		}
	}
	return out
}

// styles to print in: each paper, unit, language and ink at least once.
func styles(t testing.TB) []sheet.Style {
	de, ok := words.In("de")
	require.True(t, ok)
	return []sheet.Style{
		{Paper: sheet.Papers["a4"]},
		{Paper: sheet.Papers["letter"], US: true},
		{Paper: sheet.Papers["a4"], Words: de},
		{Paper: sheet.Papers["letter"], Black: true},
	}
}

// The boil gives every colour: lumps sum to the finished sugar, and solids close (P5).
func TestBoilGivesEveryColour(t *testing.T) {
	for name, p := range plans(t) {
		sum := 0.0
		for _, c := range p.Colours {
			sum += float64(c.NeedG)
			assert.GreaterOrEqual(t, c.NeedG, c.MassG, name)
		}
		b := p.Boil
		require.NotNil(t, b, name)
		assert.InDelta(t, sum, float64(b.FinishedG), 0.1, name)
		solids := float64(b.SugarG) + float64(b.SyrupG)*float64(b.SyrupSolids)
		assert.InDelta(t, float64(b.CookedG)*(1-float64(b.WaterPercent)/100), solids, 0.5, name)
	}
}

// All sheets of every plan are what sheets must be: see printed.CheckSets. Here each plan is printed in two styles of five;
// the trials print all public ones in four.
func TestSets(t *testing.T) {
	all := append(styles(t), sheet.Style{Paper: sheet.Papers["a4"], Split: true})
	ps := plans(t)
	for i, name := range slices.Sorted(maps.Keys(ps)) {
		for _, k := range []int{i % len(all), (i + 2) % len(all)} {
			printed.CheckSets(t, fmt.Sprintf("%s, style %d", name, k), ps[name], all[k])
		}
	}
}

// Bad input is still legible, and nothing is cut off: forty colours, a title of 300 letters without a gap, one that
// runs from right to left, one of a script that no face here has, names of colours as long as the shop file allows,
// parts too small for their numbers, a log larger than the page.
func TestBadInputIsLegible(t *testing.T) {
	base := golden.Plan(t, "tower-window")
	change := map[string]func(p *plan.Plan){
		"long title":    func(p *plan.Plan) { p.Artwork.Title = strings.Repeat("W", 300) },
		"long words":    func(p *plan.Plan) { p.Artwork.Title = strings.Repeat("sugar and water ", 18) },
		"hebrew":        func(p *plan.Plan) { p.Artwork.Title = "סוכריות 12 עם תפוח" },
		"arabic":        func(p *plan.Plan) { p.Artwork.Title = "حلوى ١٢ بالتفاح" },
		"no such face":  func(p *plan.Plan) { p.Artwork.Title = "糖果" },
		"control":       func(p *plan.Plan) { p.Artwork.Title = "a\x00b\nc\u202ed" },
		"long colours":  func(p *plan.Plan) { p.Colours[1].Name = strings.Repeat("strawberry", 4) },
		"forty colours": fortyColours,
		"small parts":   func(p *plan.Plan) { scale(p, 0.2) },
		"large log":     func(p *plan.Plan) { scale(p, 2.6) },
		"71 parts":      func(p *plan.Plan) { crowd(p, 71) },
	}
	for name, f := range change {
		t.Run(name, func(t *testing.T) {
			for _, s := range styles(t)[len(name)%2 : len(name)%2+1] { // A4, or Letter in inches
				p := *base
				p.Colours = append([]plan.Colour(nil), base.Colours...)
				p.Elements = append([]plan.Element(nil), base.Elements...)
				f(&p)
				read, err := plan.Normal(&p) // as its file holds it, what refers to a part leading to the changed one
				require.NoError(t, err)
				letters := 0
				for _, x := range all(read, s) {
					for k, pg := range x.Pages {
						assert.NoError(t, pg.Check(), "%s, page %d", x.Name, k+1)
						for _, it := range pg.Items {
							if it.Text != nil && k == 0 && strings.Trim(it.Text.Text, "W") == "" {
								letters += len(it.Text.Text)
							}
						}
					}
				}
				if name == "long title" {
					assert.Greater(t, letters, 8*200, "the title stands whole on each sheet's first page")
				}
				_, err = sheets.Files(read, s)
				assert.NoError(t, err)
			}
		})
	}
	hebrew := page.Set(page.Text{Text: "אב"})
	require.Len(t, hebrew.Glyphs, 2)
	one := page.Set(page.Text{Text: "א"})
	assert.Equal(t, one.Glyphs[0].ID, hebrew.Glyphs[1].ID, "the first letter stands rightmost")
	assert.Equal(t, "[7CD6][679C]", page.Clean("糖果"), "what the face lacks is named, not dropped")
}

// fortyColours gives each part of a plan, and more beside, a colour of its own.
func fortyColours(p *plan.Plan) {
	for i := len(p.Colours); i < 40; i++ {
		c := p.Colours[1]
		c.ID, c.Letter, c.SRGB = fmt.Sprintf("c%d", i), fmt.Sprintf("A%c",
			'A'+i%26), fmt.Sprintf("#%02x%02x%02x", 40+i*5, 250-i*5, i*6)
		p.Colours = append(p.Colours, c)
	}
	for i := range p.Elements {
		p.Elements[i].Colour = p.Colours[i%40].ID
	}
}

// crowd makes parts of a plan again, with numbers, weights and steps of their own, until there are so many.
func crowd(p *plan.Plan, parts int) {
	last := len(p.Layup) - 1
	p.Layup = append([]plan.Block(nil), p.Layup...)
	p.Layup[last].Parts = append([]plan.Part(nil), p.Layup[last].Parts...)
	x := p.Index()
	var steps []plan.Step
	end := p.Steps[len(p.Steps)-1].StartMin + p.Steps[len(p.Steps)-1].Minutes
	n := len(p.Elements)
	for i := range parts - n {
		e := p.Elements[i%n]
		old, made := e.ID, e.Number
		e.Number = len(p.Elements) + 1
		e.ID = fmt.Sprintf("p%d", e.Number)
		p.Elements = append(p.Elements, e)
		p.Layup[last].Parts = append(p.Layup[last].Parts, plan.Part{Part: e.ID, How: plan.Lay})
		for _, was := range []*plan.Step{x.Making(made), x.Laying(old)} {
			st := *was
			st.Parts, st.Covers, st.Block = []string{e.ID}, nil, p.Layup[last].Block
			st.StartMin, end = end, end+st.Minutes
			steps = append(steps, st)
		}
	}
	for i := range p.Elements { // side by side on a grid, as no two lie in one place
		e := &p.Elements[i]
		box := page.Box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
		for _, q := range e.True[0] {
			box = page.Box{min(box[0], float64(q[0])), min(box[1], float64(q[1])), max(box[2], float64(q[0])), max(box[3], float64(q[1]))}
		}
		cell := p.Log.PictureDiameterMM / 12
		k := cell * 0.9 / plan.Num(max(box[2]-box[0], box[3]-box[1]))
		x, y := cell*(plan.Num(i%9)-4)-k*plan.Num(box[0]+box[2])/2, cell*(plan.Num(i/9)-4)-k*plan.Num(box[1]+box[3])/2
		e.True, e.Label = moved(e.True, k, x, y), plan.Point{k*e.Label[0] + x, k*e.Label[1] + y}
		e.Laid, e.InBlock = e.True, nil
	}
	p.Steps = append(append([]plan.Step(nil), p.Steps...), steps...)
	slices.SortStableFunc(p.Steps, func(a, b plan.Step) int { return cmp.Compare(a.StartMin, b.StartMin) })
	for i := range p.Steps {
		p.Steps[i].Number = i + 1
	}
}

// scale makes a plan's log so many times as large.
func scale(p *plan.Plan, k plan.Num) {
	p.Log.DiameterMM, p.Log.PictureDiameterMM, p.Log.LayWidthMM, p.Log.LayHeightMM = k*p.Log.DiameterMM, k*p.Log.PictureDiameterMM, k*p.Log.LayWidthMM, k*p.Log.LayHeightMM
	poly := func(in plan.Polygon) plan.Polygon { return moved(in, k, 0, 0) }
	for i := range p.Elements {
		e := &p.Elements[i]
		e.True, e.Laid, e.InBlock, e.Label = poly(e.True), poly(e.Laid), poly(e.InBlock), plan.Point{
			k * e.Label[0],
			k * e.Label[1],
		}
	}
	p.Forecast = nil
}

// moved is a polygon k times as large, and then moved.
func moved(in plan.Polygon, k, dx, dy plan.Num) plan.Polygon {
	out := make(plan.Polygon, len(in))
	for i, r := range in {
		for _, q := range r {
			out[i] = append(out[i], plan.Point{k*q[0] + dx, k*q[1] + dy})
		}
	}
	return out
}
