package pdfpage_test

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"codeberg.org/go-pdf/fpdf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/geom/pdfpage"
)

// file is a PDF of one page with its content, resources and further objects from number 5 on, written by hand (ISO 32000-1, 7.5).
func file(content, resources, more string, objects ...string) []byte {
	all := append([]string{
		"<</Type/Catalog/Pages 2 0 R>>",
		"<</Type/Pages/Kids[3 0 R]/Count 1>>",
		"<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 100]/Contents 4 0 R/Resources<<" + resources + ">>" + more + ">>",
		fmt.Sprintf("<</Length %d>>stream\n%s\nendstream", len(content), content),
	}, objects...)
	var b bytes.Buffer
	b.WriteString("%PDF-1.7\n")
	var at []int
	for i, o := range all {
		at = append(at, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(all)+1)
	for _, p := range at {
		fmt.Fprintf(&b, "%010d 00000 n \n", p)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(all)+1, start)
	return b.Bytes()
}

// Operators become what they mean: rectangles and curves under their matrices, colours of every plain space, clips, strokes.
func TestOperators(t *testing.T) {
	p, err := pdfpage.First(file("q 1 0 0 1 10 20 cm 1 0 0 rg 0 0 50 30 re f Q 0 1 1 0 k 5 5 m 10 10 l S q 0 0 20 20 re W* n .5 G 3 w 1 J 2 2 m 3 3 4 4 5 5 c h B* Q", "", ""))
	require.NoError(t, err)
	got := string(p.SVG)
	for _, want := range []string{`width="200" height="100"`, `matrix(1 0 0 -1 10 80)" fill="#ff0000"`, `clip-rule="evenodd"`, `stroke="#808080" stroke-width="3"`,
		`stroke-linecap="round"`, `M2 2C3 3 4 4 5 5Z`, `fill-rule="evenodd"`} {
		assert.Contains(t, got, want)
	}
	assert.NotContains(t, got, "#00ffff")
	assert.Zero(t, p.Missing)
}

// Colour spaces with tables, tints and functions lead to the colours that their definitions say; a pattern without colour takes the one set.
func TestColours(t *testing.T) {
	res := `/ColorSpace<</I[/Indexed/DeviceRGB 1 <ff8000004080>]/S[/Separation/Spot/DeviceCMYK 5 0 R]/L[/Lab<</WhitePoint[.9505 1 1.089]>>]/P[/Pattern/DeviceRGB]>>/Pattern<</T 6 0 R>>`
	p, err := pdfpage.First(file("/I cs 1 sc 0 0 9 9 re f /S cs 1 scn 0 0 9 9 re f /L cs 53.24 80.09 67.2 sc 0 0 9 9 re f /P cs 0 0 1 /T scn 0 0 90 90 re f", res, "",
		"<</FunctionType 2/Domain[0 1]/C0[0 0 0 0]/C1[0 .5 1 0]/N 1>>",
		"<</PatternType 1/PaintType 2/TilingType 1/BBox[0 0 8 8]/XStep 10/YStep 10/Resources<<>>/Length 14>>stream\n0 0 4 4 re f  \nendstream"))
	require.NoError(t, err)
	got := string(p.SVG)
	for _, want := range []string{`fill="#004080"`, `fill="#ff8000"`, `fill="#fe0000"`, `<pattern`, `width="10" height="10"`, `fill="#0000ff"`} {
		if want == `fill="#fe0000"` { // sRGB red in Lab is 53.24, 80.09, 67.20 (IEC 61966-2-1)
			assert.Regexp(t, `fill="#f[ef]0[01]0[01]"`, got)
			continue
		}
		assert.Contains(t, got, want)
	}
}

// A page lies as it is turned, and its crop box is the page.
func TestBoxes(t *testing.T) {
	p, err := pdfpage.First(file("0 0 1 rg 0 0 10 10 re f", "", "/Rotate 90"))
	require.NoError(t, err)
	assert.Contains(t, string(p.SVG), `width="100" height="200"`)
	assert.Contains(t, string(p.SVG), "matrix(0 1 1 0 0 0)")
	p, err = pdfpage.First(file("0 0 1 rg 0 0 10 10 re f", "", "/CropBox[50 20 150 80]"))
	require.NoError(t, err)
	assert.Contains(t, string(p.SVG), `width="100" height="60"`)
}

// Text is counted, but neither spaces nor what is in a layer that is off; pages are too.
func TestText(t *testing.T) {
	d := fpdf.New("P", "mm", "A4", "")
	d.AddPage()
	d.SetFont("Helvetica", "", 20)
	d.Cell(40, 10, "Anna")
	d.AddPage()
	var b bytes.Buffer
	require.NoError(t, d.Output(&b))
	p, err := pdfpage.First(b.Bytes())
	require.NoError(t, err)
	assert.Equal(t, 2, p.Pages)
	assert.Equal(t, 1, p.Missing.Text)
	p, err = pdfpage.First(file("BT ( ) Tj [( ) -20 ( )] TJ ET", "", ""))
	require.NoError(t, err)
	assert.Zero(t, p.Missing.Text)
}

// Files that are none, that are damaged or run in circles, are refused, or read as far as they go: no panic, no hang.
func TestBad(t *testing.T) {
	whole, err := os.ReadFile("../../testdata/corpora/pdf/twemoji-fox-face.pdf")
	require.NoError(t, err)
	for i := 0; i < len(whole); i += 101 {
		_, _ = pdfpage.First(whole[:i])
		bent := bytes.Clone(whole)
		bent[i] ^= 0x55
		_, _ = pdfpage.First(bent)
	}
	form := "<</Type/XObject/Subtype/Form/BBox[0 0 9 9]/Resources<</XObject<</X 5 0 R>>>>/Length 6>>stream\n/X Do \nendstream"
	_, err = pdfpage.First(file("/X Do", "/XObject<</X 5 0 R>>", "", form))
	assert.Error(t, err)
	_, err = pdfpage.First([]byte("%PDF-1.4\n"))
	assert.Error(t, err)
	var z bytes.Buffer
	w := zlib.NewWriter(&z)
	for range 90 {
		_, _ = w.Write(bytes.Repeat([]byte("0 0 1 1 re f "), 80_000))
	}
	_ = w.Close()
	data := file("", "", "")
	data = bytes.Replace(data, []byte("<</Length 0>>stream\n\nendstream"), []byte(fmt.Sprintf("<</Length %d/Filter/FlateDecode>>stream\n%s\nendstream", z.Len(), z.String())), 1)
	_, err = pdfpage.First(data)
	assert.Error(t, err, "a bomb of 90 MB")
	p, err := pdfpage.First(file(strings.Repeat("q ", 500)+"[[[[[[[[[[[[[[[[[[[[ <<<<<< (((( /A/B Tj 1 2 sc scn /N gs /N Do sh BI ID xx", "", ""))
	require.NoError(t, err)
	assert.NotNil(t, p)
}

// The same file gives the same drawing.
func TestSame(t *testing.T) {
	names, err := filepath.Glob("../../testdata/corpora/pdf/twemoji-*.pdf")
	require.NoError(t, err)
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		a, err := pdfpage.First(data)
		require.NoError(t, err)
		b, err := pdfpage.First(data)
		require.NoError(t, err)
		assert.Equal(t, string(a.SVG), string(b.SVG))
	}
}

