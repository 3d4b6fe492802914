// Package job reads an order: what the client wants, beside the drawing.
//
// Guarantees: nothing is required; what is given is in its range, or is a fault with its line and what is allowed.
package job

import (
	_ "embed" // for the template
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	toml "github.com/pelletier/go-toml/v2"

	"sugarwright/geom/artwork"
	"sugarwright/planner/law"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
)

//go:embed job.toml
var template []byte

// Template is the commented TOML of an order, to edit.
func Template() []byte { return template }

// Job is an order; zero values are not given.
type Job struct {
	Client, Flavour, Acid, Market string
	Date                          toml.LocalDate
	PieceMM, CutMM                float64
	Pieces                        int
	Grams                         float64
	Packs                         []Pack
	Designs                       []Design
	Colours                       map[artwork.RGB]Wish
	Own, All                      int      // of the shares of all designs, this drawing's
	MostLogG                      float64  // of a log, where it is to be lighter than the shop's largest; 0: that
	MixG                          float64  // what a piece of the mix weighs in the mean; 0: as this drawing's
	Away                          []string // of the designs, files that are not there to be weighed
	File                          string   // that it was read from, for faults
	file                          *settings.File
}

// Pack is a number of equal packs: each of so many pieces, or filled until it weighs so many grams; neither: its share
// of the order's pieces or grams.
type Pack struct {
	Number, Pieces int
	Grams          float64
	Line           int // of its grams
}

// Design is one drawing of several, and its share of the pieces.
type Design struct {
	File  string
	Share int
}

// Wish is what an artwork colour is wanted as: one of the shop's by name, or a shade. Finish is "" where it is left to
// the shop.
type Wish struct {
	Named  string
	Shade  artwork.RGB
	Finish shop.Finish
	Line   int
}

// Bounds of an order.
const (
	maxText    = 60
	maxPacks   = 20
	maxDesigns = 12
	mostPieces = 1_000_000
	mostGrams  = 1_000_000
)

// Day is the calendar day on which an order is read: year, month, day.
type Day [3]int

// Read an order on a day. sh is the shop that makes it. The error is of type settings.Faults.
func Read(data []byte, sh *shop.Shop, today Day) (*Job, error) {
	f, err := settings.Parse(data)
	if err != nil {
		return nil, err
	}
	j := &Job{Colours: map[artwork.RGB]Wish{}, Own: 1, All: 1, file: f}
	t := f.Root()
	t.Text("client", maxText, &j.Client)
	t.Text("flavour", maxText, &j.Flavour)
	t.Text("acid", maxText, &j.Acid)
	t.OneOf("market", []string{law.EU, law.GB, law.US, law.Other}, &j.Market)
	t.Date("date", &j.Date)
	if d := (Day{j.Date.Year, j.Date.Month, j.Date.Day}); d != (Day{}) && slices.Compare(d[:], today[:]) < 0 {
		t.Fault("date", "date is %s, in the past; allowed is today, %04d-%02d-%02d, or later", j.Date, today[0],
			today[1], today[2])
	}
	t.Number("piece_mm", 5, 60, &j.PieceMM)
	t.Number("cut_mm", 2, 300, &j.CutMM)
	t.Whole("pieces", 1, mostPieces, &j.Pieces)
	t.Number("grams", 50, mostGrams, &j.Grams)
	j.packs(t)
	j.designs(t)
	j.colours(t.Table("colours"), sh)
	t.Done()
	if err := f.Faults(); err != nil {
		return nil, err
	}
	return j, nil
}

// packs reads the packs; what is wanted is said once.
func (j *Job) packs(t *settings.Table) {
	if j.Pieces > 0 && j.Grams > 0 {
		t.Fault("grams", "pieces and grams are both given; allowed is one of them")
	}
	shares, pieces, grams := 0, 0.0, 0.0
	for i, p := range t.Tables("packs", maxPacks) {
		x := Pack{Line: p.Line("grams")}
		p.Whole("number", 1, 100_000, &x.Number)
		p.Whole("pieces", 1, 10_000, &x.Pieces)
		p.Number("grams", 1, 50_000, &x.Grams)
		p.Done()
		_, numbered := p.Value("number")
		switch {
		case !numbered:
			p.Fault("number", "pack %d has no number; allowed is 1 to 100000", i+1)
		case x.Pieces > 0 && x.Grams > 0:
			p.Fault("grams", "packs of %g g and of %d pieces at once; allowed is one of grams and pieces", x.Grams,
				x.Pieces)
		case x.Pieces == 0 && x.Grams == 0:
			shares += x.Number
			if j.Pieces == 0 && j.Grams == 0 {
				p.Fault("number",
					"packs of unknown size; give their grams or their pieces, or grams or pieces of the whole order")
			}
		case j.Pieces > 0 || j.Grams > 0:
			p.Fault("number",
				"the size of these packs and pieces or grams of the whole order are both given; allowed is one of them")
		}
		j.Packs = append(j.Packs, x)
		pieces, grams = pieces+float64(x.Number*x.Pieces), grams+float64(x.Number)*x.Grams
	}
	if pieces > mostPieces || grams > mostGrams {
		t.Fault("packs", "the packs hold %.0f pieces and %.0f g; allowed is at most %d pieces and %d g", pieces, grams,
			mostPieces, mostGrams)
	}
	if shares == 0 {
		return
	}
	if n := j.Pieces; n > 0 && n%shares != 0 {
		low := n / shares * shares
		allowed := ""
		if low > 0 {
			allowed = strconv.Itoa(low) + " or "
		}
		t.Fault("pieces", "%d pieces do not divide into %d packs; allowed are %s%s", n, shares, allowed,
			strconv.Itoa(low+shares))
	}
	for i := range j.Packs { // none has a size of its own
		j.Packs[i].Pieces, j.Packs[i].Grams = j.Pieces/shares, j.Grams/float64(shares)
	}
	j.Pieces, j.Grams = 0, 0
}

