package heat

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Roots and first weights of the series (six digits derived; the first root of each row is printed to four in
// handbooks: Cengel, table 4-2; Carslaw and Jaeger 1959).
func TestRoots(t *testing.T) {
	for _, c := range []struct {
		shape  Shape
		biot   float64
		roots  []float64
		weight float64
	}{
		{Rod, 0.1, []float64{0.441682, 3.857710, 7.029825, 10.183293, 13.331195, 16.476700}, 1.024579},
		{Rod, 1, []float64{1.255784, 4.079478, 7.155799, 10.270985, 13.398397, 16.531159}, 1.207092},
		{Rod, 10, []float64{2.179497, 5.033212, 7.956883, 10.936330, 13.958030, 17.009878}, 1.567692},
		{Rod, 0.01, []float64{0.141245}, 1.002496},
		{Rod, 0.5, []float64{0.940771}, 1.114255},
		{Rod, 2, []float64{1.599449}, 1.338377},
		{Rod, 5, []float64{1.989815}, 1.502869},
		{Rod, 100, []float64{2.380902}, 1.601524},
		{Sheet, 0.1, []float64{0.311053}, 1.016094},
		{Sheet, 1, []float64{0.860334, 3.425618, 6.437298, 9.529334}, 1.119132},
		{Sheet, 10, []float64{1.428870}, 1.261963},
	} {
		s := NewSeries(c.shape, c.biot)
		for i, z := range c.roots {
			assert.InDelta(t, z, s.root[i], 1e-6, "%v Bi %g root %d", c.shape, c.biot, i+1)
		}
		assert.InDelta(t, c.weight, s.weight[0], 1e-6, "%v Bi %g", c.shape, c.biot)
	}
}
