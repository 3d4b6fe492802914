package planner

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"sync"

	"sugarwright/geom/finding"
	"sugarwright/planner/flow"
	"sugarwright/planner/heat"
	"sugarwright/planner/plan"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/sugar"
)

// timing is when things happen to the parts, in minutes: an element's laying, a block's completion and its laying, the rolling of the log
// and the end of drawing.
type timing struct {
	laid, done, joined []float64
	roll, drawn        float64
}

// Squares in which heat is followed, a quarter of their number a side: 96 across the log, a millimetre and a half each; 48 for the range.
const (
	pileCells  = 24
	rangeCells = 12
)

// cool follows the heat of the pile from the first laying until the log is drawn: what each part's heat is when its block and when the log
// is rolled, and when the ground gets too stiff to work (P8). The last also for sugar whose glass transition is as far off as it may be: it is
// laid by feel, so much warmer or cooler, as if all round it were so much cooler or warmer.
func (w *work) cool(s *section) {
	pm := w.o.Shop.TgPlusMinus
	var wait sync.WaitGroup
	var low, high cooling
	wait.Go(func() { low = w.follow(s, rangeCells, -pm) })
	wait.Go(func() { high = w.follow(s, rangeCells, pm) })
	c := w.follow(s, pileCells, 0)
	wait.Wait()
	w.blockC, w.stiffAt = c.blocks, c.stiff
	w.stiffLow, w.stiffHigh = math.Min(low.stiff, c.stiff), math.Max(high.stiff, c.stiff)
	rel := w.stiffness(c.roll)
	for i, t := range c.roll {
		w.parts[i].rollC, w.parts[i].etaRel = t, rel[i]
	}
	if limit := w.o.Shop.JoinC; math.Abs(c.apart) > limit {
		there, comes := w.set.Elements[c.there], w.set.Elements[c.comes]
		at := [2]float64(there.Inside())
		f := finding.Finding{Code: finding.JoinCold, Severity: finding.Warning, AtMM: &at,
			Message:    fmt.Sprintf("part %d has cooled so far that part %d, laid on it, is %.1f C warmer; parts that join should differ by %.0f at most", there.Number, comes.Number, c.apart, limit),
			Suggestion: "warm the face under the lamp before laying, keep the table warmer, or lay faster"}
		if c.apart < 0 {
			f.Message = fmt.Sprintf("part %d has been warmed so far that part %d, laid on it, is %.1f C cooler; parts that join should differ by %.0f at most", there.Number, comes.Number, -c.apart, limit)
			f.Suggestion = "keep table and lamp less warm"
		}
		w.found.Add(f)
	}
}

// cooling is what becomes of the heat: that of all parts when each block is finished and when the log is rolled, the minute at which the ground
// is too stiff to work (+Inf: not while it is watched), and the two parts that were most apart when the second was laid.
type cooling struct {
	blocks       [][]float64
	roll         []float64
	stiff        float64
	there, comes int
	apart        float64
}

// follow the pile, with surroundings that are warmer by some degrees than the shop says.
func (w *work) follow(s *section, cells int, warmer float64) cooling {
	side := 4 * cells
	parts := make([]int, side*side)
	for i, k := range s.body.Raster(s.body.Points, cells) {
		parts[i] = int(k)
	}
	sh := w.o.Shop
	pile := heat.NewPile(side, w.log.DiameterMM/float64(side), parts)
	table, above := heat.Side{C: sh.TableC + warmer, W: sh.TableW}, heat.Side{C: sh.LampC + warmer, W: sh.AirW}
	now := 0.0
	out := cooling{blocks: make([][]float64, len(w.set.Blocks)), stiff: math.Inf(1)}
	least := sugar.Workable(sh.TgC)
	until := func(t float64) {
		pile.Cool(t-now, table, above)
		if math.IsInf(out.stiff, 1) && w.groundMean(w.heats(pile)) < least {
			out.stiff = now // the last minute at which it was not
		}
		now = math.Max(now, t)
	}
	type event struct {
		at     float64
		happen func()
	}
	meets := func(come []int) { // what comes against what is there
		heats := w.heats(pile)
		for _, i := range come {
			for _, j := range pile.Against(i) {
				if d := heats[i] - heats[j]; !slices.Contains(come, j) && math.Abs(d) > math.Abs(out.apart) {
					out.apart, out.comes, out.there = d, i, j
				}
			}
		}
	}
	var events []event
	for i, e := range w.set.Elements {
		events = append(events, event{w.time.laid[i], func() {
			pile.Lay(i, w.parts[i].layC, e.Block)
			meets([]int{i})
		}})
	}
	for b, blk := range w.set.Blocks {
		if b != len(w.set.Blocks)-1 {
			events = append(events, event{w.time.done[b], func() { out.blocks[b] = w.heats(pile) }})
		}
		for _, c := range blk.Blocks {
			events = append(events, event{w.time.joined[c], func() {
				pile.Join(c, b)
				meets(w.inside(c))
			}})
		}
	}
	sort.SliceStable(events, func(i, j int) bool { return events[i].at < events[j].at-1e-9 })
	for _, e := range events {
		until(e.at)
		e.happen()
	}
	until(w.time.roll)
	out.roll = w.heats(pile)
	for now < w.time.drawn+watchMin && math.IsInf(out.stiff, 1) {
		until(now + 1)
	}
	return out
}

