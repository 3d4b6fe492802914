package job_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/planner/job"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
)

var today = job.Day{2026, 11, 5}

func stocked(t *testing.T) *shop.Shop {
	s, err := shop.Read(
		[]byte(
			"[stock]\n\"cherry\" = { clear = \"#b0142a\" }\n\"leaf\" = { clear = \"#2f7d32\", pulled = \"#7fbf80\" }\n"),
	)
	require.NoError(t, err)
	return s
}

// The template is in order as it is, and with every line that it proposes.
func TestTemplate(t *testing.T) {
	j, err := job.Read(job.Template(), shop.Default(), today)
	require.NoError(t, err)
	assert.False(t, j.Asked())
	var lines []string
	for _, l := range strings.Split(string(job.Template()), "\n") {
		l = strings.TrimPrefix(l, "# ")
		if strings.HasPrefix(l, "[") ||
			strings.Contains(l, " = ") && !strings.HasPrefix(l, "pieces = 1500") &&
				!strings.HasPrefix(l, "grams = 3500") {
			lines = append(lines, l)
		}
	}
	s, err := shop.Read([]byte("[stock]\n\"strawberry red\" = { clear = \"#b0142a\" }\n"))
	require.NoError(t, err)
	j, err = job.Read([]byte(strings.Join(lines, "\n")), s, today)
	require.NoError(t, err)
	assert.Equal(t, "Orchard fete", j.Client)
	assert.Len(t, j.Packs, 2)
	assert.Len(t, j.Designs, 2)
	assert.Equal(t, "strawberry red", j.Colours[artwork.RGB{0xd0, 0x20, 0x2a}].Named)
	assert.Equal(t, shop.Pulled, j.Colours[artwork.RGB{0x2a, 0x6f, 0x97}].Finish)
}

// Every fault has its line and what is allowed.
func TestFaults(t *testing.T) {
	for text, want := range map[string]string{
		"client = \"x\"\ndate = 2026-11-04":                            "line 2: date is 2026-11-04, in the past; allowed is today, 2026-11-05, or later",
		"date = \"2026-12-05\"":                                        "line 1: date is not a day",
		"date = 2026-13-05":                                            "line 1: column",
		"clint = \"x\"":                                                "line 1: unknown setting clint (client?); allowed here are acid, client",
		"[[packs]]\nnumber = 3\ngrams = 9\ncolour = \"red\"":           "line 4: unknown setting packs.colour; allowed here are grams, number, pieces",
		"market = \"Mars\"":                                            "line 1: market is Mars; allowed are \"EU\", \"GB\", \"US\", \"other\"",
		"pieces = 1000\n[[packs]]\nnumber = 30":                        "line 1: 1000 pieces do not divide into 30 packs; allowed are 990 or 1020",
		"pieces = 10\n[[packs]]\nnumber = 30":                          "allowed are 30",
		"pieces = 1\ngrams = 60":                                       "line 2: pieces and grams are both given",
		"pieces = 9\n[[packs]]\nnumber = 3\ngrams = 9":                 "line 3: the size of these packs and pieces or grams of the whole order are both given",
		"[[packs]]\nnumber = 3":                                        "line 2: packs of unknown size",
		"[[packs]]\ngrams = 3":                                         "pack 1 has no number",
		"[[packs]]\nnumber = 3\ngrams = 9\npieces = 4":                 "line 3: packs of 9 g and of 4 pieces at once",
		"[[packs]]\nnumber = 0.5\ngrams = 9":                           "line 2: packs.number is 0.5; allowed is 1 to 100000",
		"packs = 3":                                                    "line 1: packs is a list",
		"packs = [1, 2]":                                               "line 1: packs is a list of tables",
		"[[designs]]\nshare = 2":                                       "design 1 has no file",
		"[[designs]]\nfile = \"a.svg\"\n[[designs]]\nfile = \"A.svg\"": "line 4: A.svg is named twice",
		"[colours]\n\"#d0202a\" = { as = \"damson\" }":                 "line 2: colours: the shop has no \"damson\"; allowed are cherry, leaf, or a shade",
		"[colours]\n\"#d0202a\" = \"cherry\"":                          "line 2: colours: \"#d0202a\" needs what it is wanted as",
		"[colours]\n\"nix\" = { as = \"cherry\" }":                     "line 2: colours: \"nix\" is not a colour",
		"[colours]\n\"#fff\" = { as = \"cherry\", finish = \"matt\" }": "allowed are \"clear\", \"pulled\"",
		"[colours]\n\"#fff\" = { finish = \"clear\" }":                 "needs what it is wanted as",
		"client = \"a\\u0007\"":                                        "line 1: client is not a text",
		"piece_mm = 3":                                                 "line 1: piece_mm is 3; allowed is 5 to 60",
		"grams = nan":                                                  "line 1: grams is NaN; allowed is 50 to 1000000",
		"[[packs]]\nnumber = 2\npieces = 25\n[[designs]]\nfile = \"a.svg\"\n[[designs]]\nfile = \"b.svg\"": "packs of 25 pieces do not divide by the designs' shares, 2 in all; allowed are 24 or 26",
		"[[packs]]\nnumber = 100000\npieces = 10000":                                                       "line 1: the packs hold 1000000000 pieces and 0 g; allowed is at most 1000000 pieces",
		"flavour = \"\u200b\"": "line 1: flavour is not a text",
		"[[packs]]\nnumber = 2\npieces = 6\n[[packs]]\nnumber = 2\npieces = 7\n[[designs]]\nfile = \"a.svg\"\n[[designs]]\nfile = \"b.svg\"": "line 6: packs of 7 pieces",
		strings.Repeat("#", 2<<20): "more than 65536 bytes",
	} {
		_, err := job.Read([]byte(text), stocked(t), today)
		var f settings.Faults
		if assert.ErrorAs(t, err, &f, text) {
			assert.Contains(t, err.Error(), want, text)
		}
	}
}

