package planner_test

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/planner/assemble"
	"sugarwright/planner/check"
	"sugarwright/planner/intake"
	"sugarwright/planner/layup"
	"sugarwright/planner/palette"
	"sugarwright/planner/plan"
	"sugarwright/planner/shortcut"
	"sugarwright/planner/split"
	"sugarwright/planner/windows"
	"sugarwright/planner/work"
)

// One benchmark a stage, on the values that the stages before it gave, of drawings of three sizes.
func BenchmarkStages(b *testing.B) {
	for _, name := range []string{"bullseye-plain", "letter-a", "initials-he"} {
		data, err := os.ReadFile("../testdata/reference/" + name + ".svg")
		require.NoError(b, err)
		o := options()
		s := compileBytes(b, name+".svg", data, o).Stages
		task := work.Task{Set: s.Set, Build: s.Build, Windows: s.Windows, Map: s.Map, Palette: s.Palette, Shop: o.Shop, LengthMM: s.Log.LengthMM, StickMM: 15, Pieces: 3000}
		batch := split.Log{LengthMM: s.Log.LengthMM, Density: s.Palette.Density}
		reading := intake.Settings{Ground: o.Ground, Jacket: o.Jacket}
		for _, stage := range []struct {
			name string
			run  func() error
		}{
			{"read", func() error { _, _, err := artwork.Parse(data); return err }},
			{"partition", func() error { _, _, err := intake.Section(s.Artwork, s.DiameterMM, o.Shop, reading); return err }},
			{"match", func() error { _, err := palette.Of(s.Map, o.Shop, nil, true); return err }},
			{"check", func() error { _, err := check.Of(s.Map, o.Shop); return err }},
			{"split", func() error { _, _, err := split.Of(s.Map, o.Shop, batch); return err }},
			{"layup", func() error { _, _, err := layup.Proven(s.Set); return err }},
			{"windows", func() error { w, _ := windows.Of(s.Set, o.Shop, s.Log.LengthMM); return w.Check() }},
			{"work", func() error { _, _, err := work.Of(task, nil); return err }},
			{"shortcut", func() error {
				shortcut.Of(shortcut.Job{Set: s.Set, Build: s.Build, Work: s.Work, Shop: o.Shop})
				return nil
			}},
			{"assemble", func() error { _, err := assemble.Plan(s); return err }},
		} {
			b.Run(stage.name+"/"+name, func(b *testing.B) {
				for b.Loop() {
					require.NoError(b, stage.run())
				}
			})
		}
		p, err := assemble.Plan(s)
		require.NoError(b, err)
		file, err := plan.Write(p, nil, nil)
		require.NoError(b, err)
		b.Run("plan-file/"+name, func(b *testing.B) {
			for b.Loop() {
				_, err := plan.Read(file)
				require.NoError(b, err)
			}
		})
	}
}
