package proof_test

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/png"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/internal/printed"
	"sugarwright/planner/plan"
	"sugarwright/render/proof"
	"sugarwright/render/sheet"
	"sugarwright/render/view"
)

// A circle of the piece's true diameter is drawn.
func TestPages(t *testing.T) {
	printed.EachPlan(t, proof.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		round := 0
		for _, pg := range proof.Pages(p, s) {
			for _, it := range pg.Items {
				if it.Path == nil {
					continue
				}
				b := view.Box(it.Path.Rings)
				d := float64(p.Piece.DiameterMM)
				if math.Abs(b[2]-b[0]-d) < 0.02 && math.Abs(b[3]-b[1]-d) < 0.02 {
					round++
				}
			}
		}
		assert.Positive(t, round, name)
		assert.NotContains(t, strings.ToLower(text), "jacket", name)
	})
}

// What the client sent is shown as it came where it is more than flat paint: beside the sweet, within the panel, in its own shape.
func TestSent(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 30, 20))
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, img))
	printed.EachPlan(t, proof.Pages, func(name string, p *plan.Plan, s sheet.Style, text string) {
		q := *p
		q.Artwork.Seen, q.SimplifiedFrom = base64.StdEncoding.EncodeToString(b.Bytes()), nil
		shown := 0
		for _, pg := range proof.Pages(&q, s) {
			require.NoError(t, pg.Check(), name)
			for _, it := range pg.Items {
				if x := it.Picture; x != nil {
					shown++
					assert.InDelta(t, 1.5, (x.At[2]-x.At[0])/(x.At[3]-x.At[1]), 1e-6)
					assert.Equal(t, b.Bytes(), x.PNG)
				}
			}
		}
		assert.Equal(t, 1, shown, name)
		q.Artwork.Seen = "none of it"
		for _, pg := range proof.Pages(&q, s) {
			for _, it := range pg.Items {
				assert.Nil(t, it.Picture)
			}
		}
	})
}
