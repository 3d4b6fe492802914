package split

// Tuned holds the constants of the search.
var Tuned struct{}
