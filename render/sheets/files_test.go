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
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/lucasb-eyer/go-colorful"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"sugarwright/internal/golden"
	"sugarwright/planner/plan"
	"sugarwright/render/page"
	"sugarwright/render/pdf"
	"sugarwright/render/raster"
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
		if x.Name == "wall" {
			pages = x.Pages
		}
	}
	name := filepath.Join(dir, "a.svg")
	require.NoError(t, os.WriteFile(name, svg.Write(pages[:1]), 0o644))
	require.NotEmpty(t, files["wall.svg"])
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
			"--window-size=1588,1123",
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
		for a, others := range p.Index().Touching() {
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

// browser opens the bench page of a plan in a real browser.
type browser struct {
	t   *testing.T
	ctx context.Context
}

func (b browser) value(js string) float64 {
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[float64](js))
	require.NoError(b.t, err, js)
	return v
}

func (b browser) text(id string) string {
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](fmt.Sprintf(`document.getElementById(%q).textContent`, id)))
	require.NoError(b.t, err)
	return v
}

// press where a finger would: in the middle of a key, and nothing lies over it.
func (b browser) press(css string) {
	at, err := chromedp.Run(b.ctx, chromedp.Evaluate[[]float64](fmt.Sprintf(`(function(){var e=document.querySelector(%q);e.scrollIntoView({block:"nearest"});
		var r=e.getBoundingClientRect(),x=r.left+r.width/2,y=r.top+r.height/2;return [x,y,e.contains(document.elementFromPoint(x,y))?1:0]})()`, css)))
	require.NoError(b.t, err, css)
	require.Equal(b.t, 1.0, at[2], "%s is covered", css)
	require.NoError(b.t, chromedp.Do(b.ctx, chromedp.MouseClickXY(at[0], at[1])), css)
}

func (b browser) key(k string) { require.NoError(b.t, chromedp.Do(b.ctx, chromedp.KeyEvent(k))) }

// step is the number of the step that is shown; 0 on the start screen.
func (b browser) step() int {
	if b.value(`document.getElementById("home").hidden?1:0`) == 0 {
		return 0
	}
	n := 0
	for _, f := range strings.Fields(b.text("count")) {
		if _, err := fmt.Sscan(f, &n); err == nil {
			return n
		}
	}
	return -1
}

// fits holds that nothing on a step is cut off, covered or beside the screen, and that its keys are large.
func (b browser) fits(at string) {
	for what, js := range map[string]string{
		"page wider than the screen":   `document.documentElement.scrollWidth-innerWidth`,
		"page higher than the screen":  `document.documentElement.scrollHeight-innerHeight`,
		"facts cut off below":          `(function(e){return e.scrollHeight-e.clientHeight})(document.getElementById("facts"))`,
		"facts cut off beside":         `(function(e){return e.scrollWidth-e.clientWidth})(document.getElementById("facts"))`,
		"facts under the keys":         `document.getElementById("facts").getBoundingClientRect().bottom-document.querySelector("nav").getBoundingClientRect().top`,
		"picture under the keys":       `document.getElementById("pictures").getBoundingClientRect().bottom-document.querySelector("nav").getBoundingClientRect().top`,
		"words of a key cut off":       `[].reduce.call(document.querySelectorAll("nav button,#undo"),function(m,b){return Math.max(m,b.scrollWidth-b.clientWidth)},0)`,
		"facts and picture overlap":    `(function(p,f){if(document.getElementById("pictures").hidden)return 0;return Math.min(p.right-f.left,p.bottom-f.top,f.right-p.left,f.bottom-p.top)})(document.getElementById("pictures").getBoundingClientRect(),document.getElementById("facts").getBoundingClientRect())`,
		"a key lower than 84 pixels":   `84-Math.min(document.getElementById("next").offsetHeight,document.getElementById("back").offsetHeight)`,
		"type smaller than 15 pixels":  `15-parseFloat(getComputedStyle(document.getElementById("detail")).fontSize)`,
		"picture smaller than a third": `document.getElementById("pictures").hidden?0:0.33*document.getElementById("main").clientHeight-document.getElementById("pictures").clientHeight`,
	} {
		assert.LessOrEqual(b.t, b.value(js), 1.0, "%s: %s", at, what)
	}
}

