// Package record reads what became of a log on the day: the minutes that its steps took, what was weighed and measured. One is
// saved by the bench page, one is written by hand on a template.
//
// Guarantees: a record is of the plan that it names; what is impossible (a time that runs back, more pieces than there is sugar)
// is a fault with its line; what is not given stays unknown, and is never taken for nought.
package record

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	toml "github.com/pelletier/go-toml/v2"

	"sugarwright/planner/plan"
	"sugarwright/planner/settings"
)

// Format of the file that the bench page saves.
const Format = "sugarwright-record"

// Log is a record. Zero is not known.
type Log struct {
	File       string
	Plan       string // the plan's file, as a record by hand names it
	Artwork    string // the drawing's digest, where the record has it
	Day        string
	Number     int
	Steps      []Step
	LogG       float64 // closed, before it is drawn
	PieceCount int     // good pieces, and what they weigh together
	PiecesG    float64
	ClosedMin  float64 // from the pour
	ProbeC     float64 // in the log when it was closed
	DrawnMM    float64 // of stick
	Wrong      string
	// As the plan has them: the log, a piece, and the pulled sugar's share of its mass
	PlannedLogG, PlannedPieceG, PulledShare float64
}

// Step is one of the plan's, with its kind, its minutes as planned and as they were; 0: not known.
type Step struct {
	Number           int
	Do               plan.Do
	Planned, Minutes float64
}

// Bounds of a record.
const (
	mostMinutes = 600
	mostGrams   = 60_000
	mostText    = 400
	mostBytes   = 1 << 20
	tight       = 0.05 // minutes by which a step that follows at once may be planned late
)

// Read a record by hand or of the bench page. planned reads the plan's file, from where the record lies. The error has every
// fault with its line.
func Read(data []byte, planned func(file string) (*plan.Plan, error)) (*Log, error) {
	if len(data) > mostBytes {
		return nil, fmt.Errorf("more than %d bytes, which no record has", mostBytes)
	}
	if strings.HasPrefix(strings.TrimSpace(string(data)), "{") {
		return pressed(data)
	}
	f, err := settings.Parse(data)
	if err != nil {
		return nil, err
	}
	l := &Log{}
	t := f.Root()
	var day toml.LocalDate
	t.Text("plan", mostText, &l.Plan)
	t.Date("day", &day)
	t.Whole("log", 1, 1000, &l.Number)
	t.Text("wrong", mostText, &l.Wrong)
	if day != (toml.LocalDate{}) {
		l.Day = day.String()
	}
	if w := t.Table("weighed"); w != nil {
		w.Number("log_g", 50, mostGrams, &l.LogG)
		w.Whole("pieces", 1, 1_000_000, &l.PieceCount)
		w.Number("pieces_g", 1, mostGrams, &l.PiecesG)
		if l.LogG > 0 && l.PiecesG > l.LogG {
			w.Fault("pieces_g", "the pieces weigh %g g, more than the log of %g g; allowed is less", l.PiecesG, l.LogG)
		}
		w.Done()
	}
	if c := t.Table("closed"); c != nil {
		c.Number("minute", 1, mostMinutes, &l.ClosedMin)
		c.Number("probe_c", 20, 120, &l.ProbeC)
		c.Number("drawn_mm", 100, 1_000_000, &l.DrawnMM)
		c.Done()
	}
	if l.Plan == "" {
		t.Fault("plan", "the record names no plan; give its file, like plan = \"lighthouse-plan/plan.json\"")
		return nil, f.Faults()
	}
	p, err := planned(l.Plan)
	if err != nil {
		t.Fault("plan", "%v", err)
		return nil, f.Faults()
	}
	l.Artwork = p.Artwork.SHA256
	l.PlannedLogG, l.PlannedPieceG = float64(p.Log.MassG), float64(p.Piece.MassG)
	for _, c := range p.Colours {
		if c.Finish == plan.Pulled && p.Log.MassG > 0 {
			l.PulledShare += float64(c.MassG / p.Log.MassG)
		}
	}
	if m := t.Table("minutes"); m != nil {
		for _, key := range m.Keys() {
			n, err := strconv.Atoi(key)
			k := slices.IndexFunc(p.Steps, func(s plan.Step) bool { return s.Number == n })
			if err != nil || k < 0 {
				m.Value(key)
				m.Fault(key, "the plan has no step %s; allowed are 1 to %d", key, len(p.Steps))
				continue
			}
			s := Step{Number: n, Do: p.Steps[k].Do, Planned: float64(p.Steps[k].Minutes)}
			m.Number(key, 0.01, mostMinutes, &s.Minutes)
			l.Steps = append(l.Steps, s)
		}
		slices.SortFunc(l.Steps, func(a, b Step) int { return a.Number - b.Number })
		m.Done()
	}
	t.Done()
	if err := f.Faults(); err != nil {
		return nil, err
	}
	return l, nil
}

