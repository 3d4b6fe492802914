package golden

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Every plan that is kept holds to the schema and to its own references, and has more than one verdict among them.
func TestPlansAreReadable(t *testing.T) {
	verdicts := map[string]int{}
	for _, name := range Names(t) {
		verdicts[string(Plan(t, name).Verdict)]++
	}
	assert.Greater(t, verdicts["as-drawn"], 8)
	assert.Greater(t, len(verdicts), 1)
}
