package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"sugarwright/output"
	"sugarwright/planner/learn"
	"sugarwright/planner/plan"
	"sugarwright/planner/record"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
	"sugarwright/render/say"
	"sugarwright/render/words"
)

// mostRecords are read at once.
const mostRecords = 500

// mostRecordBytes bounds a record that is read.
const mostRecordBytes = 2 << 20

// recordCommand prints a record of a plan's log, to be filled in by hand.
func recordCommand(out, errs io.Writer) *cobra.Command {
	c, fs := command("record PLAN.json", "what became of a log, to fill in by hand and pass to learn and compare", 1, 1)
	return does(c, func() int {
		p, err := readPlan(fs.Arg(0))
		if err != nil {
			return fail(errs, exitUsage, "%s: %v", fs.Arg(0), err)
		}
		t := words.English()
		out.Write(record.Template(p, fs.Arg(0), func(s plan.Step) string { return t.Say(say.Step(p, s)) }))
		return exitPlan
	})
}

// readRecord reads a record; a plan that it names lies beside it.
func readRecord(name string) (*record.Log, error) {
	data, err := readBounded(name, mostRecordBytes)
	if err != nil {
		return nil, err
	}
	l, err := record.Read(data, func(file string) (*plan.Plan, error) {
		if !filepath.IsAbs(file) {
			file = filepath.Join(filepath.Dir(name), filepath.FromSlash(file))
		}
		return readPlan(file)
	})
	if err != nil {
		var faults settings.Faults
		if errors.As(err, &faults) {
			return nil, faults.In(name)
		}
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	l.File = name
	return l, nil
}

// learnCommand draws the shop's own figures from records, and writes them into a new shop file where one is asked for.
func learnCommand(out, errs io.Writer) *cobra.Command {
	c, fs := command("learn RECORD...", "the shop's own minutes, losses and densities from records of logs, each with its doubt", 1, mostRecords)
	file := fs.String("shop", "", "file of shop settings that is to learn (default: the program's own)")
	to := fs.String("out", "", "new file of shop settings with what was learnt")
	return does(c, func() int {
		text := shop.DefaultFile()
		if *file != "" {
			var err error
			if text, err = readBounded(*file, mostRecordBytes); err != nil {
				return fail(errs, exitUsage, "%v", err)
			}
		}
		sh, err := (&flags{shopFile: *file}).shop()
		if err != nil {
			return fail(errs, exitUsage, "%v", err)
		}
		inputs := append(output.Inputs{*file}, fs.Args()...)
		if err := allowed(inputs, *to); err != nil {
			return failOutput(errs, err)
		}
		var logs []*record.Log
		for _, name := range fs.Args() {
			l, err := readRecord(name)
			if err != nil {
				return fail(errs, exitUsage, "%v", err)
			}
			logs = append(logs, l)
		}
		b := &lesson{text: text, t: words.English(), out: results(*to, out, errs)}
		b.paces(logs)
		b.weights(logs, sh)
		if b.learnt == 0 {
			return fail(errs, exitRefused, "the records hold nothing to learn from: no minutes of steps, and no weights")
		}
		if *to == "" {
			return exitPlan
		}
		if _, err := shop.Read(b.text); err != nil {
			return fail(errs, exitRefused, "what the records say is beyond what a shop's file allows, so nothing is written: %v", err)
		}
		if err := (output.One{Name: *to, Inputs: inputs}).Put(b.text); err != nil {
			return failOutput(errs, err)
		}
		return exitPlan
	})
}

// lesson is what is learnt, as it is said, and the shop's file as it becomes.
type lesson struct {
	text   []byte
	t      *words.Table
	out    io.Writer
	learnt int
}

func (b *lesson) say(key string, args ...any) { fmt.Fprintln(b.out, b.t.Text("learn."+key, args...)) }

// old is a number of the shop's file, or of the program's own.
func (b *lesson) old(section, key string) (v float64) {
	for _, text := range [][]byte{shop.DefaultFile(), b.text} {
		if f, err := settings.Parse(text); err == nil {
			if t := f.Root().Table(section); t != nil {
				t.Number(key, 0, 1e9, &v)
			}
		}
	}
	return v
}

// set puts a number into the file, with as many digits as are known.
func (b *lesson) set(section, key string, v float64) string {
	n := strconv.FormatFloat(v, 'f', 2, 64)
	if v >= 20 {
		n = strconv.FormatFloat(v, 'f', 0, 64)
	}
	b.text = settings.Set(b.text, section, key, n)
	return n
}

// paces are the minutes.
func (b *lesson) paces(logs []*record.Log) {
	paces, odd := learn.Paces(logs)
	known := map[plan.Do]bool{}
	for _, p := range paces {
		known[p.Kind] = true
		b.learnt++
		b.say("pace", words.P("learn.do_"+string(p.Kind)), p.Times, p.Low, p.Top, p.Steps, p.Logs)
		var list []string
		for _, key := range learn.Settings[p.Kind] {
			old := b.old("minutes", key)
			if old == 0 {
				continue
			}
			v := old * p.Times
			if key == learn.PerMinute {
				v = old / p.Times
			}
			list = append(list, fmt.Sprintf("%s %g -> %s", key, old, b.set("minutes", key, v)))
		}
		fmt.Fprintln(b.out, "    "+strings.Join(list, ", "))
	}
	var guesses []string
	for _, k := range learn.Kinds {
		if !known[k] {
			guesses = append(guesses, b.t.Text("learn.do_"+string(k)))
		}
	}
	if len(guesses) > 0 {
		b.say("guess", strings.Join(guesses, ", "))
	}
	for _, o := range odd {
		b.say("odd", logs[o.Log].File, o.Step.Number, words.P("learn.do_"+string(o.Step.Do)), o.Step.Minutes, o.Step.Planned*o.Typical)
	}
}

// weights are the densities and the loss.
func (b *lesson) weights(logs []*record.Log, sh *shop.Shop) {
	w := learn.Weights(logs, sh.ClearDensity, sh.PulledDensity, sh.EndLoss)
	for _, x := range []struct {
		section, key string
		f            *learn.Figure
	}{{"sugar", "clear_g_cm3", w.Clear}, {"sugar", "pulled_g_cm3", w.Pulled}, {"log", "end_loss", w.EndLoss}} {
		if x.f == nil {
			b.say("unweighed", x.section+"."+x.key)
			continue
		}
		b.learnt++
		b.set(x.section, x.key, x.f.New)
		b.say("figure", x.section+"."+x.key, words.Number{Value: x.f.Old, Digits: 2}, words.Number{Value: x.f.New, Digits: 2}, words.Number{Value: x.f.Low, Digits: 2}, words.Number{Value: x.f.Top, Digits: 2}, x.f.Logs)
	}
	for _, o := range w.Odd {
		b.say("odd_weight", logs[o.Log].File, o.Key, o.Value, o.Planned)
	}
}

// compareCommand shows where a plan and the day parted.
func compareCommand(out, errs io.Writer) *cobra.Command {
	c, fs := command("compare PLAN.json RECORD", "where a plan and the day of its log parted", 2, 2)
	return does(c, func() int {
		p, err := readPlan(fs.Arg(0))
		if err != nil {
			return fail(errs, exitUsage, "%s: %v", fs.Arg(0), err)
		}
		l, err := readRecord(fs.Arg(1))
		if err != nil {
			return fail(errs, exitUsage, "%v", err)
		}
		text, err := compared(p, l, words.English())
		if err != nil {
			return fail(errs, exitUsage, "%s: %v", fs.Arg(1), err)
		}
		fmt.Fprint(out, text)
		return exitPlan
	})
}

// compared is the page: steps with their minutes as planned and as they were, then what was weighed and measured.
func compared(p *plan.Plan, l *record.Log, t *words.Table) (string, error) {
	if l.Artwork != "" && l.Artwork != p.Artwork.SHA256 {
		return "", errors.New("the record is of another drawing")
	}
	var b strings.Builder
	line := func(key string, args ...any) { fmt.Fprintln(&b, t.Text("compare."+key, args...)) }
	line("head", p.Artwork.Title, l.Day, l.Number)
	line("columns")
	planned, took, n := 0.0, 0.0, 0
	for _, s := range l.Steps {
		if s.Number < 1 || s.Number > len(p.Steps) || p.Steps[s.Number-1].Do != s.Do {
			return "", errors.New("the record is of another plan: its steps are others")
		}
		if s.Minutes == 0 {
			continue
		}
		n++
		planned, took = planned+s.Planned, took+s.Minutes
		mark := ""
		if r := s.Minutes / s.Planned; s.Planned > 0 && (r > 1.5 || r < 1/1.5) {
			mark = t.Text("compare.mark")
		}
		said := []rune(strings.ReplaceAll(t.Say(say.Step(p, p.Steps[s.Number-1])), "\u00a0", " "))
		fmt.Fprintf(&b, "%4d  %5.1f  %5.1f %s %s\n", s.Number, s.Planned, s.Minutes, mark, string(said[:min(76, len(said))]))
	}
	if n > 0 {
		line("steps", n, planned, took)
	}
	row := func(key string, plan, was float64, digits int) {
		if was > 0 && plan > 0 {
			line("row", words.P("compare."+key), words.Number{Value: plan, Digits: digits}, words.Number{Value: was, Digits: digits}, words.Number{Value: 100 * (was/plan - 1)})
		}
	}
	if p.Clock != nil {
		row("closed", float64(p.Clock.ClosedMin), l.ClosedMin, 1)
	}
	row("log", float64(p.Log.MassG), l.LogG, 0)
	row("pieces", float64(p.Piece.Count), float64(l.PieceCount), 0)
	if l.PieceCount > 0 {
		row("piece", float64(p.Piece.MassG), l.PiecesG/float64(l.PieceCount), 2)
	}
	if l.Wrong != "" {
		line("wrong", l.Wrong)
	}
	if n == 0 && l.LogG == 0 && l.PieceCount == 0 && l.ClosedMin == 0 {
		return "", errors.New("the record holds nothing to compare")
	}
	return b.String(), nil
}
