package finding

// Code names a kind of finding. Codes are only ever added.
type Code string

// Class says whose a finding is: what must change for it to go.
type Class string

// The classes.
const (
	Drawing Class = "drawing"
	Order   Class = "order"
	Shop    Class = "shop"
	Program Class = "program" // a limit of this program, never a fault of the drawing
)

// Reason is what a client is told of a finding; several codes share one.
type Reason string

// The reasons.
const (
	NotUnderstood Reason = "not-understood"
	Photo         Reason = "photo"
	PictureAway   Reason = "picture-away"
	Lettering     Reason = "lettering"
	NoPicture     Reason = "no-picture"
	NoSize        Reason = "no-size"
	FineLines     Reason = "fine-lines"
	NarrowGaps    Reason = "narrow-gaps"
	Specks        Reason = "specks"
	ManyParts     Reason = "many-parts"
	Shapes        Reason = "shapes"
	Warmth        Reason = "warmth"
)

// About is what is known of a code.
type About struct {
	Class    Class
	Simpler  bool   // as an error: a simpler drawing may pass, so simplifying is worth a try
	Reading  bool   // said of what was sent, and true of whatever is drawn from it
	Hopeless bool   // as an error: no change of the drawing leads to a picture
	Reason   Reason // for the client
	// The smallest artwork that gives it, inside <svg viewBox="0 0 200 200">, or the circumstance; a file of
	// testdata/errors has it whole
	Smallest string
}

// Reading the artwork.
const (
	NoPaint        Code = "no-paint"
	TextInArtwork  Code = "text"
	ImageInArtwork Code = "image"
	Unsupported    Code = "unsupported"
	BadValue       Code = "bad-value"
	BadPath        Code = "bad-path"
	BadReference   Code = "bad-reference"
	BadTransform   Code = "bad-transform"
	Gradient       Code = "gradient"
	Translucent    Code = "translucent"
	OffTheGrid     Code = "off-the-grid"
	TooMuch        Code = "too-much"
	Traced         Code = "traced"
	FewPixels      Code = "few-pixels"
	NearColours    Code = "near-colours"
	FirstPage      Code = "first-page"
	UnevenLight    Code = "uneven-light"
	ShadeFlat      Code = "shade-flat"
	TextSet        Code = "text-set"
	EffectDropped  Code = "effect-left-out"
	PlacedDrawing  Code = "placed-drawing"
	BeyondPicture  Code = "beyond-picture"
	LikeColours    Code = "like-colours"
	SliversMoved   Code = "slivers"
)

// Checking against the shop.
const (
	TooThin        Code = "too-thin"
	ThinNote       Code = "thin-note"
	GapTooThin     Code = "gap-too-thin"
	CounterCloses  Code = "counter-closes"
	TooSmall       Code = "too-small"
	NearRim        Code = "near-rim"
	TooManyColours Code = "too-many-colours"
	AlikeColours   Code = "alike-colours"
	SmallLump      Code = "small-lump"
	ColourOff      Code = "colour-off"
	LimitUnknown   Code = "limit-unknown"
	MirroredEnd    Code = "mirrored-end"
	OneColour      Code = "one-colour"
	TooManyParts   Code = "too-many-parts"
	TooManyAreas   Code = "too-many-areas"
	NoPage         Code = "no-page"
	TooLong        Code = "too-long"
	SlabSmall      Code = "slab-too-small"
	TwoLift        Code = "two-lift"
	SmallestOrder  Code = "smallest-order"
	LongFace       Code = "stubby-log"
)

// Simplifying.
const (
	Simplified    Code = "simplified"
	ColourShare   Code = "colour-share"
	NothingPasses Code = "nothing-passes"
	Needs         Code = "needs"
)

