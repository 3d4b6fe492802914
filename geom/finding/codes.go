package finding

// Code names a kind of finding. Codes are only ever added. The comment beside each is the smallest artwork that triggers it, inside
// <svg viewBox="0 0 200 200">, or the circumstance.
type Code string

// Reading the artwork.
const (
	NoPaint        Code = "no-paint"       // <g/>
	TextInArtwork  Code = "text"           // <text>A</text>
	ImageInArtwork Code = "image"          // <image href="a.png" width="9" height="9"/>
	Unsupported    Code = "unsupported"    // <rect width="9" height="9" filter="url(#f)"/>
	BadValue       Code = "bad-value"      // <rect width="9" height="9" fill="nocolour"/>
	BadPath        Code = "bad-path"       // <path d="M0 0L9"/>
	BadReference   Code = "bad-reference"  // <use href="#none"/>
	BadTransform   Code = "bad-transform"  // <g transform="turn(3)"/>
	Gradient       Code = "gradient"       // fill="url(#g)" where g is a linearGradient
	Translucent    Code = "translucent"    // <rect width="9" height="9" opacity=".5"/>
	OffTheGrid     Code = "off-the-grid"   // <rect width="1e30" height="9"/>
	TooMuch        Code = "too-much"       // a million path segments
	PlacedDrawing  Code = "placed-drawing" // <rect width="200" height="200"/>
	BeyondPicture  Code = "beyond-picture" // the same with --place page
	LikeColours    Code = "like-colours"   // two rects, fill #ff0000 and #fe0000
	SliversMoved   Code = "slivers"        // two rects whose borders miss each other by a hair
)

// Checking against the shop.
const (
	TooThin        Code = "too-thin"         // <rect x="20" y="99" width="160" height="2"/>
	ThinNote       Code = "thin-note"        // <rect x="20" y="96" width="160" height="8"/>
	GapTooThin     Code = "gap-too-thin"     // two rects, 2 apart
	CounterCloses  Code = "counter-closes"   // <circle cx="100" cy="100" r="60"/> with a white one of radius 2 in it
	TooSmall       Code = "too-small"        // <circle cx="100" cy="100" r="3"/>
	NearRim        Code = "near-rim"         // <circle cx="100" cy="100" r="95"/>
	TooManyColours Code = "too-many-colours" // nine rects of nine colours
	AlikeColours   Code = "alike-colours"    // two rects, fill #ff0000 and #ff2000
	SmallLump      Code = "small-lump"       // <circle cx="100" cy="100" r="6"/>: less of a colour than can be mixed
	ColourOff      Code = "colour-off"       // <circle cx="100" cy="100" r="40" fill="#0cc"/> for a shop with [stock] red and blue only
	LimitUnknown   Code = "limit-unknown"    // any drawing for a shop with [stock] doses and an order without a market
	MirroredEnd    Code = "mirrored-end"     // a drawing that is not its own mirror image: the other end of the stick shows that
	OneColour      Code = "one-colour"       // nothing but ground: <rect width="200" height="200" fill="#fff"/>
	TooManyParts   Code = "too-many-parts"   // four hundred dots
	TooLong        Code = "too-long"         // more minutes than the clock allows
	SmallestOrder  Code = "smallest-order"   // what the least log would be
	LongFace       Code = "stubby-log"       // --log 150mm --length 100mm
)

// Simplifying.
const (
	Simplified    Code = "simplified"     // a change that makes the drawing one that can be built
	ColourShare   Code = "colour-share"   // a colour's area that simplifying changes by more than a tenth
	NothingPasses Code = "nothing-passes" // no change that was tried makes the drawing one that can be built
)

// Splitting, ordering and proving. Those marked "ours" never blame the artwork.
const (
	PoorFit      Code = "poor-fit"         // a part that no form fits
	SplitGaveUp  Code = "split-gave-up"    // ours: the search ended without parts that fit
	OrderGaveUp  Code = "order-gave-up"    // ours: the search ended without an order
	NotProven    Code = "not-proven"       // ours: the replay rejects the order
	LaidOverlap  Code = "laid-overlap"     // what still overlaps when replayed in the laid frame
	OneStiffness Code = "one-stiffness"    // not given any more: laid shapes took one stiffness everywhere
	SquashAsGood Code = "squash-as-good"   // parts of one heat: the even squash to the oval is as good as the computed shapes
	NoReturn     Code = "no-return"        // ours: the rolling model does not bring the picture back to its tolerance
	NoSchedule   Code = "no-schedule"      // a thick bent part made far ahead, and no warm place ([heat] warm_c = 0)
	ScheduleGave Code = "schedule-gave-up" // ours: the search ended without a schedule
	WarmTooCold  Code = "warm-too-cold"    // [heat] warm_c = 30
	LostOnFaces  Code = "lost-on-faces"    // [spread] placing_mm = 10: on some faces a part is not in its place
	OverLargest  Code = "over-largest"     // --log 160mm
	JoinCold     Code = "join-cold"        // [heat] lamp_c = 20, table_c = 20: what is laid has cooled before the next part comes on it
	GoesHard     Code = "goes-hard"        // [heat] lamp_c = 25, table_c = 25: the log is too stiff before it is drawn
	MadeEqual    Code = "made-equal"       // copies that differ a little
	WindowGuess  Code = "window-guess"     // every plan: temperatures are bands round a guess
	NoWindow     Code = "no-window"        // a part too large to hold its shape at any workable heat
	JoinHeat     Code = "join-heat"        // a very thick bent part beside a thin one
	Internal     Code = "internal"         // our own impossible case
)
