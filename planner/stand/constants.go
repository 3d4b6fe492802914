package stand

// Constants are the numbers of the model, each with its unit and where it comes from.
type Constants struct {
	// Borders so near to each other touch.
	ContactMM float64 `unit:"mm" source:"tuned"`
	// So far beyond a contact lies the other part: the corner of a neighbour is no shelf.
	BeyondMM float64 `unit:"mm" source:"tuned"`
	// Contacts are cut into pieces no longer, and their ends are pulled in, since edges are round.
	PieceMM float64 `unit:"mm" source:"tuned: forces at the ends of pieces are exact without tack"`
	EndMM   float64 `unit:"mm" source:"tuned"`
	// Friction of sugar on sugar and on what holds it, and on an oiled table.
	Friction      float64 `unit:"force per force" source:"set: hot sugar sticks more"`
	TableFriction float64 `unit:"force per force" source:"set"`
	// What a joint carries in a minute without creeping more than 0.7 mm.
	TackPa float64 `unit:"Pa" source:"derived: a part 26 mm wide, stuck on a side, sinks 0.7 mm in a minute at 65 C"`
	// Borders are followed in steps no longer: with the table and props, and with each other.
	GroundMM float64 `unit:"mm" source:"tuned"`
	SpotMM   float64 `unit:"mm" source:"tuned"`
	// What lies so near to the lowest point lies on the table.
	FootMM float64 `unit:"mm" source:"tuned"`
	// A prop holds borders that face down by up to so much off.
	PropRad float64 `unit:"rad" source:"common practice, no source: a cradle, or bars laid along the pile"`
	// Of a pile's weight and width, what a balance may lack.
	Residual float64 `unit:"share" source:"tuned: the rounding of outlines"`
}

// Tuned are the constants in use. Nothing changes them.
var Tuned = Constants{
	ContactMM:     0.35,
	BeyondMM:      0.5,
	PieceMM:       6,
	EndMM:         0.4,
	Friction:      0.6,
	TableFriction: 0.4,
	TackPa:        350,
	GroundMM:      1.5,
	SpotMM:        0.75,
	FootMM:        1,
	PropRad:       1.0471975511965976, // 60 degrees
	Residual:      2e-3,
}

// Weight of a cubic metre of sugar, newtons: 1.4 grams a cubic centimetre.
const weight = 1400 * 9.81
