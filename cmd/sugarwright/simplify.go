package main

import (
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sugarwright/output"
	"sugarwright/planner"
	"sugarwright/render/changes"
	"sugarwright/render/marked"
	"sugarwright/render/sheet"
	"sugarwright/render/svg"
	"sugarwright/render/terminal"
)

func simplifyCommand(out, errs io.Writer) *cobra.Command {
	var f flags
	c, fs := command("simplify ARTWORK.svg", "a version that can be made, with the least visible change", 1, 1)
	f.add(fs)
	to := fs.String("out", "", "file for the simplified drawing (SVG)")
	pictures := fs.String("changes", "",
		"file for the two pictures side by side, one over the other, and the list of changes (SVG)")
	sheet := fs.String("offers", "", "file for all offers, each at true size and enlarged; where there is none, for the drawing with its worst places (SVG)")
	w := wanted{}
	w.add(fs, "")
	return does(c, func() int {
		name := fs.Arg(0)
		if *to == "" {
			return fail(errs, exitUsage, "name the output file: --out SIMPLER.svg")
		}
		if err := allowed(f.inputs(name), *to, *pictures, *sheet); err != nil {
			return failOutput(errs, err)
		}
		out = results(*to, results(*pictures, results(*sheet, out, errs), errs), errs)
		s, st, code := makeSimpler(name, &f, w, errs)
		if code != 0 {
			return code
		}
		if s.After == nil {
			fmt.Fprint(out, terminal.Reply(s.Before.Plan, st.T()))
			if pages, ok := marked.Pages(marked.Worst(s.Before.Plan), st); ok && *sheet != "" {
				if err := (output.One{Name: *sheet, Inputs: f.inputs(name)}).Put(svg.Write(pages)); err != nil {
					return failOutput(errs, err)
				}
				fmt.Fprintln(out, st.T().Text("terminal.worst_places", *sheet))
			}
			return exitRefused
		}
		if err := (output.One{Name: *to, Inputs: f.inputs(name)}).Put(s.SVG); err != nil {
			return failOutput(errs, err)
		}
		p := s.After.Plan
		if *pictures != "" && p.SimplifiedFrom != nil {
			to := output.One{Name: *pictures, Inputs: f.inputs(name)}
			if err := to.Put(svg.Write(changes.Pages(p, st))); err != nil {
				return failOutput(errs, err)
			}
		}
		if *sheet != "" && len(s.Offers) > 0 {
			var list []changes.Offer
			for _, x := range s.Offers {
				list = append(list, changes.Offer{Kind: string(x.Kind), Plan: x.Plan.Plan})
			}
			to := output.One{Name: *sheet, Inputs: f.inputs(name)}
			if err := to.Put(svg.Write(changes.Offers(list, st))); err != nil {
				return failOutput(errs, err)
			}
		}
		switch {
		case f.json:
			return printJSON(p, out, errs)
		case s.After == s.Before && len(p.Changes) > 0:
			fmt.Fprint(out, st.T().Text("terminal.flat", name, *to)+"\n", terminal.Changes(p, st.T()))
		case s.After == s.Before:
			fmt.Fprintln(out, st.T().Text("terminal.same_bytes", name, *to))
		default:
			t := st.T()
			key := "terminal.offers"
			if len(s.Offers) == 1 {
				key = "terminal.offers_one"
			}
			fmt.Fprintln(out, t.Text(key, len(s.Offers)))
			for i, x := range s.Offers {
				fmt.Fprint(out, terminal.Offer(i+1, string(x.Kind), x.Plan.Plan, t))
			}
			fmt.Fprintln(out, t.Text("terminal.offer_chosen", max(1, w.offer), *to))
			fmt.Fprint(out, terminal.Changes(p, t), terminal.Cost(p, st), t.Text("terminal.see_changes", *to), "\n")
		}
		return exitPlan
	})
}

// wanted are the flags that speak of offers.
type wanted struct {
	keep  string
	offer int
}

// add the flags; with names what must be given too.
func (w *wanted) add(fs *pflag.FlagSet, with string) {
	fs.StringVar(&w.keep, "keep", "", with+"numbers of changes that are not to be made, like 3,7: the next best is sought")
	fs.IntVar(&w.offer, "offer", 0, with+"number of the offer that is wanted (default: the first)")
}

// makeSimpler reads the artwork and seeks what can be made of it, telling how far it is; code is set when it failed.
func makeSimpler(name string, f *flags, w wanted, errs io.Writer) (*planner.Simplified, sheet.Style, int) {
	o, st, err := f.options(name)
	var numbers []int
	if err == nil {
		numbers, err = numbersOf(w.keep)
	}
	if err == nil && w.offer < 0 {
		err = fmt.Errorf("--offer %d is not the number of an offer", w.offer)
	}
	var data []byte
	if err == nil {
		data, err = readArtwork(name)
	}
	if err != nil {
		return nil, st, fail(errs, exitUsage, "%v", err)
	}
	last, watched := "", onTerminal(os.Stderr, errs) // who reads it from a file has no use for it
	said := func(p planner.Progress, n int) {
		if line := st.T().Text("terminal."+string(p), n); watched != nil && line != last { // once, however often it is tried
			fmt.Fprintln(watched, line)
			last = line
		}
	}
	s, err := planner.MakeSimpler(baseOf(name), data, o, planner.Wanted{Keep: numbers, Offer: w.offer, Said: said})
	if err != nil {
		return nil, st, failCompile(errs, name, err)
	}
	shown := s.Before
	if s.After != nil {
		shown = s.After
	}
	sayFindings(errs, st.T(), name, shown.Plan)
	return s, st, 0
}

// numbersOf reads a list like 3,7.
func numbersOf(s string) ([]int, error) {
	var out []int
	for _, p := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ' ' }) {
		n, err := strconv.Atoi(p)
		if err != nil || n < 1 {
			return nil, fmt.Errorf("--keep %q: %q is not the number of a change", s, p)
		}
		out = append(out, n)
	}
	return out, nil
}
