// Package intake turns an artwork and an order into a section at log scale: how wide the log is, where the picture lies
// in it, and the map of its regions.
//
// Guarantees: widths in the map are those in the log; the picture lies inside the picture circle, or a finding says
// that it does not.
package intake

import (
	"errors"
	"fmt"
	"math"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/finding"
	"sugarwright/geom/partition"
	"sugarwright/geom/steps"
	"sugarwright/planner/job"
	"sugarwright/planner/order"
	"sugarwright/planner/shop"
	"sugarwright/planner/size"
)

// ErrSize is a log that cannot hold picture and jacket.
var ErrSize = errors.New("the log is too small for picture and jacket")

// Place says how the drawing is put into the picture circle.
type Place string

// Auto takes the smallest circle round the drawing, as Drawing does; Page the circle inscribed in the page.
const (
	Auto    Place = ""
	Page    Place = "page"
	Drawing Place = "drawing"
)

// FlattenMM keeps flattened curves so near to the curve that two samplings of one arc are congruent.
const FlattenMM = 0.015

// SliverMM is the width below which a cell between two outlines counts as a sliver.
const SliverMM = 0.02

// SpeckMM2 is the area below which a cell is nobody's part: a fiftieth of a square millimetre on the piece at a draw of
// 10; tuned. In a log thinner than speckLogMM it is less by as much as the log's section is.
const (
	SpeckMM2   = 2
	speckLogMM = 150
)

// mostRegions of one colour on the whole canvas, or a drawing is not divided again in the picture circle: the largest of
// the open drawings has 74.
const mostRegions = 50_000

// touchMM keeps a drawing that is scaled to the picture circle off the circle's own polygon.
const touchMM = 0.05

// Settings are how a drawing is placed and sampled.
type Settings struct {
	Place          Place
	Ground, Jacket artwork.RGB
	FlattenMM      float64 // 0: FlattenMM
	Refused        bool    // the reader found an error already: an empty picture says nothing more
	Asked          bool    // the jacket is wanted though its colour is the ground's
}

// Diameter is the log's, in millimetres, from the order before the section is known.
func Diameter(o size.Order, j *job.Job, s *shop.Shop) (mm float64, found finding.List, err error) {
	full := math.Pi / 4 * s.LargestMM * s.LargestMM * order.GuessDensity / 1000
	one, _, err := order.PerLog(o, j, s, s.LargestMM, full)
	if err != nil { // the order is judged again when the piece's mass is known
		one = o
	}
	if mm, err = one.Diameter(s.LargestMM, order.GuessDensity, s.EndLoss); err != nil {
		return 0, nil, err
	}
	if mm > s.LargestMM+1e-9 {
		found.Add(finding.New(finding.OverLargest, finding.Warning, mm, s.LargestMM).In("diameter"))
	}
	return mm, found, nil
}

// Section is the map of a drawing in a log so wide. The map is nil where a finding refuses the drawing; an error is a
// log that cannot hold the picture, or our own fault.
func Section(
	art *artwork.Artwork,
	diameterMM float64,
	s *shop.Shop,
	set Settings,
) (*partition.Map, finding.List, error) {
	r := reader{art: art, shop: s, set: set, radius: diameterMM / 2, fill: s.Fill}
	m, err := r.section()
	for i, a := range art.Altered {
		f := a.Finding(i + 1)
		if m != nil {
			f = f.At(m.Frame.ToTrue.Point(a.At[0]))
		}
		r.found.Add(f)
	}
	if much := (*partition.TooMuch)(nil); errors.As(err, &much) {
		r.found.Add(much.Finding())
		return nil, r.found, nil
	}
	return m, r.found, err
}

// reader is what placing one drawing needs.
type reader struct {
	art    *artwork.Artwork
	shop   *shop.Shop
	set    Settings
	radius float64 // of the log
	fill   float64 // the picture circle over the log
	found  finding.List
}

// frame of the section, for a given transform.
func (r *reader) frame(to geom.ToTrue) partition.Frame {
	flatten := FlattenMM
	if r.set.FlattenMM > 0 {
		flatten = r.set.FlattenMM
	}
	return partition.Frame{
		ToTrue:        to,
		LogRadius:     r.radius,
		JacketRadius:  r.jacketRadius(),
		PictureRadius: r.radius * r.fill,
		Ground:        r.set.Ground,
		Jacket:        r.set.Jacket,
		LikeDE2000:    r.shop.LikeDE2000,
		SliverMM:      SliverMM,
		SpeckMM2:      SpeckMM2 * math.Min(1, math.Pow(2*r.radius/speckLogMM, 2)),
		FlattenMM:     flatten,
	}
}

// jacketRadius is the jacket's inner radius: the log's where it would be a second sheet of the ground's colour.
func (r *reader) jacketRadius() float64 {
	if r.set.Jacket == r.set.Ground && !r.set.Asked {
		return r.radius
	}
	return r.radius - r.shop.JacketMM
}

