package planner

import (
	"crypto/sha256"
	"fmt"
	"math"
	"sort"
	"strings"

	"sugarwright/geom"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/planner/build"
	"sugarwright/planner/element"
	"sugarwright/planner/heat"
	"sugarwright/planner/plan"
	"sugarwright/planner/replay"
	"sugarwright/planner/schedule"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
)

// partInfo is what is known of an element once it is sized.
type partInfo struct {
	fit    element.Fit
	window heat.Window
	layC   float64
}

// finish of a colour: the shop's mapping first, then the ground and near-white are pulled, all else clear.
func (w *work) finish(c int) shop.Colour {
	rgb := w.m.Colours[c].RGB
	if own, ok := w.o.Shop.Colours[rgb]; ok {
		return own
	}
	l, a, b := partition.Lab(rgb)
	f := shop.Clear
	if c == 0 || l > 90 && math.Hypot(a, b) < 8 {
		f = shop.Pulled
	}
	return shop.Colour{Name: partition.Name(rgb), Finish: f}
}

func (w *work) density(c int) float64 {
	if w.finish(c).Finish == shop.Pulled {
		return w.o.Shop.PulledDensity
	}
	return w.o.Shop.ClearDensity
}

// schedule settles length, laid shapes, windows and the clock.
func (w *work) schedule() error {
	s := w.o.Shop
	perMM := 0.0
	for _, r := range w.m.Regions {
		perMM += r.Area * w.density(r.Colour) / 1000
	}
	w.log.LengthMM = w.o.Order.Length(w.log.DiameterMM, perMM, s.EndLoss, s.LengthMM)
	if w.log.LengthMM < 2*w.log.DiameterMM-0.5 {
		w.found.Add(finding.Finding{Code: finding.LongFace, Severity: finding.Warning,
			Message: fmt.Sprintf("the log is %.0f mm long and %.0f mm thick: shorter than twice its thickness, it is hard to draw out", w.log.LengthMM, w.log.DiameterMM)})
	}
	oval := geom.Oval(s.Oval)
	common := math.Inf(1)
	for _, e := range w.set.Elements {
		laid := geom.Map(e.True, oval.Point)
		w.laid = append(w.laid, laid)
		info := partInfo{fit: laidFit(e, laid)}
		radius := 0.0
		if info.fit.Form == element.Bent || info.fit.Form == element.Wrap {
			radius = info.fit.B / (2 * math.Pi)
		}
		info.window = heat.Of(info.fit.Form, size.Thick(info.fit), radius, w.log.LengthMM, s.HoldMin, s.TgC)
		if e.Kind != element.Jacket && info.window.High < info.window.Low {
			at := [2]float64(e.Inside())
			w.found.Add(finding.Finding{Code: finding.NoWindow, Severity: finding.Warning, AtMM: &at,
				Message: fmt.Sprintf("a part of %.0f mm does not hold its shape by itself at any heat at which it joins: keep it in a trough or turned all the time", size.Thick(info.fit))})
			info.window.High = info.window.Low
		}
		common = math.Min(common, (info.window.Low+info.window.High)/2)
		w.parts = append(w.parts, info)
	}
	// Parts that join must be near in heat: all are laid as near to the coolest part's middle as their windows allow.
	for i := range w.parts {
		p := &w.parts[i]
		p.layC = math.Max(p.window.Low, math.Min(p.window.High, common))
	}
	w.found.Add(finding.Finding{Code: finding.OneStiffness, Severity: finding.Note, Message: "laid shapes take one stiffness everywhere: the picture is squashed evenly to the oval"})
	w.found.Add(finding.Finding{Code: finding.WindowGuess, Severity: finding.Note, Message: "temperatures are bands round a guessed glass transition: go by feel (bends, does not crack, holds a minute) until a shop test narrows them"})
	w.laidOverlap()
	if n := w.set.Distinct() - 1; n > s.MostDistinct { // the jacket is made in any case
		w.found.Add(finding.Finding{Code: finding.TooManyParts, Severity: finding.Warning, Message: fmt.Sprintf("%d distinct parts are more than the %d that a crew makes in time", n, s.MostDistinct)})
	}
	return w.clock()
}

// laidFit measures the laid polygon by the element's form; where the form no longer applies the true fit stands.
func laidFit(e element.Element, laid geom.Region[geom.LaidPoint]) element.Fit {
	for _, f := range element.FitAll(laid) {
		if f.Form == e.Fit.Form && f.IoU > e.Fit.IoU-0.1 {
			return f
		}
	}
	return e.Fit
}

