package sheets_test

import (
	"bytes"
	"context"
	"fmt"
	"image"
	_ "image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/lucasb-eyer/go-colorful"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/internal/golden"
	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/pdf"
	"sugarwright/render/raster"
	"sugarwright/render/sheet"
	"sugarwright/render/sheets"
	"sugarwright/render/svg"
	"sugarwright/render/view"
)

// tool is a program of the machine, or the test is skipped and says so.
func tool(t *testing.T, names ...string) string {
	for _, n := range names {
		if p, err := exec.LookPath(n); err == nil {
			return p
		}
	}
	t.Skipf("none of %v is installed: not checked", names)
	return ""
}

// tower is a plan of an example with its files.
func tower(t testing.TB) (*plan.Plan, map[string][]byte) {
	p := golden.Plan(t, "tower-window")
	files, err := sheets.Files(p, styles(t)[0])
	require.NoError(t, err)
	out := map[string][]byte{}
	for _, f := range files {
		out[f.Name] = f.Data
	}
	return p, out
}

// Same plan, same bytes (P9).
func TestSameBytes(t *testing.T) {
	_, a := tower(t)
	_, b := tower(t)
	require.Len(t, b, len(a))
	for n := range a {
		assert.True(t, bytes.Equal(a[n], b[n]), n)
	}
}

// A length of 100 mm is 100 mm in the file, to 0.1 mm: 283.46 points (ISO 32000-1, 8.3.2.3: a point is 1/72 inch). The
// face is embedded, and two readers open it without a word.
func TestPDFIsExact(t *testing.T) {
	pg := &page.Page{W: 210, H: 297}
	pg.Line(page.Point{50, 100}, page.Point{150, 100}, 0.5)
	data, err := pdf.Write([]*page.Page{pg}, "x")
	require.NoError(t, err)
	name := filepath.Join(t.TempDir(), "x.pdf")
	require.NoError(t, os.WriteFile(name, data, 0o644))
	out, err := exec.Command(tool(t, "mutool"), "show", name, "pages/1/Contents").CombinedOutput()
	require.NoError(t, err, string(out))
	m := regexp.MustCompile(`([0-9.]+) ([0-9.]+) m ([0-9.]+) ([0-9.]+) l`).FindSubmatch(out)
	require.NotNil(t, m, string(out))
	var x [4]float64
	for i := range x {
		_, err := fmt.Sscan(string(m[i+1]), &x[i])
		require.NoError(t, err)
	}
	assert.InDelta(t, 100, (x[2]-x[0])/72*25.4, 0.1)
	assert.InDelta(t, 197, x[1]/72*25.4, 0.1)

	_, files := tower(t)
	name = filepath.Join(t.TempDir(), "working.pdf")
	require.NoError(t, os.WriteFile(name, files["working.pdf"], 0o644))
	for _, c := range [][]string{{tool(t, "mutool"), "draw", "-q", "-o", os.DevNull, name}, {tool(t, "pdftoppm"), "-r", "20", "-png", name, filepath.Join(t.TempDir(), "p")}} {
		out, err := exec.Command(c[0], c[1:]...).CombinedOutput()
		require.NoError(t, err, string(out))
		// Said of the reader's own build, whatever the file
		said := strings.ReplaceAll(string(out), "warning: ICC support is not available\n", "")
		assert.Empty(t, strings.TrimSpace(said), c[0])
	}
	out, err = exec.Command(tool(t, "pdffonts"), name).CombinedOutput()
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")[2:]
	require.NotEmpty(t, lines)
	for _, l := range lines {
		assert.Regexp(t, `Identity-H\s+yes`, l, "embedded")
	}
}