// All faults of a file are listed, by line.
func TestAllFaults(t *testing.T) {
	_, err := job.Read([]byte("market = 3\ndate = 2020-01-01\n[[packs]]\nnumber = 0\nnonsense = 1\n"), shop.Default(),
		today)
	var f settings.Faults
	require.ErrorAs(t, err, &f)
	var lines []int
	for _, x := range f {
		lines = append(lines, x.Line)
	}
	assert.Equal(t, []int{1, 2, 4, 4, 5}, lines)
}

// A drawing gets its share; one that is not among the designs is refused with those that are.
func TestFor(t *testing.T) {
	j, err := job.Read([]byte("\n[[designs]]\nfile = \"art/apple.svg\"\nshare = 2\n[[designs]]\nfile = \"pear.svg\"\n"),
		shop.Default(), today)
	require.NoError(t, err)
	own, err := j.For("/somewhere/Apple.svg")
	require.NoError(t, err)
	assert.Equal(t, []int{2, 3}, []int{own.Own, own.All})
	j.File = "order.toml"
	_, err = j.For("plum.svg")
	assert.EqualError(t, err,
		"order.toml:2: plum.svg is not among the designs of this order; allowed are art/apple.svg, pear.svg")
}

// Shares count by what they have in common: two and two are one and one, and one design alone is all.
func TestShares(t *testing.T) {
	for _, text := range []string{"[[packs]]\nnumber = 3\npieces = 25\n[[designs]]\nfile = \"a.svg\"\nshare = 2",
		"[[packs]]\nnumber = 3\npieces = 10\n[[designs]]\nfile = \"a.svg\"\nshare = 2\n[[designs]]\nfile = \"b.svg\"\nshare = 2"} {
		_, err := job.Read([]byte(text), shop.Default(), today)
		assert.NoError(t, err)
	}
}

// Whatever is in the file, reading it ends without a panic.
func FuzzRead(f *testing.F) {
	f.Add([]byte("date = 2026-12-05\n[[packs]]\nnumber = 3\ngrams = 100\n[colours]\n\"#fff\" = { as = \"#eee\" }"))
	f.Add(job.Template())
	f.Add([]byte("a.b.c = [[1]]\n[[packs]]\n[[packs.x]]\n[packs.y]"))
	sh := shop.Default()
	f.Fuzz(func(t *testing.T, data []byte) {
		j, err := job.Read(data, sh, today)
		if err == nil {
			_, _ = j.For("a.svg")
		}
	})
}
