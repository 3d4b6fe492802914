package intake_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/geom/steps"
	"sugarwright/internal/sample"
	"sugarwright/planner/intake"
	"sugarwright/planner/job"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
)

var white = artwork.RGB{255, 255, 255}

func section(t *testing.T, inside string, mm float64, set intake.Settings) (*partition.Map, finding.List, error) {
	art, _, err := artwork.Parse(sample.SVG(inside))
	require.NoError(t, err)
	set.Ground, set.Jacket = white, white
	return intake.Section(art, mm, shop.Default(), set)
}

// The smallest circle round the drawing fills its share of the face, and that is said; --place page keeps the page's own
// margins. A picture with a rim of its own leaves one sheet round it.
func TestPlacing(t *testing.T) {
	small := `<circle cx="120" cy="100" r="20" fill="#a00"/><path d="M100 100h40v10z" fill="#00a"/>`
	m, found, err := section(t, small, 150, intake.Settings{})
	require.NoError(t, err)
	assert.True(t, found.Has(finding.PlacedDrawing))
	far := func(m *partition.Map) (out float64) {
		for _, p := range m.Subject() {
			out = max(out, p[0])
		}
		return out
	}
	assert.InDelta(t, 52.25, far(m), 0.2, "the smallest circle round both, not the round's own")
	m, _, err = section(t, `<circle cx="120" cy="100" r="20" fill="#a00"/>`, 150, intake.Settings{})
	require.NoError(t, err)
	assert.InDelta(t, 67.5, far(m), 0.2, "a round: nine tenths of 75")
	m, _, err = section(t, `<path d="M80 100h80v20h-80z" fill="#a00"/>`, 150, intake.Settings{})
	require.NoError(t, err)
	assert.InDelta(t, 0.78*75*4/math.Sqrt(17), far(m), 0.2, "a bar of 4 to 1 in a circle of 58.5")

	m, found, err = section(t, small, 150, intake.Settings{Place: intake.Page})
	require.NoError(t, err)
	assert.Empty(t, found)
	assert.InDelta(t, 40*58.5/100, far(m), 0.1, "40 of 100 units right of the middle")

	big := `<circle cx="100" cy="100" r="140" fill="#a00"/>`
	_, found, err = section(t, big, 150, intake.Settings{})
	require.NoError(t, err)
	assert.True(t, found.Has(finding.PlacedDrawing))
	_, found, err = section(t, big, 150, intake.Settings{Place: intake.Page, FlattenMM: 0.01})
	require.NoError(t, err)
	assert.True(t, found.Has(finding.BeyondPicture))
}

// An empty picture, one of the ground's colour, a log too small, and more than the partition takes.
func TestRefusals(t *testing.T) {
	m, found, err := section(t, "", 150, intake.Settings{})
	require.NoError(t, err)
	assert.Nil(t, m)
	assert.True(t, found.Has(finding.NoPaint))
	_, found, _ = section(t, `<rect width="200" height="200" fill="#fff"/>`, 150, intake.Settings{})
	assert.True(t, found.Has(finding.OneColour))
	_, found, _ = section(t, "", 150, intake.Settings{Refused: true})
	assert.Empty(t, found)
	_, _, err = section(t, sample.Disc, 30, intake.Settings{Asked: true})
	assert.ErrorIs(t, err, intake.ErrSize)
	_, found, err = section(t, `<circle r="1e9" fill="none" stroke="#000"/>`, 150, intake.Settings{})
	require.NoError(t, err)
	assert.True(t, found.Has(finding.TooMuch))
}

// The diameter follows the order, at most the shop's largest unless it is given; an order in two ways is no order.
func TestDiameter(t *testing.T) {
	s := shop.Default()
	o := size.Order{PieceMM: 15, CutMM: 10}
	mm, found, err := intake.Diameter(o, nil, s)
	require.NoError(t, err)
	assert.Equal(t, s.LargestMM, mm)
	assert.Empty(t, found)
	o.LogMM = s.LargestMM + 20
	mm, found, err = intake.Diameter(o, nil, s)
	require.NoError(t, err)
	assert.Equal(t, s.LargestMM+20, mm)
	assert.True(t, found.Has(finding.OverLargest))
	_, _, err = intake.Diameter(size.Order{PieceMM: 15, CutMM: 10, LengthMM: 300, WeightG: 900}, nil, s)
	assert.ErrorIs(t, err, size.ErrOrder)
	j, err := job.Read([]byte("[[packs]]\nnumber = 5\ngrams = 1\n"), s, job.Day{2026, 1, 1})
	require.NoError(t, err)
	_, _, err = intake.Diameter(size.Order{PieceMM: 15, CutMM: 10}, j, s)
	assert.NoError(t, err, "packs too light are judged when the piece has a weight")
}

// A drawing is read in its own frame for those who want to see what was understood.
func TestCanvas(t *testing.T) {
	_, m, found, err := intake.Canvas(sample.SVG(sample.Disc), steps.Options{Ground: white})
	require.NoError(t, err)
	assert.NotNil(t, m)
	assert.Empty(t, found)
	_, m, found, err = intake.Canvas(sample.SVG(`<circle r="1e9" fill="none" stroke="#000"/>`), steps.Options{Ground: white})
	require.NoError(t, err)
	assert.Nil(t, m)
	assert.True(t, found.Has(finding.TooMuch))
	_, _, _, err = intake.Canvas([]byte("<html/>"), steps.Options{Ground: white})
	assert.Error(t, err)
}

// More areas than are divided twice, and more slivers than are given away one by one, are refused at once; so is an
// empty canvas.
func TestTooFine(t *testing.T) {
	many := func(n, across int) string {
		var b strings.Builder
		b.WriteString(`<path fill="#a00" d="`)
		for i := range n {
			fmt.Fprintf(
				&b,
				"M%.3f %.3fh.3v.3h-.3z",
				30+float64(i%across)*140/float64(across),
				30+float64(i/across)*140/float64(across),
			)
		}
		return b.String() + `"/>`
	}
	m, found, err := section(t, many(50_100, 224), 150, intake.Settings{})
	require.NoError(t, err)
	assert.Nil(t, m)
	require.Len(t, found.Errors(), 1)
	assert.Equal(t, finding.TooMuch, found.Errors()[0].Code)
	m, found, err = section(t, many(10_000, 100), 150, intake.Settings{})
	require.NoError(t, err)
	assert.NotNil(t, m)
	require.Len(t, found.Errors(), 1)
	assert.Equal(t, finding.SliversMoved, found.Errors()[0].Code)
	for inside, code := range map[string]finding.Code{
		"": finding.NoPaint, `<rect width="200" height="200" fill="#fff"/>`: finding.OneColour,
	} {
		_, m, found, err = intake.Canvas(sample.SVG(inside), steps.Options{Ground: white})
		require.NoError(t, err)
		assert.Nil(t, m)
		assert.True(t, found.Has(code))
	}
}
