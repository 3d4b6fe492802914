package plan

import "reflect"

// Verdict says whether a drawing can be made, and what stands in the way.
type Verdict string

// The verdicts. Simplify and NotBuildable speak of the drawing; ShopLimit of the shop as it is set (too cold, too few
// hands); OurLimit of this program, which gave up.
const (
	AsDrawn      Verdict = "as-drawn"
	Simplify     Verdict = "simplify"
	NotBuildable Verdict = "not-buildable"
	ShopLimit    Verdict = "shop-limit"
	OurLimit     Verdict = "our-limit"
)

// Kind is what a part is for.
type Kind string

// The kinds: a subject has any colour but the ground's; a spacer is ground that is laid or bent; ground is wrapped.
const (
	Subject Kind = "subject"
	Spacer  Kind = "spacer"
	Ground  Kind = "ground"
	Jacket  Kind = "jacket"
)

// Form is the bar that a part is made from.
type Form string

// The forms.
const (
	Rod      Form = "rod"
	Bar      Form = "bar"
	Strip    Form = "strip"
	Oval     Form = "oval"
	Segment  Form = "segment"
	Wedge    Form = "wedge"
	Triangle Form = "triangle"
	FlatRod  Form = "flat-rod"
	Leaf     Form = "leaf"
	Tapered  Form = "tapered-strip"
	Teardrop Form = "teardrop"
	Wrap     Form = "wrap"
)

// Operation is what is done to the bar.
type Operation string

// The operations; Bow presses a side onto a round or rolls it round, Follow bends a strip along what it lies on.
const (
	NoOperation Operation = "none"
	Bow         Operation = "bow"
	CutEdge     Operation = "cut"
	Groove      Operation = "groove"
	Grooves     Operation = "grooves"
	BendOnce    Operation = "bend"
	BendTwice   Operation = "bend-twice"
	Follow      Operation = "follow"
)

// FitClass says who makes a part so: all; all, and press it into place; a filler of ground, pressed in between firm parts;
// a wrap that closes round everything takes any outline.
type FitClass string

// The classes.
const (
	PlainClass   FitClass = "plain"
	CloseClass   FitClass = "close"
	PressedClass FitClass = "pressed"
	ClosingClass FitClass = "closing"
)

// How is the way in which a part comes to its place.
type How string

// The moves of the lay-up.
const (
	First    How = "first"
	Lay      How = "lay"
	Bend     How = "bend"
	WrapOn   How = "wrap"
	RollInto How = "roll"
	FoldUp   How = "fold"
)

// Stands is how what lies there stands after a move: by itself; on tack, for a minute; with a prop; with both.
type Stands string

// The ways of standing.
const (
	StandsFree Stands = "free"
	Tacked     Stands = "tacked"
	Propped    Stands = "propped"
	Held       Stands = "held"
)

// Do is what a step of the work does.
type Do string

// The steps. Lay, bend, wrap and roll carry out one entry of the lay-up; first is done as lay.
const (
	DoPour    Do = "pour"
	DoFlavour Do = "flavour"
	DoTurnIn  Do = "turn-in"
	DoDivide  Do = "divide"
	DoColour  Do = "colour"
	DoPull    Do = "pull"
	DoKeep    Do = "keep"
	DoMake    Do = "make"
	DoChop    Do = "chop"
	DoLay     Do = "lay"
	DoBend    Do = "bend"
	DoFold    Do = "fold"
	DoWrap    Do = "wrap"
	DoRoll    Do = "roll"
	DoTurn    Do = "turn"
	DoRound   Do = "round"
	DoDraw    Do = "draw"
	DoLengths Do = "lengths"
	DoCut     Do = "cut"
	DoPack    Do = "pack"
)

// MilestoneKey names a milestone of the work.
type MilestoneKey string

// The milestones, in their order.
const (
	Poured      MilestoneKey = "poured"
	CutApart    MilestoneKey = "cut-apart"
	Kneaded     MilestoneKey = "colours-kneaded"
	OffTheHook  MilestoneKey = "off-the-hook"
	FirstLaid   MilestoneKey = "first-part-laid"
	PictureLaid MilestoneKey = "last-colour-laid"
	Closed      MilestoneKey = "closed"
	Rounded     MilestoneKey = "round"
	FirstLength MilestoneKey = "first-length"
	LastLength  MilestoneKey = "last-length"
)

// Finish is how sugar of a colour is worked.
type Finish string

// Finishes.
const (
	Clear  Finish = "clear"
	Pulled Finish = "pulled"
)

// ShadeFrom says how the shop's colour for a colour of the drawing was chosen.
type ShadeFrom string

// The ways: no stock is entered, so the drawing's own colour stands; the maker's mapping; the client's wish; the
// nearest one of the stock; a mix of the stock.
const (
	ByRule  ShadeFrom = "rule"
	Mapped  ShadeFrom = "mapped"
	Wanted  ShadeFrom = "wanted"
	Nearest ShadeFrom = "nearest"
	Mixed   ShadeFrom = "mixed"
)

// TgFrom says where the glass transition comes from. All but the lump test are guesses.
type TgFrom string

// Sources of the glass transition, the best first.
const (
	FromLumpTest TgFrom = "lump test"
	FromSetting  TgFrom = "setting"
	FromMoisture TgFrom = "moisture"
	FromBoil     TgFrom = "end of boil"
	FromDefault  TgFrom = "default"
)

