// Package planner turns an artwork into a proven build plan, stage by stage.
//
// Guarantees: a plan that is not proven is never returned as one (P1 to P10 in DEVELOPERS.md); every stage's result is
// checked.
package planner

import (
	"errors"
	"math"
	"slices"

	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/geom/steps"
	"sugarwright/geom/trace"
	"sugarwright/planner/assemble"
	"sugarwright/planner/build"
	"sugarwright/planner/check"
	"sugarwright/planner/forecast"
	"sugarwright/planner/intake"
	"sugarwright/planner/job"
	"sugarwright/planner/laying"
	"sugarwright/planner/layup"
	"sugarwright/planner/order"
	"sugarwright/planner/palette"
	"sugarwright/planner/pile"
	"sugarwright/planner/plan"
	"sugarwright/planner/repeats"
	"sugarwright/planner/section"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/shortcut"
	"sugarwright/planner/size"
	"sugarwright/planner/split"
	"sugarwright/planner/symmetry"
	"sugarwright/planner/windows"
	"sugarwright/planner/work"
)

// Options are the flags of plan and check.
type Options struct {
	Shop           *shop.Shop
	Order          size.Order
	Job            *job.Job // nil: none
	Place          intake.Place
	Ground, Jacket artwork.RGB
	JacketAsked    bool          // also where its colour is the ground's
	Shades         int           // into how many flat colours a shade is made, at most; 0: steps.Most
	Trace          trace.Options // of a picture of pixels
	Faces          int           // how many faces along the rope are foreseen; 0: no forecast
	FlattenMM      float64       // tolerance of curves made straight; 0: intake.FlattenMM
	NoProof        bool          // leaves out rolling the laid log forward, for those who look at splits alone
	simpler        bool          // a simplified drawing, which may lack colours that the client has wishes for
}

// Result is the plan, and what each stage gave.
type Result struct {
	Plan   *plan.Plan
	Stages *assemble.Stages
}

// PieceG is what a piece of a drawing weighs, grams, as far as its colours and their places say; 0 where the drawing is refused
// before that is known.
func PieceG(data []byte, o Options) (float64, error) {
	s := &assemble.Stages{Data: data, Shop: o.Shop, Job: o.Job, Order: o.Order}
	err := coloured(s, o, func(found finding.List, err error) bool { return err != nil || found.Refuses() })
	if err != nil || s.Palette == nil {
		return 0, err
	}
	r := s.DiameterMM / o.Order.PieceMM
	return order.PerMM(s.Map, s.Palette) / r / r * o.Order.CutMM, nil
}

// mostMoreLogs is into how many logs more an order is put where fewer are too heavy for the shop.
const mostMoreLogs = 2

// Pot is a colour of a drawing, and how the shop would make it.
type Pot struct {
	Of    artwork.RGB
	Shade palette.Shade
}

// Pots are a drawing's colours, the ground first; none where the drawing is not understood.
func Pots(data []byte, o Options) (pots []Pot, err error) {
	s := &assemble.Stages{Data: data, Shop: o.Shop, Job: o.Job, Order: o.Order}
	err = mapped(s, o, func(found finding.List, err error) bool { return err != nil || found.Refuses() })
	if err != nil || s.Map == nil {
		return nil, err
	}
	for i, shade := range palette.Best(s.Map, o.Shop, o.Job) {
		pots = append(pots, Pot{s.Map.Colours[i].RGB, shade})
	}
	return pots, nil
}

// Compile runs the whole pipeline. Where the shop's hands or heat do not suffice for the log of an order, the order is put
// into more logs that are lighter, if it can be made so. The error is for input that cannot be read, or our own fault;
// everything else is in the plan.
func Compile(file string, data []byte, o Options) (*Result, error) {
	r, err := anyThickness(file, data, o)
	if err != nil || o.simpler || o.Job == nil || !o.Job.Asked() || r.Plan.Verdict != plan.ShopLimit || r.Stages.Log == nil {
		return r, err
	}
	log := r.Stages.Log
	one := log.LengthMM * log.PerMM
	for more := 1; more <= mostMoreLogs; more++ {
		logs := log.Wanted.Logs + more
		each := one * float64(log.Wanted.Logs) / float64(logs)
		if each < o.Shop.LeastG {
			break
		}
		lighter := o
		lighter.Job = o.Job.InLogs(each * (1 + moreShare))
		for _, try := range []func() (*Result, error){
			func() (*Result, error) { return Again(r, lighter) }, // the same parts, shorter
			func() (*Result, error) { return anyThickness(file, data, lighter) },
		} {
			l, err := try()
			if err != nil || l == nil || l.Plan.Verdict != plan.AsDrawn || l.Stages.Findings.Has(finding.LongFace) {
				continue
			}
			l.Stages.Findings.Add(finding.New(finding.MoreLogs, finding.Note, one, log.Wanted.Logs, l.Stages.Log.Wanted.Logs))
			l.Plan, err = assemble.Plan(l.Stages)
			return l, err
		}
	}
	return r, nil
}

