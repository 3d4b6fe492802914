package plan

// ShopFacts is what a shop's settings come to.
type ShopFacts struct {
	TgC, DefaultTgC, TgPlusMinus             float64 // glass transition, degrees Celsius
	TgFrom                                   TgFrom
	Lump                                     *LumpTest // nil: not made
	Oval, DefaultOval                        float64   // height over width of the pile
	OvalTest                                 *OvalTest // nil: not measured
	WorkableC, WorkablePaS, PoursC, PoursPaS float64
	Windows                                  []ShopWindow
}

// LumpTest is a lump left on the table: what is left of its height, and the viscosity that follows.
type LumpTest struct{ HeightMM, DiameterMM, Minutes, AtC, PaS float64 }

// OvalTest is a test log measured before it was rolled.
type OvalTest struct{ WidthMM, HeightMM float64 }

// ShopWindow is the band of heat of a common part, degrees Celsius; empty where the high end lies below the low one.
type ShopWindow struct {
	Form        Form
	ThickMM     float64
	LowC, HighC float64
	Turned      bool // it holds only if it is turned each minute
}
