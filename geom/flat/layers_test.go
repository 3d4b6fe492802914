package flat_test

import (
	"cmp"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/flat"
	"sugarwright/geom/partition"
)

// canvas is the map of a drawing.
func canvas(t *testing.T, data []byte) (artwork.Page, *partition.Map) {
	art, found, err := artwork.Parse(data)
	require.NoError(t, err)
	require.False(t, found.Refuses())
	m, _, err := partition.Canvas(art, artwork.RGB{255, 255, 255})
	require.NoError(t, err)
	return art.Page, m
}

// Painted from back to front a drawing is the same: as many painted regions, each with its colour and its share of the area, for
// each drawing of testdata/corpora that is read; circles are circles again.
func TestLayers(t *testing.T) {
	files, err := filepath.Glob("../../testdata/corpora/*.svg")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	circles := 0
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		page, m := canvas(t, data)
		out := flat.Layers(page, m)
		circles += strings.Count(string(out), "<circle")
		_, again := canvas(t, out)
		a, b := areas(m), areas(again)
		require.Equal(t, len(a), len(b), f)
		for i := range a {
			assert.Equal(t, a[i].hex, b[i].hex, f)
			assert.InDelta(t, a[i].area, b[i].area, 0.002*a[i].area+1e-5, f)
		}
	}
	assert.Greater(t, circles, 30)
}

type area struct {
	hex  string
	area float64
}

func areas(m *partition.Map) (out []area) {
	for _, r := range m.Regions {
		if r.Source.Line == 0 {
			continue // not painted
		}
		out = append(out, area{m.Colours[r.Colour].RGB.Hex(), r.Area})
	}
	total := 0.0
	for _, a := range out {
		total += a.area
	}
	for i := range out { // a share: what reaches beyond the page shrinks the canvas
		out[i].area /= total
	}
	slices.SortFunc(out, func(a, b area) int { return cmp.Or(cmp.Compare(a.hex, b.hex), cmp.Compare(a.area, b.area)) })
	return out
}