// moreShare keeps so many logs from being one more for what is rounded.
const moreShare = 0.01

// otherThickness are the logs, in shares of the thickness that follows from the order, that are tried where no parts or no order
// of laying were found: what a search misses at one size it often finds at another.
var otherThickness = []float64{0.97, 1.03, 0.94}

// anyThickness compiles a drawing, in a log a little thicker or thinner than follows from the order where only that is found to be
// made. A thickness that was asked for stays.
func anyThickness(file string, data []byte, o Options) (*Result, error) {
	r, err := compile(file, data, o)
	if err != nil || o.simpler || o.Order.LogMM > 0 || r.Plan.Verdict != plan.OurLimit {
		return r, err
	}
	for _, k := range otherThickness {
		other := o
		other.Order.LogMM = math.Round(k * r.Stages.DiameterMM)
		if other.Order.LogMM > o.Shop.LargestMM {
			continue
		}
		t, err := compile(file, data, other)
		if err != nil || t.Plan.Verdict == plan.OurLimit || t.Plan.Verdict == plan.Simplify {
			continue
		}
		t.Stages.Findings.Add(finding.New(finding.OtherThickness, finding.Note, other.Order.LogMM, r.Stages.DiameterMM))
		t.Plan, err = assemble.Plan(t.Stages)
		return t, err
	}
	return r, nil
}

// compile runs the pipeline once.
func compile(file string, data []byte, o Options) (*Result, error) {
	s := &assemble.Stages{File: file, Data: data, Shop: o.Shop, Job: o.Job, Order: o.Order}
	run := func(found finding.List, err error) bool { // goes on with what a stage found, unless that ends the work
		s.Findings.Add(found...)
		return err != nil || s.Findings.Refuses()
	}
	err := stages(s, o, run)
	if err != nil {
		return nil, err
	}
	if s.Checked != nil && !s.Checked.Crowded && (!s.Findings.Refuses() || !o.simpler) {
		if l := least(s); l.massG > 0 {
			s.Smallest = &plan.Smallest{DiameterMM: plan.Num(l.diameterMM), MassG: plan.Num(l.massG)}
		}
	}
	p, err := assemble.Plan(s)
	return &Result{p, s}, err
}

// smallest is the least log that carries a drawing; nothing where it cannot be told.
type smallest struct{ diameterMM, massG float64 }

func least(s *assemble.Stages) smallest {
	mm, g, err := order.Smallest(s.Map, s.Checked.Finest, s.Shop, s.Palette)
	if err != nil {
		return smallest{}
	}
	return smallest{mm, g}
}

// Again is a drawing whose parts and their order are known, in another kitchen or another log: what depends on hands, minutes
// and weight is done anew. Nil where that was not reached.
func Again(r *Result, o Options) (*Result, error) {
	was := r.Stages
	if was.Work == nil {
		return nil, nil
	}
	s := &assemble.Stages{
		File: was.File, Data: was.Data, Shop: o.Shop, Job: o.Job, Order: o.Order,
		Artwork: was.Artwork, DiameterMM: was.DiameterMM, Map: was.Map, Palette: was.Palette, Checked: was.Checked,
		Set: was.Set, Build: was.Build, Shaped: was.Shaped, Smallest: was.Smallest,
		Findings: slices.Clone(was.Findings[:was.Shaped]),
	}
	ends := func(found finding.List, err error) bool {
		s.Findings.Add(found...)
		return err != nil || s.Findings.Refuses()
	}
	log, weighed, err := order.LogOf(o.Order, o.Job, o.Shop, s.Map, s.Palette)
	if err != nil {
		return nil, err
	}
	s.Log = log
	ends(weighed, nil)
	if err := worked(s, o, ends); err != nil {
		return nil, err
	}
	p, err := assemble.Plan(s)
	return &Result{p, s}, err
}

// assembly is parts and the order in which they are laid, or what was found in the way.
type assembly struct {
	set   *set.Set
	order *build.Build
	found finding.List
}

// splitting is a way to split a section.
type splitting func(*partition.Map, *shop.Shop, split.Log) (*set.Set, finding.List, error)

