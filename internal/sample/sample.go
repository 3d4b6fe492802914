// Package sample makes small hand-made values of the stages, for tests: a round picture in a log of 150 mm, cut by hand.
package sample

import (
	"testing"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
	"sugarwright/geom/partition"
	"sugarwright/planner/build"
	"sugarwright/planner/intake"
	"sugarwright/planner/palette"
	"sugarwright/planner/pile"
	"sugarwright/planner/recipe"
	"sugarwright/planner/section"
	"sugarwright/planner/set"
	"sugarwright/planner/shop"
	"sugarwright/planner/windows"
	"sugarwright/planner/work"
)

// DiameterMM of the log.
const DiameterMM = 150

// LengthMM of the log.
const LengthMM = 400

// SVG is a drawing of 200 by 200 with something inside.
func SVG(inside string) []byte {
	return []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">` + inside + `</svg>`)
}

// Map of a drawing.
func Map(t testing.TB, inside string) *partition.Map {
	t.Helper()
	art, found, err := artwork.Parse(SVG(inside))
	if err != nil || found.Refuses() {
		t.Fatal(err, found)
	}
	white := artwork.RGB{255, 255, 255}
	s := shop.Default()
	s.Fill = 0.75 // of a page of 200 units: one is 0.5625 mm in the log
	m, found, err := intake.Section(art, DiameterMM, s,
		intake.Settings{Ground: white, Jacket: white, Place: intake.Page, Asked: true})
	if err != nil || m == nil {
		t.Fatal(err, found)
	}
	return m
}

// Log is a picture of one disc in two halves, a wrap and the jacket, put together by hand.
type Log struct {
	Map     *partition.Map
	Shop    *shop.Shop
	Palette *palette.Palette
	Set     *set.Set
	Build   *build.Build
}

// Disc is a red disc, 45 mm in the log.
const Disc = `<circle cx="100" cy="100" r="40" fill="#c02030"/>`

// Halves is the disc in two halves that are laid side by side, with the wrap and the jacket round them.
func Halves(t testing.TB) *Log {
	t.Helper()
	m := Map(t, Disc)
	l := &Log{Map: m, Shop: shop.Default(), Set: &set.Set{Proved: true}}
	var err error
	if l.Palette, err = palette.Of(m, l.Shop, nil, true); err != nil {
		t.Fatal(err)
	}
	add := func(kind set.Kind, colour int, shape geom.Region[geom.TruePoint]) {
		l.Set.Elements = append(l.Set.Elements, set.Element{Kind: kind, Colour: colour, True: shape,
			Fit: recipe.Best(shape, false, l.Shop.Least(), recipe.Quick), CopyOf: -1, Number: len(l.Set.Elements) + 1})
	}
	var rest []partition.Region
	for _, r := range m.Regions {
		if r.Colour == 0 {
			rest = append(rest, r)
			continue
		}
		for _, half := range halves(r.Shape[0]) {
			add(set.Subject, r.Colour, geom.Region[geom.TruePoint]{half})
		}
	}
	for _, jacket := range []bool{false, true} {
		for _, r := range rest {
			if r.Jacket == jacket {
				add(map[bool]set.Kind{false: set.Ground, true: set.Jacket}[jacket], r.Colour, r.Shape)
			}
		}
	}
	log := set.Block{}
	var entries []build.Entry
	for i, e := range l.Set.Elements {
		log.Elements = append(log.Elements, i)
		entry := build.Entry{Part: build.Part{Element: i, Block: -1}, Move: build.Wrap}
		switch {
		case i == 0:
			entry.Move = build.First
		case e.Kind == set.Subject:
			entry.Move, entry.Direction = build.Lay, geom.Vec{-1, 0}
		}
		entries = append(entries, entry)
	}
	outer := l.Set.Elements[len(l.Set.Elements)-1].True
	log.Outline = outer[:1]
	l.Set.Blocks = []set.Block{log}
	l.Build = &build.Build{Blocks: [][]build.Entry{entries}}
	return l
}

// Ringed is a disc with a ring of another colour round it, wrapped on: a block of its own, in the ground's wrap and the jacket.
func Ringed(t testing.TB) *Log {
	t.Helper()
	m := Map(t, `<circle cx="100" cy="100" r="44" fill="#2040a0"/><circle cx="100" cy="100" r="30" fill="#c02030"/>`)
	l := &Log{Map: m, Shop: shop.Default(), Set: &set.Set{}, Build: &build.Build{}}
	var err error
	if l.Palette, err = palette.Of(m, l.Shop, nil, true); err != nil {
		t.Fatal(err)
	}
	var subject, rest []partition.Region
	for _, r := range m.Regions {
		switch {
		case r.Colour == 0 && r.Jacket:
			rest = append(rest, r)
		case r.Colour == 0:
			rest = append([]partition.Region{r}, rest...)
		case len(r.Shape) == 1:
			subject = append([]partition.Region{r}, subject...)
		default:
			subject = append(subject, r)
		}
	}
	blocks := [][]partition.Region{subject, rest}
	for b, regions := range blocks {
		blk := set.Block{}
		var entries []build.Entry
		if b == 1 {
			blk.Blocks = []int{0}
			entries = append(entries, build.Entry{Part: build.Part{Element: -1, Block: 0}, Move: build.First})
		}
		for _, r := range regions {
			n := len(l.Set.Elements)
			kind := []set.Kind{set.Subject, set.Ground}[b]
			if r.Jacket {
				kind = set.Jacket
			}
			l.Set.Elements = append(l.Set.Elements, set.Element{Kind: kind, Colour: r.Colour, Block: b, True: r.Shape,
				Fit: recipe.Best(r.Shape, r.Colour == 0, l.Shop.Least(), recipe.Quick), CopyOf: -1, Number: n + 1})
			blk.Elements = append(blk.Elements, n)
			entry := build.Entry{Part: build.Part{Element: n, Block: -1}, Move: build.Wrap}
			if len(entries) == 0 {
				entry.Move = build.First
			}
			entries = append(entries, entry)
			blk.Outline = r.Shape[:1]
		}
		l.Set.Blocks = append(l.Set.Blocks, blk)
		l.Build.Blocks = append(l.Build.Blocks, entries)
	}
	return l
}