func (j *Job) designs(t *settings.Table) {
	total, common := 0, 0
	for i, d := range t.Tables("designs", maxDesigns) {
		x := Design{Share: 1}
		d.Text("file", 200, &x.File)
		d.Whole("share", 1, 100, &x.Share)
		d.Done()
		if x.File == "" {
			d.Fault("file", "design %d has no file; give the drawing's name, like \"apple.svg\"", i+1)
		}
		for _, o := range j.Designs {
			if base(o.File) == base(x.File) {
				d.Fault("file", "%s is named twice; allowed is once, with a larger share", x.File)
			}
		}
		total += x.Share
		common = gcd(common, x.Share)
		j.Designs = append(j.Designs, x)
	}
	if common > 0 {
		total /= common
	}
	for i, p := range j.Packs {
		if total > 1 && p.Pieces%total != 0 {
			allowed := ""
			if low := p.Pieces / total * total; low > 0 {
				allowed = strconv.Itoa(low) + " or "
			}
			j.file.Fault(fmt.Sprintf("packs.%d.pieces", i),
				"packs of %d pieces do not divide by the designs' shares, %d in all; allowed are %s%s", p.Pieces, total,
				allowed, strconv.Itoa((p.Pieces/total+1)*total))
		}
	}
}

// gcd is the greatest number that divides both.
func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func (j *Job) colours(t *settings.Table, sh *shop.Shop) {
	if t == nil {
		return
	}
	for _, hex := range t.Keys() {
		rgb, ok := artwork.ParseColour(hex)
		if _, twice := j.Colours[rgb]; ok && twice {
			t.Fault(hex, "colours: %q is given twice; allowed is once", hex)
		} else if !ok {
			t.Fault(hex, "colours: %q is not a colour; write it like \"#d0202a\"", hex)
			t.Value(hex)
			continue
		}
		v, _ := t.Value(hex)
		if _, isTable := v.(map[string]any); !isTable {
			t.Fault(hex,
				"colours: %q needs what it is wanted as, like { as = \"strawberry red\" } or { as = \"#c03040\" }", hex)
			continue
		}
		e := t.Table(hex)
		w := Wish{Line: t.Line(hex)}
		as, finish := "", ""
		e.Text("as", maxText, &as)
		e.OneOf("finish", []string{string(shop.Clear), string(shop.Pulled)}, &finish)
		e.Done()
		w.Finish = shop.Finish(finish)
		_, named := sh.Named(as)
		switch shade, isShade := artwork.ParseColour(as); {
		case as == "":
			t.Fault(hex,
				"colours: %q needs what it is wanted as, like { as = \"strawberry red\" } or { as = \"#c03040\" }", hex)
		case named:
			w.Named = as
		case isShade:
			w.Shade = shade
		default:
			t.Fault(hex, "colours: the shop has no %q; allowed are %s a shade like \"#c03040\"", as, names(sh))
		}
		j.Colours[rgb] = w
	}
}

func names(sh *shop.Shop) string {
	var out strings.Builder
	for _, x := range sh.Stock {
		out.WriteString(x.Name + ", ")
	}
	if out.Len() == 0 {
		return "the colours of [stock] in the shop's file, of which there are none, or"
	}
	return out.String() + "or"
}

// Fault is one fault of the order that shows when it is planned.
func (j *Job) Fault(line int, format string, a ...any) error {
	return settings.Faults{{File: j.File, Line: line, Text: fmt.Sprintf(format, a...)}}
}

// OfPieces is the order, nil: one that says nothing else, with so many pieces wanted.
func (j *Job) OfPieces(n int) *Job {
	out := Job{Own: 1, All: 1}
	if j != nil {
		out = *j
	}
	out.Pieces = n
	return &out
}

// InLogs is the order in logs of so many grams at most.
func (j *Job) InLogs(mostG float64) *Job {
	out := *j
	out.MostLogG = mostG
	return &out
}

// Line of a setting in the order's file; 0 where there is none.
func (j *Job) Line(path string) int {
	if j.file == nil {
		return 0
	}
	return j.file.Line(path)
}

// Asked tells whether the order says how much is wanted.
func (j *Job) Asked() bool { return j.Pieces > 0 || j.Grams > 0 || len(j.Packs) > 0 }

// For a drawing: the order with the share that is the drawing's own. The error is of type settings.Faults: it is not
// among the designs.
func (j *Job) For(drawing string) (*Job, error) {
	out := *j
	if len(j.Designs) == 0 {
		return &out, nil
	}
	out.Own, out.All = 0, 0
	var files []string
	for _, d := range j.Designs {
		out.All += d.Share
		files = append(files, d.File)
		if base(d.File) == base(drawing) {
			out.Own = d.Share
		}
	}
	if out.Own == 0 {
		return nil, j.Fault(j.Line("designs"), "%s is not among the designs of this order; allowed are %s",
			base(drawing), strings.Join(files, ", "))
	}
	return &out, nil
}

// Same tells whether two names are of one drawing: in whatever folder.
func Same(a, b string) bool { return base(a) == base(b) }

func base(file string) string {
	return strings.ToLower(filepath.Base(strings.ReplaceAll(file, "\\", "/")))
}
