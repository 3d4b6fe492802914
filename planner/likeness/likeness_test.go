package likeness_test

import (
	"compress/gzip"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
	"sugarwright/planner/intake"
	"sugarwright/planner/likeness"
	"sugarwright/planner/shop"
)

const (
	corpora = "../../testdata/corpora/"
	graded  = "../../testdata/graded/"
)

// read a drawing's map in a log of 150 mm, as it stands on its page or placed by what is drawn.
func read(t testing.TB, file string, place intake.Place) *partition.Map {
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	var in io.Reader = f
	if strings.HasSuffix(file, ".gz") {
		in, err = gzip.NewReader(f)
		require.NoError(t, err)
	}
	data, err := io.ReadAll(in)
	require.NoError(t, err)
	art, _, err := artwork.Parse(data)
	require.NoError(t, err)
	white := artwork.RGB{255, 255, 255}
	m, _, err := intake.Section(art, 150, shop.Default(), intake.Settings{Place: place, Ground: white, Jacket: white})
	require.NoError(t, err)
	return m
}

// Graded pairs (testdata/graded): the measure ranks them as the grader did. Its weights were fitted to 59 pairs of which
// these are 25 (rank correlation 0.89 there); the bound here is 0.85. What a client accepted is below 3.5, and all but two
// of those that are not the thing any more are above 7.
func TestGradedPairs(t *testing.T) {
	rows, err := os.ReadFile(graded + "grades.tsv")
	require.NoError(t, err)
	var s, grades []float64
	low := 0
	for _, row := range strings.Split(strings.TrimSpace(string(rows)), "\n")[1:] {
		f := strings.Split(row, "\t")
		grade, err := strconv.ParseFloat(f[2], 64)
		require.NoError(t, err)
		l := likeness.Of(read(t, corpora+f[0]+".svg", intake.Auto), read(t, graded+f[0]+".svg.gz", intake.Auto))
		s, grades = append(s, l.S), append(grades, grade)
		t.Logf("%-34s %s %2.0f  S %5.2f  W %.2f  V %.3f  P %.2f", f[0], f[1], grade, l.S, l.Parts, l.Seen, l.Lines)
		switch {
		case f[1] == "A":
			assert.Less(t, l.S, 3.5, f[0])
		case f[1] == "C" && l.S < 7:
			low++
		}
	}
	assert.LessOrEqual(t, low, 2)
	assert.Greater(t, rankCorrelation(s, grades), 0.85)
}

// Redrawn by hand is nearer to the drawing than what was cut by the earlier version, as the grader found.
func TestByHand(t *testing.T) {
	files, err := filepath.Glob(graded + "hand-*.gz")
	require.NoError(t, err)
	require.Len(t, files, 3)
	for _, f := range files {
		name := strings.TrimSuffix(strings.TrimPrefix(filepath.Base(f), "hand-"), ".svg.gz")
		hand := likeness.Of(read(t, corpora+name+".svg", intake.Page), read(t, f, intake.Page))
		cut := likeness.Of(read(t, corpora+name+".svg", intake.Auto), read(t, graded+name+".svg.gz", intake.Auto))
		t.Logf("%-34s by hand %.2f, cut %.2f", name, hand.S, cut.S)
		assert.Less(t, hand.S, cut.S, name)
		assert.Zero(t, hand.Lines, name)
	}
}

// Nothing is lost between equal drawings; a mirrored pair has lost alike.
func TestSameAndMirrored(t *testing.T) {
	a, b := read(t, corpora+"twemoji-cat-face.svg", intake.Page), read(t, graded+"hand-twemoji-cat-face.svg.gz", intake.Page)
	same := likeness.Of(a, a)
	assert.Zero(t, same.S)
	for _, l := range same.Worst {
		assert.Zero(t, l.Loss)
	}
	one, other := likeness.Of(a, b), likeness.Of(mirrored(a), mirrored(b))
	assert.InDelta(t, one.S, other.S, 0.05)
}

func mirrored(m *partition.Map) *partition.Map {
	out := *m
	out.Regions = slices.Clone(m.Regions)
	for i, r := range out.Regions {
		out.Regions[i].Shape = slices.Clone(r.Shape)
		for k, ring := range r.Shape {
			ring = slices.Clone(ring)
			for j := range ring {
				ring[j][0] = -ring[j][0]
			}
			slices.Reverse(ring)
			out.Regions[i].Shape[k] = ring
		}
	}
	return &out
}

// rankCorrelation is Spearman's, with mean ranks for ties.
func rankCorrelation(a, b []float64) float64 {
	x, y := ranks(a), ranks(b)
	mean := float64(len(a)-1) / 2
	var xy, xx, yy float64
	for i := range x {
		xy += (x[i] - mean) * (y[i] - mean)
		xx += (x[i] - mean) * (x[i] - mean)
		yy += (y[i] - mean) * (y[i] - mean)
	}
	return xy / math.Sqrt(xx*yy)
}

func ranks(v []float64) []float64 {
	sorted := slices.Sorted(slices.Values(v))
	out := make([]float64, len(v))
	for i, x := range v {
		lo, _ := slices.BinarySearch(sorted, x)
		hi := lo
		for hi+1 < len(sorted) && sorted[hi+1] == x {
			hi++
		}
		out[i] = float64(lo+hi) / 2
	}
	return out
}

func BenchmarkOf(b *testing.B) {
	before, after := read(b, corpora+"emojione-pineapple.svg", intake.Auto), read(b, graded+"emojione-pineapple.svg.gz", intake.Auto)
	for b.Loop() {
		likeness.Of(before, after)
	}
}
