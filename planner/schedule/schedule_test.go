package schedule_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/planner/schedule"
)

// Six tasks, minutes/hands: A 3/1, B 2/1, C 4/2, D 2/1, E 3/1, F 1/2; A, B before C; D before E; C, E before F. The least makespan is 10
// by full enumeration (derived): the work of 20 over two pairs of hands.
func TestSixTasks(t *testing.T) {
	tasks := []schedule.Task{{3, 1, nil}, {2, 1, nil}, {2, 1, nil}, {3, 1, []int{2}}, {4, 2, []int{0, 1}}, {1, 2, []int{4, 3}}}
	r, err := schedule.Best(tasks, 2)
	require.NoError(t, err)
	assert.NoError(t, schedule.Check(tasks, r, 2))
	assert.InDelta(t, 10, r.AtLeast, 1e-9)
	assert.InDelta(t, 10, r.End, 1e-9)
}

func TestTooManyHands(t *testing.T) {
	_, err := schedule.Best([]schedule.Task{{1, 3, nil}}, 2)
	assert.Error(t, err)
}

func TestCheckSeesAFault(t *testing.T) {
	tasks := []schedule.Task{{3, 1, nil}, {2, 2, nil}}
	assert.Error(t, schedule.Check(tasks, &schedule.Result{Start: []float64{0, 1}}, 2))
	tasks = []schedule.Task{{3, 1, nil}, {2, 1, []int{0}}}
	assert.Error(t, schedule.Check(tasks, &schedule.Result{Start: []float64{0, 1}}, 2))
}

func BenchmarkBest(b *testing.B) {
	var tasks []schedule.Task
	for i := 0; i < 60; i++ {
		var needs []int
		if i > 2 {
			needs = []int{i - 3}
		}
		tasks = append(tasks, schedule.Task{Minutes: 1 + float64(i%4), Hands: 1 + i%2, Needs: needs})
	}
	for b.Loop() {
		if _, err := schedule.Best(tasks, 2); err != nil {
			b.Fatal(err)
		}
	}
}
