package law

// table of one market.
type table struct {
	source, seen string
	limits       map[string]Limit
}

// groupMg is the European Union's most of all colours of group III together in confectionery, mg/kg of the sweet: 300
// in the law of 1994 (Directive 94/36/EC, seen in a national copy of 1997); that it is so today is from memory. Of E
// 104, E 110 and E 124 note 61 of the annex says that they count in it; that it stands on confectionery's rows is from
// memory.
const groupMg = 300

// Sources. Numbers with their own row were seen in a copy of the Commission's table of additives of 2022 to 2024,
// category 05.2, confectionery other than chocolate; they count the colouring principle in the food as it is sold
// (article 11 of the regulation).
const (
	europe  = "Regulation (EC) 1333/2008, category 05.2"
	britain = europe + ", as kept in Great Britain"
	third   = ", group III; the sum as in the law of 1994, today's from memory: look it up"
	fifty   = "; 50 as in the law of 1994, today's from memory: look it up"
	listed  = "21 CFR 73"
	batches = "21 CFR 74, certified batches only"
)

// tables by market. A number that was not seen says so in its source.
var tables = map[string]table{
	EU: {source: europe, seen: "November 2026", limits: european(europe, map[string]Limit{
		"E171": {Rule: Forbidden, Source: "Regulation (EU) 2022/63"}})},
	// Great Britain keeps what stood on 31 December 2020; titanium dioxide was not taken out there (seen in notes of
	// 2022, nothing later found).
	GB: {source: britain, seen: "November 2026", limits: european(britain, map[string]Limit{
		"E171": {Rule: AsNeeded, Source: britain + "; not so in Northern Ireland"}})},
	US: {source: listed, seen: "November 2026", limits: map[string]Limit{
		"E102": {
			Rule:   AsNeeded,
			Source: batches,
		}, "E110": {Rule: AsNeeded, Source: batches}, "E129": {Rule: AsNeeded, Source: batches},
		"E133": {
			Rule:   AsNeeded,
			Source: batches,
		}, "E132": {Rule: AsNeeded, Source: batches}, "GREEN 3": {Rule: AsNeeded, Source: batches},
		"E127": {Rule: Forbidden, Source: "21 CFR 74.303, revoked by 90 FR 4628; out of food by 15 January 2027"},
		"E104": {
			Rule:   Forbidden,
			Source: "not in 21 CFR 74",
		}, "E122": {Rule: Forbidden, Source: "not in 21 CFR 74"}, "E124": {Rule: Forbidden, Source: "not in 21 CFR 74"},
		"E131": {
			Rule:   Forbidden,
			Source: "not in 21 CFR 74",
		}, "E142": {Rule: Forbidden, Source: "not in 21 CFR 74"}, "E151": {Rule: Forbidden, Source: "not in 21 CFR 74"},
		"E155": {
			Rule:   Forbidden,
			Source: "not in 21 CFR 74",
		}, "E153": {Rule: Forbidden, Source: "not in 21 CFR 73"}, "E174": {Rule: Forbidden, Source: "not in 21 CFR 73"},
		"E175": {Rule: Forbidden, Source: "not in 21 CFR 73"},
		"E171": {Rule: Most, MgPerKg: 10_000, Source: "21 CFR 73.575"},
		"E160E": {
			Rule:    Most,
			MgPerKg: 33,
			Source:  "21 CFR 73.90, 15 mg a pound",
		}, "E161G": {Rule: Most, MgPerKg: 66, Source: "21 CFR 73.75, 30 mg a pound"},
		"E160B(I)": {
			Rule:   AsNeeded,
			Source: "21 CFR 73.30",
		}, "E160B(II)": {Rule: AsNeeded, Source: "21 CFR 73.30"}, "E160B": {Rule: AsNeeded, Source: "21 CFR 73.30"},
		"E162": {
			Rule:   AsNeeded,
			Source: "21 CFR 73.40",
		}, "E160A": {Rule: AsNeeded, Source: "21 CFR 73.95"}, "E120": {Rule: AsNeeded, Source: "21 CFR 73.100; to be named on the label"},
		"E150A": {
			Rule:   AsNeeded,
			Source: "21 CFR 73.85",
		}, "E150B": {Rule: AsNeeded, Source: "21 CFR 73.85"}, "E150C": {Rule: AsNeeded, Source: "21 CFR 73.85"},
		"E150D": {
			Rule:   AsNeeded,
			Source: "21 CFR 73.85",
		}, "SPIRULINA": {Rule: AsNeeded, Source: "21 CFR 73.530"}, "SPIRULINA EXTRACT": {Rule: AsNeeded, Source: "21 CFR 73.530"},
	}},
}