// laidOverlap replays the order in the laid frame and prints what still overlaps after the give.
func (w *work) laidOverlap() {
	oval := geom.Oval(w.o.Shop.Oval)
	shapes := func(p build.Part) geom.Region[geom.LaidPoint] { return geom.Map(w.shape(p), oval.Point) }
	give := replay.LaidGive
	for ; give < 4; give += 0.5 {
		if replay.Prove(w.build, shapes, give) == nil {
			break
		}
	}
	if give > replay.LaidGive {
		w.found.Add(finding.Finding{Code: finding.LaidOverlap, Severity: finding.Note,
			Message: fmt.Sprintf("in the oval some parts pass each other with up to %.1f mm of overlap: press them past", give)})
	}
}

// job is a step before it has a time.
type job struct {
	do    string
	parts []string
	at    *plan.Num
	text  string
}

// words of the kitchen for the forms.
var formWords = map[element.Form]string{element.Rod: "rod", element.Strip: "strip", element.Bent: "curved strip", element.BlockForm: "block",
	element.Wedge: "wedge", element.Segment: "half-moon", element.Teardrop: "teardrop", element.Wrap: "wrap"}

// id of an element in the plan.
func (w *work) id(e int) string {
	el := w.set.Elements[e]
	if el.CopyOf < 0 {
		return fmt.Sprintf("p%d", el.Number)
	}
	n := 2
	for i := el.CopyOf + 1; i < e; i++ {
		if w.set.Elements[i].CopyOf == el.CopyOf {
			n++
		}
	}
	return fmt.Sprintf("p%d.%d", el.Number, n)
}

func (w *work) partID(p build.Part) string {
	if p.Element >= 0 {
		return w.id(p.Element)
	}
	return w.set.Name(p.Block)
}

// say names a part for a person.
func (w *work) say(p build.Part) string {
	if p.Element < 0 {
		return "block " + strings.TrimPrefix(w.set.Name(p.Block), "block")
	}
	e := w.set.Elements[p.Element]
	return fmt.Sprintf("part %d, %s, %s", e.Number, formWords[e.Fit.Form], w.finish(e.Colour).Name)
}

