// Package pile follows the heat of the parts from the first laying until the log is drawn.
//
// Guarantees (P8): the heats are those of implicit steps on squares of a millimetre and a half; the same input gives
// the same heats.
package pile

import (
	"math"
	"slices"
	"sort"
	"sync"

	"sugarwright/geom/finding"
	"sugarwright/planner/flow"
	"sugarwright/planner/heat"
	"sugarwright/planner/palette"
	"sugarwright/planner/section"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/sugar"
	"sugarwright/planner/windows"
	"sugarwright/planner/work"
)

// Kitchen is what stands in the kitchen while the log is laid: the parts, their heats, and when they are laid.
type Kitchen struct {
	Set     *set.Set
	Palette *palette.Palette
	Windows *windows.Windows
	Section *section.Section
	Timing  work.Timing
	Shop    *shop.Shop
	// Of the log
	LengthMM float64
}

// Squares in which heat is followed, a quarter of their number a side: 96 across the log, a millimetre and a half each;
// 48 for the range.
const (
	pileCells  = 24
	rangeCells = 12
)

// Cooling is what becomes of the pile's heat, and what follows from it. Minutes are +Inf where the log stays
// workable as long as it is watched.
type Cooling struct {
	RollC  []float64   // by element: its mean heat when the log is rolled
	EtaRel []float64   // by element: its stiffness then, over the ground's
	BlockC [][]float64 // by block: heats of all parts when it is finished
	// When the log inside its jacket gets too stiff to work; between these by what its surroundings may be off
	StiffMin, EarliestMin, LatestMin float64
	RoundC, DrawnC                   float64 // mean heat of the log when it is rolled, and when its last length is drawn
	// In the coolest surroundings: what the log comes to, and the minutes in which a difference falls to its e-th part
	ToC, Tau float64
}

// Follow the heat of the pile from the first laying until the log is drawn: what each part's heat is when its block and
// when the log is rolled, and when it gets too stiff to work (P8). The last also for sugar whose glass
// transition is as far off as it may be: it is laid by feel, so much warmer or cooler, as if all round it were so much
// cooler or warmer.
func Follow(k Kitchen) (*Cooling, finding.List) {
	pm := k.Shop.DoubtC
	var wait sync.WaitGroup
	var low, high cooling
	wait.Go(func() { low = k.follow(rangeCells, -pm) })
	wait.Go(func() { high = k.follow(rangeCells, pm) })
	c := k.follow(pileCells, 0)
	wait.Wait()
	out := &Cooling{RollC: c.roll, BlockC: c.blocks, EtaRel: k.Stiffness(c.roll), StiffMin: c.stiff,
		EarliestMin: math.Min(low.stiff, c.stiff), LatestMin: math.Max(high.stiff, c.stiff), RoundC: c.means[0], DrawnC: c.drawn}
	out.ToC, out.Tau = decay(low.means)
	var found finding.List
	if limit := k.Shop.JoinC; math.Abs(c.apart) > limit {
		there, comes := k.Set.Elements[c.there], k.Set.Elements[c.comes]
		f := finding.New(finding.JoinCold, finding.Warning, there.Number, comes.Number, math.Abs(c.apart), limit)
		if c.apart < 0 {
			f = f.In("too_warm")
		}
		found.Add(f.At(there.Inside()))
	}
	return out, found
}

// Check holds every part to a heat and a stiffness that the model can be trusted with.
func (c *Cooling) Check() error {
	for i, eta := range c.EtaRel {
		if !(eta > 0) || math.IsNaN(c.RollC[i]) {
			return finding.Impossible("element %d rolls at %g C with a stiffness of %g", i, c.RollC[i], eta)
		}
	}
	return nil
}

// cooling is what becomes of the heat: that of all parts when each block is finished and when the log is rolled, the
// minute at which the log is too stiff to work (+Inf: not while it is watched), and the two parts that were most
// apart when the second was laid.
type cooling struct {
	blocks       [][]float64
	roll         []float64
	stiff        float64
	means        []float64 // of the log inside its jacket, each minute from its rolling on
	drawn        float64   // the same when its last length is drawn
	there, comes int
	apart        float64
}