// Pair is two equal discs, each in two halves that are a block of their own: the second block is made with the first. What lies between the
// discs and the jacket is one part that is laid on, which no hands would make: it is for tests of what goes with blocks.
func Pair(t testing.TB) *Log {
	t.Helper()
	m := Map(t, `<circle cx="60" cy="100" r="24" fill="#c02030"/><circle cx="140" cy="100" r="24" fill="#c02030"/>`)
	l := &Log{Map: m, Shop: shop.Default(), Set: &set.Set{}}
	var err error
	if l.Palette, err = palette.Of(m, l.Shop, nil, true); err != nil {
		t.Fatal(err)
	}
	log := set.Block{}
	var last []build.Entry
	for _, r := range m.Regions {
		if r.Colour == 0 {
			continue
		}
		b := set.Block{Outline: r.Shape}
		var entries []build.Entry
		for k, half := range halves(r.Shape[0]) {
			n := len(l.Set.Elements)
			e := set.Element{Kind: set.Subject, Colour: r.Colour, Block: len(l.Set.Blocks), True: geom.Region[geom.TruePoint]{half}, CopyOf: -1, Number: k + 1}
			if e.Fit = recipe.Best(e.True, false, l.Shop.Least(), recipe.Quick); n >= 2 {
				e.CopyOf = n - 2
			}
			l.Set.Elements = append(l.Set.Elements, e)
			b.Elements = append(b.Elements, n)
			entry := build.Entry{Part: build.Part{Element: n, Block: -1}, Move: build.First}
			if k == 1 {
				entry.Move, entry.Direction = build.Lay, geom.Vec{-1, 0}
			}
			entries = append(entries, entry)
		}
		entry := build.Entry{Part: build.Part{Element: -1, Block: len(l.Set.Blocks)}, Move: build.First}
		if len(last) > 0 {
			entry.Move, entry.Direction = build.Lay, geom.Vec{-1, 0}
		}
		last = append(last, entry)
		log.Blocks = append(log.Blocks, len(l.Set.Blocks))
		l.Set.Blocks = append(l.Set.Blocks, b)
		if l.Build == nil {
			l.Build = &build.Build{}
		}
		l.Build.Blocks = append(l.Build.Blocks, entries)
	}
	for _, r := range m.Regions {
		if r.Colour != 0 {
			continue
		}
		kind := set.Ground
		if r.Jacket {
			kind = set.Jacket
		}
		n := len(l.Set.Elements)
		l.Set.Elements = append(l.Set.Elements, set.Element{Kind: kind, Block: len(l.Set.Blocks), True: r.Shape,
			Fit: recipe.Fit{Recipe: recipe.Recipe{Base: recipe.Sheet, Size: [4]float64{300, 10}}, Found: true}, CopyOf: -1, Number: n - 1})
		log.Elements = append(log.Elements, n)
		last = append(last, build.Entry{Part: build.Part{Element: n, Block: -1}, Move: build.Wrap})
		log.Outline = r.Shape[:1]
	}
	l.Set.Blocks = append(l.Set.Blocks, log)
	l.Build.Blocks = append(l.Build.Blocks, last)
	return l
}

// halves of a convex ring, cut through its highest and its lowest vertex: the left one first.
func halves(r geom.Ring[geom.TruePoint]) [2]geom.Ring[geom.TruePoint] {
	top, bottom := 0, 0
	for i, p := range r {
		if p[1] > r[top][1] {
			top = i
		}
		if p[1] < r[bottom][1] {
			bottom = i
		}
	}
	chain := func(from, to int) (out geom.Ring[geom.TruePoint]) {
		for i := from; ; i = (i + 1) % len(r) {
			if out = append(out, r[i]); i == to {
				return out
			}
		}
	}
	return [2]geom.Ring[geom.TruePoint]{chain(top, bottom), chain(bottom, top)}
}

// Windows of the parts.
func (l *Log) Windows(t testing.TB) *windows.Windows {
	t.Helper()
	w, found := windows.Of(l.Set, l.Shop, LengthMM)
	if found.Refuses() {
		t.Fatal(found)
	}
	return w
}

// Work is the steps on the clock.
func (l *Log) Work(t testing.TB) *work.Work {
	t.Helper()
	w, found, err := work.Of(l.Task(t), nil)
	if err != nil || w == nil {
		t.Fatal(err, found)
	}
	return w
}

// Task of the work.
func (l *Log) Task(t testing.TB) work.Task {
	return work.Task{Set: l.Set, Build: l.Build, Windows: l.Windows(t), Map: l.Map, Palette: l.Palette, Shop: l.Shop, LengthMM: LengthMM, StickMM: 15, Pieces: 3000}
}

// Kitchen while the log is laid.
func (l *Log) Kitchen(t testing.TB) pile.Kitchen {
	t.Helper()
	return pile.Kitchen{Set: l.Set, Palette: l.Palette, Windows: l.Windows(t), Section: section.Log(l.Set, DiameterMM/2),
		Timing: l.Work(t).Timing, Shop: l.Shop}
}