func FuzzPage(f *testing.F) {
	for _, n := range []string{"twemoji-star", "circle-flags-saltire"} {
		data, err := os.ReadFile("../../testdata/corpora/pdf/" + n + ".pdf")
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add(file("/X Do 1 0 0 rg 0 0 9 9 re f", "/XObject<</X 5 0 R>>", "", "<</Subtype/Image/Width 2/Height 2/ColorSpace/DeviceRGB/BitsPerComponent 8/Length 12>>stream\nabcdefghijkl\nendstream"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if p, err := pdfpage.First(data); err == nil && len(p.SVG) == 0 {
			t.Fatal("neither read nor refused")
		}
	})
}

// What stands in a content stream is read, whatever it is.
func FuzzContent(f *testing.F) {
	f.Add("q 1 0 0 1 10 20 cm 1 0 0 rg 0 0 50 30 re f Q /A gs [1 2] 0 d (a\\)b) Tj <</A [1 /B]>> BDC EMC /P cs /T scn f*")
	f.Fuzz(func(t *testing.T, content string) {
		_, _ = pdfpage.First(file(content, "/ExtGState<</A<</ca .5/SMask<</S/Alpha/G 5 0 R>>>>>>/Pattern<</T 5 0 R>>/XObject<</X 5 0 R>>", "",
			"<</Type/XObject/Subtype/Form/PatternType 1/BBox[0 0 8 8]/XStep 10/YStep 10/Length 14>>stream\n0 0 4 4 re f  \nendstream"))
	})
}

func BenchmarkFirst(b *testing.B) {
	data, err := os.ReadFile("../../testdata/corpora/pdf/emojione-birthday-cake.pdf")
	require.NoError(b, err)
	n := 0
	for range b.N {
		p, err := pdfpage.First(data)
		require.NoError(b, err)
		n += len(p.SVG)
	}
	b.ReportMetric(float64(n)/float64(b.N), "bytes")
}

// A shade ends where it does not extend; what is put onto the page as an annotation is drawn where its rectangle is, hidden ones are
// not; numbers that nobody can compute with are counted.
func TestEnds(t *testing.T) {
	shading := "/Shading<</S<</ShadingType 2/ColorSpace/DeviceRGB/Coords[50 0 150 0]/Function<</FunctionType 2/Domain[0 1]/C0[1 0 0]/C1[0 0 1]/N 1>>%s>>>>"
	p, err := pdfpage.First(file("/S sh", fmt.Sprintf(shading, ""), ""))
	require.NoError(t, err)
	assert.Equal(t, 2, strings.Count(string(p.SVG), `stop-opacity="0"`))
	p, err = pdfpage.First(file("/S sh", fmt.Sprintf(shading, "/Extend[true true]"), ""))
	require.NoError(t, err)
	assert.Zero(t, strings.Count(string(p.SVG), `stop-opacity="0"`))
	form := "<</Subtype/Form/BBox[0 0 10 10]/Length 24>>stream\n0 .5 0 rg 0 0 10 10 re f\nendstream"
	for flags, drawn := range map[string]bool{"": true, "/F 2": false} {
		p, err = pdfpage.First(file("", "", "/Annots[<</Subtype/Square/Rect[20 30 60 50]"+flags+"/AP<</N 5 0 R>>>>]", form))
		require.NoError(t, err)
		assert.Equal(t, drawn, strings.Contains(string(p.SVG), `transform="matrix(4 0 0 -2 20 70)" fill="#008000"`), "%s", p.SVG)
	}
	p, err = pdfpage.First(file("1e30 0 m 5 5 l 9 0 l f", "", ""))
	require.NoError(t, err)
	assert.Positive(t, p.Missing.Far)
}
