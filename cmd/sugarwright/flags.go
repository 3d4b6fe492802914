package main

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"sugarwright/geom/artwork"
	"sugarwright/geom/steps"
	"sugarwright/geom/trace"
	"sugarwright/output"
	"sugarwright/planner"
	"sugarwright/planner/intake"
	"sugarwright/planner/size"
	"sugarwright/render/sheet"
	"sugarwright/render/words"
)

// flags of plan and check.
type flags struct {
	piece, cut, length, weight, log, place, ground, jacket, shopFile, jobFile, units, paper, wall, language, ink string
	pieces, crew                                                                                                 int
	// Foreseen along the rope
	faces   int
	reading reading
	json    bool
}

// inputs are the files that a call for a drawing reads.
func (f *flags) inputs(drawing string) output.Inputs {
	return output.Inputs{drawing, f.shopFile, f.jobFile}
}

func (f *flags) add(fs *pflag.FlagSet) {
	fs.StringVar(&f.piece, "piece", "", "diameter of a piece (default: the order's, else 15mm)")
	fs.StringVar(&f.cut, "cut", "", "length of a piece (default: the order's, else 10mm)")
	fs.StringVar(&f.length, "length", "", "log length; give one of --length, --weight, --pieces")
	fs.StringVar(&f.weight, "weight", "", "weight of the log, like 2.8kg or 100oz")
	fs.IntVar(&f.pieces, "pieces", 0, "how many pieces are wanted")
	fs.StringVar(&f.log, "log", "", "diameter of the log; left out, it is solved, at most the shop's largest")
	fs.StringVar(&f.place, "place", "",
		"fit the picture to the page or to the drawing")
	fs.StringVar(&f.ground, "ground", "#ffffff", "colour round the picture")
	fs.StringVar(&f.jacket, "jacket", "", "colour of the outermost wrap (default: the ground's)")
	f.reading.add(fs)
	fs.IntVar(&f.crew, "crew", 0, "pairs of hands (default: the shop's)")
	fs.StringVar(&f.shopFile, "shop", "", "file of shop settings, see sugarwright shop")
	fs.StringVar(&f.jobFile, "job", "", "file of the order's details, see sugarwright job")
	f.addStyle(fs)
	fs.BoolVar(&f.json, "json", false, "print the plan as JSON on standard output")
}

// reading are the flags of how a drawing is read.
type reading struct {
	shades, colours int
	photo           bool
	corners         string
}

func (r *reading) add(fs *pflag.FlagSet) {
	fs.IntVar(&r.shades, "shades", 0, "into how many flat colours a shade of the drawing is made, at most: 1 to 3 (default: 3; simplify tries 1 as well)")
	fs.BoolVar(&r.photo, "photo", false, "the picture is a photo of a drawing on white paper: its light is evened out")
	fs.StringVar(&r.corners, "corners", "", "corners of the paper on a photo in pixels, from the upper left round with the clock, like 40,30 980,52 1010,760 22,745")
	fs.IntVar(&r.colours, "colours", 0, "colours that a picture of pixels is traced in, at most (default: as many as are found)")
}

// options of reading; the ground is set elsewhere.
func (r *reading) options() (o steps.Options, err error) {
	if r.shades < 0 || r.shades > steps.Most {
		return o, fmt.Errorf("--shades %d is out of range: 1 to %d", r.shades, steps.Most)
	}
	if r.colours < 0 || r.colours > mostTraced {
		return o, fmt.Errorf("--colours %d is out of range: 1 to %d", r.colours, mostTraced)
	}
	o.Shades, o.Trace = r.shades, trace.Options{Photo: r.photo, Colours: r.colours}
	if r.corners == "" {
		return o, nil
	}
	f := strings.FieldsFunc(r.corners, func(c rune) bool { return c == ',' || c == ' ' || c == ';' })
	var c trace.Corners
	for i := range 8 {
		v, err := 0.0, error(nil)
		if len(f) == 8 {
			v, err = strconv.ParseFloat(f[i], 64)
		}
		if len(f) != 8 || err != nil || !(math.Abs(v) < 1e6) {
			return o, fmt.Errorf("--corners %q is not four points in pixels, like 40,30 980,52 1010,760 22,745", short(r.corners))
		}
		c[i/2][i%2] = v
	}
	o.Trace.Corners = &c
	return o, nil
}

// mostTraced colours may be asked for.
const mostTraced = 40

// addStyle adds the flags that say how sheets are printed.
func (f *flags) addStyle(fs *pflag.FlagSet) {
	fs.StringVar(&f.units, "units", "si", "units on the sheets: si or us")
	fs.StringVar(&f.paper, "paper", "a4", "paper of the sheets: a4 or letter")
	fs.StringVar(&f.wall, "wall", "one", "wall sheet: on one page of twice the paper, or on two of it, four fifths as large: one or two")
	fs.StringVar(&f.language, "language", "en", "language of the sheets: "+strings.Join(words.Codes(), " or "))
	fs.StringVar(&f.ink, "ink", "colour", "ink of the sheets: colour, or black for hatches and letters alone")
}

var quantity = regexp.MustCompile(`^\s*([0-9]*[.,]?[0-9]+)\s*([a-zA-Z]*)\s*$`)

// grouped is a number of which a comma may part thousands or decimals.
var grouped = regexp.MustCompile(`^\s*[0-9]{1,3},[0-9]{3}\s*[a-zA-Z]*\s*$`)

