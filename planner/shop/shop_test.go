package shop_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/planner/settings"
	"sugarwright/planner/shop"
	"sugarwright/planner/sugar"
)

// The printed file is the defaults: read back, it changes nothing, and every value is in its range.
func TestDefaultFile(t *testing.T) {
	s, err := shop.Read(shop.DefaultFile())
	require.NoError(t, err)
	s.TgFrom, s.Lines = shop.FromDefault, shop.Lines{} // a setting, though the default's
	assert.Equal(t, shop.Default(), s)
}

func TestOverlayAndColours(t *testing.T) {
	s, err := shop.Read(
		[]byte("[shop]\ncrew = 3\n[colours]\n\"#d0202a\" = { name = \"strawberry\", finish = \"clear\" }\n"))
	require.NoError(t, err)
	assert.Equal(t, 3, s.Crew)
	assert.Equal(t, 3.4, s.ThinnestMM)
	_, err = shop.Read([]byte("\xef\xbb\xbf[shop]\r\ncrew = 3\r\n"))
	assert.NoError(t, err, "as some editors save it")
	assert.Equal(t, "strawberry", s.Colours[artwork.RGB{0xd0, 0x20, 0x2a}].Name)
}

// Every fault is named with its line and what is allowed.
func TestFaults(t *testing.T) {
	for text, want := range map[string]string{
		"[shop]\ncrew = 9":      "line 2: shop.crew is 9; allowed is 1 to 4",
		"[shop]\ncrew = 1.5":    "line 2: shop.crew is 1.5; allowed is a whole number from 1 to 4",
		"[log]\njacket_mm = -1": "line 2: log.jacket_mm is -1; allowed is 1 to 40",
		"log.oval = \"flat\"":   "line 1: log.oval is not a number; allowed is 0.5 to 1",
		"[colours]\n\"#fff\" = { name = \"w\", finish = \"matt\" }": "line 2: colours.#fff.finish is matt; allowed are \"clear\", \"pulled\"",
		"[colours]\n\"nix\" = { name = \"w\", finish = \"clear\" }": "is not a colour",
		"[colours]\n\"#fff\" = { finish = \"clear\" }":              "needs a name",
		"[log]\novall = 1":                                  "line 2: unknown setting log.ovall",
		"[logg]\noval = 1":                                  "line 1: unknown setting logg",
		"[log\n":                                            "line 1",
		"[log]\noutline = \"glue\"":                         "line 2: log.outline is glue",
		"[sugar]\nmoisture_percent = 40":                    "line 2: sugar.moisture_percent is 40; allowed is 0.5 to 6",
		"[sugar]\ntg_c = 40\nmoisture_percent = 2":          "line 3: sugar.moisture_percent says 48 C",
		"[heat]\nlay_from_c = 66\nlay_to_c = 64":            "line 2: heat.lay_from_c is 66 and heat.lay_to_c 64: the window is empty",
		"[heat]\nlay_to_c = 36":                             "no hand moves such sugar; allowed is 61 or more",
		"[heat]\nwarm_c = 10":                               "colder than the air",
		"[limits]\nthin_note_mm = 2":                        "line 2: limits.thin_note_mm is 2, below limits.thinnest_mm 3.4",
		"[sugar]\npulled_g_cm3 = 1.5":                       "pulling takes air in",
		"[log]\njacket_mm = 30":                             "line 2: log.jacket_mm is 30",
		"[tests]\nlump = { diameter_mm = 50, minutes = 1 }": "line 2: tests.lump has no height_mm",
		"[tests.lump]\ndiameter_mm = 50\nminutes = 1\nheight_mm = 20\nat_c = 60":  "allowed is 33.9 to 49.8",
		"[tests.lump]\ndiameter_mm = 50\nminutes = 1\nheight_mm = 45\nat_c = 110": "believable is 20 to 60",
		"[tests.lump]\ndiameter_mm = 50\nminutes = 1\nheight_mm = 45\nat_c = nan": "line 5: tests.lump.at_c is NaN",
		"[tests]\noval = { width_mm = 140, height_mm = 150 }":                     "tests.oval is 1.07",
		"[tests.lump]\n": "line 1: tests.lump has no diameter_mm",
		"sugar = { tg_c = 40, moisture_percent = 3 }": "line 1: sugar.moisture_percent says 38 C",
		"\"log.oval\" = 0.6":                          "line 1: unknown setting \"log.oval\"",
		"[shop]\ncrew = 1\n\nnonsense.x = 1":          "line 4: unknown setting shop.nonsense",
		"[colours]\n\"#fff\" = { name = \"a\", finish = \"clear\" }\nwhite = { name = \"b\", finish = \"clear\" }": "is the same colour as",
		"[colours]\n\"#fff\" = { name = \"\\u0007\", finish = \"clear\" }":                                         "holds control characters",
		"[log]\njacket_mm = 1":                        "line 2: log.jacket_mm is 1, thinner than limits.thinnest_wrap_mm",
		"[heat]\nair_c = 50\nlamp_c = 5\nwarm_c = 50": "line 3: heat.lamp_c is 5, colder than the air",
		"[heat]\nlay_from_c = 120":                    "such sugar runs",
		"[tests]\nlump = { diameter_mm = 10, minutes = 1, height_mm = 9.95, at_c = 65 }": "worse than no test",
		"[boil]\nwater_share = 0\n[sugar]\nsyrup_share = 0":                              "line 2: boil.water_share is 0: the pan would hold less water than the finished sugar keeps; allowed is 0.03 or more",
		"[stock]\n\"white\" = { pulled = \"#fff\" }":                                     "line 2: stock: \"white\" is pulled sugar without colour",
		"[stock]\n\"a\" = { clear = \"transparent\" }":                                   "line 2: stock: \"transparent\" is not a colour",
		"[stock]\n\"a\" = { clear = \"#f00\", additive = \"E 104, E 110\" }":             "allowed is one, as on a label",
		"[stock]\n\"a\" = {}":                     "line 2: stock: \"a\" needs its measured shade",
		"[log]\nleast_g = 9000\nlargest_g = 8000": "line 2: log.least_g is 9000, above log.largest_g 8000",
		"[shop]\nleast_lump_g = 4500":             "line 2: shop.least_lump_g is 4500, more than the smallest batch",
		"[price]\nhour = \"much\"":                "line 2: price.hour is not a number",
		"[label]\nallergens = [3]":                "line 2: label.allergens is a list",
		"shop = 3":                                "line 1: shop is a section",
		"[sugar]\nmoisture_percent = 0.5":         "believable is 20 to 60",
		"[tests]\noval = { width_mm = 140 }":      "tests.oval has no height_mm",
	} {
		_, err := shop.Read([]byte(text))
		if assert.Error(t, err, text) {
			assert.Contains(t, err.Error(), want)
		}
	}
}

