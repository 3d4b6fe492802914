package mixing_test

import (
	"math"
	"math/rand"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
	"sugarwright/planner/mixing"
)

// An invented shop: white and seven colours.
var stock = []artwork.RGB{
	{255, 255, 255},
	{0xb0, 0x14, 0x2a},
	{0xf0, 0xc0, 0x20},
	{0x20, 0x50, 0xa0},
	{0x30, 0x80, 0x40},
	{0xe0, 0x70, 0x20},
	{0x50, 0x30, 0x20},
	{0x70, 0x30, 0x80},
}

func lights(of []artwork.RGB) []mixing.Light {
	out := make([]mixing.Light, len(of))
	for i, c := range of {
		out[i] = mixing.Of(c)
	}
	return out
}

// Linear values of 8-bit codes: IEC 61966-2-1, computed to eight digits (1, 10, 64, 128, 188).
func TestLinearLight(t *testing.T) {
	for code, want := range map[uint8]float64{1: 0.00030353, 10: 0.00303527, 64: 0.05126946, 128: 0.21586050, 188: 0.50288646} {
		assert.InDelta(t, want, mixing.Of(artwork.RGB{code, 0, 0})[0], 1e-6)
		assert.Equal(t, artwork.RGB{code, code, code}, mixing.Light{want, want, want}.RGB())
	}
}

// White and one colour, against sums by hand in linear light: half white, half red ff0000 is (1, 0.5, 0.5), and 0.5 is
// written 188 (188 is 0.50288646, 187 0.49693300); a fifth of black in white is 0.8, written 231 (1.055 x 0.8^(1/2.4) -
// 0.055 = 0.906332, x 255 = 231.1).
func TestWhiteAndColour(t *testing.T) {
	white, red, black := mixing.Of(artwork.RGB{255, 255, 255}), mixing.Of(
		artwork.RGB{255, 0, 0}), mixing.Of(artwork.RGB{})
	half := mixing.Mix([]float64{0.5, 0.5}, []mixing.Light{white, red})
	assert.InDelta(t, 1, half[0], 1e-12)
	assert.InDelta(t, 0.5, half[1], 1e-12)
	assert.Equal(t, artwork.RGB{255, 188, 188}, half.RGB())
	assert.Equal(t, artwork.RGB{231, 231, 231}, mixing.Mix([]float64{0.8, 0.2}, []mixing.Light{white, black}).RGB())
	r, ok := mixing.Best(artwork.RGB{255, 188, 188}, []mixing.Light{white, red, black}, 1, 0)
	require.True(t, ok)
	assert.Equal(t, []int{0, 1}, r.Parts)
	assert.InDelta(t, 0.50288646, r.Shares[0], 1e-4) // what 188 stands for
	assert.Less(t, r.DE2000, 0.5)
}

// Fifty wanted shades, each a random mix of three of the colours, are found again within CIEDE2000 2 by the model
// itself; shares are shares.
func TestRoundTrip(t *testing.T) {
	rng := rand.New(rand.NewSource(8))
	of := lights(stock)
	worst := 0.0
	for range 50 {
		p := rng.Perm(len(of))[:3]
		cut := []float64{rng.Float64(), rng.Float64()}
		a, b := math.Min(cut[0], cut[1]), math.Max(cut[0], cut[1])
		want := mixing.Mix([]float64{a, b - a, 1 - b}, []mixing.Light{of[p[0]], of[p[1]], of[p[2]]}).RGB()
		r, ok := mixing.Best(want, of, 0.5, 0)
		require.True(t, ok)
		sum := 0.0
		for _, s := range r.Shares {
			assert.Positive(t, s)
			sum += s
		}
		assert.InDelta(t, 1, sum, 1e-12)
		var some []mixing.Light
		for _, i := range r.Parts {
			some = append(some, of[i])
		}
		made := mixing.Mix(r.Shares, some).RGB()
		assert.Equal(t, r.Made, made)
		assert.Less(t, partition.DE2000(want, made), 2.0, "%v from %v", want, p)
		worst = math.Max(worst, partition.DE2000(want, made))
	}
	t.Logf("worst of fifty: %.2f", worst)
}

// Outside of what the colours span the nearest is far, and the difference says so; with no colours there is none.
func TestOutside(t *testing.T) {
	r, ok := mixing.Best(artwork.RGB{0, 255, 255}, lights(stock), 3, 0)
	require.True(t, ok)
	assert.Greater(t, r.DE2000, 15.0)
	// No share below the least: 404040 of white and 101010 wants some 4 % of white, gets a twentieth, and comes within
	// 1.
	r, ok = mixing.Best(artwork.RGB{64, 64, 64}, lights([]artwork.RGB{{255, 255, 255}, {16, 16, 16}}), 3, 0.05)
	require.True(t, ok)
	assert.InDelta(t, 0.05, r.Shares[0], 1e-9)
	assert.Less(t, r.DE2000, 1.0)
	_, ok = mixing.Best(artwork.RGB{1, 2, 3}, nil, 3, 0)
	assert.False(t, ok)
	// One colour that is near enough is taken as it is; two equal colours are no fault.
	r, _ = mixing.Best(artwork.RGB{0xb0, 0x14, 0x2c}, lights(append(stock, stock[1])), 3, 0)
	assert.Len(t, r.Parts, 1)
}

func BenchmarkBest(b *testing.B) {
	of := lights(stock)
	for b.Loop() {
		_, ok := mixing.Best(artwork.RGB{0, 255, 255}, of, 3, 0)
		require.True(b, ok)
	}
}
