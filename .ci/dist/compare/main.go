// Command compare says how far what one computer made is from what another did.
//
//	go run ./.ci/dist/compare [-within SHARE] FOLDER FOLDER
//
// Both folders must hold the same files. With -within, numbers in texts may differ by that
// share or by one in the last digit written, and pictures must have the same pixels, SVGs
// whose words differ nearly the same as rsvg-convert draws them; files
// whose numbers cannot be read, PDF and WebP, are counted where they differ. Without, every
// byte must be the same.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/png"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
)

func main() {
	within := flag.Float64("within", 0, "how far numbers may be apart, as a share of the larger, or of 1 below that")
	flag.Parse()
	if flag.NArg() != 2 {
		fmt.Fprintln(os.Stderr, "compare: needs two folders")
		os.Exit(2)
	}
	c := comparison{within: *within}
	if err := c.folders(flag.Arg(0), flag.Arg(1)); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	fmt.Printf("%d files, %d the same byte for byte; of the others %d numbers, at most %.2g apart, %d pictures, all of the same pixels, %d drawings, within %d of 255, and %d that differ and were not read\n",
		c.files, c.same, c.numbers, c.farthest, c.pictures, c.drawings, mostApart, c.unread)
}

// comparison is what was found so far.
type comparison struct {
	within                                           float64
	files, same, numbers, pictures, drawings, unread int
	farthest                                         float64
}

// folders compares all files of two folders.
func (c *comparison) folders(a, b string) error {
	names, err := filesIn(a)
	if err != nil {
		return err
	}
	others, err := filesIn(b)
	if err != nil {
		return err
	}
	if !slices.Equal(names, others) {
		return fmt.Errorf("%s holds %q, %s %q", a, names, b, others)
	}
	if len(names) == 0 {
		return errors.New("nothing to compare")
	}
	var bad []error
	for _, name := range names {
		if err := c.compare(filepath.Join(a, name), filepath.Join(b, name)); err != nil {
			bad = append(bad, fmt.Errorf("%s: %w", name, err))
		}
	}
	return errors.Join(bad...)
}

func filesIn(folder string) (names []string, err error) {
	err = fs.WalkDir(os.DirFS(folder), ".", func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			names = append(names, path)
		}
		return err
	})
	return names, err
}

// compare compares two files.
func (c *comparison) compare(a, b string) error {
	x, err := os.ReadFile(a)
	if err != nil {
		return err
	}
	y, err := os.ReadFile(b)
	if err != nil {
		return err
	}
	c.files++
	switch {
	case bytes.Equal(x, y):
		c.same++
		return nil
	case c.within == 0:
		return errors.New("not the same")
	}
	switch filepath.Ext(a) {
	case ".png":
		c.pictures++
		return samePixels(x, y)
	case ".pdf", ".webp":
		c.unread++
		return nil
	}
	err = c.texts(x, y)
	if errors.Is(err, errWords) && filepath.Ext(a) == ".svg" {
		return c.drawn(a, b)
	}
	return err
}

// mostApart is how far two drawings may be apart in a pixel, of 255: what a stop of a
// gradient makes that lies on the line between its neighbours, and is left out or not.
const mostApart = 2

// drawn compares what two SVGs look like, which say it otherwise.
func (c *comparison) drawn(x, y string) error {
	var pages [2]image.Image
	for i, path := range []string{x, y} {
		out, err := exec.Command("rsvg-convert", path).Output()
		if err != nil {
			return fmt.Errorf("rsvg-convert: %w", err)
		}
		if pages[i], err = png.Decode(bytes.NewReader(out)); err != nil {
			return err
		}
	}
	c.drawings++
	return within(pages[0], pages[1], mostApart)
}

func samePixels(x, y []byte) error {
	a, err := png.Decode(bytes.NewReader(x))
	if err != nil {
		return err
	}
	b, err := png.Decode(bytes.NewReader(y))
	if err != nil {
		return err
	}
	return within(a, b, 0)
}

// within says whether no pixel of two pictures is farther apart than most, of 255.
func within(a, b image.Image, most uint32) error {
	if a.Bounds() != b.Bounds() {
		return fmt.Errorf("%v and %v", a.Bounds(), b.Bounds())
	}
	off := 0
	far := func(u, v uint32) bool { return max(u, v)-min(u, v) > most*0x101 }
	for py := range a.Bounds().Dy() {
		for px := range a.Bounds().Dx() {
			r0, g0, b0, a0 := a.At(px, py).RGBA()
			r1, g1, b1, a1 := b.At(px, py).RGBA()
			if far(r0, r1) || far(g0, g1) || far(b0, b1) || far(a0, a1) {
				off++
			}
		}
	}
	if off > 0 {
		return fmt.Errorf("%d pixels differ", off)
	}
	return nil
}

var number = regexp.MustCompile(`-?[0-9]+(\.([0-9]+))?(e[+-]?[0-9]+)?`)

// lastDigit is what one in the last digit of a rounded number is worth: none of a count,
// nor of a number that is written out in full.
func lastDigit(written []byte) float64 {
	m := number.FindSubmatch(written)
	if len(m[2]) == 0 || len(m[3]) > 0 {
		return 0
	}
	return math.Pow10(-len(m[2]))
}

// errWords says that two texts differ in more than numbers.
var errWords = errors.New("other words")

// translucent is a colour that holds its opacity, as pages write it: a number of 255 in two
// letters.
var translucent = regexp.MustCompile(`(#[0-9a-f]{6})([0-9a-f]{2})\b`)

// opacities writes what translucent colours hold as numbers, in as many digits as they have.
func opacities(text []byte) []byte {
	return translucent.ReplaceAllFunc(text, func(colour []byte) []byte {
		m := translucent.FindSubmatch(colour)
		opacity, _ := strconv.ParseUint(string(m[2]), 16, 8) // which two such letters always are
		return fmt.Appendf(nil, "%s %.2f", m[1], float64(opacity)/255)
	})
}

// texts compares two texts that may differ in numbers alone.
func (c *comparison) texts(x, y []byte) error {
	x, y = opacities(x), opacities(y)
	if !bytes.Equal(number.ReplaceAll(x, []byte("#")), number.ReplaceAll(y, []byte("#"))) {
		return errWords
	}
	p, q := number.FindAll(x, -1), number.FindAll(y, -1)
	for i := range p {
		if bytes.Equal(p[i], q[i]) {
			continue // also what only looks like a number, in the letters of a font
		}
		u, err := strconv.ParseFloat(string(p[i]), 64)
		if err != nil {
			return err
		}
		v, err := strconv.ParseFloat(string(q[i]), 64)
		if err != nil {
			return err
		}
		apart := math.Abs(u - v)
		c.farthest = max(c.farthest, apart)
		share := apart / max(1, math.Abs(u), math.Abs(v))
		if share > c.within && apart > 1.001*max(lastDigit(p[i]), lastDigit(q[i])) {
			return fmt.Errorf("%s and %s", p[i], q[i])
		}
	}
	c.numbers += len(p)
	return nil
}