// margin is how many minutes are left between the last length drawn and the ground too stiff to work: what stands against the log going
// solid. It is the warning that the maker most needs.
func (w *work) margin(stiff float64) float64 {
	return math.Min(stiff, w.time.drawn+watchMin) - w.time.drawn
}

// hardK above its glass transition sugar is a thousand times stiffer than hands can press: it breaks when the log is rolled.
const hardK = 10

// clockOf is how good the schedule is, for the plan; a log that goes hard before it is drawn is warned of.
func (w *work) clockOf() *plan.Clock {
	r, s := w.scheduled, w.o.Shop
	m := w.margin(w.stiffAt)
	rounded := w.time.roll + s.Minutes.Round
	hard := -1
	for i, p := range w.parts {
		if p.rollC < s.TgC+hardK && (hard < 0 || p.rollC < w.parts[hard].rollC) {
			hard = i
		}
	}
	warmer := fmt.Sprintf("keep it warmer (lamp %.0f C, table %.0f C now), draw faster or in shorter lengths, or lay fewer parts", s.LampC, s.TableC)
	switch {
	case hard >= 0:
		at := [2]float64(w.set.Elements[hard].Inside())
		w.found.Add(finding.Finding{Code: finding.GoesHard, Severity: finding.Error, AtMM: &at, Suggestion: warmer,
			Message: fmt.Sprintf("part %d is hard before the log is rolled: it has cooled to %.0f C", w.set.Elements[hard].Number, w.parts[hard].rollC)})
	case w.stiffAt < rounded:
		at, _, _ := w.busiest()
		w.found.Add(finding.Finding{Code: finding.GoesHard, Severity: finding.Error, AtMM: &at, Suggestion: warmer,
			Message: fmt.Sprintf("the log gets too stiff to work at minute %.0f, before it is rolled round at minute %.0f", w.stiffAt, rounded)})
	case m < 0:
		w.found.Add(finding.Finding{Code: finding.GoesHard, Severity: finding.Warning,
			Message:    fmt.Sprintf("the log gets too stiff to work at minute %.0f, %.0f minutes before its last length is drawn", w.stiffAt, -m),
			Suggestion: warmer})
	}
	stiff := w.stiffAt
	if math.IsInf(stiff, 1) {
		stiff = -1
	}
	win := w.parts[w.binding].window
	return &plan.Clock{EndMin: plan.Num(r.End), AtLeastMin: plan.Num(r.AtLeast), Proved: r.Proved, GapPercent: plan.Num(100 * r.Gap()), RoundMin: plan.Num(w.time.roll + s.Minutes.Round),
		DrawnMin: plan.Num(w.time.drawn), StiffMin: plan.Num(stiff), MarginMin: plan.Num(m), MarginRange: [2]plan.Num{plan.Num(w.margin(w.stiffLow)), plan.Num(w.margin(w.stiffHigh))},
		KeepC: plan.Num(w.keepC), Binding: w.id(w.binding), BindingC: [2]plan.Num{plan.Num(win.Low), plan.Num(win.High)}, TgC: plan.Num(s.TgC), TgFrom: s.TgFrom, TgPlusMinus: plan.Num(s.TgPlusMinus)}
}

// watchMin is for how long after the last length is drawn the log is watched: what is more than an hour is only said to be that.
const watchMin = 62

// heats of all parts in the pile; a part that is smaller than its squares has the heat at which it is laid.
func (w *work) heats(p *heat.Pile) []float64 {
	out := p.Means(len(w.parts))
	for i := range out {
		if math.IsNaN(out[i]) {
			out[i] = w.parts[i].layC
		}
	}
	return out
}

// groundMean is the mean of a figure over the ground inside the jacket, by area.
func (w *work) groundMean(v []float64) float64 {
	sum, area := 0.0, 0.0
	for i, e := range w.set.Elements {
		if e.Colour == 0 && e.Kind != set.Jacket {
			a := e.True.Area()
			sum, area = sum+a*v[i], area+a
		}
	}
	return sum / area
}

// stiffness of all parts over the ground's at these heats, within what the model can be trusted with.
func (w *work) stiffness(c []float64) []float64 {
	logs := make([]float64, len(c))
	for i, e := range w.set.Elements {
		t := math.Max(w.o.Shop.TgC, math.Min(w.o.Shop.TgC+100, c[i])) // what is colder is a glass, and clamped below in any case
		logs[i], _ = sugar.LogEta(t, w.o.Shop.TgC)
		if w.finish(e.Colour).Finish == shop.Pulled {
			logs[i] += math.Log10(w.o.Shop.PulledStiffness)
		}
	}
	ground := w.groundMean(logs)
	for i := range logs {
		logs[i] = math.Round(flow.Clamped(math.Pow(10, logs[i]-ground))*1e4) / 1e4 // as printed, so that others can repeat it
	}
	return logs
}
