package shortcut_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/internal/sample"
	"sugarwright/planner/plan"
	"sugarwright/planner/shortcut"
)

// Two halves of one colour may be made as one disc until the first of them is made; nothing then has another colour than drawn.
func TestHalvesMayBeOne(t *testing.T) {
	l := sample.Halves(t)
	w := l.Work(t)
	offers := shortcut.Of(shortcut.Job{Set: l.Set, Build: l.Build, Work: w, Shop: l.Shop})
	require.Len(t, offers, 1)
	o := offers[0]
	assert.Equal(t, plan.Merge, o.Do)
	assert.ElementsMatch(t, []string{"p1", "p2"}, o.Parts)
	assert.Equal(t, plan.Rod, o.Form)
	assert.Zero(t, o.WrongMM2)
	assert.InDelta(t, min(w.Made[0].Start, w.Made[1].Start), float64(o.UntilMin), 1e-9)
	assert.Greater(t, float64(o.SavesMin), 1.0)
	assert.Equal(t, plan.DoMake, w.Steps[o.Step-1].Do)
}

// Halves of two colours are not offered: one is half of the picture. Copies are never offered.
func TestNotOffered(t *testing.T) {
	l := sample.Halves(t)
	l.Set.Elements[1].Colour = 0
	assert.Empty(t, shortcut.Of(shortcut.Job{Set: l.Set, Build: l.Build, Work: l.Work(t), Shop: l.Shop}))
	l = sample.Halves(t)
	l.Set.Elements[1].CopyOf = 0
	assert.Empty(t, shortcut.Of(shortcut.Job{Set: l.Set, Build: l.Build, Work: l.Work(t), Shop: l.Shop}))
}
