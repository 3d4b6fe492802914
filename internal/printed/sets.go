package printed

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/pictures"
	"sugarwright/render/sheet"
	"sugarwright/render/sheets"
)

// Budget is how many pages the sheets at the slab may have, by how many parts are laid.
func Budget(laid int) int {
	switch {
	case laid <= 12:
		return 4
	case laid <= 30:
		return 6
	}
	return 9
}

// Shares of a page that is ink: of the wall sheet, of another sheet, of any page.
const (
	wallInk    = 0.5
	leastInk   = 0.25
	pictureInk = 0.2
	anyInk     = 0.15
)

// nothing is a size that cannot be made.
var nothing = regexp.MustCompile(`(^|[^0-9.,/])0\x{00a0}(×|mm|in)`)

// CheckSets holds all sheets of a plan to what each must be: legible, full, within the budget of pages, nothing said
// twice, each part laid in one frame and numbered in the diagram.
func CheckSets(t *testing.T, name string, p *plan.Plan, s sheet.Style) {
	t.Helper()
	bad := func(format string, args ...any) { t.Errorf(name+": "+format, args...) }
	sets := sheets.Sets(p, s)
	for _, set := range sets {
		said := map[string]string{}
		count := 0
		for _, x := range set.Sheets {
			count += len(x.Pages)
			for i, pg := range x.Pages {
				at := fmt.Sprintf("%s, page %d of %d", x.Name, i+1, len(x.Pages))
				if err := pg.Check(); err != nil {
					bad("%s: %v", at, err)
				}
				least := leastInk
				switch {
				case x.Name == "wall" && len(x.Pages) == 1:
					least = wallInk
				case x.Name == "pictures":
					least = pictureInk
				case i > 0 && i == len(x.Pages)-1:
					least = anyInk
				}
				if ink := pg.Ink(); ink < least {
					bad("%s: %.0f %% of it is ink, %.0f wanted", at, 100*ink, 100*least)
				}
				for _, text := range Texts([]*page.Page{pg}) {
					if nothing.MatchString(text) {
						bad("%s: a size of nothing in %q", at, text)
					}
					if set.Name == "working" && strings.HasSuffix(text, ".") && strings.Count(text, " ") >= 3 && !everywhere(text, p, s) {
						if was, ok := said[text]; ok {
							bad("%s: %q is said in %s too", at, text, was)
						}
						said[text] = at
					}
				}
			}
		}
		if set.Name == "working" && count > Budget(len(p.Elements)) && !s.Split {
			bad("%d pages at the slab for %d parts laid, %d are allowed", count, len(p.Elements), Budget(len(p.Elements)))
		}
	}
	frames(p, s, bad)
	numbered(p, s, sets[0].Sheets[0].Pages[0], bad)
}

// numbered holds the diagram to name each part where it lies, or copies that have no room for theirs together.
func numbered(p *plan.Plan, s sheet.Style, pg *page.Page, bad func(string, ...any)) {
	shown := map[int]int{}
	least := 0.9 * sheet.Figure // those in frames and lanes are smaller
	if s.Split {
		least *= 0.8
	}
	for _, it := range pg.Items {
		if t := it.Text; t != nil && t.Bold && t.Size > least && t.At[0] < pg.W*0.46 {
			var copies, number int
			if n, err := fmt.Sscanf(t.Text, "%d × %d", &copies, &number); err == nil && n == 2 {
				shown[number] += copies
			} else if n, err := strconv.Atoi(t.Text); err == nil {
				shown[n]++
			}
		}
	}
	for _, e := range p.Elements {
		if want := len(p.Index().Alike(e.Number)); shown[e.Number] < want {
			bad("part %d stands %d times in the diagram, %d wanted", e.Number, shown[e.Number], want)
		}
	}
}

// everywhere tells whether a text stands on each sheet by design: the caution, the order's name, the title, the signs.
func everywhere(text string, p *plan.Plan, s sheet.Style) bool {
	t := s.T()
	for _, x := range []string{t.Text("caution.short"), t.Text("caution.shorter"), t.Text("wall.hot"), t.Text("wall.burn"), t.Text("wall.signs"), s.For(p), p.Artwork.Title} {
		if strings.Contains(text, x) || strings.Contains(x, text) {
			return true
		}
	}
	return false
}

// frames of the plan: each step that lays is in one, and their numbers rise on first use.
func frames(p *plan.Plan, s sheet.Style, bad func(string, ...any)) {
	shown := map[int]int{}
	last := 0
	for _, f := range pictures.Of(p, s).Frames {
		for _, st := range f.Steps {
			shown[st.Number]++
			if len(st.Parts) == 0 {
				continue
			}
			e := p.Index().Element(st.Parts[0])
			if e == nil || e.Number <= last {
				continue
			}
			if e.Number != last+1 {
				bad("frames: part %d is shown before %d", e.Number, last+1)
			}
			last = e.Number
		}
	}
	for _, st := range p.Steps {
		switch st.Do {
		case plan.DoLay, plan.DoBend, plan.DoFold, plan.DoWrap, plan.DoRoll, plan.DoTurn:
			if shown[st.Number] != 1 {
				bad("step %d is in %d frames", st.Number, shown[st.Number])
			}
		}
	}
}
