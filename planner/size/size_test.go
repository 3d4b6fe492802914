package size_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/planner/size"
)

// Draw ratio D/d, lengths grow by its square; masses and counts by schoolbook volumes (derived).
func TestCountAndLength(t *testing.T) {
	o := size.Order{PieceMM: 15, CutMM: 10}
	assert.Equal(t, 4000, o.Count(size.Log{DiameterMM: 150, LengthMM: 400}, 0)) // ratio 10, 100 times longer
	assert.Equal(t, 3200, o.Count(size.Log{DiameterMM: 150, LengthMM: 400}, 0.2))
	o = size.Order{PieceMM: 20, CutMM: 10}
	assert.Equal(t, 2250, o.Count(size.Log{DiameterMM: 150, LengthMM: 400}, 0)) // ratio 7.5, 56.25 times longer
}

func TestDiameter(t *testing.T) {
	for _, c := range []struct {
		name string
		o    size.Order
		want float64
	}{
		{"nothing ordered: the largest", size.Order{PieceMM: 15, CutMM: 10}, 150},
		{"a short log is twice as long as wide", size.Order{PieceMM: 15, CutMM: 10, LengthMM: 200}, 100},
		{"a disc of 150 x 300 at 1.45 weighs 7687.084 g", size.Order{PieceMM: 15, CutMM: 10, WeightG: 7687.084}, 150},
		{"an eighth of it is half as wide", size.Order{PieceMM: 15, CutMM: 10, WeightG: 7687.084 / 8}, 75},
		{"2400 pieces of 15 x 10 with a fifth lost: 300 long, 150 wide", size.Order{PieceMM: 15, CutMM: 10, Pieces: 2400}, 150},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := c.o.Diameter(150, 1.45, 0.2)
			require.NoError(t, err)
			assert.InDelta(t, c.want, d, 0.01)
		})
	}
	_, err := size.Order{LengthMM: 1, Pieces: 1}.Diameter(150, 1.45, 0.2)
	assert.ErrorIs(t, err, size.ErrOrder)
}
