// Package face holds the faces that the program itself sets text in, DejaVu Sans Condensed: Latin, Greek, Cyrillic, Hebrew, Arabic and
// more. It imports nothing of the project.
package face

import (
	"bytes"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"github.com/go-text/typesetting/font"
)

// UnitsPerEm of the faces.
const UnitsPerEm = 2048

// Files are the faces as files: regular and bold.
func Files() [2][]byte { return [2][]byte{dejavusanscondensed.TTF, dejavusanscondensedbold.TTF} }

// Parsed are the faces: regular and bold. The error is our own.
func Parsed() (out [2]*font.Face, err error) {
	for i, data := range Files() {
		if out[i], err = font.ParseTTF(bytes.NewReader(data)); err != nil {
			return out, err
		}
	}
	return out, nil
}
