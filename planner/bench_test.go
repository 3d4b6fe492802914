package planner_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
	"sugarwright/planner"
	"sugarwright/planner/check"
	"sugarwright/planner/element"
	"sugarwright/planner/layup"
	"sugarwright/planner/shop"
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
		set, _, err := element.Split(m, sh)
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
		stage("split", func() { _, _, err = element.Split(m, sh) })
		stage("order", func() { layup.Of(set, layup.Refused{}) })
		st := sheet.Style{Paper: sheet.Papers["a4"]}
		stage("sheets", func() { svg.Write(diagram.Pages(p, st)); svg.Write(steps.Pages(p, st)) })
		require.NoError(b, err)
	}
}
