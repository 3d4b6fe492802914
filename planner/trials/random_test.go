//go:build trials

package trials_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom/finding"
	"sugarwright/planner"
	"sugarwright/planner/plan"
)

var randoms = flag.Int("randoms", 24, "how many random drawings are planned")

// random draws a picture of a few bold shapes, some of them mirrored or repeated round the middle as pictures for
// sweets are; some come out too fine, too near to each other or too many.
func random(seed uint64) string {
	r := rand.New(rand.NewPCG(seed, 1))
	in := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	colour := func() string {
		return []string{"#b00020", "#1d5f9e", "#f2b705", "#2e7d32", "#222222", "#ffffff"}[r.IntN(6)]
	}
	shape := func() string {
		x, y, size := in(60, 140), in(60, 140), in(4, 34)
		switch r.IntN(6) {
		case 0:
			return fmt.Sprintf(`<circle cx="%.2f" cy="%.2f" r="%.2f" fill="%s"/>`, x, y, size, colour())
		case 1:
			return fmt.Sprintf(
				`<rect x="%.2f" y="%.2f" width="%.2f" height="%.2f" fill="%s" transform="rotate(%.0f %.2f %.2f)"/>`,
				x-size,
				y-size/2,
				2*size,
				in(4, 2*size),
				colour(),
				in(0, 180),
				x,
				y,
			)
		case 2:
			return fmt.Sprintf(
				`<ellipse cx="%.2f" cy="%.2f" rx="%.2f" ry="%.2f" fill="%s"/>`,
				x,
				y,
				size,
				in(4, size+4),
				colour(),
			)
		case 3:
			return fmt.Sprintf(
				`<circle cx="%.2f" cy="%.2f" r="%.2f" fill="none" stroke="%s" stroke-width="%.2f"/>`,
				x,
				y,
				size,
				colour(),
				in(3, 12),
			)
		case 4: // a polygon of points round its middle
			n := 3 + r.IntN(5)
			var b strings.Builder
			for k := range n {
				a := 2 * math.Pi * (float64(k) + in(-0.3, 0.3)) / float64(n)
				fmt.Fprintf(&b, "%.2f,%.2f ", x+size*math.Cos(a), y+size*math.Sin(a))
			}
			return fmt.Sprintf(`<polygon points="%s" fill="%s"/>`, b.String(), colour())
		default:
			return fmt.Sprintf(
				`<path d="M%.2f %.2fQ%.2f %.2f %.2f %.2f" fill="none" stroke="%s" stroke-width="%.2f" stroke-linecap="round"/>`,
				x-size,
				y,
				x,
				y-in(-30, 30),
				x+size,
				y,
				colour(),
				in(4, 14),
			)
		}
	}
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">`)
	for range 1 + r.IntN(5) {
		s := shape()
		switch r.IntN(4) {
		case 0:
			fmt.Fprintf(&b, `%s<g transform="translate(200 0) scale(-1 1)">%[1]s</g>`, s)
		case 1:
			for k, n := 0, 3+r.IntN(4); k < n; k++ {
				fmt.Fprintf(&b, `<g transform="rotate(%.2f 100 100)">%s</g>`, 360*float64(k)/float64(n), s)
			}
		default:
			b.WriteString(s)
		}
	}
	return b.String() + "</svg>"
}

// Random drawings end in a plan that the judge finds nothing wrong with, or in errors that have a place and are not our
// own fault.
func TestRandom(t *testing.T) {
	var wg sync.WaitGroup
	var lock sync.Mutex
	ends := map[string]int{}
	gate := make(chan bool, 2)
	for seed := range *randoms {
		wg.Add(1)
		gate <- true
		go func() {
			defer func() { <-gate; wg.Done() }()
			name := fmt.Sprintf("random-%d", seed)
			r, err := planner.Compile(name+".svg", []byte(random(uint64(seed))), options())
			if !assert.NoError(t, err, name) {
				return
			}
			end := string(r.Plan.Verdict)
			if r.Plan.Verdict == plan.AsDrawn {
				checkPlan(t, name, r.Plan)
			} else {
				errs := r.Stages.Findings.Errors()
				if assert.NotEmpty(t, errs, name) {
					end = string(errs[0].Code)
				}
				for _, f := range errs {
					assert.NotEqual(t, finding.Internal, f.Code, name)
				}
			}
			lock.Lock()
			ends[end]++
			lock.Unlock()
		}()
	}
	wg.Wait()
	t.Logf("%v", ends)
	assert.Greater(t, ends[string(plan.AsDrawn)], *randoms/10)
}
