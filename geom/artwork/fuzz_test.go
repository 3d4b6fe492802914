package artwork_test

import (
	"bytes"
	"encoding/base64"
	"image/gif"
	"image/jpeg"
	"image/png"
	"math"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/goregular"

	"sugarwright/geom"
	"sugarwright/geom/artwork"
)

// Path data of any kind is read up to its first error, and what was read does not depend on what follows the error.
func FuzzPath(f *testing.F) {
	for _, s := range []string{"M0 0L10 10z", "m1-1.5.5e1-.5zl3,4", "M0,0A5,5 725 0110,0a1 1 0 00-3.e-3 4", "M1 1C2 2 3 3 4 4S5 5 6 6Q7 7 8 8T9 9H1V2h3v4",
		"M 10,10 L 20,20,30", "L1 1", "M0 0z z m1 1", "M0 0L1e400 3", "M0 0l1 1é"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, d string) {
		got, ok := artwork.ReadPath(d)
		if len(got) > 12*len(d)+12 {
			t.Fatalf("%d points from %d bytes", len(got), len(d))
		}
		if again, _ := artwork.ReadPath(d + "\x00"); ok && len(again) != len(got) {
			t.Fatalf("%d points, then %d before an error", len(got), len(again))
		}
	})
}

// A transform list is the product of its parts.
func FuzzTransform(f *testing.F) {
	for _, s := range []string{"translate(1 2)", "matrix(0-1 1 0 0 0)", "rotate(45, 3 4)scale(2),skewX(3) skewY(.5)", "scale(2) turn(3)", "rotate(45deg) translate(10px, 5%)", "translate(1", "none", ","} {
		f.Add(s, false)
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, s string, css bool) {
		m, ok := artwork.ReadTransform(s, css)
		if !ok {
			if m != geom.Identity {
				t.Fatal("a bad list transforms")
			}
			return
		}
		twice, ok := artwork.ReadTransform(s+" "+s, css)
		want := m.Times(m)
		for i := range want {
			if size := math.Abs(want[i]) + math.Abs(m[i]); !ok ||
				size < 1e12 && !(math.Abs(want[i]-twice[i]) <= 1e-6*(1+size*size)) {
				t.Fatalf("%v twice is %v, not %v", m, twice, want)
			}
		}
	})
}

// A style sheet of any kind is read without more rules than it has room for, and alike every time.
func FuzzSheet(f *testing.F) {
	for _, s := range []string{".a{fill:red}", "#b>c, d e{stroke:#000 !important;/* x */fill-rule:evenodd}", "@media screen{a{fill:blue}} @media print{b{fill:red}}", "@import url(x);c:not(.d)+e~f{opacity:.5}",
		"a{fill:red", "}{;:", "a[b=\"c\"]{marker:none}", "<!-- .a{fill:red} -->"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if n := artwork.ReadSheet(text); n > len(text) || n != artwork.ReadSheet(text) {
			t.Fatalf("%d rules from %d bytes", n, len(text))
		}
		if strings.ContainsAny(text, "<&\x00") {
			return
		}
		_, _, _ = artwork.Parse(
			[]byte(
				`<svg xmlns="http://www.w3.org/2000/svg"><style>` + text + `</style><g class="a" id="b"><rect class="a" width="1" height="1" style="` + strings.ReplaceAll(
					text, `"`, "") + `"/></g></svg>`,
			),
		)
	})
}

// A font of any kind sets a text, or another does: no panic, no letter lost in silence.
func FuzzFont(f *testing.F) {
	f.Add(goregular.TTF)
	f.Add([]byte("OTTO\x00\x01"))
	f.Add([]byte("wOFF\x00\x01\x00\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		uri := base64.StdEncoding.EncodeToString(data)
		art, found, err := artwork.Parse([]byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 99 99"><style>@font-face{font-family:F;src:url(data:;base64,` + uri +
			`)}</style><text y="60" font-family="F" font-size="40">fiA</text></svg>`))
		if err != nil {
			t.Fatal(err)
		}
		if !found.Refuses() && len(art.Altered) == 0 && !art.Painted() {
			t.Fatal("nothing is painted, and nothing said")
		}
	})
}

// What stands in a text, with paint that differs from place to place, is read: no panic, no hang.
func FuzzPaint(f *testing.F) {
	for _, s := range []string{`<text x="1 2" dy="3" rotate="4">a<tspan baseline-shift="super">b</tspan></text>`,
		`<pattern id="p" width=".1" height=".1"><rect width="1" height="1" fill="url(#p)"/></pattern><circle r="9" fill="url(#p)"/>`,
		`<radialGradient id="g" fx=".9" fr=".3" spreadMethod="repeat"><stop offset=".2"/><stop offset="1" stop-color="red"/></radialGradient><path d="M0 0h9v9z" fill="url(#g)" stroke="url(#g)"/>`,
		`<filter id="f"><feGaussianBlur stdDeviation="2"/><feBlend in2="SourceGraphic"/></filter><g filter="url(#f)"><rect width="4" height="4"/></g>`,
		`<image width="4" height="4" href="data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg'/%3E"/>`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		_, _, _ = artwork.Parse([]byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 20">` + s + `</svg>`))
	})
}

// A picture of any bytes is read, or it is said why not.
func FuzzPicture(f *testing.F) {
	for _, write := range []func(*bytes.Buffer) error{
		func(b *bytes.Buffer) error { return png.Encode(b, mark(20)) },
		func(b *bytes.Buffer) error { return jpeg.Encode(b, mark(20), nil) },
		func(b *bytes.Buffer) error { return gif.Encode(b, mark(20), nil) },
	} {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			f.Fatal(err)
		}
		f.Add(b.Bytes())
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if art, _, err := artwork.Parse(data); err == nil && art == nil {
			t.Fatal("neither read nor refused")
		}
	})
}
