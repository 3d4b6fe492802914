package check_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/internal/sample"
	"sugarwright/planner/check"
	"sugarwright/planner/shop"
)

// Each limit has its finding, with the width in the log: a user unit is 0.5625 mm there.
func TestLimits(t *testing.T) {
	for _, c := range []struct {
		name, drawing string
		code          finding.Code
		width         float64 // measured, 0: not looked at
	}{
		{"thin line", `<rect x="40" y="98" width="120" height="4" fill="#a00"/>`, finding.TooThin, 4 * 0.5625},
		{"dot", `<circle cx="100" cy="100" r="4" fill="#a00"/>`, finding.TooSmall, 8 * 0.5625},
		{"gap", `<rect x="40" y="60" width="120" height="38" fill="#a00"/><rect x="40" y="102" width="120" height="38" fill="#a00"/>`, finding.GapTooThin, 0},
		{"counter", `<circle cx="100" cy="100" r="50" fill="#a00"/><rect x="85" y="98" width="30" height="4" fill="#fff"/>`, finding.CounterCloses, 0},
		{"fine", `<rect x="40" y="96" width="120" height="8" fill="#a00"/>`, finding.ThinNote, 0},
		{"rim", `<circle cx="100" cy="100" r="98" fill="#a00"/>`, finding.NearRim, 0},
		{"alike", `<circle cx="100" cy="100" r="60" fill="#aa0000"/><circle cx="100" cy="100" r="30" fill="#c01400"/>`, finding.AlikeColours, 0},
		{"mirrored", `<path d="M60 60h80v20h-60v30h-20z" fill="#a00"/>`, finding.MirroredEnd, 0},
		{"larger log", `<rect x="40" y="98" width="120" height="4" fill="#a00"/>`, finding.SmallestOrder, 0},
	} {
		s := shop.Default()
		s.NearRimShare = 0.7 // of the log; the page reaches to 0.75
		r, err := check.Of(sample.Map(t, c.drawing), s)
		require.NoError(t, err)
		require.True(t, r.Findings.Has(c.code), "%s: %v", c.name, r.Findings)
		if c.width > 0 {
			require.NotEmpty(t, r.Places, c.name)
			assert.InDelta(t, c.width, r.Places[0].Width, 0.1, c.name)
			assert.Equal(t, c.code, r.Places[0].Code)
			assert.True(t, r.Places[0].Shape.Bound().Contains([2]float64(r.Places[0].At)), c.name)
		}
	}
}

// A drawing inside every limit has no place; what is its own mirror image has no note on the other end; nine colours are too many.
func TestPasses(t *testing.T) {
	r, err := check.Of(sample.Map(t, sample.Disc), shop.Default())
	require.NoError(t, err)
	assert.Empty(t, r.Findings)
	assert.True(t, math.IsInf(r.Finest, 1))
	assert.Greater(t, r.Subject, 1000.0)
	assert.Zero(t, r.LostArea)
	many := ""
	for i, c := range []string{"#f00", "#0a0", "#00f", "#ff0", "#0ff", "#f0f", "#840", "#000", "#888"} {
		many += `<rect x="` + string(
			rune('1'+i)) + `0" y="90" width="10" height="30" fill="` + c + `" transform="translate(45 0)"/>`
	}
	r, err = check.Of(sample.Map(t, many), shop.Default())
	require.NoError(t, err)
	assert.True(t, r.Findings.Has(finding.TooManyColours))
}

// A strip may be as thin as a sheet, not as a line; the finest place is so many times as thick as needed.
func TestStripsAndFinest(t *testing.T) {
	s := shop.Default()
	places, err := check.Limits(
		sample.Map(t, `<circle cx="100" cy="100" r="50" fill="none" stroke="#a00" stroke-width="5"/>`), s, nil)
	require.NoError(t, err)
	assert.Empty(t, places, "2.8 mm, wrapped round: 2.2 are enough")
	finest, err := check.Finest(sample.Map(t, `<rect x="40" y="92" width="120" height="16" fill="#a00"/>`), s)
	require.NoError(t, err)
	assert.InDelta(t, 16*0.5625/s.ThinnestMM, finest, 0.3)
}

// What was measured before is not measured again.
func TestMemo(t *testing.T) {
	m, s := sample.Map(t, `<rect x="40" y="98" width="120" height="4" fill="#a00"/>`), shop.Default()
	memo := check.Memo{}
	a, err := check.Limits(m, s, memo)
	require.NoError(t, err)
	known := len(memo)
	b, err := check.Limits(m, s, memo)
	require.NoError(t, err)
	assert.Equal(t, a, b)
	assert.Len(t, memo, known)
	assert.NotEqual(t, check.Outline(m.Regions[0], false), check.Outline(m.Regions[0], true))
}

// A picture of more areas than are looked at one by one, and an area whose edge turns to and fro without end, are
// refused with their place before anything is measured.
func TestCrowded(t *testing.T) {
	var dots, saw strings.Builder
	for i := range 500 {
		fmt.Fprintf(&dots, `<circle cx="%d" cy="%d" r="1.6" fill="#b00020"/>`, 40+5*(i%25), 50+5*(i/25))
	}
	r, err := check.Of(sample.Map(t, dots.String()), shop.Default())
	require.NoError(t, err)
	assert.True(t, r.Crowded)
	assert.True(t, r.Findings.Has(finding.TooManyAreas))
	assert.Len(t, r.Places, artwork.MaxFindings, "as many as are said")
	for _, p := range r.Places {
		assert.Equal(t, finding.TooThin, p.Code)
		assert.InDelta(t, 3.2*0.5625, p.Width, 0.05, "four times the area over the perimeter is a disc's diameter")
	}
	for i := range 600 {
		r, a := 85-3*float64(i%2), 2*math.Pi*float64(i)/600
		fmt.Fprintf(&saw, " %.3f,%.3f", 100+r*math.Cos(a), 100+r*math.Sin(a))
	}
	r, err = check.Of(sample.Map(t, `<polygon fill="#b00020" points="`+saw.String()+`"/>`), shop.Default())
	require.NoError(t, err)
	assert.True(t, r.Crowded)
	for _, f := range r.Findings.Errors() {
		assert.Equal(t, finding.TooMuch, f.Code)
		assert.NotNil(t, f.AtMM)
	}
	assert.NotEmpty(t, r.Findings.Errors())
}