// made splits the section, lays the parts up with proof, builds once what repeats, and numbers the parts as they are laid.
func made(m *partition.Map, sh *shop.Shop, log split.Log, by splitting) (out assembly, err error) {
	if out.set, out.found, err = by(m, sh, log); err != nil || out.found.Refuses() {
		return out, err
	}
	order, more, err := layup.Proven(out.set)
	out.order = order
	if more.Refuses() && out.set.Boxed {
		log.NoBoxes = true
		return made(m, sh, log, by)
	}
	if out.found.Add(more...); err != nil || out.found.Refuses() {
		return out, err
	}
	if out.set, out.order, err = repeats.Of(out.set, out.order, sh, log); err == nil {
		out.set, out.order = layup.Numbered(out.set, out.order)
	}
	return out, err
}

// cheapest is what can be made in the fewest minutes. Where the picture turns onto itself, parts that do too may be
// quicker in all, since what repeats is built once: both are made, at the same time.
func cheapest(m *partition.Map, sh *shop.Shop, log split.Log) (assembly, error) {
	if symmetry.Fold(m) < repeats.Tuned.LeastFold {
		return made(m, sh, log, split.Of)
	}
	var even assembly
	var evenErr error
	done := make(chan bool)
	go func() {
		defer close(done)
		even, evenErr = made(m, sh, log, split.Even)
	}()
	parts, err := made(m, sh, log, split.Of)
	<-done
	if err = errors.Join(err, evenErr); err != nil {
		return parts, err
	}
	if refused := parts.found.Refuses(); !even.found.Refuses() && (refused || even.set.Price < parts.set.Price-split.Tuned.TieMinutes) {
		return even, nil
	}
	return parts, nil
}

// pieces is about how many are cut from a log.
func pieces(lengthMM, diameterMM float64, o size.Order) float64 {
	thin := diameterMM / o.PieceMM
	return lengthMM * thin * thin / o.CutMM
}

// extras tells whether acid or flavour is folded into the sugar.
func extras(o Options) bool {
	return o.Job != nil && (o.Job.Acid != "" || o.Job.Flavour != "") || o.Shop.AcidPercent > 0 ||
		o.Shop.FlavourPercent > 0
}

// mapped reads the drawing, sizes the log, and finds regions; there is no map where that came to an end.
func mapped(s *assemble.Stages, o Options, ends func(finding.List, error) bool) (err error) {
	var found finding.List
	// Read: painted outlines with colour and place.
	if s.Artwork, found, err = steps.Read(s.Data, steps.Options{Ground: o.Ground, Shades: o.Shades, Trace: o.Trace}); err != nil {
		return err
	}
	ends(found, nil) // the diameter and the map are wanted of a drawing with errors too
	// Size the log from the order, so that widths are those in the log.
	if s.DiameterMM, found, err = intake.Diameter(o.Order, o.Job, o.Shop); err != nil {
		return err
	}
	ends(found, nil)
	// Partition: regions of one colour that share borders (P1).
	reading := intake.Settings{
		Place:     o.Place,
		Ground:    o.Ground,
		Jacket:    o.Jacket,
		FlattenMM: o.FlattenMM,
		Refused:   s.Findings.Refuses(),
		Asked:     o.JacketAsked,
	}
	s.Map, found, err = intake.Section(s.Artwork, s.DiameterMM, o.Shop, reading)
	ends(found, err)
	return err
}

// coloured is mapped with the colours matched; there is no palette where that came to an end.
func coloured(s *assemble.Stages, o Options, ends func(finding.List, error) bool) (err error) {
	if err = mapped(s, o, ends); err != nil || s.Map == nil || s.Findings.Refuses() {
		return err
	}
	// Match each colour of the drawing to the shop's, and hold the recipe against the market's limits.
	if s.Palette, err = palette.Of(s.Map, o.Shop, o.Job, !o.simpler); err != nil {
		return err
	}
	ends(s.Palette.Findings, nil)
	return nil
}

// stages runs one after the other until one ends the work: by an error, or by a finding that refuses the drawing.
func stages(s *assemble.Stages, o Options, ends func(finding.List, error) bool) (err error) {
	if err = coloured(s, o, ends); err != nil || s.Palette == nil {
		return err
	}
	// Check the drawing against the shop's limits.
	if s.Checked, err = check.Of(s.Map, o.Shop); err != nil || ends(s.Checked.Findings, nil) {
		return err
	}
	// Settle the log's length, now that a millimetre of it has a weight: how heavy a part is says how long it takes.
	log, weighed, err := order.LogOf(o.Order, o.Job, o.Shop, s.Map, s.Palette)
	if err != nil {
		return err
	}
	// Split into elements that hands make (P1, P2, P3), lay up and prove the order by replay (P4).
	parts, err := cheapest(s.Map, o.Shop, split.Log{LengthMM: log.LengthMM, Density: s.Palette.Density})
	if err != nil {
		return err
	}
	if s.Set, s.Build = parts.set, parts.order; ends(parts.found, nil) {
		return nil
	}
	s.Log, s.Shaped = log, len(s.Findings)
	ends(weighed, nil)
	return worked(s, o, ends)
}

