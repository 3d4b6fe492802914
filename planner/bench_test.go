package planner_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
	"sugarwright/planner"
	"sugarwright/planner/check"
	"sugarwright/planner/layup"
	"sugarwright/planner/shop"
	"sugarwright/planner/split"
	"sugarwright/render/diagram"
	"sugarwright/render/sheet"
	"sugarwright/render/steps"
	"sugarwright/render/svg"
)

// One benchmark a stage, on drawings of three sizes.
func BenchmarkStages(b *testing.B) {
	for _, name := range []string{"bullseye-plain", "letter-a", "initials-he"} {
		data, err := os.ReadFile("../testdata/reference/" + name + ".svg")
		require.NoError(b, err)
		art, _, err := artwork.Parse(data)
		require.NoError(b, err)
		w := artwork.RGB{255, 255, 255}
		f := partition.Frame{ToTrue: geom.ToTrue{0.5625, 0, 0, -0.5625, -56.25, 56.25}, LogRadius: 75, JacketRadius: 69, PictureRadius: 56.25,
			Ground: w, Jacket: w, LikeDE2000: 3, SliverMM: planner.SliverMM, SpeckMM2: planner.SpeckMM2, FlattenMM: planner.FlattenMM}
		sh := shop.Default()
		m, _, err := partition.Of(art, f)
		require.NoError(b, err)
		set, _, err := split.Of(m, sh)
		require.NoError(b, err)
		p := compile(b, "../testdata/reference/"+name+".svg").Plan
		stage := func(what string, run func()) {
			b.Run(what+"/"+name, func(b *testing.B) {
				for b.Loop() {
					run()
				}
			})
		}
		stage("read", func() { _, _, err = artwork.Parse(data) })
		stage("partition", func() { _, _, err = partition.Of(art, f) })
		stage("check", func() { _, err = check.Of(m, sh) })
		stage("split", func() { _, _, err = split.Of(m, sh) })
		stage("order", func() { layup.Of(set, layup.Refused{}) })
		st := sheet.Style{Paper: sheet.Papers["a4"]}
		stage("sheets", func() { svg.Write(diagram.Pages(p, st)); svg.Write(steps.Pages(p, st)) })
		require.NoError(b, err)
	}
}

// squares is a drawing of many parts: rows of coloured squares with ground between.
func squares(rows, columns int) []byte {
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">`)
	for i := range rows {
		for j := range columns {
			fmt.Fprintf(&b, `<rect x="%d" y="%d" width="14" height="14" fill="%s"/>`, 100-10*columns+20*j+3, 100-10*rows+20*i+3, []string{"#d0202a", "#2060c0", "#207040"}[(i+j)%3])
		}
	}
	b.WriteString("</svg>")
	return []byte(b.String())
}

// The stages after the split: the clock, heat, the log run backward, laying with all its proofs; the forecast, nominal and a dozen; the card.
func BenchmarkLaying(b *testing.B) {
	for _, c := range []struct {
		name string
		data []byte
	}{{"4x4", squares(4, 4)}, {"4x8", squares(4, 8)}} {
		o := options()
		o.Faces = 12
		var err error
		o.Shop, err = shop.Read([]byte("[shop]\ncrew = 4\nclock_min = 200\nmost_distinct = 100\n"))
		require.NoError(b, err)
		l, err := planner.NewLaying(c.name+".svg", c.data, o)
		require.NoError(b, err)
		for _, s := range []struct {
			name string
			run  func() error
		}{{"clock", l.Clock}, {"heat", l.Heat}, {"backward", l.Backward}, {"lay", l.Lay}, {"nominal", l.Nominal}, {"dozen", l.Dozen}, {"hard", l.Hard}} {
			b.Run(fmt.Sprintf("%s/%d-elements", s.name, l.Elements()), func(b *testing.B) {
				for b.Loop() {
					require.NoError(b, s.run())
				}
			})
		}
	}
}