// pressed is a record of the bench page: when each step was begun. A step took until the next of the same hands was begun, where
// that was planned to follow at once.
func pressed(data []byte) (*Log, error) {
	var r struct {
		Format string `json:"format"`
		Art    string `json:"artwork"`
		Day    string `json:"day"`
		Log    int    `json:"log"`
		Steps  []struct {
			Number  int     `json:"number"`
			Do      plan.Do `json:"do"`
			Pairs   []int   `json:"pairs"`
			Start   float64 `json:"planned_min"`
			Minutes float64 `json:"minutes"`
		} `json:"steps"`
		Presses []struct {
			Key  string  `json:"key"`
			Step int     `json:"step"`
			AtMS float64 `json:"at_ms"`
		} `json:"presses"`
	}
	if err := json.Unmarshal(data, &r); err != nil {
		return nil, fmt.Errorf("no record: %w", err)
	}
	if r.Format != Format {
		return nil, fmt.Errorf("its format is %q, %q is wanted", r.Format, Format)
	}
	l := &Log{Artwork: r.Art, Day: r.Day, Number: r.Log}
	begun := make([]float64, len(r.Steps)+2) // minutes at which each was, by its place from 1; 0: never, but for the first
	last := 0.0
	for _, p := range r.Presses {
		if p.AtMS < last {
			return nil, fmt.Errorf("a press at %.1f minutes comes after one at %.1f", p.AtMS/60000, last/60000)
		}
		last = p.AtMS
		if p.Key == "next" && p.Step >= 1 && p.Step < len(begun) {
			begun[min(p.Step+1, len(begun)-1)] = p.AtMS / 60000
		}
	}
	for i, s := range r.Steps {
		x := Step{Number: s.Number, Do: s.Do, Planned: s.Minutes}
		for j := i + 1; j < len(r.Steps); j++ {
			n := r.Steps[j]
			if !slices.ContainsFunc(n.Pairs, func(p int) bool { return slices.Contains(s.Pairs, p) }) {
				continue
			}
			from, to := begun[i+1], begun[j+1]
			if n.Start-s.Start-s.Minutes < tight && to > from && (from > 0 || i == 0) {
				x.Minutes = to - from
			}
			break
		}
		l.Steps = append(l.Steps, x)
	}
	return l, nil
}

// Template of a record by hand for a plan, as its file is named from where the record will lie; said is a step in words.
func Template(p *plan.Plan, file string, said func(plan.Step) string) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, `# What became of a log: fill in what you measured, and take the # away before it. What is left out stays unknown.
# Weights in grams, lengths in millimetres, minutes with a point. Then: sugarwright learn THIS.toml --shop SHOP.toml
plan = %s
# day = 2030-12-05
# log = 1                  # which of the day
# wrong = ""               # what went wrong, in your words

# [weighed]
# log_g = %.0f              # the closed log, before it is drawn; planned
# pieces = %d             # good pieces, and what they weigh together; planned
# pieces_g = %.0f

# [closed]
# minute = %.1f            # from the pour; planned
# probe_c = 60             # in the log then
# drawn_mm = 30000         # of stick, in all

# [minutes]                # that steps took, by their numbers
`, strconv.Quote(filepath.ToSlash(file)), float64(p.Log.MassG), p.Piece.Count, float64(p.Piece.Count)*float64(p.Piece.MassG), closing(p))
	for _, s := range p.Steps {
		if s.Minutes > 0 {
			text := []rune(strings.ReplaceAll(said(s), "\u00a0", " "))
			fmt.Fprintf(&b, "# %d = %.1f\t# %s\n", s.Number, float64(s.Minutes), string(text[:min(90, len(text))]))
		}
	}
	return []byte(b.String())
}

func closing(p *plan.Plan) float64 {
	if p.Clock == nil {
		return 0
	}
	return float64(p.Clock.ClosedMin)
}
