package layup

// Tuned holds the constants of the search.
var Tuned struct{}
