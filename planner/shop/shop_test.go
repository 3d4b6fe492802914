package shop_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/artwork"
	"sugarwright/planner/shop"
)

// The printed file is the defaults: read back, it changes nothing, and every value is in its range.
func TestDefaultFile(t *testing.T) {
	s, err := shop.Read(shop.DefaultFile())
	require.NoError(t, err)
	assert.Equal(t, shop.Default(), s)
}

func TestOverlayAndColours(t *testing.T) {
	s, err := shop.Read([]byte("[shop]\ncrew = 3\n[colours]\n\"#d0202a\" = { name = \"strawberry\", finish = \"clear\" }\n"))
	require.NoError(t, err)
	assert.Equal(t, 3, s.Crew)
	assert.Equal(t, 3.4, s.ThinnestMM)
	assert.Equal(t, "strawberry", s.Colours[artwork.RGB{0xd0, 0x20, 0x2a}].Name)
}

// Every fault is named with what is allowed.
func TestFaults(t *testing.T) {
	for text, want := range map[string]string{
		"[shop]\ncrew = 9":                                          "shop.crew is 9; allowed is 1 to 4",
		"[log]\noval = 0.2\njacket_mm = -1":                         "log.jacket_mm is -1",
		"[colours]\n\"#fff\" = { name = \"w\", finish = \"matt\" }": "allowed are pulled and clear",
		"[colours]\n\"nix\" = { name = \"w\", finish = \"clear\" }": "is not a colour",
		"[log]\novall = 1":                                          "line 2",
		"[log\n":                                                    "line 1",
	} {
		_, err := shop.Read([]byte(text))
		if assert.Error(t, err, text) {
			assert.Contains(t, err.Error(), want)
		}
	}
}
