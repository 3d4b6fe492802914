package size_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/planner/job"
	"sugarwright/planner/size"
)

// What the call leaves out comes from the order's file, and what that leaves out is usual.
func TestCompleted(t *testing.T) {
	o := size.Order{}.Completed(nil)
	assert.Equal(t, 15.0, o.PieceMM)
	assert.Equal(t, 10.0, o.CutMM)
	o = size.Order{CutMM: 8}.Completed(&job.Job{PieceMM: 18, CutMM: 12})
	assert.Equal(t, 18.0, o.PieceMM)
	assert.Equal(t, 8.0, o.CutMM)
}

// A log is twice as long as wide: 1.3 g/cm3, 4 kg give a log whose weight is 4 kg; pieces come out as many as were
// asked; two orders at once are refused; nothing larger than the largest.
func TestOrders(t *testing.T) {
	d, err := size.Order{WeightG: 4000}.Diameter(500, 1.3, 0)
	require.NoError(t, err)
	perMM := math.Pi / 4 * d * d * 1.3 / 1000
	assert.InDelta(t, 4000, perMM*2*d, 1e-6)
	assert.InDelta(t, 2*d, size.Order{WeightG: 4000}.Length(d, perMM, 0, 400), 1e-9)
	o := size.Order{Pieces: 1000, PieceMM: 15, CutMM: 10}
	d, err = o.Diameter(500, 1.3, 0.1)
	require.NoError(t, err)
	length := o.Length(d, 1, 0.1, 400)
	assert.InDelta(t, 2*d, length, 1e-6)
	assert.Equal(t, 1000, o.Count(size.Log{DiameterMM: d, LengthMM: length}, 0.1))
	_, err = size.Order{Pieces: 9, WeightG: 9}.Diameter(150, 1.3, 0)
	assert.ErrorIs(t, err, size.ErrOrder)
	d, _ = size.Order{LengthMM: 2000}.Diameter(150, 1.3, 0)
	assert.Equal(t, 150.0, d)
	d, _ = size.Order{LogMM: 120}.Diameter(150, 1.3, 0)
	assert.Equal(t, 120.0, d)
	assert.Equal(t, 400.0, size.Order{}.Length(150, 1, 0, 400))
	assert.Equal(t, 300.0, size.Order{LengthMM: 300}.Length(150, 1, 0, 400))
}