// The SVG is the same picture in every reader at hand as in our own raster: no more than one pixel of 200 differs by
// more than half of the range.
func TestSVGLooksTheSame(t *testing.T) {
	_, files := tower(t)
	dir := t.TempDir()
	p := golden.Plan(t, "tower-window")
	var pages []*page.Page
	for _, x := range all(p, styles(t)[0]) {
		if x.Name == "assembly" {
			pages = x.Pages
		}
	}
	name := filepath.Join(dir, "a.svg")
	require.NoError(t, os.WriteFile(name, svg.Write(pages[:1]), 0o644))
	require.NotEmpty(t, files["assembly.svg"])
	const perMM = 4
	want := raster.Draw(pages[0], perMM)
	w, h := want.Rect.Dx(), want.Rect.Dy()
	readers := map[string][]string{
		"rsvg": {
			"rsvg-convert",
			"-w",
			fmt.Sprint(w),
			"-h",
			fmt.Sprint(h),
			"-o",
			filepath.Join(dir, "rsvg.png"),
			name,
		},
		"resvg": {"resvg", "-w", fmt.Sprint(w), "-h", fmt.Sprint(h), name, filepath.Join(dir, "resvg.png")},
		"chromium": {
			"chromium",
			"--headless",
			"--no-sandbox",
			"--disable-gpu",
			"--hide-scrollbars",
			fmt.Sprintf("--force-device-scale-factor=%g", perMM*25.4/96),
			"--window-size=794,1123",
			"--screenshot=" + filepath.Join(dir, "chromium.png"),
			"file://" + name,
		},
	}
	for reader, c := range readers {
		t.Run(reader, func(t *testing.T) {
			c[0] = tool(t, c[0])
			ctx, stop := context.WithTimeout(context.Background(), time.Minute)
			defer stop()
			out, err := exec.CommandContext(ctx, c[0], c[1:]...).CombinedOutput()
			require.NoError(t, err, string(out))
			f, err := os.Open(filepath.Join(dir, reader+".png"))
			require.NoError(t, err)
			defer f.Close()
			got, _, err := image.Decode(f)
			require.NoError(t, err)
			differ := 0
			for y := range h {
				for x := range w {
					a, _, _, _ := want.At(x, y).RGBA()
					b, _, _, _ := got.At(got.Bounds().Min.X+x, got.Bounds().Min.Y+y).RGBA()
					if math.Abs(float64(a)-float64(b)) > 0x8000 {
						differ++
					}
				}
			}
			assert.Less(t, float64(differ)/float64(w*h), 0.005)
		})
	}
}

// simulated red-green deficiency: Machado, Oliveira and Fernandes 2009, A physiologically-based model for simulation of
// color vision deficiency, severity 1 (matrices from memory), in linear light.
var deficiency = map[string][9]float64{
	"protan": {0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998},
	"deutan": {0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881},
	"grey":   {0.2126, 0.7152, 0.0722, 0.2126, 0.7152, 0.0722, 0.2126, 0.7152, 0.0722},
}

// Colours that touch are told apart in grey and with a red-green deficiency: by CIEDE2000 of 10, or by another hatch of
// which a line goes through each part.
func TestTouchingColoursDiffer(t *testing.T) {
	hatched := 0
	for name, p := range plans(t) {
		inks := styles(t)[0].Inks(p)
		rgb := map[string]colorful.Color{}
		for _, c := range p.Colours {
			x, err := colorful.Hex(c.SRGB)
			require.NoError(t, err)
			rgb[c.ID] = x
		}
		for a, others := range sheet.Touching(p) {
			for b := range others {
				ha, oka := inks.Hatch(a)
				hb, okb := inks.Hatch(b)
				if oka != okb || ha != hb {
					hatched++
					continue
				}
				for kind, m := range deficiency {
					see := func(c colorful.Color) colorful.Color {
						r, g, b := c.LinearRgb()
						return colorful.LinearRgb(m[0]*r+m[1]*g+m[2]*b, m[3]*r+m[4]*g+m[5]*b,
							m[6]*r+m[7]*g+m[8]*b).Clamped()
					}
					assert.GreaterOrEqual(t, 100*see(rgb[a]).DistanceCIEDE2000(see(rgb[b])), 10.0,
						"%s: %s and %s in %s", name, a, b, kind)
				}
			}
		}
		v := view.View{Scale: 1}
		for _, e := range p.Elements { // a line of the hatch is seen in each part
			h, ok := inks.Hatch(e.Colour)
			if !ok {
				continue
			}
			pg := &page.Page{}
			pg.Hatch(v.Place(e.True), h, v.At(e.Label), "#000000")
			assert.NotEmpty(t, pg.Items, "%s: no line in part %s", name, e.ID)
		}
	}
	assert.Greater(t, hatched, 20)
}