// follow the pile, with surroundings that are warmer by some degrees than the shop says.
func (k Kitchen) follow(cells int, warmer float64) cooling {
	s := k.Section
	side := 4 * cells
	parts := make([]int, side*side)
	for i, part := range s.Body.Raster(s.Body.Points, cells) {
		parts[i] = int(part)
	}
	sh := k.Shop
	pile := heat.NewPile(side, k.diameterMM()/float64(side), parts)
	table, above := heat.Side{C: sh.TableC + warmer, W: sh.TableW}, heat.Side{C: sh.LampC + warmer, W: sh.AirW}
	now, was := 0.0, math.Inf(1)
	out := cooling{blocks: make([][]float64, len(k.Set.Blocks)), stiff: math.Inf(1)}
	least := sugar.Workable(sh.TgC)
	until := func(t float64) {
		pile.Cool(t-now, table, above)
		mean := k.mean(k.heats(pile), func(e set.Element) bool { return e.Kind != set.Jacket })
		if math.IsInf(out.stiff, 1) && mean < least {
			out.stiff = now
			if was > least && !math.IsInf(was, 1) {
				out.stiff += (t - now) * (was - least) / (was - mean)
			}
		}
		now, was = math.Max(now, t), mean
	}
	type event struct {
		at     float64
		happen func()
	}
	meets := func(come []int) { // what comes against what is there
		heats := k.heats(pile)
		for _, i := range come {
			for _, j := range pile.Against(i) {
				if d := heats[i] - heats[j]; !slices.Contains(come, j) && math.Abs(d) > math.Abs(out.apart) {
					out.apart, out.comes, out.there = d, i, j
				}
			}
		}
	}
	var events []event
	for i, e := range k.Set.Elements {
		events = append(events, event{k.Timing.Laid[i], func() {
			pile.Lay(i, k.Windows.Parts[i].LayC, e.Block)
			meets([]int{i})
		}})
	}
	for b, blk := range k.Set.Blocks {
		if b != len(k.Set.Blocks)-1 {
			events = append(events, event{k.Timing.Done[b], func() { out.blocks[b] = k.heats(pile) }})
		}
		for _, c := range blk.Blocks {
			events = append(events, event{k.Timing.Joined[c], func() {
				pile.Join(c, b)
				meets(k.Set.Inside(c))
			}})
		}
	}
	sort.SliceStable(events, func(i, j int) bool { return events[i].at < events[j].at-1e-9 })
	for _, e := range events {
		until(e.at)
		e.happen()
	}
	until(k.Timing.Roll)
	out.roll = k.heats(pile)
	out.means = []float64{was}
	for now < k.Timing.Drawn+watchMin {
		until(now + 1)
		out.means = append(out.means, was)
		if now <= k.Timing.Drawn+1 {
			out.drawn = was
		}
	}
	return out
}

// watchMin is the time in minutes for which the log is followed after its last length is drawn: nobody waits for longer.
const watchMin = 20

// decay fits an exponential to heats a minute apart: what they come to, and the minutes in which a difference falls to
// its e-th part. From three of them as far apart as they go.
func decay(means []float64) (toC, tau float64) {
	n := (len(means) - 1) / 2
	a, b, c := means[0], means[n], means[2*n]
	r := (b - c) / (a - b)
	if !(r > 0 && r < 1) {
		return c, math.Inf(1) // it hardly cools
	}
	return (a*c - b*b) / (a + c - 2*b), -float64(n) / math.Log(r)
}

// heats of all parts in the pile; a part that is smaller than its squares has the heat at which it is laid.
func (k Kitchen) heats(p *heat.Pile) []float64 {
	out := p.Means(len(k.Set.Elements))
	for i := range out {
		if math.IsNaN(out[i]) {
			out[i] = k.Windows.Parts[i].LayC
		}
	}
	return out
}

// groundMean is the mean of a figure over the ground inside the jacket, by area.
func (k Kitchen) groundMean(v []float64) float64 {
	return k.mean(v, func(e set.Element) bool { return e.Colour == 0 && e.Kind != set.Jacket })
}

// mean of a figure over some parts, by area.
func (k Kitchen) mean(v []float64, of func(set.Element) bool) float64 {
	sum, area := 0.0, 0.0
	for i, e := range k.Set.Elements {
		if of(e) {
			a := e.True.Area()
			sum, area = sum+a*v[i], area+a
		}
	}
	return sum / area
}

// Stiffness of all parts over the ground's at these heats, within what the model can be trusted with.
func (k Kitchen) Stiffness(c []float64) []float64 {
	logs := make([]float64, len(c))
	for i, e := range k.Set.Elements {
		// What is colder is a glass, and clamped below in any case
		t := math.Max(k.Shop.TgC, math.Min(k.Shop.TgC+100, c[i]))
		logs[i], _ = sugar.LogEta(t, k.Shop.TgC)
		if k.Palette.Pulled(e.Colour) {
			logs[i] += math.Log10(k.Shop.PulledStiffness)
		}
	}
	ground := k.groundMean(logs)
	for i := range logs {
		// As printed, so that others can repeat it
		logs[i] = math.Round(flow.Clamped(math.Pow(10, logs[i]-ground))*1e4) / 1e4
	}
	return logs
}

// diameterMM of the log.
func (k Kitchen) diameterMM() float64 { return 2 * k.Section.RadiusMM() }
