package artwork_test

import (
	"math"
	"strings"
	"testing"

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
