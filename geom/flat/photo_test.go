package flat_test

import (
	"image"
	"image/color"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
	"sugarwright/geom/steps"
	"sugarwright/geom/trace"
)

// Felt-pen drawings, photographed and scanned (testdata/photos says how), have the areas that were drawn and no others: the light is
// evened out, the sheet laid flat by its corners, the streaks of the pen filled.
func TestPhotos(t *testing.T) {
	for _, c := range []struct {
		name    string
		meant   string
		corners *trace.Corners
		areas   int
	}{
		{"boat-photo", "boat", &trace.Corners{{60, 45}, {1150, 20}, {1190, 870}, {15, 850}}, 5},
		{"flower-photo", "flower", &trace.Corners{{30, 30}, {1120, 60}, {1180, 880}, {60, 830}}, 3},
		{"face-photo", "face", &trace.Corners{{80, 20}, {1160, 50}, {1130, 860}, {20, 880}}, 4},
		{"boat-scan", "boat", nil, 5},
		{"flower-scan", "flower", nil, 3},
		{"face-scan", "face", nil, 4},
	} {
		if !*update && c.name != "boat-photo" { // one will do
			continue
		}
		data, err := os.ReadFile("../../testdata/photos/" + c.name + ".jpg")
		require.NoError(t, err)
		white := artwork.RGB{255, 255, 255}
		art, found, err := steps.Read(data, steps.Options{Ground: white, Trace: trace.Options{Photo: true, Corners: c.corners}})
		require.NoError(t, err)
		require.Empty(t, found.Errors())
		require.Equal(t, "photo", art.Altered[0].Case)
		m, _, err := partition.Canvas(art, white)
		require.NoError(t, err)
		page := 0.0
		k := m.Frame.ToTrue[0] * m.Frame.ToTrue[0]
		areas, paper := 0, 0.0
		for _, r := range m.Regions {
			a := r.Area / k
			page += a
			if c := m.Colours[r.Colour].RGB; c == white {
				paper += a
			} else if a > 200 { // pixels
				areas++
			}
		}
		assert.Equal(t, c.areas, areas, c.name)
		assert.Greater(t, paper/page, 0.4, c.name)
		data, err = os.ReadFile("../../testdata/photos/" + c.meant + ".svg")
		require.NoError(t, err)
		truth, _, err := artwork.Parse(data)
		require.NoError(t, err)
		n, _, err := partition.Canvas(truth, white)
		require.NoError(t, err)
		off := wrongArea(drawn(art.Page, m, 400, 300), drawn(truth.Page, n, 400, 300))
		assert.Less(t, off, 0.09, c.name) // the pen strayed by up to 0.4 % of the width, and dots on edges count
	}
}

// wrongArea is the share of painted dots that do not have the colour that most dots of their true colour have.
func wrongArea(got, want *image.NRGBA) float64 {
	white := color.NRGBA{255, 255, 255, 255}
	count := map[color.NRGBA]map[color.NRGBA]int{}
	painted, right := 0, 0
	b := want.Bounds()
	for y := range b.Dy() {
		for x := range b.Dx() {
			p, q := got.NRGBAAt(x, y), want.NRGBAAt(x, y)
			if p != white || q != white {
				painted++
			}
			if count[q] == nil {
				count[q] = map[color.NRGBA]int{}
			}
			count[q][p]++
		}
	}
	for q, all := range count {
		most := 0
		for _, n := range all {
			most = max(most, n)
		}
		if q != white {
			right += most
		}
	}
	return 1 - float64(right)/float64(painted)
}
