// Package terminal says results in lines for the terminal: findings, what a plan costs, the reply to a client, what a
// shop's settings come to.
//
// Guarantees: every line is said from facts, in the language asked for; a reply to a client names no minutes and no
// trade terms.
package terminal

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"sugarwright/geom/finding"
	"sugarwright/planner/plan"
	"sugarwright/render/say"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// Finding is how a finding is printed: file:line:column: severity: message [code].
func Finding(t *words.Table, p *plan.Plan, file string, f plan.Finding) string {
	var b strings.Builder
	b.WriteString(file)
	if f.Source != nil {
		fmt.Fprintf(&b, ":%d:%d", f.Source.Line, f.Source.Column)
	}
	message, advice, advises := say.Finding(t, p, f)
	fmt.Fprintf(&b, ": %s: %s", t.Text("marked."+string(f.Severity)), t.Say(message))
	if f.AtMM != nil {
		b.WriteString(
			t.Text("terminal.at", words.Number{Value: float64(f.AtMM[0]), Digits: 1},
				words.Number{Value: float64(f.AtMM[1]), Digits: 1}),
		)
	}
	if advises {
		b.WriteString("; " + t.Say(advice))
	}
	fmt.Fprintf(&b, " [%s]", f.Code)
	return b.String()
}

// Planned is the last line of a plan: what became of the drawing, and where to look.
func Planned(p *plan.Plan, t *words.Table, name, dir string) string {
	how := t.Text("terminal." + string(p.Verdict))
	if p.Verdict != plan.AsDrawn {
		return t.Text("terminal.refused", name, how, string(p.Verdict), dir)
	}
	switch n := len(p.Changes); {
	case p.SimplifiedFrom == nil:
	case n == 1:
		how = t.Text("terminal.simplified_one")
	default:
		how = t.Text("terminal.simplified", n)
	}
	args := []any{name, how, p.Index().Distinct(), len(p.Elements), float64(p.Clock.RoundMin), p.Piece.Count, dir}
	if p.Order.Logs > 1 {
		return t.Text("terminal.planned_logs", append(args, p.Order.Logs)...)
	}
	return t.Text("terminal.planned", args...)
}

// Together is what an order of several drawings comes to, in a line.
func Together(p *plan.Plan, t *words.Table, dir string) string {
	out := t.Text("terminal.together", len(p.Order.Designs), p.Order.Logs, p.Order.Made, p.Order.Made-p.Order.Spare)
	packs := 0
	for _, x := range p.Order.Packs {
		packs += x.Number
	}
	if packs > 0 {
		out += t.Text("terminal.together_packs", packs)
	}
	if x := p.Order.Price; x != nil && x.Low >= 0 {
		out += t.Text("terminal.together_price", float64(x.Low), float64(x.High), x.Currency)
	}
	return out + t.Text("terminal.together_in", dir)
}

// Verdict in a line, in words, and where that says more than the word in the file, in that too.
func Verdict(p *plan.Plan, t *words.Table, name string) string {
	return t.Text("terminal.verdict_word", name, t.Text("terminal."+string(p.Verdict)), string(p.Verdict)) + "\n"
}

// Changes are what was simplified, one a line, with the number by which each can be refused.
func Changes(p *plan.Plan, t *words.Table) string {
	var b strings.Builder
	for _, c := range p.Changes {
		saved := ""
		if c.MinutesSaved > 0 {
			saved = t.Text("terminal.change_saves", float64(c.MinutesSaved))
		}
		at := c.Places[0]
		if c.Kind.Reading() {
			fmt.Fprintf(&b, "%3d %s\n", c.Number, t.Say(say.Change(c)))
			continue
		}
		line := t.Text("terminal.change", say.Change(c), float64(at[0])+0, float64(at[1])+0, float64(c.AreaMM2), saved)
		fmt.Fprintf(&b, "%3d %s\n", c.Number, line)
	}
	return b.String()
}

// Offer is one line: its number, its kind, and what it is.
func Offer(number int, kind string, p *plan.Plan, t *words.Table) string {
	var said []string
	for _, x := range say.Offer(p) {
		said = append(said, t.Say(x))
	}
	return t.Text("terminal.offer", number, t.Text("offer."+kind), strings.Join(said, " ")) + "\n"
}