// clock makes the steps and puts them on the clock: those that tolerate least heat are made first, as far as the lay-up allows.
func (w *work) clock() error {
	s, m := w.o.Shop, w.o.Shop.Minutes
	var tasks []schedule.Task
	var jobs []job
	add := func(t schedule.Task, j job) int {
		t.Hands = min(t.Hands, s.Crew)
		tasks, jobs = append(tasks, t), append(jobs, j)
		return len(tasks) - 1
	}
	pour := add(schedule.Task{Minutes: m.Pour, Hands: 2}, job{do: "pour", text: "Pour the boil on the oiled slab; the clock starts"})
	colours := 0
	pulled := false
	for i := range w.m.Colours {
		if w.m.Colours[i].Area > 0 {
			colours++
			pulled = pulled || w.finish(i).Finish == shop.Pulled
		}
	}
	start := add(schedule.Task{Minutes: m.Colour * math.Ceil(float64(colours)/float64(min(2, s.Crew))), Hands: 2, Needs: []int{pour}},
		job{do: "divide", text: fmt.Sprintf("Colour and cut apart %d lumps by weight, largest first", colours)})
	if pulled {
		start = add(schedule.Task{Minutes: m.Pull, Hands: 1, Needs: []int{start}}, job{do: "pull", text: "Pull the background and the other pulled colours until white; keep all lumps warm"})
	}
	made := map[int]int{}
	copies := map[int]int{}
	for i, e := range w.set.Elements {
		if e.CopyOf >= 0 {
			copies[e.CopyOf]++
		}
		made[i] = -1
	}
	var order []int
	for i, e := range w.set.Elements {
		if e.CopyOf < 0 {
			order = append(order, i)
		}
	}
	sort.SliceStable(order, func(a, b int) bool {
		x, y := w.set.Elements[order[a]], w.set.Elements[order[b]]
		if (x.Fit.Form == element.Wrap) != (y.Fit.Form == element.Wrap) {
			return y.Fit.Form == element.Wrap // wraps are rolled out just before they close
		}
		return w.parts[order[a]].window.High < w.parts[order[b]].window.High-0.05
	})
	for _, i := range order {
		e := w.set.Elements[i]
		at := plan.Num(w.parts[i].layC)
		p := build.Part{Element: i, Block: -1}
		text := "Make " + w.say(p)
		if n := copies[i]; n > 0 {
			text += fmt.Sprintf(", long enough for %d", n+1)
		}
		if w.parts[i].window.Turned {
			text += "; turn it each minute"
		}
		k := add(schedule.Task{Minutes: w.makeMinutes(e.Fit.Form), Hands: 1, Needs: []int{start}}, job{do: "make", parts: []string{w.id(i)}, at: &at, text: text})
		made[i] = k
		if n := copies[i]; n > 0 {
			ids := []string{w.id(i)}
			for j, c := range w.set.Elements {
				if c.CopyOf == i {
					ids = append(ids, w.id(j))
				}
			}
			made[i] = add(schedule.Task{Minutes: m.Chop * float64(n+1), Hands: 1, Needs: []int{k}}, job{do: "chop", parts: ids, text: fmt.Sprintf("Chop part %d into %d", e.Number, n+1)})
		}
	}
	ended := make([]int, len(w.build.Blocks))
	for b, entries := range w.build.Blocks {
		last := -1
		for _, e := range entries {
			needs := []int{start}
			if last >= 0 {
				needs = append(needs, last)
			}
			if e.Turn != 0 {
				last = add(schedule.Task{Minutes: m.Turn, Hands: 1, Needs: needs}, job{do: "turn", parts: []string{w.set.Name(b)},
					text: fmt.Sprintf("Turn %s %s", w.blockWords(b), turnWords(e.Turn))})
				needs = []int{last}
			}
			var at *plan.Num
			if e.Element >= 0 {
				src := e.Element
				if c := w.set.Elements[e.Element].CopyOf; c >= 0 {
					src = c
				}
				needs = append(needs, made[src])
				t := plan.Num(w.parts[e.Element].layC)
				at = &t
			} else {
				needs = append(needs, ended[e.Block])
			}
			t, j := w.move(b, e)
			t.Needs, j.at = needs, at
			last = add(t, j)
		}
		ended[b] = last
	}
	round := add(schedule.Task{Minutes: m.Round, Hands: 2, Needs: []int{ended[len(ended)-1]}}, job{do: "round", parts: []string{"log"}, text: "Roll the log round; two lift it; check both ends"})
	draw := add(schedule.Task{Minutes: m.Draw, Hands: 2, Needs: []int{round}}, job{do: "draw", text: fmt.Sprintf("Draw down to %.0f mm, length by length; keep the log turning and warm", w.o.Order.PieceMM)})
	add(schedule.Task{Minutes: m.Cut, Hands: 1, Needs: []int{draw}}, job{do: "cut", text: fmt.Sprintf("Cut to %.0f mm; look at the first face; dust and sort", w.o.Order.CutMM)})
	r, err := schedule.Best(tasks, s.Crew)
	if err != nil {
		return err
	}
	if err := schedule.Check(tasks, r, s.Crew); err != nil {
		return err
	}
	w.roll = r.Start[round]
	if end := r.Start[round] + m.Round; end > s.ClockMin {
		w.found.Add(finding.Finding{Code: finding.TooLong, Severity: finding.Error,
			Message:    fmt.Sprintf("the log is round %.0f minutes after the pour with %d pairs of hands; %.0f are allowed", end, s.Crew, s.ClockMin),
			Suggestion: "draw fewer parts, or work with one more pair of hands (--crew)"})
	}
	w.number(tasks, jobs, r)
	return nil
}

func (w *work) blockWords(b int) string {
	if b == len(w.build.Blocks)-1 {
		return "the log"
	}
	return fmt.Sprintf("block %d", b+1)
}

func turnWords(deg float64) string {
	switch {
	case math.Abs(math.Abs(deg)-180) < 1:
		return "over"
	case deg > 0:
		return fmt.Sprintf("%.0f degrees to the left (seen on the picture face)", deg)
	}
	return fmt.Sprintf("%.0f degrees to the right (seen on the picture face)", -deg)
}

func (w *work) makeMinutes(f element.Form) float64 {
	m := w.o.Shop.Minutes
	return [...]float64{m.MakeRod, m.MakeStrip, m.MakeStrip, m.MakeBlock, m.MakeWedge, m.MakeSegment, m.MakeTeardrop, m.MakeWrap}[f]
}