// The bench page in a real browser: next, back, keys, one undo, the clocks over a reload, no text cut off at 360 and
// 1280 px, nothing asked of the network.
func TestBenchPage(t *testing.T) {
	path := tool(t, "chromium", "chromium-browser", "google-chrome")
	p, files := tower(t)
	name := filepath.Join(t.TempDir(), "bench.html")
	require.NoError(t, os.WriteFile(name, files["bench.html"], 0o644))
	assert.NotRegexp(t, `(?i)(src|href)="(https?:|//)`,
		strings.ReplaceAll(string(files["bench.html"]), "http://www.w3.org/", ""))
	opts := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.DisableGPU)
	ctx, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	defer stop()
	ctx, stop = chromedp.NewContext(ctx)
	defer stop()
	ctx, stop = context.WithTimeout(ctx, 90*time.Second)
	defer stop()
	value := func(js string) float64 {
		v, err := chromedp.Run(ctx, chromedp.Evaluate[float64](js))
		require.NoError(t, err)
		return v
	}
	number := func() string {
		n, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.getElementById("number").textContent`))
		require.NoError(t, err)
		return n
	}
	press := func(id string) { // where a finger would: in the middle, and nothing lies over it
		at, err := chromedp.Run(
			ctx,
			chromedp.Evaluate[[]float64](
				fmt.Sprintf(`(function(){var e=document.querySelector(%q);e.scrollIntoView({block:"nearest"});
			var r=e.getBoundingClientRect(),x=r.left+r.width/2,y=r.top+r.height/2;return [x,y,e.contains(document.elementFromPoint(x,y))?1:0]})()`, id),
			),
		)
		require.NoError(t, err, id)
		require.Equal(t, 1.0, at[2], "%s is covered", id)
		require.NoError(t, chromedp.Do(ctx, chromedp.MouseClickXY(at[0], at[1])), id)
	}
	key := func(k string) { require.NoError(t, chromedp.Do(ctx, chromedp.KeyEvent(k))) }
	for _, width := range []int64{360, 1280} {
		require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(width, 800), chromedp.Navigate("file://"+name)))
		value("(localStorage.clear(), history.replaceState(null,'','#'), 0)")
		require.NoError(t, chromedp.Do(ctx, chromedp.Reload()))
		assert.Equal(t, "", number(), "before the start")
		press("#next")
		assert.Equal(t, "1", number())
		press("#next")
		assert.Equal(t, "2", number())
		press("#undo")
		assert.Equal(t, "1", number())
		press("#next")
		key(" ")
		assert.Equal(t, "3", number())
		press("#back")
		assert.Equal(t, "2", number())
		// A reload goes on where it was, clocks and all.
		time.Sleep(1100 * time.Millisecond)
		require.NoError(t, chromedp.Do(ctx, chromedp.Reload()))
		assert.Equal(t, "2", number())
		assert.GreaterOrEqual(
			t,
			value(
				`(function(){var p=document.getElementById("clock").textContent.split(":");return 60*p[0]+1*p[1]})()`),
			1.0,
		)
		seen := 0.0
		for range p.Steps {
			assert.LessOrEqual(t, value("document.documentElement.scrollWidth"), float64(width),
				"nothing beside the screen")
			assert.GreaterOrEqual(t, value(`parseFloat(getComputedStyle(document.getElementById("text")).fontSize)`),
				30.0)
			assert.GreaterOrEqual(
				t,
				value(
					`Math.min(document.getElementById("next").offsetHeight,document.getElementById("back").offsetHeight)`),
				90.0,
			)
			assert.Equal(
				t,
				0.0,
				value(
					`[].filter.call(document.querySelectorAll("button"),function(b){return b.scrollWidth>b.clientWidth+1}).length`),
				"no word of a button cut off",
			)
			seen = math.Max(seen, value(`document.querySelectorAll(".pictures svg.shown").length`))
			press("#next")
		}
		assert.Equal(t, 1.0, seen, "one picture at a time")
		assert.Equal(t, 1.0, value(`document.getElementById("next").disabled?1:0`), "the end")
	}
}

// All sheets of a plan.
func BenchmarkAllSheets(b *testing.B) {
	p := golden.Plan(b, "leaf-veins")
	b.ReportMetric(float64(len(p.Elements)), "parts")
	for b.Loop() {
		_, err := sheets.Files(p, styles(b)[0])
		require.NoError(b, err)
	}
}
