// Package law holds published limits of food colours in boiled sweets, by market, each with its source and the date at
// which it was seen.
//
// Guarantees: what is not in the table is said to be unknown, never allowed; law changes, so that the date is printed
// with each limit. It decides nothing: local law does.
package law

import (
	"regexp"
	"slices"
	"strings"
)

// Markets of which limits are known, and Other.
const (
	EU    = "EU"
	GB    = "GB"
	US    = "US"
	Other = "other"
)

// Rule is how an additive is limited.
type Rule string

// Rules.
const (
	Most      Rule = "most"      // at most so many mg/kg of the sweet
	Group     Rule = "group"     // at most so many mg/kg, of all colours of the group together
	AsNeeded  Rule = "as-needed" // no number: no more than is needed
	Forbidden Rule = "forbidden"
	Unlisted  Rule = "unlisted" // not in this table
	NoMarket  Rule = "no-market"
)

// Limit of an additive.
type Limit struct {
	Rule         Rule
	MgPerKg      float64 // of Most: of this colour
	GroupMg      float64 // of Group, and of some of Most: of all colours of the group together; 0: it is in none
	Source, Seen string
}

// Of an additive, as it is called on a label ("E 120", "FD&C Red 40"), in a market.
func Of(market, additive string) Limit {
	table, known := tables[market]
	if !known {
		return Limit{Rule: NoMarket}
	}
	key := Canonical(additive)
	l, ok := table.limits[key]
	if i := strings.Index(key, "("); !ok && i > 0 { // its kind is not told apart in the law
		l, ok = table.limits[key[:i]]
	}
	if !ok {
		return Limit{Rule: Unlisted}
	}
	if l.Source == "" {
		l.Source = table.source
	}
	l.Seen = table.seen
	return l
}

// OfAcid is the limit of an acid by its name.
func OfAcid(market, name string) Limit {
	table, known := acids[market]
	if !known {
		return Limit{Rule: NoMarket}
	}
	l, ok := table[Canonical(name)]
	if !ok {
		return Limit{Rule: Unlisted}
	}
	if l.Source == "" {
		l.Source = tables[market].source
	}
	l.Seen = tables[market].seen
	return l
}

// Over tells whether so much of an additive, and so much of its group, mg/kg, is more than the limit.
func (l Limit) Over(mg, group float64) bool {
	return l.Rule == Forbidden || l.Rule == Most && mg > l.MgPerKg || l.GroupMg > 0 && group > l.GroupMg
}

// numbered is an E number as writers have it, with the kind in brackets or without; the World's list has the same
// numbers.
var numbered = regexp.MustCompile(`\b(?:E|INS)[ -]?([0-9]{3,4}) ?([A-G]?)\b(?: ?(\((?:I{1,3}|IV|V)\)))?`)

// Several tells whether a text names more than one additive.
func Several(additive string) bool {
	return strings.ContainsAny(additive, ",;") || len(numbered.FindAllString(strings.ToUpper(additive), 2)) > 1
}

// Canonical is an additive's name without what writers differ in: an E number alone, if there is one; a common or
// United States name as its E number; else the name.
func Canonical(additive string) string {
	s := strings.ToUpper(strings.Join(strings.Fields(additive), " "))
	if m := numbered.FindStringSubmatch(s); m != nil {
		return "E" + m[1] + m[2] + m[3]
	}
	for _, drop := range []string{"FD & C", "FD&C", "NO.", "NUMBER", "#", "ALUMINIUM", "ALUMINUM", "LAKE"} {
		s = strings.ReplaceAll(s, drop, " ")
	}
	words := slices.DeleteFunc(strings.Fields(s), func(w string) bool { return w == "NO" })
	s = strings.Join(words, " ")
	if e, ok := names[s]; ok {
		return e
	}
	return s
}

// Six colours of which the European Union, and Great Britain with it, wants a warning on the label: Regulation (EC)
// 1333/2008, annex V.
var six = map[string]bool{"E102": true, "E104": true, "E110": true, "E122": true, "E124": true, "E129": true}

// Warns tells whether a market wants the warning of activity and attention in children for an additive.
func Warns(market, additive string) bool {
	return (market == EU || market == GB) && six[Canonical(additive)]
}
