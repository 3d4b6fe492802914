package planner_test

import (
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/planner"
	"sugarwright/planner/intake"
	"sugarwright/planner/judge"
	"sugarwright/planner/plan"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
)

func options() planner.Options {
	white := artwork.RGB{255, 255, 255}
	return planner.Options{
		Shop:   shop.Default(),
		Order:  size.Order{PieceMM: 15, CutMM: 10},
		Ground: white,
		Jacket: white,
	}
}

func compileBytes(t testing.TB, name string, data []byte, o planner.Options) *planner.Result {
	r, err := planner.Compile(name, data, o)
	require.NoError(t, err, name)
	return r
}

func compile(t testing.TB, name string) *planner.Result {
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	return compileBytes(t, filepath.Base(name), data, options())
}

// fileOf is a plan's file without sentences.
func fileOf(t testing.TB, p *plan.Plan) string {
	data, err := plan.Write(p, nil, nil)
	require.NoError(t, err)
	return string(data)
}

// P9: the same input gives the same bytes, on one core too; and the plan is as promised.
func TestSameBytes(t *testing.T) {
	const name = "../testdata/reference/letter-a.svg"
	p := compile(t, name).Plan
	assert.Empty(t, judge.Of(p))
	old := runtime.GOMAXPROCS(1)
	again := compile(t, name).Plan
	runtime.GOMAXPROCS(old)
	assert.Equal(t, fileOf(t, p), fileOf(t, again))
}

func svg(inside string) []byte {
	return []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">` + inside + `</svg>`)
}

// A drawing that cannot be planned ends where it fails, with a verdict that says whose limit it is, a place, and empty
// lists.
func TestRefusals(t *testing.T) {
	slow, cold := shop.Default(), shop.Default()
	slow.ClockMin = 12
	cold.WarmC, cold.AirC, cold.AirW = 0, 5, 120
	for _, c := range []struct {
		name, drawing string
		shop          *shop.Shop
		code          finding.Code
		verdict       plan.Verdict
	}{
		{"nothing", "", nil, finding.NoPaint, plan.NotBuildable},
		{"ground", `<rect width="200" height="200" fill="#fff"/>`, nil, finding.OneColour, plan.NotBuildable},
		{"photo", `<image href="a.png" width="90" height="90"/>`, nil, finding.ImageInArtwork, plan.NotBuildable},
		{"thin", `<path d="M40 100h120" stroke="#000" stroke-width="1.6"/><circle cx="100" cy="50" r="20" fill="#a00"/>`, nil, finding.TooThin, plan.Simplify},
		{"hairs", `<path d="M40 100h120" stroke="#000" stroke-width="0.3"/>`, nil, finding.TooThin, plan.NotBuildable},
		{"hurried", `<circle cx="100" cy="100" r="60" fill="#a00"/>`, slow, finding.TooLong, plan.ShopLimit},
		{"cold", `<circle cx="100" cy="100" r="60" fill="#a00"/><rect x="90" y="70" width="20" height="60" fill="#00a"/>`, cold, finding.NoSchedule, plan.ShopLimit},
	} {
		o := options()
		if c.shop != nil {
			o.Shop = c.shop
		}
		r := compileBytes(t, c.name, svg(c.drawing), o)
		assert.True(t, r.Stages.Findings.Has(c.code), "%s: %v", c.name, r.Stages.Findings)
		assert.Equal(t, c.verdict, r.Plan.Verdict, c.name)
		assert.Empty(t, r.Plan.Elements, c.name)
		assert.Empty(t, r.Plan.Steps, c.name)
	}
}

// A subject larger than the picture circle is refused when the page is to be kept, else placed smaller with a note.
func TestPlacing(t *testing.T) {
	big := svg(`<circle cx="100" cy="100" r="140" fill="#d0202a"/>`)
	o := options()
	o.Place = intake.Page
	assert.True(t, compileBytes(t, "big", big, o).Stages.Findings.Has(finding.BeyondPicture))
	assert.True(t, compileBytes(t, "big", big, options()).Stages.Findings.Has(finding.PlacedDrawing))
}

// A line too thin is simplified to a drawing that is planned, with what was changed; refusing the change is answered; a
// drawing that passes comes back byte for byte.
func TestMakeSimpler(t *testing.T) {
	o := options()
	o.NoProof = true
	data := svg(
		`<circle cx="100" cy="100" r="60" fill="#a01020"/><path d="M60 100h80" stroke="#ffd000" stroke-width="2.4"/>`)
	s, err := planner.MakeSimpler("line.svg", data, o, planner.Wanted{})
	require.NoError(t, err)
	require.NotNil(t, s.After)
	p := s.After.Plan
	assert.Equal(t, plan.AsDrawn, p.Verdict)
	require.NotEmpty(t, p.Changes)
	assert.Equal(t, "line.svg", p.SimplifiedFrom.File)
	assert.NotEmpty(t, p.SimplifiedFrom.Picture)
	assert.True(t, s.After.Stages.Findings.Has(finding.Simplified))

	again, err := planner.MakeSimpler("again.svg", s.SVG, o, planner.Wanted{})
	require.NoError(t, err)
	assert.Same(t, again.Before, again.After)
	assert.Equal(t, string(s.SVG), string(again.SVG))
	_, err = planner.MakeSimpler("again.svg", s.SVG, o, planner.Wanted{Keep: []int{1}})
	assert.ErrorIs(t, err, planner.ErrKeep)
	_, err = planner.MakeSimpler("line.svg", data, o, planner.Wanted{Keep: []int{99}})
	assert.ErrorIs(t, err, planner.ErrKeep)
}

// What no simpler drawing mends is not sought; where nothing passes the plan says what stands in the way.
func TestNothingPasses(t *testing.T) {
	o := options()
	o.NoProof = true
	s, err := planner.MakeSimpler("text.svg",
		svg(`<text x="20" y="90">漢</text><circle cx="100" cy="100" r="60" fill="#a00"/>`), o, planner.Wanted{}) // no face has the letter
	require.NoError(t, err)
	assert.Nil(t, s.After)
	o.Shop.ClockMin = 9
	s, err = planner.MakeSimpler("slow.svg", svg(`<circle cx="100" cy="100" r="60" fill="#a00"/>`), o, planner.Wanted{})
	require.NoError(t, err)
	assert.Nil(t, s.After)
	assert.True(t, s.Before.Stages.Findings.Has(finding.NothingPasses))
	assert.Equal(t, plan.NotBuildable, s.Before.Plan.Verdict)
}

func BenchmarkCompile(b *testing.B) {
	for _, name := range []string{"bullseye-plain", "letter-a", "initials-he"} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				compile(b, "../testdata/reference/"+name+".svg")
			}
		})
	}
}
