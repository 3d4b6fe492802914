package artwork

import (
	"bytes"
	"fmt"
)

// Kind of a file, told by its first bytes, never by its name.
type Kind string

// Kinds that clients send.
const (
	SVG        Kind = "SVG"
	PNG        Kind = "PNG"
	JPEG       Kind = "JPEG"
	GIF        Kind = "GIF"
	WebP       Kind = "WebP"
	PDF        Kind = "PDF"
	PostScript Kind = "PostScript"
	Phone      Kind = "HEIC or AVIF"
	TIFF       Kind = "TIFF"
	BMP        Kind = "BMP"
	Layered    Kind = "PSD"
	Archive    Kind = "ZIP"
)

// pdfWithin is how far from its first byte a PDF may begin (ISO 32000-1, annex H).
const pdfWithin = 1024

// KindOf tells a file by its first bytes; what is none of the others is read as SVG.
func KindOf(data []byte) Kind {
	starts := func(s string) bool { return bytes.HasPrefix(data, []byte(s)) }
	at := func(i int, s string) bool { return len(data) >= i && bytes.HasPrefix(data[i:], []byte(s)) }
	switch {
	case starts("\x89PNG"):
		return PNG
	case starts("\xff\xd8\xff"):
		return JPEG
	case starts("GIF8"):
		return GIF
	case starts("RIFF") && at(8, "WEBP"):
		return WebP
	case at(4, "ftyp"):
		return Phone
	case starts("%!PS") || starts("\xc5\xd0\xd3\xc6"):
		return PostScript
	case bytes.Contains(data[:min(len(data), pdfWithin)], []byte("%PDF-")):
		return PDF
	case starts("II*\x00") || starts("MM\x00*"):
		return TIFF
	case starts("BM") && at(6, "\x00\x00\x00\x00"):
		return BMP
	case starts("8BPS"):
		return Layered
	case starts("PK\x03\x04"):
		return Archive
	}
	return SVG
}

// instead says of a kind that is not read what to send instead; empty for those that are.
var instead = map[Kind]string{
	PostScript: "PostScript is a program and is not run here; save it as SVG",
	Phone:      "a phone's picture in HEIC or AVIF is not read; send it as PNG or JPEG",
	TIFF:       "a TIFF picture is not read; save it as PNG",
	BMP:        "a BMP picture is not read; save it as PNG",
	Layered:    "a file of layers is not read; save it as SVG, or as PNG of flat colours",
	Archive:    "a packed archive is not read; unpack it and send the drawing in it",
}

// KindError is a file of a kind that is not read, or that is damaged.
type KindError struct {
	Kind  Kind
	Text  string
	Photo bool // a photo, no drawing
}

func (e *KindError) Error() string { return e.Text }

// known refuses the kinds that are not read.
func known(k Kind) error {
	if text, no := instead[k]; no {
		return &KindError{Kind: k, Text: text}
	}
	return nil
}

// damaged is a bitmap that cannot be decoded.
func damaged(k Kind, err error) error {
	return &KindError{Kind: k, Text: fmt.Sprintf("the %s picture is damaged: %v", k, err)}
}