// rimFill is how much of the face a picture fills that has a rim of its own: no more than leaves one sheet round it.
const rimFill = 0.9

// rimmed tells whether the picture has a rim of its own: one region whose outline is round fills its circle.
func rimmed(all *partition.Map, c geom.Circle[geom.TruePoint]) bool {
	for _, g := range all.Regions {
		if g.Colour != 0 && g.Shape.Filled().Area() > 0.97*math.Pi*c.Radius*c.Radius {
			return true
		}
	}
	return false
}

// section looks at the whole canvas for what is painted, settles where the picture circle lies, and reads the drawing
// there.
func (r *reader) section() (*partition.Map, error) {
	f := r.frame(geom.ToTrue{})
	if f.JacketRadius <= f.PictureRadius {
		least := 2 * r.shop.JacketMM / (1 - r.fill)
		return nil, fmt.Errorf("%w: %.0f mm across, more than %.0f are needed; order more, or give --log", ErrSize,
			2*r.radius, least)
	}
	f.ToTrue, f.KeepWholeCanvas, f.SpeckMM2 = partition.Whole(r.art, f.PictureRadius), true, 0
	all, _, err := partition.Of(r.art, f)
	if err != nil {
		return nil, err
	}
	subject := all.Subject()
	if len(subject) == 0 {
		if !r.set.Refused {
			r.found.Add(finding.New(nothing(r.art), finding.Error))
		}
		return nil, nil
	}
	if n := len(all.Regions); n > mostRegions {
		return nil, &partition.TooMuch{Bound: "regions", Values: []any{n, mostRegions}, Source: all.Regions[n-1].Source}
	}
	c := geom.SmallestCircle(subject)
	if r.set.Place != Page && rimmed(all, c) {
		room := (r.jacketRadius() - 1.05*r.shop.ThinnestWrapMM) / r.radius
		r.fill = math.Max(r.fill, math.Min(rimFill, room))
	}
	m, found, err := partition.Of(r.art, r.frame(r.placed(f, subject, c)))
	if err != nil {
		return nil, err
	}
	r.found.Add(found...)
	return m, nil
}

// nothing is why there is no picture.
func nothing(art *artwork.Artwork) finding.Code {
	if art.Painted() {
		return finding.OneColour
	}
	return finding.NoPaint
}

// placed puts the smallest circle round the drawing onto the picture circle; or the page's, where the client wants it
// as it stands on the page. subject are the points of what is painted, in the frame of the whole canvas, c is their
// circle.
func (r *reader) placed(f partition.Frame, subject []geom.TruePoint, c geom.Circle[geom.TruePoint]) geom.ToTrue {
	v := r.art.Page.View
	centre := geom.ArtworkPoint{v.X + v.W/2, v.Y + v.H/2}
	page := geom.Circle[geom.ArtworkPoint]{Centre: centre, Radius: math.Min(v.W, v.H) / 2}
	drawing := geom.Circle[geom.ArtworkPoint]{Centre: f.ToTrue.Artwork(c.Centre), Radius: c.Radius / f.ToTrue[0]}
	picture := r.radius * r.fill
	if r.set.Place == Page {
		for _, p := range subject {
			if geom.Dist(f.ToTrue.Artwork(p), page.Centre) > page.Radius*1.0005 {
				r.found.Add(finding.New(finding.BeyondPicture, finding.Error))
				break
			}
		}
		return partition.Around(page, picture)
	}
	if drawn := r.fill * drawing.Radius / page.Radius; math.Abs(drawn-r.fill) > saidFill {
		r.found.Add(finding.New(finding.PlacedDrawing, finding.Note, 100*r.fill, 100*drawn))
	}
	return partition.Around(drawing, picture-touchMM)
}

// saidFill is by how much a drawing must be scaled for it to be said.
const saidFill = 0.02

// Canvas reads a drawing in its own frame, for those who want to see what was understood. The map is nil where a bound
// was hit or nothing was read.
func Canvas(data []byte, o steps.Options) (*artwork.Artwork, *partition.Map, finding.List, error) {
	art, found, err := steps.Read(data, o)
	if err != nil || found.Has(finding.TooMuch) { // what was read is not all of it
		return art, nil, found, err
	}
	m, more, err := partition.Canvas(art, o.Ground)
	found.Add(more...)
	for i, a := range art.Altered {
		found.Add(a.Finding(i + 1))
	}
	if much := (*partition.TooMuch)(nil); errors.As(err, &much) {
		return art, nil, append(found, much.Finding()), nil
	}
	if err == nil && len(m.Subject()) == 0 {
		if !found.Refuses() {
			found.Add(finding.New(nothing(art), finding.Error))
		}
		m = nil
	}
	return art, m, found, err
}
