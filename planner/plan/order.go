package plan

// Job is what the order's file says.
type Job struct {
	Client  string `json:"client,omitempty"`
	Date    string `json:"date,omitempty"`
	Flavour string `json:"flavour,omitempty"`
	Acid    string `json:"acid,omitempty"`
	Market  string `json:"market,omitempty"`
}

// Order is the way from the boil to the packs, of all logs together; Blank (-1) is a price that the shop's figures do
// not give.
type Order struct {
	Logs       int       `json:"logs"`
	LeastG     Num       `json:"least_log_g"`
	MostG      Num       `json:"largest_log_g"`
	Wanted     int       `json:"wanted_pieces"` // of this drawing; 0: nothing asked, all pieces are packed
	Made       int       `json:"made_pieces"`
	Spare      int       `json:"spare_pieces"`
	SmallestG  Num       `json:"smallest_log_g"` // that carries this drawing
	SmallestMM Num       `json:"smallest_log_mm"`
	Ledger     []Balance `json:"ledger"` // whole grams
	Packs      []Pack    `json:"packs"`
	Designs    []Design  `json:"designs"`
	Shared     []Shared  `json:"shared_colours,omitempty"`
	Left       []Left    `json:"left"` // of each log
	EndsG      Num       `json:"ends_g"`
	Doses      []Dose    `json:"doses"`
	Price      *Price    `json:"price,omitempty"`
}

// Balance is one line of the ledger: what goes off, and what is left.
type Balance struct {
	Key  BalanceKey `json:"key"`
	Off  Num        `json:"off_g"`
	Left Num        `json:"left_g"`
}

// Pack is a number of equal packs.
type Pack struct {
	Number int `json:"number"`
	Pieces int `json:"pieces"`  // of all designs
	Own    Num `json:"of_this"` // of this drawing, on the mean
	AskedG Num `json:"asked_g"` // 0: counted
	NetG   Num `json:"net_g"`
	// Of each drawing, where the order is of several
	Of []Num `json:"of,omitempty"`
}

// Design of several in an order. In a joint order it has what its own plan comes to.
type Design struct {
	File     string `json:"file"`
	Share    int    `json:"share"`
	Title    string `json:"title,omitempty"`
	Logs     int    `json:"logs,omitempty"`
	LogG     Num    `json:"log_g,omitempty"`
	LogMM    Num    `json:"log_mm,omitempty"`
	LengthMM Num    `json:"length_mm,omitempty"`
	Made     int    `json:"made_pieces,omitempty"`
	Wanted   int    `json:"wanted_pieces,omitempty"`
	Spare    int    `json:"spare_pieces,omitempty"`
}

// Shared is a colour that several drawings of an order need, by their numbers: weighed off for all logs, and the dose for that.
type Shared struct {
	Name   string `json:"name"`
	SRGB   string `json:"srgb"`
	Finish Finish `json:"finish"`
	Grams  Num    `json:"grams"`
	DoseG  Num    `json:"dose_g,omitempty"`
	Of     []int  `json:"designs"`
}

// Joint tells whether this is an order of several drawings, as Joint makes it.
func (o *Order) Joint() bool { return len(o.Designs) > 1 && o.Designs[0].Logs > 0 }

// Shares of all designs together.
func (o *Order) Shares() int {
	n := 0
	for _, d := range o.Designs {
		n += d.Share
	}
	return n
}

// Left is what is left of a colour when the parts of one log are made, and its use.
type Left struct {
	Colour  string  `json:"colour"`
	Grams   Num     `json:"grams"`
	Use     LeftUse `json:"use"`
	Sweets  int     `json:"sweets"`   // plain ones that it makes
	WidthMM Num     `json:"width_mm"` // of the stripe
}

// Dose is an additive as the shop dosed it, per colour's sugar and per piece, beside the published limit. Limit is -1
// where none is published or the market is unknown; Rule says how it limits then.
type Dose struct {
	Colour   string   `json:"colour"`          // "" for what is in all of the sugar
	Additive string   `json:"additive"`        // "" where the shop has not named it
	MgPerKg  Num      `json:"mg_per_kg"`       // of this colour's sugar; -1 where the shop has entered no dose
	PieceMg  Num      `json:"piece_mg_per_kg"` // of the piece: of all colours that hold it
	Limit    Num      `json:"limit_mg_per_kg"`
	Rule     DoseRule `json:"rule"`
	Source   string   `json:"source"`
	Date     string   `json:"date"`
}

// Price by the shop's own figures.
type Price struct {
	Currency string `json:"currency"`
	Decimals int    `json:"decimals,omitempty"` // of printed amounts
	Margin   Num    `json:"margin_percent"`
	Spread   Num    `json:"spread_percent"`
	Lines    []Cost `json:"lines"`
	Low      Num    `json:"low"`
	High     Num    `json:"high"`
	More     []Cost `json:"more"` // what one more log, colour or part adds
}

// Cost is a line of the price; -1 where the shop has not entered all that it takes.
type Cost struct {
	Key    CostKey `json:"key"`
	Amount Num     `json:"amount"`
}

// Label is what follows from the recipe; local law decides what stands on the pack.
type Label struct {
	Ingredients []Ingredient `json:"ingredients"` // by weight
	Allergens   []string     `json:"allergens"`
	MayContain  []string     `json:"may_contain"`
	Warnings    []Warning    `json:"warnings"`
	BestBefore  int          `json:"best_before_months"`
	Weighed     bool         `json:"pieces_weighed,omitempty"` // by the shop: else a counted pack's weight is reckoned
}

// Warning that is due on the label, and the additives that it is due for.
type Warning struct {
	Key WarningKey `json:"key"`
	Of  []string   `json:"of"`
}

// Ingredient of the recipe; Grams is 0 where the shop has not entered how much.
type Ingredient struct {
	Key      IngredientKey `json:"key"`
	Name     string        `json:"name"`
	Grams    Num           `json:"grams"`
	Allergen bool          `json:"allergen"`
}
