package order_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/finding"
	"sugarwright/internal/sample"
	"sugarwright/planner/job"
	"sugarwright/planner/order"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
)

// A log of a disc: its mass a millimetre lies between that of pulled and of clear sugar; too heavy, too stubby and too
// little of a colour are said.
func TestLog(t *testing.T) {
	l, s := sample.Halves(t), shop.Default()
	log, found, err := order.LogOf(size.Order{PieceMM: 15, CutMM: 10, LengthMM: 400}, nil, s, l.Map, l.Palette)
	require.NoError(t, err)
	require.NoError(t, log.Check())
	assert.Empty(t, found)
	section := math.Pi / 4 * sample.DiameterMM * sample.DiameterMM
	assert.Greater(t, log.PerMM, section*1.0/1000)
	assert.Less(t, log.PerMM, section*1.5/1000)
	assert.Equal(t, 1, log.Wanted.Logs)
	_, found, err = order.LogOf(size.Order{PieceMM: 15, CutMM: 10, LengthMM: 5000}, nil, s, l.Map, l.Palette)
	require.NoError(t, err)
	assert.True(t, found.Has(finding.OverLargest))
	_, found, err = order.LogOf(size.Order{PieceMM: 15, CutMM: 10, LengthMM: 60}, nil, s, l.Map, l.Palette)
	require.NoError(t, err)
	assert.True(t, found.Has(finding.LongFace))
	s.LeastLumpG = 1500
	_, found, err = order.LogOf(size.Order{PieceMM: 15, CutMM: 10, LengthMM: 300}, nil, s, l.Map, l.Palette)
	require.NoError(t, err)
	assert.True(t, found.Has(finding.SmallLump), found)
	s.LeastLumpG = 1e6
	_, _, err = order.LogOf(size.Order{PieceMM: 15, CutMM: 10, LengthMM: 300}, nil, s, l.Map, l.Palette)
	assert.ErrorContains(t, err, "least lump")
	assert.ErrorContains(t, (&order.Log{}).Check(), "internal: ")
}

// Packs are counted out in logs; a small order is a log of the least weight; a guess has the same size.
func TestPerLog(t *testing.T) {
	s := shop.Default()
	j, err := job.Read([]byte("[[packs]]\nnumber = 400\npieces = 60\n"), s, job.Day{2026, 1, 1})
	require.NoError(t, err)
	o := size.Order{PieceMM: 15, CutMM: 10}
	one, want, err := order.PerLog(o, j, s, 150, 23)
	require.NoError(t, err)
	assert.Equal(t, 24000, want.Pieces)
	assert.Greater(t, want.Logs, 1)
	assert.GreaterOrEqual(t, one.Pieces*want.Logs, want.Pieces)
	s.LeastG = 3000
	j, err = job.Read([]byte("[[packs]]\nnumber = 2\npieces = 20\n"), s, job.Day{2026, 1, 1})
	require.NoError(t, err)
	one, _, err = order.PerLog(o, j, s, 150, 23)
	require.NoError(t, err)
	assert.Equal(t, 3000.0, one.WeightG)
	guess := order.GuessLog(o, nil, s, 150)
	assert.Equal(t, 150.0, guess.DiameterMM)
	require.NoError(t, guess.Check())
}

// The least log carries the finest place at the thickness that it needs; more where the shop draws no less.
func TestSmallest(t *testing.T) {
	l, s := sample.Halves(t), shop.Default()
	mm, g, err := order.Smallest(l.Map, 0.5, s, l.Palette)
	require.NoError(t, err)
	assert.Equal(t, 300.0, mm, "twice as wide")
	assert.Positive(t, g)
	small, less, err := order.Smallest(l.Map, math.Inf(1), s, l.Palette)
	require.NoError(t, err)
	assert.Less(t, small, mm)
	assert.Less(t, less, g)
	s.LeastG = 2 * less
	_, more, err := order.Smallest(l.Map, math.Inf(1), s, l.Palette)
	require.NoError(t, err)
	assert.Equal(t, 2*less, more)
}