// Cost is what a plan costs, in lines: parts, minutes, people, minutes to spare, size, and the smallest order that
// carries the drawing.
func Cost(p *plan.Plan, s sheet.Style) string {
	t := s.T()
	var b strings.Builder
	line := func(key string, args ...any) { b.WriteString(t.Text(key, args...) + "\n") }
	if p.Verdict == plan.AsDrawn {
		c := p.Clock
		line("cost.parts", p.Index().Distinct(), len(p.Elements), p.Shop.Crew, float64(c.RoundMin),
			float64(p.Shop.ClockMin))
		if c.Proved {
			line("cost.proved", say.CloseBy(p))
		} else {
			line("cost.gap", say.CloseBy(p), math.Ceil(float64(c.GapPercent)))
		}
		if o := p.Rolling; o != nil {
			line("cost.rolling", float64(o.AsDrawn.Worst), float64(o.Squash.Worst), float64(o.Planned.Worst),
				float64(o.BandPercent))
		}
	}
	line("cost.log", s.MM(float64(p.Log.DiameterMM)), s.MM(float64(p.Log.LengthMM)), s.Grams(float64(p.Log.MassG)),
		p.Piece.Count)
	if o := p.Order; o != nil && o.Wanted > 0 {
		line("cost.order", o.Wanted, o.Logs, o.Made)
	}
	if o := p.Order; o != nil && o.Price != nil && o.Price.Low >= 0 {
		line("cost.price", words.Number{Value: float64(o.Price.Low), Digits: o.Price.Decimals}, s.Money(o.Price.High, o.Price))
	}
	if x := p.Smallest; x != nil {
		key := "cost.smallest"
		if x.DiameterMM > p.Shop.LargestMM || x.MassG > p.Shop.LargestG {
			key = "cost.smallest_over"
		}
		line(key, s.MM(float64(x.DiameterMM)), s.Grams(float64(x.MassG)))
	}
	return strings.ReplaceAll(b.String(), "\u00a0", " ")
}

// Reply is a few plain sentences for the client.
func Reply(p *plan.Plan, t *words.Table) string {
	lines := []string{t.Text("reply.head")}
	add := func(key string, args ...any) { lines = append(lines, "  "+t.Text(key, args...)) }
	code, reason := mainReason(p)
	gaveUp := p.Verdict == plan.NotBuildable || has(p, finding.NothingPasses)
	switch {
	case p.Verdict == plan.AsDrawn:
		add("reply.as_drawn", float64(p.Piece.DiameterMM))
		terms(p, add)
	case reason == finding.Photo || reason == finding.PictureAway || reason == finding.Lettering || reason == finding.NoPicture || reason == finding.NoSize:
		add("reply." + string(reason))
	case gaveUp && reason == finding.Shapes: // the limit is ours
		add("reply.no_way_yet")
		add("reply.what_works")
	case has(p, finding.NothingPasses) && kept(p):
		add("reply.kept")
	case gaveUp:
		add("reply.not_so", because(p, reason))
		add("reply.what_works")
	case p.Verdict == plan.ShopLimit && helped(p):
		add("reply.with_hands")
	case (p.Verdict == plan.ShopLimit || p.Verdict == plan.OurLimit) && reason == finding.NotUnderstood: // nothing of the drawing
		add("reply.no_way_yet")
	case code == "":
		add("reply.changes", because(p, finding.NotUnderstood))
	default:
		add("reply.changes", because(p, reason))
	}
	switch {
	case !Offerable(p):
	case p.Verdict == plan.ShopLimit && helped(p):
		add("reply.or_offer")
	default:
		add("reply.offer")
	}
	for _, x := range say.Reading(p) {
		lines = append(lines, "  "+t.Say(x))
	}
	if open := untold(p); len(open) > 0 && (p.Verdict == plan.AsDrawn || Offerable(p)) {
		add(fmt.Sprintf("reply.tell_%d", len(open)), open...)
	}
	return strings.Join(lines, "\n") + "\n"
}

// terms are what an order of the drawing comes to: how many, at least how many, at what price by the shop's figures.
func terms(p *plan.Plan, add func(string, ...any)) {
	o := p.Order
	if o == nil {
		return
	}
	least := about((1 - float64(p.Shop.EndLoss)) * math.Max(float64(o.LeastG), float64(o.SmallestG)) / float64(p.Piece.MassG))
	switch {
	case o.Wanted > 0 && o.Wanted < least:
		add("reply.least_more", least, o.Wanted)
	case o.Wanted > 0 && o.Logs > 1:
		add("reply.batches", o.Logs, o.Made-o.Spare)
	case o.Wanted > 0:
		add("reply.wanted", o.Wanted)
	default:
		add("reply.batch", about(float64(p.Piece.Count)), least)
	}
	if x := o.Price; x != nil && x.Low >= 0 {
		key := "reply.price_batch"
		if o.Wanted > 0 {
			key = "reply.price"
		}
		add(key, float64(x.Low), float64(x.High), x.Currency)
	}
}

// about is a count as it is said: two figures of it, not more than there are.
func about(n float64) int {
	if n < 1 {
		return 0
	}
	step := math.Max(1, math.Pow(10, math.Floor(math.Log10(n))-1))
	return int(math.Floor(n/step+1e-9) * step)
}

// untold is what an order needs and nobody has said: how many, by when, what flavour.
func untold(p *plan.Plan) (open []any) {
	if p.Order == nil || p.Order.Wanted == 0 {
		open = append(open, words.P("reply.how_many"))
	}
	if p.Job == nil || p.Job.Date == "" {
		open = append(open, words.P("reply.by_when"))
	}
	if p.Job == nil || p.Job.Flavour == "" {
		open = append(open, words.P("reply.what_flavour"))
	}
	return open
}

