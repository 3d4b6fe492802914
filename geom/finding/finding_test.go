package finding_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"

	"sugarwright/geom/finding"
)

// A list is as bad as its worst; errors alone refuse; it is sorted by severity, then as it was found.
func TestList(t *testing.T) {
	var l finding.List
	assert.False(t, l.Refuses())
	l.Add(finding.New(finding.ThinNote, finding.Note), finding.New(finding.NearRim, finding.Warning))
	assert.Equal(t, finding.Warning, l.Worst())
	assert.False(t, l.Refuses())
	l.Add(
		finding.New(finding.TooThin, finding.Error, 1.5).
			At([2]float64{1, 2}).
			In("strip").
			From(finding.Source{Line: 3, Column: 4}),
	)
	assert.True(t, l.Refuses())
	assert.True(t, l.Has(finding.NearRim))
	assert.False(t, l.Has(finding.TooMuch))
	assert.Len(t, l.Errors(), 1)
	s := l.Sorted()
	assert.Equal(t, finding.TooThin, s[0].Code)
	assert.Equal(t, finding.ThinNote, s[2].Code)
	assert.Equal(t, []string{"note", "warning", "error"},
		[]string{finding.Note.String(), finding.Warning.String(), finding.Error.String()})
	f := s[0]
	assert.Equal(t, [2]float64{1, 2}, *f.AtMM)
	assert.Equal(t, finding.Source{Line: 3, Column: 4}, f.Source)
	assert.Equal(t, finding.Drawing, f.About().Class)
	assert.NotEqual(t, f.Wording(), finding.New(finding.TooThin, finding.Error).Wording())
}

// What cannot be is our own fault, and says so.
func TestImpossible(t *testing.T) {
	err := finding.Impossible("part %d is lost", 3)
	var fault *finding.Fault
	assert.True(t, errors.As(err, &fault))
	assert.EqualError(t, err, "internal: part 3 is lost")
	assert.Equal(t, 7, finding.Must(7, nil))
	assert.Panics(t, func() { finding.Must(7, err) })
}
