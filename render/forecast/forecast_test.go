package forecast_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/internal/golden"
	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/forecast"
	"sugarwright/render/words"
)

// A plan with faces has its sheet, which can be read; one without has none.
func TestPages(t *testing.T) {
	for name, p := range printed.Plans(t) {
		for i, s := range printed.Styles(t) {
			pages, ok := forecast.Pages(p, s)
			assert.Equal(t, p.Forecast != nil && len(p.Forecast.Faces) > 0, ok, name)
			for k, pg := range pages {
				assert.NoError(t, pg.Check(), "%s, style %d, page %d", name, i, k+1)
			}
			assert.NotEmpty(t, forecast.Drawn(p), name)
		}
	}
}

// Parts that are lost on some face are named by their numbers, copies once.
func TestSummary(t *testing.T) {
	p := golden.Plan(t, "harbour-flag")
	s := printed.Styles(t)[0]
	if p.Forecast == nil {
		p.Forecast = &plan.Forecast{}
	}
	other := slices.IndexFunc(p.Elements, func(e plan.Element) bool { return e.Number != p.Elements[0].Number })
	p.Forecast.FinestMM, p.Forecast.Lost = 5, []string{p.Elements[0].ID, p.Elements[0].ID, p.Elements[other].ID}
	text := strings.Join(forecast.Summary(p, s), "\n")
	assert.Contains(t, text,
		s.T().Text("part.several", words.All{strconv.Itoa(p.Elements[0].Number), strconv.Itoa(p.Elements[other].Number)}))
	p.Forecast.Lost = p.Forecast.Lost[:1]
	text = strings.Join(forecast.Summary(p, s), "\n")
	assert.Contains(t, text, s.T().Text("part.one", words.All{strconv.Itoa(p.Elements[0].Number)}))
	p.Forecast.FinestMM = 0
	assert.Contains(t, forecast.Summary(p, s), s.T().Text("forecast.none"))
}
