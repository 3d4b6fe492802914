package sugar

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Sucrose and water alone by Gordon and Taylor's rule, k 5.42 (Roos 1993, from memory; 4.7 is in print too); degrees
// derived.
func TestSucroseAndWater(t *testing.T) {
	for _, c := range []struct{ k, percent, tg float64 }{{5.42, 1, 51.774564}, {5.42, 2, 42.379640}, {5.42, 3, 33.717994}, {5.42, 5, 18.276003},
		{4.7, 1, 53.071360}, {4.7, 2, 44.757914}, {4.7, 3, 36.998200}, {4.7, 5, 22.932489}} {
		assert.InDelta(t, c.tg, withWater(62+kelvin, c.k, c.percent/100), 1e-5)
	}
}
