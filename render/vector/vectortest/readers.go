package vectortest

import (
	"bytes"
	"compress/zlib"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Chromium paints an SVG file of w by h pixels: another maker's painter.
func Chromium(t testing.TB, svg string, w, h int) image.Image {
	browser, err := exec.LookPath("chromium")
	require.NoError(t, err, "chromium not found: these tests compare SVG as a browser paints it")
	dir := t.TempDir()
	shot := filepath.Join(dir, "shot.png")
	run := exec.Command(browser, "--headless", "--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--no-first-run",
		"--hide-scrollbars", "--user-data-dir="+filepath.Join(dir, "profile"), "--timeout=15000",
		fmt.Sprintf("--window-size=%d,%d", w, h), "--screenshot="+shot, "file://"+svg)
	out, err := run.CombinedOutput()
	require.NoError(t, err, "%s", out)
	return decoded(t, shot)
}

// RSVG paints an SVG file by rsvg-convert: another maker's painter,
// which starts faster than a browser.
func RSVG(t testing.TB, svg string) image.Image {
	program, err := exec.LookPath("rsvg-convert")
	require.NoError(t, err, "rsvg-convert not found: these tests compare SVG as it paints it (package librsvg2-bin)")
	out, err := exec.Command(program, svg).Output()
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(out))
	require.NoError(t, err)
	return img
}

// Difference is how far two pictures are apart, over all channels in steps of
// 1/255: the mean, and what 99 % of the pixels keep within.
func Difference(t testing.TB, a, b image.Image) (mean, most99 float64) {
	require.Equal(t, a.Bounds().Size(), b.Bounds().Size())
	var all []float64
	sum := 0.0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			p := color.RGBAModel.Convert(a.At(x, y)).(color.RGBA)
			q := color.RGBAModel.Convert(b.At(x, y)).(color.RGBA)
			worst := 0.0
			for _, d := range []int{int(p.R) - int(q.R), int(p.G) - int(q.G), int(p.B) - int(q.B)} {
				v := float64(max(d, -d))
				sum += v
				worst = max(worst, v)
			}
			all = append(all, worst)
		}
	}
	sort.Float64s(all)
	return sum / float64(3*len(all)), all[len(all)*99/100]
}

// Poppler runs one of Poppler's programs: another maker's reader of PDF.
func Poppler(t testing.TB, program string, args ...string) string {
	path, err := exec.LookPath(program)
	require.NoError(t, err, "%s not found: these tests compare PDF as Poppler reads it (package poppler-utils)", program)
	out, err := exec.Command(path, args...).CombinedOutput()
	require.NoError(t, err, "%s", out)
	return string(out)
}

// Saved is a file that write has written.
func Saved(t testing.TB, name string, write func(f *os.File) error) string {
	file := filepath.Join(t.TempDir(), name)
	f, err := os.Create(file)
	require.NoError(t, err)
	require.NoError(t, write(f))
	require.NoError(t, f.Close())
	return file
}

// Painted is the first page of a PDF file at so many pixels to the inch.
func Painted(t testing.TB, file, resolution string, more ...string) image.Image {
	to := filepath.Join(t.TempDir(), "page")
	out := Poppler(t, "pdftoppm", append([]string{"-png", "-r", resolution, "-singlefile", file, to}, more...)...)
	require.Empty(t, out, "what the reader complains of")
	return decoded(t, to+".png")
}

// MuPDF is the first page of a PDF file at so many pixels to the inch, as MuPDF paints it:
// another maker's painter.
func MuPDF(t testing.TB, file, resolution string) image.Image {
	to := filepath.Join(t.TempDir(), "page.png")
	mutool(t, "draw", "-q", "-r", resolution, "-o", to, file, "1")
	return decoded(t, to)
}

// OneBit is what MuPDF paints, as a fax or a printer has it that knows black and white.
func OneBit(t testing.TB, file, resolution string) image.Image {
	to := filepath.Join(t.TempDir(), "page.pbm")
	mutool(t, "draw", "-q", "-c", "mono", "-r", resolution, "-o", to, file, "1")
	b, err := os.ReadFile(to)
	require.NoError(t, err)
	var w, h int
	_, err = fmt.Sscanf(string(b[:min(len(b), 64)]), "P4\n%d %d\n", &w, &h)
	require.NoError(t, err)
	across := (w + 7) / 8 // bytes
	bits := b[len(b)-across*h:]
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		if x, y := i%w, i/w; bits[y*across+x/8]>>(7-x%8)&1 == 0 {
			img.Pix[i] = 255
		}
	}
	return img
}

func mutool(t testing.TB, args ...string) {
	program, err := exec.LookPath("mutool")
	require.NoError(t, err, "mutool not found: these tests compare PDF as MuPDF paints it (package mupdf-tools)")
	out, err := exec.Command(program, args...).CombinedOutput()
	require.NoError(t, err, "%s", out)
}

// Inkscape is an SVG file of so many pixels across as Inkscape paints it.
func Inkscape(t testing.TB, svg string, w int) image.Image {
	program, err := exec.LookPath("inkscape")
	require.NoError(t, err, "inkscape not found: these tests compare SVG as Inkscape paints it")
	dir := t.TempDir()
	to := filepath.Join(dir, "page.png")
	run := exec.Command(program, "--export-type=png", "--export-area-page", "--export-width="+strconv.Itoa(w), "--export-filename="+to, svg)
	run.Env = append(os.Environ(), "HOME="+dir, "XDG_CONFIG_HOME="+dir)
	out, err := run.CombinedOutput()
	require.NoError(t, err, "%s", out)
	return decoded(t, to)
}

// decoded is a picture in a PNG file.
func decoded(t testing.TB, file string) image.Image {
	f, err := os.Open(file)
	require.NoError(t, err)
	defer func() { require.NoError(t, f.Close()) }()
	img, err := png.Decode(f)
	require.NoError(t, err)
	return img
}

var streamPattern = regexp.MustCompile(`(?s)<<([^\n]*)/Filter/FlateDecode/Length \d+>>stream\n(.*?)\nendstream`)

// Unpacked is all streams of a PDF file, read by another unpacker, with their
// dictionaries.
func Unpacked(t testing.TB, pdf []byte) string {
	var all strings.Builder
	for _, m := range streamPattern.FindAllSubmatch(pdf, -1) {
		z, err := zlib.NewReader(bytes.NewReader(m[2]))
		require.NoError(t, err)
		text, err := io.ReadAll(z)
		require.NoError(t, err)
		fmt.Fprintf(&all, "<<%s>>\n%s\n", m[1], text)
	}
	return all.String()
}

// Element is an element of a document, read by another reader.
type Element struct {
	Name  string
	Attrs map[string]string
}

// Elements reads a document and fails on one that is not well-formed.
func Elements(t testing.TB, document string) (all []Element) {
	d := xml.NewDecoder(strings.NewReader(document))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		require.NoError(t, err)
		if start, ok := token.(xml.StartElement); ok {
			e := Element{start.Name.Local, map[string]string{}}
			for _, a := range start.Attr {
				name := a.Name.Local
				if strings.HasSuffix(a.Name.Space, "/xlink") || a.Name.Space == "xmlns" {
					name = "xlink:" + name
				}
				require.NotContains(t, e.Attrs, name)
				e.Attrs[name] = a.Value
			}
			all = append(all, e)
		}
	}
}