// european are the rows that the European Union and Great Britain have alike, each by its own text, with a market's
// own.
func european(text string, own map[string]Limit) map[string]Limit {
	out := map[string]Limit{
		"E104": {
			Rule:    Most,
			MgPerKg: 30,
			GroupMg: groupMg,
		}, "E110": {Rule: Most, MgPerKg: 35, GroupMg: groupMg}, "E124": {Rule: Most, MgPerKg: 20, GroupMg: groupMg},
		"E160B(I)": {
			Rule:    Most,
			MgPerKg: 30,
		}, "E160B(II)": {Rule: Most, MgPerKg: 25}, "E160D": {Rule: Most, MgPerKg: 30},
		"E122": {
			Rule:    Most,
			MgPerKg: 50,
			GroupMg: groupMg,
			Source:  text + fifty,
		}, "E155": {Rule: Most, MgPerKg: 50, GroupMg: groupMg, Source: text + fifty},
		"E127": {
			Rule:   Forbidden,
			Source: text + ": cherries only",
		}, "E123": {Rule: Forbidden, Source: text + ": drinks and roe only"},
		"E161G": {Rule: Forbidden}, "E173": {Rule: Forbidden}, "E180": {Rule: Forbidden},
	}
	for _, e := range []string{"E100", "E102", "E120", "E129", "E131", "E132", "E133", "E142", "E151", "E160E", "E161B"} {
		out[e] = Limit{Rule: Group, GroupMg: groupMg, Source: text + third}
	}
	for _, e := range []string{"E101", "E140", "E141", "E150A", "E150B", "E150C", "E150D", "E153", "E160A", "E160C", "E162", "E163", "E170", "E172"} {
		out[e] = Limit{Rule: AsNeeded, Source: text + ", group II"}
	}
	for k, l := range own {
		out[k] = l
	}
	return out
}

// names by which additives are also called, in common and in the United States.
var names = map[string]string{
	"YELLOW 5": "E102", "TARTRAZINE": "E102", "YELLOW 6": "E110", "SUNSET YELLOW": "E110", "SUNSET YELLOW FCF": "E110", "RED 40": "E129", "ALLURA RED": "E129", "ALLURA RED AC": "E129",
	"BLUE 1": "E133", "BRILLIANT BLUE": "E133", "BRILLIANT BLUE FCF": "E133", "BLUE 2": "E132", "INDIGOTINE": "E132", "INDIGO CARMINE": "E132", "RED 3": "E127", "ERYTHROSINE": "E127",
	"QUINOLINE YELLOW": "E104", "AZORUBINE": "E122", "CARMOISINE": "E122", "PONCEAU 4R": "E124", "PATENT BLUE V": "E131", "GREEN S": "E142", "BRILLIANT BLACK": "E151", "BROWN HT": "E155",
	"TITANIUM DIOXIDE": "E171", "CARMINE": "E120", "CARMINES": "E120", "COCHINEAL": "E120", "COCHINEAL EXTRACT": "E120", "CURCUMIN": "E100", "LUTEIN": "E161B", "LYCOPENE": "E160D",
	"CITRIC ACID": "E330", "MALIC ACID": "E296", "LACTIC ACID": "E270", "TARTARIC ACID": "E334", "FUMARIC ACID": "E297",
}

// acids by market and name. In the European Union tartaric acid has had limits by category since Regulation (EU)
// 2024/1451; the one of sweets was not seen.
var acids = map[string]map[string]Limit{
	EU: {
		"E330": {Rule: AsNeeded, Source: europe + ", group I"},
		"E296": {Rule: AsNeeded, Source: europe + ", group I"},
		"E270": {Rule: AsNeeded, Source: europe + ", group I"},
		"E297": {Rule: Most, MgPerKg: 1000},
	},
	GB: {
		"E330": {Rule: AsNeeded, Source: britain + ", group I"},
		"E296": {Rule: AsNeeded, Source: britain + ", group I"},
		"E270": {Rule: AsNeeded, Source: britain + ", group I"},
		"E297": {Rule: Most, MgPerKg: 1000},
	},
	US: {
		"E296": {Rule: Most, MgPerKg: 69_000, Source: "21 CFR 184.1069"},
		"E330": {Rule: AsNeeded, Source: "21 CFR 184.1033"},
		"E270": {Rule: AsNeeded, Source: "21 CFR 184.1061"},
		"E334": {Rule: AsNeeded, Source: "21 CFR 184.1099"},
	},
}