// move is the task and the words of one lay-up entry.
func (w *work) move(b int, e build.Entry) (schedule.Task, job) {
	m := w.o.Shop.Minutes
	j := job{do: "lay", parts: []string{w.partID(e.Part)}}
	t := schedule.Task{Minutes: m.Lay, Hands: 1}
	what := w.say(e.Part)
	switch e.Move {
	case build.First:
		j.text = "Start " + w.blockWords(b) + " with " + what
	case build.Bend:
		j.do, t.Minutes = "bend", m.Bend
		j.text = "Bend on " + what
	case build.Wrap:
		j.do, t.Minutes, t.Hands = "wrap", m.Wrap, 2
		j.text = "Wrap round with " + what
	default:
		j.text = "Lay " + what
	}
	if e.Element >= 0 && w.set.Elements[e.Element].Mirror {
		j.text += ", turned end for end"
	}
	return t, j
}

// number sorts the steps by their start and numbers them.
func (w *work) number(tasks []schedule.Task, jobs []job, r *schedule.Result) {
	idx := make([]int, len(tasks))
	for i := range idx {
		idx[i] = i
	}
	sort.SliceStable(idx, func(a, b int) bool { return r.Start[idx[a]] < r.Start[idx[b]]-1e-9 })
	for n, i := range idx {
		j := jobs[i]
		if j.parts == nil {
			j.parts = []string{}
		}
		w.steps = append(w.steps, plan.Step{Number: n + 1, Do: j.do, Parts: j.parts, Hands: tasks[i].Hands, AtC: j.at,
			StartMin: plan.Num(r.Start[i]), Minutes: plan.Num(tasks[i].Minutes), Text: j.text})
	}
}

// verdict from the findings: what fails may be redrawn, unless nothing would be left.
func (w *work) verdict() string {
	if w.found.Worst() < finding.Error {
		return AsDrawn
	}
	if w.found.Has(finding.NoPaint) || w.found.Has(finding.OneColour) || w.found.Has(finding.ImageInArtwork) {
		return NotBuildable
	}
	if c := w.checked; c != nil && c.Subject > 0 && c.LostArea > 0.85*c.Subject {
		return NotBuildable
	}
	return Simplify
}

// plan is everything as plain data. When the verdict is not as-drawn, elements, lay-up and steps stay empty.
func (w *work) plan() *plan.Plan {
	s := w.o.Shop
	p := &plan.Plan{Format: "sugarwright-plan", Version: 1, Verdict: w.verdict(), Files: []string{}, Ground: "c0",
		Artwork: plan.Artwork{File: w.file, SHA256: fmt.Sprintf("%x", sha256.Sum256(w.data)), MergeDE2000: plan.Num(s.LikeDE2000), ToTrue: [6]float64{1, 0, 0, -1, 0, 0}},
		Shop: plan.Shop{Crew: s.Crew, ThinnestMM: plan.Num(s.ThinnestMM), ThinnestWrapMM: plan.Num(s.ThinnestWrapMM), GroundGapMM: plan.Num(s.GroundGapMM),
			LeastRodMM: plan.Num(s.LeastRodMM), LeastFit: plan.Num(s.LeastFit), EndLoss: plan.Num(s.EndLoss), Oval: plan.Num(s.Oval), JoinC: plan.Num(s.JoinC),
			TgC: plan.Num(s.TgC), ClockMin: plan.Num(s.ClockMin)},
		Colours: []plan.Colour{}, Elements: []plan.Element{}, Layup: []plan.Block{}, Steps: []plan.Step{}, Findings: []plan.Finding{}, Cautions: plan.Cautions,
	}
	if w.m != nil {
		p.Artwork.ToTrue = w.m.Frame.ToTrue
	}
	if w.log.LengthMM == 0 {
		w.log.LengthMM = w.o.Order.Length(w.log.DiameterMM, math.Pi/4*w.log.DiameterMM*w.log.DiameterMM*guessDensity/1000, s.EndLoss, s.LengthMM)
	}
	oval := geom.Oval(s.Oval)
	ratio := w.log.DiameterMM / w.o.Order.PieceMM
	p.Log = plan.Log{DiameterMM: plan.Num(w.log.DiameterMM), LengthMM: plan.Num(w.log.LengthMM), PictureDiameterMM: plan.Num(w.log.DiameterMM * s.PictureShare),
		JacketMM: plan.Num(s.JacketMM), LayWidthMM: plan.Num(w.log.DiameterMM * oval.X), LayHeightMM: plan.Num(w.log.DiameterMM * oval.Y), MinutesToRoll: plan.Num(w.roll)}
	p.Piece = plan.Piece{DiameterMM: plan.Num(w.o.Order.PieceMM), LengthMM: plan.Num(w.o.Order.CutMM), Count: w.o.Order.Count(w.log, s.EndLoss), DrawRatio: plan.Num(ratio)}
	w.masses(p, ratio)
	if p.Verdict == AsDrawn && w.build != nil {
		w.elements(p)
		w.layupOf(p)
		p.Steps = w.steps
	}
	for _, f := range w.found.Sorted() {
		out := plan.Finding{Code: string(f.Code), Severity: f.Severity.String(), Message: f.Message, Suggestion: f.Suggestion}
		if f.AtMM != nil {
			out.AtMM = &plan.Point{plan.Num(f.AtMM[0]), plan.Num(f.AtMM[1])}
		}
		if f.Source.Line > 0 {
			out.Source = &plan.Source{Line: f.Source.Line, Column: f.Source.Column, ID: f.Source.ID}
		}
		p.Findings = append(p.Findings, out)
	}
	return p
}