// measure reads a number with a unit; units maps unit to factor, "" is the default unit.
func measure(name, s string, units map[string]float64, lo, hi float64) (float64, error) {
	if grouped.MatchString(s) {
		return 0, fmt.Errorf("--%s %q: a comma before three digits may mean thousands; write it with a point, or without", name, short(s))
	}
	m := quantity.FindStringSubmatch(s)
	if m == nil {
		return 0, fmt.Errorf("--%s %q is not a number with a unit", name, short(s))
	}
	k, ok := units[strings.ToLower(m[2])]
	if !ok {
		return 0, fmt.Errorf("--%s %q: unit %q is not known", name, short(s), short(m[2]))
	}
	v, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
	if err != nil || math.IsInf(v, 0) || v*k < lo || v*k > hi {
		return 0, fmt.Errorf("--%s %s is out of range: %g to %g %s", name, short(s), lo, hi,
			map[bool]string{true: "mm", false: "g"}[units["mm"] > 0])
	}
	return v * k, nil
}

// short cuts what was given to a length that can be read.
func short(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "..."
	}
	return s
}

var lengths = map[string]float64{"": 1, "mm": 1, "cm": 10, "m": 1000, "in": 25.4}
var weights = map[string]float64{"": 1, "g": 1, "kg": 1000, "oz": 28.349523125, "lb": 453.59237}

// options for a drawing turns the flags into the planner's options and the sheets' style.
func (f *flags) options(drawing string) (planner.Options, sheet.Style, error) {
	st, err := f.style()
	o := planner.Options{Faces: f.faces}
	if err != nil {
		return o, st, err
	}
	ord, err := f.order()
	if err != nil {
		return o, st, err
	}
	if o.Shop, err = f.shop(); err != nil {
		return o, st, err
	}
	if f.jobFile != "" {
		if o.Job, err = readJob(f.jobFile, o.Shop, drawing); err != nil {
			return o, st, err
		}
		if o.Job.Asked() && (ord.LengthMM > 0 || ord.WeightG > 0 || ord.Pieces > 0) {
			return o, st, fmt.Errorf(
				"how much is wanted is said in %s and on the command line; allowed is one of the two", f.jobFile)
		}
	}
	if ord.Pieces > 0 { // as in the order's file
		if ord.LengthMM > 0 || ord.WeightG > 0 {
			return o, st, size.ErrOrder
		}
		o.Job, ord.Pieces = o.Job.OfPieces(ord.Pieces), 0
	}
	o.Order = ord.Completed(o.Job)
	if f.crew != 0 {
		if f.crew < 1 || f.crew > 4 {
			return o, st, fmt.Errorf("--crew %d is out of range: 1 to 4", f.crew)
		}
		o.Shop.Crew = f.crew
	}
	if err = f.picture(&o); err == nil {
		f.mixed(&o, drawing)
	}
	return o, st, err
}

// order reads the flags of what is ordered.
func (f *flags) order() (o size.Order, err error) {
	read := func(dst *float64, name, s string, units map[string]float64, lo, hi float64) {
		if s != "" && err == nil {
			*dst, err = measure(name, s, units, lo, hi)
		}
	}
	read(&o.PieceMM, "piece", f.piece, lengths, 5, 60)
	read(&o.CutMM, "cut", f.cut, lengths, 2, 300)
	read(&o.LengthMM, "length", f.length, lengths, 50, 3000)
	read(&o.LogMM, "log", f.log, lengths, 30, 400)
	read(&o.WeightG, "weight", f.weight, weights, 50, 100_000)
	if err == nil && (f.pieces < 0 || f.pieces > 1_000_000) {
		err = fmt.Errorf("--pieces %d is out of range: 1 to 1000000", f.pieces)
	}
	o.Pieces = f.pieces
	return o, err
}

// picture reads the flags of how the drawing is placed, and the colours round it.
func (f *flags) picture(o *planner.Options) error {
	if f.place != "" && f.place != "page" && f.place != "drawing" {
		return fmt.Errorf("--place is page or drawing, not %q", f.place)
	}
	o.Place = intake.Place(f.place)
	read, err := f.reading.options()
	if err != nil {
		return err
	}
	o.Shades, o.Trace = read.Shades, read.Trace
	var ok bool
	if o.Ground, ok = artwork.ParseColour(f.ground); !ok {
		return fmt.Errorf("--ground %q is not a colour", f.ground)
	}
	o.Jacket = o.Ground
	if o.JacketAsked = f.jacket != ""; o.JacketAsked {
		if o.Jacket, ok = artwork.ParseColour(f.jacket); !ok {
			return fmt.Errorf("--jacket %q is not a colour", f.jacket)
		}
	}
	return nil
}

// style reads the flags of how sheets are printed.
func (f *flags) style() (st sheet.Style, err error) {
	var ok bool
	if st.Paper, ok = sheet.Papers[strings.ToLower(f.paper)]; !ok {
		return st, fmt.Errorf("--paper is a4 or letter, not %q", f.paper)
	}
	if f.wall != "one" && f.wall != "two" {
		return st, fmt.Errorf("--wall is one or two, not %q", f.wall)
	}
	st.Split = f.wall == "two"
	if f.units != "si" && f.units != "us" {
		return st, fmt.Errorf("--units is si or us, not %q", f.units)
	}
	st.US = f.units == "us"
	if st.Words, ok = words.In(f.language); !ok {
		return st, fmt.Errorf("--language is %s, not %q", strings.Join(words.Codes(), " or "), f.language)
	}
	if f.ink != "colour" && f.ink != "black" {
		return st, fmt.Errorf("--ink is colour or black, not %q", f.ink)
	}
	st.Black = f.ink == "black"
	return st, nil
}