// All faults of a file are listed, by line.
func TestAllFaults(t *testing.T) {
	_, err := shop.Read(
		[]byte("[log]\noval = 0.2\n[sugar]\nmoisture_percent = 40\nnonsense = 1\n[shop]\ncrew = true\n"))
	var f settings.Faults
	require.ErrorAs(t, err, &f)
	require.Len(t, f, 4)
	for i, want := range []settings.Fault{{Line: 2, Text: "log.oval is 0.2; allowed is 0.5 to 1"}, {Line: 4, Text: "sugar.moisture_percent is 40; allowed is 0.5 to 6"},
		{Line: 5, Text: "unknown setting sugar.nonsense"}, {Line: 7, Text: "shop.crew is not a number; allowed is 1 to 4"}} {
		assert.Equal(t, want.Line, f[i].Line)
		assert.Contains(t, f[i].Text, want.Text)
	}
}

// A round lump of 50 mm after a minute (computed): loss 1, 2, 5, 10 % of its height means 9.0e5, 4.4e5, 1.6e5, 7.2e4 Pa
// s.
func TestLump(t *testing.T) {
	for loss, eta := range map[float64]float64{0.01: 9.0e5, 0.02: 4.4e5, 0.05: 1.6e5, 0.10: 7.2e4} {
		l := shop.Lump{DiameterMM: 50, Minutes: 1, HeightMM: 50 * (1 - loss), AtC: 65}
		assert.InEpsilon(t, eta, l.Viscosity(), 0.02, "loss %g", loss)
		tau := 1450 * 9.81 * 0.05 * 60 / l.Viscosity()
		assert.InDelta(t, 1-loss, shop.Sag(tau), 1e-9)
	}
	s, err := shop.Read(
		[]byte(
			"[sugar]\ntg_c = 30\n[tests]\nlump = { diameter_mm = 50, minutes = 1, height_mm = 47.5, at_c = 65 }\noval = { width_mm = 158, height_mm = 142 }\n"),
	)
	require.NoError(t, err)
	assert.Equal(t, shop.FromTest, s.TgFrom)
	got, err := sugar.LogEta(65, s.TgC)
	require.NoError(t, err)
	assert.InDelta(t, math.Log10(1.6e5), got, 0.01, "the test goes before the setting")
	assert.Less(t, s.TgPlusMinus, 3.0)
	assert.InDelta(t, 142.0/158, s.Oval, 1e-9)
}

