package artwork

import "fmt"

// Bounds of what is read. Each is far above any drawing that could be made in sugar, and low enough that reading and
// dividing end within seconds and a fraction of a gigabyte.
const (
	MaxBytes      = 16 << 20   // of a file, unpacked: some three million numbers
	MaxEntities   = 1 << 20    // bytes that entities may grow to: a set of swatches takes a few thousand
	MaxDepth      = 200        // of nested elements: drawing programs nest layers a dozen deep
	MaxNodes      = 200_000    // elements, those repeated by use counted each time
	MaxSegments   = 1_000_000  // path segments, those repeated counted each time
	MaxPoints     = 1_500_000  // of all flattened outlines: about what the partition takes
	MaxChords     = 20_000     // of one curve: a circle a thousand times as wide as the log is still fine enough
	MaxDashes     = 100_000    // of the whole drawing
	MaxReferences = 32         // of use, clip-path, mask and gradients one inside another; cycles end here too
	MaxStyleWork  = 50_000_000 // selector tests: rules times elements, times their depth for each step of a selector
	MaxStops      = 1000       // of one gradient
	MaxImage      = 4 << 20    // bytes of an image in the file
	MaxFindings   = 200        // of one kind: one more of the same is no news
	MaxNotes      = 20         // of one kind, for what changes nothing that is seen
)

// mostImages are read in one drawing, those in one another too.
const mostImages = 8

// OverBound is an outline that goes over a bound when its curves are made straight.
type OverBound struct {
	Bound string // points, chords or dashes
	Most  int
}

func (e *OverBound) Error() string {
	return fmt.Sprintf("more than %d %s in an outline", e.Most, e.Bound)
}
