package flat_test

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"sugarwright/geom/artwork"
	"sugarwright/geom/flat"
	"sugarwright/geom/partition"
)

// understood reads, divides and draws; the drawing, read again, has the same areas. Our own faults are errors.
func understood(t testing.TB, data []byte) {
	art, _, err := artwork.Parse(data)
	if err != nil {
		return
	}
	white := artwork.RGB{255, 255, 255}
	m, _, err := partition.Canvas(art, white)
	if much := (*partition.TooMuch)(nil); errors.As(err, &much) {
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	out := flat.Write(art.Page, m)
	again, found, err := artwork.Parse(out)
	if err != nil || len(found) > 0 {
		t.Fatal(err, found)
	}
	n, _, err := partition.Canvas(again, white)
	if much := (*partition.TooMuch)(nil); errors.As(err, &much) {
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	if m.Moved > 0 || n.Moved > 0 {
		return // what is finer than a hundredth of a millimetre belongs to any of its neighbours
	}
	a, rim := painted(m)
	b, _ := painted(n)
	a, b, rim = a/scale(m), b/scale(n), rim/scale(m)
	if math.Abs(a-b) > 1e-3*(a+b)+4*partition.Unit*rim { // both readings round to the grid
		t.Fatalf("painted %g, then %g", a, b)
	}
}

// scale is square millimetres per square user unit.
func scale(m *partition.Map) float64 { return m.Frame.ToTrue[0] * m.Frame.ToTrue[0] }

// painted is the area that is not of the ground's colour, and its outline's length.
func painted(m *partition.Map) (area, rim float64) {
	for _, r := range m.Regions {
		if r.Colour != 0 {
			area += r.Area
			rim += r.Shape.Perimeter()
		}
	}
	return area, rim
}

// Whole files of any kind end in a picture or a refusal.
func FuzzFile(f *testing.F) {
	for _, dir := range []string{"regression", "svgsuite", "errors"} {
		names, _ := filepath.Glob("../../testdata/" + dir + "/*.svg")
		for _, n := range names {
			if data, err := os.ReadFile(n); err == nil && len(data) < 4000 {
				f.Add(data)
			}
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) { understood(t, data) })
}

// What once failed stays mended (testdata/regression).
func TestRegression(t *testing.T) {
	names, err := filepath.Glob("../../testdata/regression/*.svg")
	if err != nil || len(names) == 0 {
		t.Fatal("no files", err)
	}
	for _, n := range names {
		data, err := os.ReadFile(n)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(filepath.Base(n), func(t *testing.T) { understood(t, data) })
	}
}
