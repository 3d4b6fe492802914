package artwork

import (
	"encoding/binary"
	"image"
	"image/color"
)

// turnOf is how a camera held a picture, by the orientation of its JPEG's EXIF: 1 to 8; 1 where nothing is said (CIPA DC-008, 4.6.4).
func turnOf(data []byte, k Kind) int {
	if k != JPEG {
		return 1
	}
	for at := 2; at+4 <= len(data) && data[at] == 0xff; {
		mark, size := data[at+1], int(binary.BigEndian.Uint16(data[at+2:]))
		if mark == 0xda || size < 2 || at+2+size > len(data) {
			return 1
		}
		if body := data[at+4 : at+2+size]; mark == 0xe1 && len(body) > 14 && string(body[:6]) == "Exif\x00\x00" {
			return orientation(body[6:])
		}
		at += 2 + size
	}
	return 1
}

// orientation is the tag 0x0112 of the first directory of a TIFF block.
func orientation(t []byte) int {
	var order binary.ByteOrder = binary.BigEndian
	if string(t[:2]) == "II" {
		order = binary.LittleEndian
	}
	at := int(order.Uint32(t[4:]))
	if at < 8 || at+2 > len(t) {
		return 1
	}
	n := int(order.Uint16(t[at:]))
	for i := range n {
		e := at + 2 + 12*i
		if e+12 > len(t) {
			return 1
		}
		if order.Uint16(t[e:]) == 0x0112 {
			if v := int(order.Uint16(t[e+8:])); v >= 1 && v <= 8 {
				return v
			}
			return 1
		}
	}
	return 1
}

// turned is a picture seen through an orientation.
type turned struct {
	image.Image
	how int
}

// upright is a picture as it was seen.
func upright(img image.Image, how int) image.Image {
	if how == 1 {
		return img
	}
	return turned{img, how}
}

// Bounds is image.Image.
func (t turned) Bounds() image.Rectangle {
	b := t.Image.Bounds()
	if t.how >= 5 {
		return image.Rect(0, 0, b.Dy(), b.Dx())
	}
	return image.Rect(0, 0, b.Dx(), b.Dy())
}

// At is image.Image.
func (t turned) At(x, y int) color.Color {
	b := t.Image.Bounds()
	w, h := b.Dx(), b.Dy()
	switch t.how {
	case 2:
		x = w - 1 - x
	case 3:
		x, y = w-1-x, h-1-y
	case 4:
		y = h - 1 - y
	case 5:
		x, y = y, x
	case 6:
		x, y = y, h-1-x
	case 7:
		x, y = w-1-y, h-1-x
	case 8:
		x, y = w-1-y, x
	}
	return t.Image.At(b.Min.X+x, b.Min.Y+y)
}