// Splitting, ordering and proving.
const (
	SplitGaveUp    Code = "split-gave-up"
	OrderGaveUp    Code = "order-gave-up"
	NotProven      Code = "not-proven"
	LaidOverlap    Code = "laid-overlap"
	OneStiffness   Code = "one-stiffness"
	SquashAsGood   Code = "squash-as-good"
	NoReturn       Code = "no-return"
	NoSchedule     Code = "no-schedule"
	ScheduleGave   Code = "schedule-gave-up"
	WarmTooCold    Code = "warm-too-cold"
	LostOnFaces    Code = "lost-on-faces"
	OverLargest    Code = "over-largest"
	UnderLeast     Code = "under-least"
	MoreLogs       Code = "more-logs"
	OtherThickness Code = "other-thickness"
	DesignAway     Code = "design-away"
	JoinCold       Code = "join-cold"
	GoesHard       Code = "goes-hard"
	MadeEqual      Code = "made-equal"
	WindowGuess    Code = "window-guess"
	NoWindow       Code = "no-window"
	JoinHeat       Code = "join-heat"
	Internal       Code = "internal"
)

// Codes is the one table of all codes.
var Codes = map[Code]About{
	NoPaint:       {Class: Drawing, Hopeless: true, Reason: NoPicture, Smallest: `<g/>`},
	NoPage:        {Class: Drawing, Hopeless: true, Reason: NoSize, Smallest: `<svg width="0" height="9">`},
	TextInArtwork: {Class: Drawing, Reason: Lettering, Smallest: `<text y="100">漢</text>`},
	ImageInArtwork: {
		Class:    Drawing,
		Hopeless: true,
		Reason:   Photo,
		Smallest: `<image href="a.png" width="9" height="9"/>`,
	},
	Unsupported:   {Class: Drawing, Reason: NotUnderstood, Smallest: `<path d="M0 0L9 9" marker-end="url(#m)"/>`},
	BadValue:      {Class: Drawing, Reason: NotUnderstood, Smallest: `<rect width="9" height="9" fill="nocolour"/>`},
	BadPath:       {Class: Drawing, Reason: NotUnderstood, Smallest: `<path d="M0 0L9"/>`},
	BadReference:  {Class: Drawing, Reason: NotUnderstood, Smallest: `<use href="#none"/>`},
	BadTransform:  {Class: Drawing, Reason: NotUnderstood, Smallest: `<g transform="turn(3)"/>`},
	Gradient:      {Class: Drawing, Reason: NotUnderstood, Smallest: `fill="url(#g)" where g runs from #f00000 to #f50000`},
	Translucent:   {Class: Drawing, Reason: NotUnderstood, Smallest: `<rect width="9" height="9" opacity=".5"/>`},
	OffTheGrid:    {Class: Drawing, Reason: NotUnderstood, Smallest: `<rect width="1e30" height="9"/>`},
	TooMuch:       {Class: Drawing, Hopeless: true, Reason: Specks, Smallest: `a million path segments`},
	Traced:        {Class: Drawing, Reading: true, Reason: NotUnderstood, Smallest: `a PNG of 200 x 200 pixels`},
	FewPixels:     {Class: Drawing, Reason: NotUnderstood, Smallest: `a PNG of 40 x 40 pixels`},
	NearColours:   {Class: Drawing, Reading: true, Reason: NotUnderstood, Smallest: `a PNG with squares of #d0202a and #b8202a`},
	UnevenLight:   {Class: Drawing, Reading: true, Reason: NotUnderstood, Smallest: `a JPEG whose corners are white and grey`},
	FirstPage:     {Class: Drawing, Reading: true, Reason: NotUnderstood, Smallest: `a PDF of two pages`},
	TextSet:       {Class: Drawing, Reading: true, Reason: Lettering, Smallest: `<text y="100" font-family="Fancy">A</text>`},
	ShadeFlat:     {Class: Drawing, Reading: true, Reason: NotUnderstood, Smallest: `fill="url(#g)" where g runs from black to white`},
	EffectDropped: {Class: Drawing, Reading: true, Reason: NotUnderstood, Smallest: `filter="url(#f)" where f is a feDropShadow`},
	PlacedDrawing: {Class: Drawing, Reason: NotUnderstood, Smallest: `<rect width="200" height="200"/>`},
	BeyondPicture: {Class: Drawing, Reason: NotUnderstood, Smallest: `the same with --place page`},
	LikeColours:   {Class: Drawing, Reason: NotUnderstood, Smallest: `two rects, fill #ff0000 and #fe0000`},
	SliversMoved: {
		Class:    Drawing,
		Simpler:  true,
		Reason:   Specks,
		Smallest: `two rects whose borders miss each other by a hair`,
	},
	TooThin: {
		Class:    Drawing,
		Simpler:  true,
		Reason:   FineLines,
		Smallest: `<rect x="20" y="99" width="160" height="2"/>`,
	},
	ThinNote:   {Class: Drawing, Reason: NotUnderstood, Smallest: `<rect x="20" y="96" width="160" height="8"/>`},
	GapTooThin: {Class: Drawing, Simpler: true, Reason: NarrowGaps, Smallest: `two rects, 2 apart`},
	CounterCloses: {
		Class:    Drawing,
		Simpler:  true,
		Reason:   NarrowGaps,
		Smallest: `<circle cx="100" cy="100" r="60"/> with a white one of radius 2 in it`,
	},
	TooSmall:       {Class: Drawing, Simpler: true, Reason: FineLines, Smallest: `<circle cx="100" cy="100" r="3"/>`},
	NearRim:        {Class: Drawing, Reason: NotUnderstood, Smallest: `<circle cx="100" cy="100" r="95"/>`},
	TooManyColours: {Class: Drawing, Reason: NotUnderstood, Smallest: `nine rects of nine colours`},
	AlikeColours:   {Class: Drawing, Reason: NotUnderstood, Smallest: `two rects, fill #ff0000 and #ff2000`},
	SmallLump: {
		Class:    Order,
		Reason:   NotUnderstood,
		Smallest: `<circle cx="100" cy="100" r="6"/>: less of a colour than can be mixed`,
	},
	ColourOff: {
		Class:    Shop,
		Reason:   NotUnderstood,
		Smallest: `<circle cx="100" cy="100" r="40" fill="#0cc"/> for a shop with [stock] red and blue only`,
	},
	LimitUnknown: {
		Class:    Order,
		Reason:   NotUnderstood,
		Smallest: `any drawing for a shop with [stock] doses and an order without a market`,
	},
	MirroredEnd: {
		Class:    Drawing,
		Reason:   NotUnderstood,
		Smallest: `a drawing that is not its own mirror image: the other end of the stick shows that`,
	},
	OneColour: {
		Class:    Drawing,
		Hopeless: true,
		Reason:   NoPicture,
		Smallest: `nothing but ground: <rect width="200" height="200" fill="#fff"/>`,
	},
	TooManyAreas: {
		Class:    Drawing,
		Hopeless: true,
		Reason:   ManyParts,
		Smallest: `five hundred dots: <circle cx="10" cy="10" r="3"/> and so on`,
	},
	TooManyParts:  {Class: Shop, Reason: ManyParts, Smallest: `four hundred dots`},
	TwoLift:       {Class: Shop, Smallest: `a heavy log, and a crew of one`},
	SlabSmall:     {Class: Shop, Smallest: `more sugar than the slab cools`},
	TooLong:       {Class: Shop, Simpler: true, Reason: ManyParts, Smallest: `more minutes than the clock allows`},
	SmallestOrder: {Class: Order, Reason: NotUnderstood, Smallest: `what the least log would be`},
	LongFace:      {Class: Order, Reason: NotUnderstood, Smallest: `--log 150mm --length 100mm`},
	Simplified: {
		Class:    Drawing,
		Reason:   NotUnderstood,
		Smallest: `a change that makes the drawing one that can be built`,
	},
	ColourShare: {
		Class:    Drawing,
		Reason:   NotUnderstood,
		Smallest: `a colour's area that simplifying changes by more than a tenth`,
	},
	Needs: {
		Class:    Order,
		Reason:   NotUnderstood,
		Smallest: `an offer that takes more hands than the shop file has`,
	},
	NothingPasses: {
		Class:    Drawing,
		Hopeless: true,
		Reason:   NotUnderstood,
		Smallest: `no change that was tried makes the drawing one that can be built`,
	},
	SplitGaveUp: {
		Class:    Program,
		Simpler:  true,
		Reason:   Shapes,
		Smallest: `the search ended without parts that fit`,
	},
	OrderGaveUp: {Class: Program, Simpler: true, Reason: Shapes, Smallest: `the search ended without an order`},
	NotProven:   {Class: Program, Simpler: true, Reason: Shapes, Smallest: `the replay rejects the order`},
	LaidOverlap: {
		Class:    Shop,
		Reason:   NotUnderstood,
		Smallest: `what still overlaps when replayed in the laid frame`,
	},
	OneStiffness: {
		Class:    Program,
		Reason:   NotUnderstood,
		Smallest: `not given any more: laid shapes took one stiffness everywhere`,
	},
	SquashAsGood: {
		Class:    Drawing,
		Reason:   NotUnderstood,
		Smallest: `parts of one heat: the even squash to the oval is as good as the computed shapes`,
	},
	NoReturn: {
		Class:    Program,
		Simpler:  true,
		Reason:   NotUnderstood,
		Smallest: `the rolling model does not bring the picture back to its tolerance`,
	},
	NoSchedule: {
		Class:    Shop,
		Simpler:  true,
		Reason:   ManyParts,
		Smallest: `a thick bent part made far ahead, and no warm place ([heat] warm_c = 0)`,
	},
	ScheduleGave: {Class: Program, Simpler: true, Reason: ManyParts, Smallest: `the search ended without a schedule`},
	WarmTooCold:  {Class: Shop, Reason: NotUnderstood, Smallest: `[heat] warm_c = 30`},
	LostOnFaces: {
		Class:    Drawing,
		Reason:   NotUnderstood,
		Smallest: `[spread] placing_mm = 10: on some faces a part is not in its place`,
	},
	OverLargest:    {Class: Order, Reason: NotUnderstood, Smallest: `--log 160mm`},
	OtherThickness: {Class: Program, Reason: NotUnderstood, Smallest: `a drawing for which no parts are found in a log as thick as its order asks`},
	MoreLogs:       {Class: Order, Reason: NotUnderstood, Smallest: `packs for a log that two pairs of hands cannot close in time`},
	DesignAway:     {Class: Order, Reason: NotUnderstood, Smallest: `an order that names a drawing which is not beside it`},
	UnderLeast:     {Class: Order, Reason: NotUnderstood, Smallest: `--weight 800g`},
	JoinCold: {
		Class:    Shop,
		Reason:   NotUnderstood,
		Smallest: `[heat] lamp_c = 20, table_c = 20: what is laid has cooled before the next part comes on it`,
	},
	GoesHard: {
		Class:    Shop,
		Simpler:  true,
		Reason:   ManyParts,
		Smallest: `[heat] lamp_c = 25, table_c = 25: the log is too stiff before it is drawn`,
	},
	MadeEqual:   {Class: Drawing, Reason: NotUnderstood, Smallest: `copies that differ a little`},
	WindowGuess: {Class: Shop, Reason: NotUnderstood, Smallest: `every plan: temperatures are bands round a guess`},
	NoWindow: {
		Class:    Shop,
		Simpler:  true,
		Reason:   Warmth,
		Smallest: `a part too large to hold its shape at any workable heat`,
	},
	JoinHeat: {
		Class:    Drawing,
		Simpler:  true,
		Reason:   Warmth,
		Smallest: `a very thick bent part beside a thin one`,
	},
	Internal: {Class: Program, Reason: NotUnderstood, Smallest: `our own impossible case`},
}