// The bench page in a real browser, on a telephone, a tablet and a wide screen: walked by taps and by keys, reloaded in
// the middle, nothing covered or cut on any step; a key that has the focus does what it says; each log is a run of its
// own, with every press.
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
	ctx, stop = context.WithTimeout(ctx, 120*time.Second)
	defer stop()
	b := browser{t, ctx}
	for _, size := range [][2]int64{{360, 740}, {768, 1024}, {1280, 800}} {
		at := fmt.Sprintf("%d x %d", size[0], size[1])
		require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(size[0], size[1]), chromedp.Navigate("file://"+name)))
		b.value("(localStorage.clear(), history.replaceState(null,'','#'), 0)")
		require.NoError(t, chromedp.Do(ctx, chromedp.Reload()))
		assert.Equal(t, 0, b.step(), "before the start")
		b.press("#start")
		assert.Equal(t, 1, b.step())
		b.press("#next")
		b.press("#undo")
		assert.Equal(t, 1, b.step())
		b.press("#next")
		b.key(kb.ArrowRight)
		assert.Equal(t, 3, b.step())
		b.press("#back")
		assert.Equal(t, 2, b.step())
		b.key(kb.Enter) // the focus is on BACK
		assert.Equal(t, 1, b.step(), "%s: a focused key does what it says", at)
		b.key("b")
		assert.Equal(t, 1.0, b.value(`document.getElementById("aid").hidden?0:1`), "first aid")
		b.key(kb.ArrowRight)
		b.key(kb.Escape)
		assert.Equal(t, 1, b.step(), "first aid leaves the step alone")
		// A reload goes on where it was, clocks and all.
		b.press("#next")
		time.Sleep(1100 * time.Millisecond)
		require.NoError(t, chromedp.Do(ctx, chromedp.Reload()))
		assert.Equal(t, 2, b.step())
		assert.GreaterOrEqual(t, b.value(`(function(){var p=document.getElementById("clock").textContent.split(":");return 60*p[0]+1*p[1]})()`), 1.0)
		b.press("#back")
		pictured := 0.0
		for i := range p.Steps {
			require.Equal(t, i+1, b.step())
			b.fits(fmt.Sprintf("%s, step %d", at, i+1))
			shown := b.value(`document.querySelectorAll("#pictures > svg.shown").length`)
			assert.LessOrEqual(t, shown, 1.0, "one picture at a time")
			pictured += shown
			if i%2 == 0 {
				b.press("#next")
			} else {
				b.key(kb.ArrowRight)
			}
		}
		drawn := 0
		for _, st := range p.Steps {
			switch st.Do {
			case plan.DoMake, plan.DoLay, plan.DoBend, plan.DoWrap:
				drawn++
			}
		}
		assert.GreaterOrEqual(t, pictured, float64(drawn), "what is made and laid is drawn")
		assert.Equal(t, 1.0, b.value(`document.getElementById("next").disabled?1:0`), "the end")
		// The next log is another run, and neither forgets its presses.
		for range p.Steps {
			b.key(kb.ArrowLeft)
		}
		b.key(kb.ArrowLeft)
		require.Equal(t, 0, b.step(), "before the first step is the start screen")
		b.press("#start")
		assert.Equal(t, 1, b.step())
		assert.Equal(t, 2.0, b.value(`JSON.parse(localStorage.getItem(Object.keys(localStorage)[0])).runs.length`), "two runs")
		assert.Greater(t, b.value(`JSON.parse(localStorage.getItem(Object.keys(localStorage)[0])).runs[0].presses.length`), float64(2*len(p.Steps)))
	}
}

// All sheets of a plan.
func BenchmarkAllSheets(b *testing.B) {
	many := *golden.Plan(b, "tower-window")
	many.Elements = slices.Clone(many.Elements)
	crowd(&many, 71)
	crowded, err := plan.Normal(&many)
	require.NoError(b, err)
	for name, p := range map[string]*plan.Plan{"leaf-veins": golden.Plan(b, "leaf-veins"), "71 parts": crowded} {
		b.Run(name, func(b *testing.B) {
			b.ReportMetric(float64(len(p.Elements)), "parts")
			for b.Loop() {
				_, err := sheets.Files(p, styles(b)[0])
				require.NoError(b, err)
			}
		})
	}
}