// helped tells whether more hands, machines or smaller logs were found to suffice for the drawing as it is.
func helped(p *plan.Plan) bool {
	n := 0
	for _, f := range p.Findings {
		if string(f.Severity) != finding.Error.String() {
			continue
		}
		if f.Code != string(finding.TooLong) || !slices.ContainsFunc(f.Values, some) {
			return false
		}
		n++
	}
	return n > 0
}

// some tells whether a value is a list that holds something, as it was found or as it was read from a file.
func some(value any) bool {
	switch list := value.(type) {
	case []string:
		return len(list) > 0
	case []any:
		return len(list) > 0
	}
	return false
}

// Offerable tells whether simplifying takes a drawing that is refused: what could not be read no simpler drawing mends.
func Offerable(p *plan.Plan) bool {
	if p.Verdict == plan.AsDrawn || p.Verdict == plan.NotBuildable {
		return false
	}
	for _, f := range p.Findings {
		if string(f.Severity) == finding.Error.String() && !finding.Codes[finding.Code(f.Code)].Simpler {
			return false
		}
	}
	return true
}

// kept tells whether the client refuses a change without which nothing can be made.
func kept(p *plan.Plan) bool {
	for _, f := range p.Findings {
		if f.Code == string(finding.NothingPasses) && f.Case == "kept" {
			return true
		}
	}
	return false
}

func has(p *plan.Plan, c finding.Code) bool {
	for _, f := range p.Findings {
		if f.Code == string(c) {
			return true
		}
	}
	return false
}

// because says a reason at the size of a sweet.
func because(p *plan.Plan, r finding.Reason) words.Phrase {
	piece, ratio := float64(p.Piece.DiameterMM), float64(p.Piece.DrawRatio)
	switch r {
	case finding.FineLines:
		return words.P("reply.fine-lines", piece, float64(p.Shop.ThinnestMM)/ratio)
	case finding.NarrowGaps:
		return words.P("reply.narrow-gaps", piece, float64(p.Shop.GroundGapMM)/ratio)
	}
	return words.P("reply." + string(r))
}

// mainReason is the code of the error that occurs most, and what a client is told of it. Photos, lettering and an empty
// picture come before all else; where nothing passes, what stands in the way most.
func mainReason(p *plan.Plan) (most finding.Code, reason finding.Reason) {
	counts := map[finding.Code]int{}
	n := 0
	for _, f := range p.Findings {
		code := finding.Code(f.Code)
		about := finding.Codes[code]
		if r := about.Reason; string(f.Severity) != finding.Error.String() && code != finding.NothingPasses {
			continue
		} else if code == finding.ImageInArtwork && f.Case != "" {
			return code, finding.PictureAway
		} else if r == finding.Photo || r == finding.Lettering || r == finding.NoPicture || r == finding.NoSize {
			return code, r
		}
		if code == finding.NothingPasses {
			if len(f.Values) > 0 && f.Case != "kept" {
				key, _ := f.Values[0].(string)
				last, _, _ := strings.Cut(key, "_")
				return finding.Code(last), finding.Codes[finding.Code(last)].Reason
			}
			continue
		}
		if counts[code]++; counts[code] > n {
			most, n = code, counts[code]
		}
	}
	return most, finding.Codes[most].Reason
}

// Shop is what a shop's settings come to: what its own tests say, the heat at which its sugar can be worked, and
// windows of common parts.
func Shop(f plan.ShopFacts, t *words.Table) string {
	var b strings.Builder
	line := func(key string, args ...any) { b.WriteString(t.Text(key, args...) + "\n") }
	if l := f.Lump; l != nil {
		line("shop.lump", l.HeightMM, l.DiameterMM, l.Minutes, l.AtC, fmt.Sprintf("%.1e", l.PaS), f.TgC,
			fmt.Sprintf("%+.1f", f.TgC-f.DefaultTgC), f.TgPlusMinus)
	} else {
		line("shop.transition", f.TgC, words.P("shop.from_"+strings.ReplaceAll(string(f.TgFrom), " ", "_")), f.TgPlusMinus)
	}
	if o := f.OvalTest; o != nil {
		line("shop.oval_test", o.WidthMM, o.HeightMM, f.Oval, fmt.Sprintf("%+.3f", f.Oval-f.DefaultOval))
	} else {
		line("shop.oval", f.Oval)
	}
	line("shop.workable", f.WorkableC, fmt.Sprintf("%.1e", f.WorkablePaS), f.PoursC, fmt.Sprintf("%.1e", f.PoursPaS))
	var said []string
	for _, w := range f.Windows {
		key := "shop.window"
		switch {
		case w.HighC < w.LowC:
			key = "shop.window_none"
		case w.Turned:
			key = "shop.window_turned"
		}
		said = append(said, t.Text(key, words.P("form."+string(w.Form)), w.ThickMM, w.LowC, w.HighC))
	}
	line("shop.windows", strings.Join(said, ", "))
	return b.String()
}