// Where the glass transition comes from: a setting, the moisture, the default.
func TestTgFrom(t *testing.T) {
	s := shop.Default()
	assert.Equal(t, shop.FromDefault, s.TgFrom)
	s, err := shop.Read([]byte("[sugar]\ntg_c = 41"))
	require.NoError(t, err)
	assert.Equal(t, shop.FromSetting, s.TgFrom)
	s, err = shop.Read([]byte("[sugar]\nmoisture_percent = 2"))
	require.NoError(t, err)
	assert.Equal(t, shop.FromMoisture, s.TgFrom)
	assert.InDelta(t, 47.65, s.TgC, 0.01)
}

// A kitchen that says how far it boils gets its water and glass transition from that; on a mountain the same reading is a stronger boil.
// What contradicts itself is said.
func TestEndOfBoil(t *testing.T) {
	read := func(text string) *shop.Shop {
		s, err := shop.Read([]byte(text))
		require.NoError(t, err, text)
		return s
	}
	low, high := read("[boil]\nend_c = 140"), read("[boil]\nend_c = 148")
	assert.Greater(t, low.WaterPercent(), high.WaterPercent())
	assert.Less(t, low.TgC, high.TgC, "drier sugar is stiffer")
	assert.Equal(t, shop.FromBoil, high.TgFrom)
	assert.Equal(t, 148.0, high.EndOfBoil())
	assert.Greater(t, high.TgPlusMinus, sugar.TgUncertain.PlusMinus)
	up := read("[boil]\nend_c = 143\naltitude_m = 1500")
	assert.InDelta(t, high.WaterPercent(), up.WaterPercent(), 0.2, "five degrees lower at 1500 m")
	assert.Less(t, read("[boil]\naltitude_m = 1500").EndOfBoil(), shop.Default().EndOfBoil()-4)
	for text, want := range map[string]string{
		"[boil]\nend_c = 148\n[sugar]\ntg_c = 36":            "both say how far",
		"[boil]\nend_c = 148\n[sugar]\nmoisture_percent = 2": "both say how far",
		"[boil]\nend_c = 115":                                "line 2: boil.end_c is 115: that leaves",
		"[boil]\naltitude_m = 9000":                          "allowed is -400 to 4000",
	} {
		_, err := shop.Read([]byte(text))
		require.ErrorContains(t, err, want, text)
	}
}