// worked is what follows when parts and their order are known: the clock, the laying, the forecast.
func worked(s *assemble.Stages, o Options, ends func(finding.List, error) bool) (err error) {
	var found finding.List
	if err = timed(s, o, ends); err != nil || s.Work == nil || s.Findings.Refuses() {
		return err
	}
	// Lay: how long parts must hold, the heat of the pile, the log run backward from round to the oval (P6), forward
	// again as proof (P7).
	if err = lay(s, o, ends); err != nil || s.Findings.Refuses() || o.Faces == 0 {
		return err
	}
	// Foresee what may be left out when the sugar goes hard, and the faces that come out, with the shop's spread.
	s.GoingHard = shortcut.Of(shortcut.Job{Set: s.Set, Build: s.Build, Work: s.Work, Shop: o.Shop})
	rope := forecast.Rope{
		Set:          s.Set,
		Section:      s.Section,
		Cooling:      s.Cooling,
		Binding:      s.Windows.Binding,
		Laid:         s.Laid,
		Proof:        s.Proof,
		Shop:         o.Shop,
		PieceMM:      o.Order.PieceMM,
		PictureShare: s.Map.Frame.PictureRadius / s.Map.Frame.LogRadius,
	}
	s.Forecast, found, err = forecast.Of(rope, o.Faces)
	ends(found, err)
	return err
}

// timed gives each part its band of heat and puts the steps of the work on the clock (P8). Blocks that come to be built in
// another order are put in that one, so that numbers rise with the clock.
func timed(s *assemble.Stages, o Options, ends func(finding.List, error) bool) error {
	for turn := 0; ; turn++ {
		var found finding.List
		s.Windows, found = windows.Of(s.Set, o.Shop, s.Log.LengthMM)
		if err := s.Windows.Check(); err != nil || found.Refuses() {
			ends(found, err)
			return err // without a band nothing can be put on the clock
		}
		task := work.Task{Set: s.Set, Build: s.Build, Windows: s.Windows, Map: s.Map, Palette: s.Palette, Shop: o.Shop, LengthMM: s.Log.LengthMM, StickMM: o.Order.PieceMM,
			Pieces: pieces(s.Log.LengthMM, s.Log.DiameterMM, o.Order),
			Extras: extras(o), Packed: len(s.Log.Wanted.Packs) > 0, LeastG: least(s).massG, Brief: o.simpler}
		done, clocked, err := work.Of(task, nil)
		if err != nil {
			return err
		}
		if done != nil && turn == 0 && !clocked.Refuses() {
			var changed bool
			if s.Set, s.Build, changed = layup.InOrder(s.Set, s.Build, done.Timing.Done); changed {
				continue
			}
		}
		s.Work = done
		ends(append(found, clocked...), nil)
		return nil
	}
}

// lay settles what becomes of the parts from their laying until the log is round. A part that cannot hold its shape for
// as long as it stands by itself is turned each minute: where that was not known when the steps were listed, a second
// round puts it on the clock.
func lay(s *assemble.Stages, o Options, ends func(finding.List, error) bool) (err error) {
	s.Section = section.Log(s.Set, s.DiameterMM/2)
	k := pile.Kitchen{
		Set:      s.Set,
		Palette:  s.Palette,
		Windows:  s.Windows,
		Section:  s.Section,
		Timing:   s.Work.Timing,
		Shop:     o.Shop,
		LengthMM: s.Log.LengthMM,
	}
	var found finding.List
	if s.Holds = pile.HoldsOf(k); s.Holds.Any() {
		if s.Work, found, err = s.Work.Turned(s.Holds.Turned); ends(found, err) {
			return err
		}
		k.Timing = s.Work.Timing
	}
	s.Cooling, found = pile.Follow(k)
	ends(found, nil)
	s.Work = s.Work.Heated(s.Cooling.RoundC, s.Cooling.DrawnC)
	log := laying.Log{Kitchen: k, Build: s.Build, Cooling: s.Cooling}
	if s.Laid, found, err = laying.Of(log); err != nil {
		return err
	}
	ends(found, nil)
	s.Clock, found = pile.Clock(k, s.Cooling, s.Work)
	ends(found, nil)
	if o.NoProof {
		return nil
	}
	s.Proof, found, err = laying.Prove(log, s.Laid)
	ends(found, err)
	return err
}