// ShortcutDo is what a shortcut does with a part.
type ShortcutDo string

// Shortcuts: two parts of one colour made as one; a part left out, its neighbour taking its place.
const (
	Merge    ShortcutDo = "merge"
	LeaveOut ShortcutDo = "leave-out"
)

// ChangeKind is what simplifying did in one place.
type ChangeKind string

// The kinds of change.
const (
	Bolder  ChangeKind = "bolder"
	LeftOut ChangeKind = "left-out"
	Larger  ChangeKind = "larger"
	Merged  ChangeKind = "merged"
	Plainer ChangeKind = "plainer"
	Even    ChangeKind = "symmetric"

	// What reading did, before anything was simplified
	ShadeFlat    ChangeKind = "shade-flat"
	ShadesFlat   ChangeKind = "shades-flat" // of several small shapes
	ShadesFew    ChangeKind = "shades-in-few"
	PatternFlat  ChangeKind = "pattern-flat"
	EffectOut    ChangeKind = "effect-left-out"
	BlurSharp    ChangeKind = "blur-sharp"
	ShineOut     ChangeKind = "shine-left-out"
	TracedPixels ChangeKind = "traced"
	TextSet      ChangeKind = "text-set"
	ForeignOut   ChangeKind = "foreign-left-out"
)

// Reading tells whether a change was made while the drawing was read.
func (k ChangeKind) Reading() bool {
	switch k {
	case Bolder, LeftOut, Larger, Merged, Plainer, Even:
		return false
	}
	return true
}

// LeftUse is what becomes of a leftover of one colour.
type LeftUse string

// Uses of a leftover: plain sticks of its colour, a stripe in the jacket, part of the jacket of its own colour, kept
// covered.
const (
	UseSweets LeftUse = "sweets"
	UseStripe LeftUse = "stripe"
	UseJacket LeftUse = "jacket"
	UseCover  LeftUse = "cover"
)

// Severity of a finding; an error refuses the drawing.
type Severity string

// Class says whose a finding is.
type Class string

// BalanceKey names a line of the ledger; what is folded in has a negative Off.
type BalanceKey string

// DoseRule is how the law limits an additive, as package law has it.
type DoseRule string

// CostKey names a line of the price, or what makes it grow.
type CostKey string

// WarningKey names a warning of the label.
type WarningKey string

// IngredientKey names a kind of ingredient.
type IngredientKey string

// enums lists the words of each type, for the schema.
var enums = map[reflect.Type][]string{
	reflect.TypeFor[Verdict](): {"as-drawn", "simplify", "not-buildable", "shop-limit", "our-limit"},
	reflect.TypeFor[Kind]():    {"subject", "spacer", "ground", "jacket"},
	reflect.TypeFor[Form](): {"rod", "bar", "strip", "oval", "segment", "wedge", "triangle", "flat-rod", "leaf",
		"tapered-strip", "teardrop", "wrap"},
	reflect.TypeFor[Operation](): {"none", "bow", "cut", "groove", "grooves", "bend", "bend-twice", "follow"},
	reflect.TypeFor[FitClass]():  {"plain", "close", "pressed", "closing"},
	reflect.TypeFor[How]():       {"first", "lay", "bend", "wrap", "roll", "fold"},
	reflect.TypeFor[Stands]():    {"free", "tacked", "propped", "held"},
	reflect.TypeFor[Do](): {
		"pour",
		"flavour",
		"turn-in",
		"divide",
		"colour",
		"pull",
		"keep",
		"make",
		"chop",
		"lay",
		"bend",
		"fold",
		"wrap",
		"roll",
		"turn",
		"round",
		"draw",
		"lengths",
		"cut",
		"pack",
	},
	reflect.TypeFor[MilestoneKey](): {"poured", "cut-apart", "colours-kneaded", "off-the-hook", "first-part-laid",
		"last-colour-laid", "closed", "round", "first-length", "last-length"},
	reflect.TypeFor[Finish]():        {"clear", "pulled"},
	reflect.TypeFor[ShadeFrom]():     {"rule", "mapped", "wanted", "nearest", "mixed"},
	reflect.TypeFor[TgFrom]():        {"lump test", "setting", "moisture", "end of boil", "default"},
	reflect.TypeFor[ShortcutDo]():    {"merge", "leave-out"},
	reflect.TypeFor[ChangeKind]():    {"bolder", "left-out", "larger", "merged", "plainer", "symmetric", "shade-flat", "shades-flat", "pattern-flat", "effect-left-out", "blur-sharp", "shine-left-out", "traced", "text-set", "foreign-left-out", "shades-in-few"},
	reflect.TypeFor[LeftUse]():       {"sweets", "stripe", "jacket", "cover"},
	reflect.TypeFor[Severity]():      {"note", "warning", "error"},
	reflect.TypeFor[Class]():         {"drawing", "order", "shop", "program"},
	reflect.TypeFor[BalanceKey]():    {"pan", "steam", "folded", "sticks", "spare", "trim", "ends", "bits", "extra"},
	reflect.TypeFor[DoseRule]():      {"most", "group", "as-needed", "forbidden", "unlisted", "no-market"},
	reflect.TypeFor[CostKey]():       {"work", "materials", "packs", "order", "log", "colour", "part"},
	reflect.TypeFor[WarningKey]():    {"choking", "children"},
	reflect.TypeFor[IngredientKey](): {"sugar", "syrup", "acid", "flavour", "colour", "dusting"},
}