// masses fills the colour budget (P5).
func (w *work) masses(p *plan.Plan, ratio float64) {
	if w.m == nil {
		return
	}
	area := make([]float64, len(w.m.Colours))
	for _, r := range w.m.Regions {
		area[r.Colour] += r.Area
	}
	total := 0.0
	for i, c := range w.m.Colours {
		f := w.finish(i)
		mass := area[i] * w.density(i) * w.log.LengthMM / 1000
		total += mass
		p.Colours = append(p.Colours, plan.Colour{ID: fmt.Sprintf("c%d", i), Name: f.Name, SRGB: c.RGB.Hex(), Finish: string(f.Finish),
			Density: plan.Num(w.density(i)), MassG: plan.Num(mass), Letter: letter(i)})
	}
	p.Log.MassG = plan.Num(total)
	p.Piece.MassG = plan.Num(total / w.log.LengthMM / ratio / ratio * w.o.Order.CutMM)
}

// letter of a colour on the sheets.
func letter(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return letter(i/26-1) + letter(i%26)
}

func polygon[P geom.Frame](r geom.Region[P]) plan.Polygon {
	out := make(plan.Polygon, len(r))
	for i, ring := range r {
		out[i] = make(plan.Ring, len(ring))
		for j, p := range ring {
			out[i][j] = plan.Point{plan.Num(p[0]), plan.Num(p[1])}
		}
	}
	return out
}

func (w *work) elements(p *plan.Plan) {
	s := w.o.Shop
	copies := map[int]int{}
	for _, e := range w.set.Elements {
		if e.CopyOf >= 0 {
			copies[e.CopyOf]++
		}
	}
	for i, e := range w.set.Elements {
		info := w.parts[i]
		src := i
		if e.CopyOf >= 0 {
			src = e.CopyOf
		}
		area := e.True.Area()
		at := e.Inside()
		out := plan.Element{ID: w.id(i), Number: e.Number, Kind: e.Kind.String(), Form: e.Fit.Form.String(), Bent: e.Fit.Form == element.Bent,
			Colour: fmt.Sprintf("c%d", e.Colour), Block: w.set.Name(e.Block), Mirrored: e.Mirror, True: polygon(e.True), Laid: polygon(w.laid[i]),
			Size: map[string]plan.Num{}, Fit: plan.Num(info.fit.IoU), AreaMM2: plan.Num(area), MassG: plan.Num(area * w.density(e.Colour) * w.log.LengthMM / 1000),
			WindowC: [2]plan.Num{plan.Num(info.window.Low), plan.Num(info.window.High)}, LayC: plan.Num(info.layC), EtaRel: 1, Label: plan.Point{plan.Num(at[0]), plan.Num(at[1])}}
		if e.CopyOf >= 0 {
			id := w.id(e.CopyOf)
			out.CopiesOf = &id
		}
		for k, v := range size.Of(w.parts[src].fit) {
			out.Size[k] = plan.Num(v)
		}
		out.Size["part_length_mm"] = plan.Num(w.log.LengthMM + s.AllowanceMM)
		if n := copies[src]; n > 0 {
			out.Size["made_length_mm"] = plan.Num(float64(n+1) * (w.log.LengthMM + s.AllowanceMM))
		}
		p.Elements = append(p.Elements, out)
	}
}

func (w *work) layupOf(p *plan.Plan) {
	for b, entries := range w.build.Blocks {
		out := plan.Block{Block: w.set.Name(b)}
		for _, e := range entries {
			part := plan.Part{Part: w.partID(e.Part), How: e.Move.String(), TurnDeg: plan.Num(e.Turn)}
			if e.Move == build.Lay {
				part.Direction = &plan.Point{plan.Num(e.Direction[0]), plan.Num(e.Direction[1])}
			}
			out.Parts = append(out.Parts, part)
		}
		p.Layup = append(p.Layup, out)
	}
}
