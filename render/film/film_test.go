package film_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/draw"
	"image/gif"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/film"
	"twincord/render/raster"
	"twincord/scenes/document"
)

// drawn is every frame of a film, each painted by itself.
func drawn(f *film.Film) []*image.RGBA {
	var frames []*image.RGBA
	for i := range f.Frames {
		var l display.List
		f.Drawer()(i, &l)
		img := image.NewRGBA(image.Rect(0, 0, f.W, f.H))
		raster.Paint(&l, img)
		frames = append(frames, img)
	}
	return frames
}

func written(t testing.TB, f *film.Film, as film.Format) []byte {
	var b bytes.Buffer
	require.NoError(t, f.Write(context.Background(), &b, as, nil))
	return b.Bytes()
}

// scripted is a film with a white square at the places given, frame by frame.
func scripted(w, h, rate int, at ...image.Point) *film.Film {
	return &film.Film{W: w, H: h, Rate: rate, Frames: len(at), Drawer: func() func(int, *display.List) {
		return func(frame int, l *display.List) {
			l.Reset(float64(w), float64(h), display.Colour{A: 1})
			l.Rect(display.Rect{X: float64(at[frame].X), Y: float64(at[frame].Y), W: 3, H: 2})
			l.Fill(display.Paint{From: display.Colour{R: 1, G: 1, B: 1, A: 1}})
		}
	}}
}

// A frame of a file as a viewer has it: all that is seen, and how long.
type shown struct {
	img      *image.RGBA
	part     image.Rectangle
	num, den int // of a second
}

// readAPNG is a reader of animated PNGs by the specification (third edition), for films
// in RGB with one clear colour whose frames stay and are laid over one another.
func readAPNG(t *testing.T, b []byte) (frames []shown, plays int) {
	require.Equal(t, "\x89PNG\r\n\x1a\n", string(b[:8]))
	b = b[8:]
	u32 := func(b []byte) int { return int(binary.BigEndian.Uint32(b)) }
	u16 := func(b []byte) int { return int(binary.BigEndian.Uint16(b)) }
	var header, clear, data []byte
	var canvas *image.RGBA
	var now shown
	announced, sequence := 0, 0
	next := func(n int) {
		require.Equal(t, sequence, n)
		sequence++
	}
	finish := func() {
		if data == nil {
			return
		}
		// One still PNG of the frame alone, for the standard library.
		var still bytes.Buffer
		still.WriteString("\x89PNG\r\n\x1a\n")
		put := func(kind string, data []byte) {
			still.Write(binary.BigEndian.AppendUint32(nil, uint32(len(data))))
			still.WriteString(kind)
			still.Write(data)
			still.Write(binary.BigEndian.AppendUint32(nil, crc32.ChecksumIEEE(append([]byte(kind), data...))))
		}
		size := binary.BigEndian.AppendUint32(nil, uint32(now.part.Dx()))
		size = binary.BigEndian.AppendUint32(size, uint32(now.part.Dy()))
		put("IHDR", append(size, header[8:]...))
		put("tRNS", clear)
		put("IDAT", data)
		put("IEND", nil)
		img, err := png.Decode(&still)
		require.NoError(t, err)
		draw.Draw(canvas, now.part, img, image.Point{}, draw.Over)
		now.img = image.NewRGBA(canvas.Rect)
		copy(now.img.Pix, canvas.Pix)
		frames, data = append(frames, now), nil
	}
	for {
		n, kind := u32(b), string(b[4:8])
		body := b[8 : 8+n]
		require.Equal(t, crc32.ChecksumIEEE(b[4:8+n]), binary.BigEndian.Uint32(b[8+n:]), kind)
		b = b[12+n:]
		switch kind {
		case "IHDR":
			header = body
			require.Equal(t, []byte{8, 2, 0, 0, 0}, body[8:])
			canvas = image.NewRGBA(image.Rect(0, 0, u32(body), u32(body[4:])))
		case "acTL":
			announced, plays = u32(body), u32(body[4:])
		case "tRNS":
			clear = body
		case "fcTL":
			finish()
			next(u32(body))
			at := image.Pt(u32(body[12:]), u32(body[16:]))
			now = shown{part: image.Rectangle{at, at.Add(image.Pt(u32(body[4:]), u32(body[8:])))}, num: u16(body[20:]), den: u16(body[22:])}
			require.True(t, !now.part.Empty() && now.part.In(canvas.Rect))
			require.Equal(t, []byte{0, 1}, body[24:], "stays, laid over")
		case "IDAT":
			require.Empty(t, frames)
			require.Equal(t, canvas.Rect, now.part)
			data = append(data, body...)
		case "fdAT":
			require.NotEmpty(t, len(frames)+len(data))
			next(u32(body))
			data = append(data, body[4:]...)
		case "IEND":
			finish()
			require.Empty(t, b)
			require.Len(t, frames, announced)
			return frames, plays
		default:
			require.Equal(t, "sRGB", kind)
		}
	}
}

func TestAPNGShowsEachFrameExactlyAsDrawnAndOnTime(t *testing.T) {
	f := wavering("too-far-doubled", 231, 130, 15, 23)
	frames, plays := readAPNG(t, written(t, f, film.APNG))
	require.Zero(t, plays, "for ever")
	require.Len(t, frames, f.Frames)
	for i, want := range drawn(f) {
		require.Equal(t, want.Pix, frames[i].img.Pix, "frame %d", i)
		require.Equal(t, [2]int{1, 15}, [2]int{frames[i].num, frames[i].den})
	}
}

func TestAPNGBeginsWithTheStillPicture(t *testing.T) {
	f := wavering("near-of-three", 200, 120, 15, 3)
	moving, err := png.Decode(bytes.NewReader(written(t, f, film.APNG)))
	require.NoError(t, err)
	var b bytes.Buffer
	var first display.List
	f.Drawer()(0, &first)
	require.NoError(t, film.WritePNG(&b, &first))
	still, err := png.Decode(&b)
	require.NoError(t, err)
	for y := range f.H {
		for x := range f.W {
			require.Equal(t, color.NRGBAModel.Convert(still.At(x, y)), moving.At(x, y))
		}
	}
}

// A film is the same file however many cores make it, and each time: encoders are used
// again for other frames, and keep nothing of those before.
func TestAFilmIsTheSameFileOnAnyNumberOfCores(t *testing.T) {
	for _, as := range []film.Format{film.APNG, film.GIF, film.WebP} {
		var first []byte
		for _, cores := range []int{1, 2, 4} {
			func() {
				defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
				b := written(t, wavering("too-far-doubled", 240, 136, 15, 10), as)
				if first == nil {
					first = b
				}
				require.True(t, bytes.Equal(first, b), "%v on %d cores", as, cores)
			}()
		}
	}
}

// Frames of a hold are not written again, and only what changes is.
var walk = []image.Point{{2, 3}, {2, 3}, {2, 3}, {4, 3}, {30, 20}, {30, 20}, {-9, 0}, {2, 3}}

func TestAPNGHoldsAndChangedParts(t *testing.T) {
	f := scripted(40, 30, 7, walk...)
	f.Plays = 3
	frames, plays := readAPNG(t, written(t, f, film.APNG))
	require.Equal(t, 3, plays)
	require.Len(t, frames, 5)
	var parts []image.Rectangle
	want := drawn(f)
	at := 0
	for _, s := range frames {
		require.Equal(t, 7, s.den)
		require.Equal(t, want[at].Pix, s.img.Pix)
		parts = append(parts, s.part)
		at += s.num
	}
	require.Equal(t, f.Frames, at)
	require.Equal(t, []image.Rectangle{
		image.Rect(0, 0, 40, 30),
		image.Rect(2, 3, 7, 5),
		image.Rect(4, 3, 33, 22),
		image.Rect(30, 20, 33, 22),
		image.Rect(2, 3, 5, 5),
	}, parts)
}

// What the lists say differently may look the same.
func TestFramesThatLookAlikeAreFrames(t *testing.T) {
	f := scripted(8, 8, 5, image.Pt(-9, 0), image.Pt(-19, 0))
	frames, _ := readAPNG(t, written(t, f, film.APNG))
	require.Len(t, frames, 2)
	require.Equal(t, frames[0].img.Pix, frames[1].img.Pix)
	g, err := gif.DecodeAll(bytes.NewReader(written(t, f, film.GIF)))
	require.NoError(t, err)
	require.Equal(t, []int{20, 20}, g.Delay)
}

func TestTheClearColourIsWrittenAStepOff(t *testing.T) {
	f := scripted(4, 4, 5, image.Pt(0, 0), image.Pt(1, 1))
	f.Drawer = func() func(int, *display.List) {
		return func(frame int, l *display.List) {
			l.Reset(4, 4, display.Colour{G: 1, B: float64(1+frame) / 255, A: 1})
		}
	}
	frames, _ := readAPNG(t, written(t, f, film.APNG))
	require.Equal(t, color.RGBA{G: 255, A: 255}, frames[0].img.RGBAAt(2, 2))
	require.Equal(t, color.RGBA{G: 255, B: 2, A: 255}, frames[1].img.RGBAAt(2, 2))
}

// composed is what a viewer shows of a GIF whose frames stay.
func composed(t *testing.T, g *gif.GIF) (frames []*image.RGBA) {
	canvas := image.NewRGBA(image.Rect(0, 0, g.Config.Width, g.Config.Height))
	for i, p := range g.Image {
		require.Equal(t, byte(gif.DisposalNone), g.Disposal[i])
		draw.Draw(canvas, p.Rect, p, p.Rect.Min, draw.Over)
		now := image.NewRGBA(canvas.Rect)
		copy(now.Pix, canvas.Pix)
		frames = append(frames, now)
	}
	return frames
}

func TestGIFIsCloseToWhatIsDrawn(t *testing.T) {
	f := wavering("too-far-doubled", 240, 136, 15, 8)
	g, err := gif.DecodeAll(bytes.NewReader(written(t, f, film.GIF)))
	require.NoError(t, err)
	require.Equal(t, image.Pt(240, 136), image.Pt(g.Config.Width, g.Config.Height))
	require.Len(t, g.Image, 8)
	want, got := drawn(f), composed(t, g)
	for i := range want {
		sum, far := 0, 0
		for k, v := range want[i].Pix {
			d := max(v, got[i].Pix[k]) - min(v, got[i].Pix[k])
			sum += int(d)
			if d > 12 {
				far++
			}
		}
		n := float64(len(want[i].Pix))
		assert.Less(t, float64(sum)/n, 1., "mean difference of frame %d, in steps of 1/255", i)
		assert.Less(t, float64(far)/n, 0.005, "share of frame %d that is more than 12 steps off", i)
		if i == 0 {
			continue
		}
		// What stands still stands still: no pixel changes that is drawn as before.
		for k := 0; k < len(want[i].Pix); k += 4 {
			if bytes.Equal(want[i].Pix[k:k+4], want[i-1].Pix[k:k+4]) {
				require.Equal(t, got[i-1].Pix[k:k+4], got[i].Pix[k:k+4])
			}
		}
	}
}

func TestGIFKeepsColoursThatFit(t *testing.T) {
	f := scripted(40, 30, 10, walk...)
	g, err := gif.DecodeAll(bytes.NewReader(written(t, f, film.GIF)))
	require.NoError(t, err)
	want := drawn(f)
	for i, at := range []int{0, 3, 4, 6, 7} {
		require.Equal(t, want[at].Pix, composed(t, g)[i].Pix)
	}
}

func TestGIFIsTrueToItsTime(t *testing.T) {
	for rate, want := range map[int][]int{
		15: {20, 7, 13, 7, 6}, // ends at 20, 26.7, 40, 46.7, 53.3
		30: {10, 3, 7, 3, 4},  // 10, 13.3, 20, 23.3, 26.7
		7:  {43, 14, 29, 14, 14},
		50: {6, 2, 4, 2, 2},
	} {
		g, err := gif.DecodeAll(bytes.NewReader(written(t, scripted(40, 30, rate, walk...), film.GIF)))
		require.NoError(t, err)
		require.Equal(t, want, g.Delay, "at %d frames a second", rate)
	}
}

func TestGIFPlays(t *testing.T) {
	// As image/gif counts: 0 for ever, −1 once, else how often again.
	for plays, want := range map[int]int{0: 0, 1: -1, 2: 1, 65535: 65534} {
		f := scripted(8, 8, 5, walk...)
		f.Plays = plays
		g, err := gif.DecodeAll(bytes.NewReader(written(t, f, film.GIF)))
		require.NoError(t, err)
		require.Equal(t, want, g.LoopCount, "played %d times", plays)
	}
}

func TestTheSameFilmIsTheSameFile(t *testing.T) {
	f := wavering("too-near-doubled", 120, 70, 15, 9)
	for _, as := range []film.Format{film.APNG, film.GIF, film.WebP} {
		require.True(t, bytes.Equal(written(t, f, as), written(t, f, as)), as)
	}
}

func TestProgressEndsWithAllFrames(t *testing.T) {
	f := scripted(8, 8, 5, walk...)
	for _, as := range []film.Format{film.APNG, film.GIF, film.WebP} {
		var told []int
		require.NoError(t, f.Write(context.Background(), io.Discard, as, func(done int) { told = append(told, done) }))
		require.Equal(t, []int{3, 4, 6, 7, 8}, told)
	}
}

func TestExpect(t *testing.T) {
	for _, as := range []film.Format{film.APNG, film.GIF, film.WebP} {
		few := wavering("too-far-doubled", 160, 90, 15, 10)
		n, err := few.Expect(context.Background(), as)
		require.NoError(t, err)
		require.Equal(t, len(written(t, few, as)), int(n), "all frames of a short %s are looked at", as)
		many := wavering("too-far-doubled", 96, 54, 15, 90)
		n, err = many.Expect(context.Background(), as)
		require.NoError(t, err)
		require.InEpsilon(t, len(written(t, many, as)), int(n), 0.15, as)
	}
}

func TestFilmsThatCannotBe(t *testing.T) {
	for _, c := range []struct {
		change func(f *film.Film)
		as     film.Format
		want   string
	}{
		{func(f *film.Film) { f.W = 0 }, film.APNG, "film: a size of 0 × 8 pixels, allowed are 1 × 1 to 8192 × 8192"},
		{func(f *film.Film) { f.H = 8193 }, film.GIF, "film: a size of 8 × 8193 pixels, allowed are 1 × 1 to 8192 × 8192"},
		{func(f *film.Film) { f.Rate = 0 }, film.APNG, "film: 0 frames a second, allowed are 1 to 60"},
		{func(f *film.Film) { f.Rate = 61 }, film.APNG, "film: 61 frames a second, allowed are 1 to 60"},
		{func(f *film.Film) { f.Rate = 51 }, film.GIF, "film: 51 frames a second, allowed are 1 to 50"},
		{func(f *film.Film) { f.Frames = 0 }, film.APNG, "film: 0 frames, allowed are 1 to 3000 (600 s)"},
		{func(f *film.Film) { f.Frames = 3001 }, film.APNG, "film: 3001 frames, allowed are 1 to 3000 (600 s)"},
		{func(f *film.Film) { f.H = 9 }, film.MP4, "film: a size of 8 × 9 pixels, in an MP4 allowed are even numbers, such as 8 × 10"},
		{func(f *film.Film) { f.W = 9 }, film.MP4, "film: a size of 9 × 8 pixels, in an MP4 allowed are even numbers, such as 10 × 8"},
		{func(f *film.Film) { f.Frames = 1 }, film.MP4, "film: one frame, an MP4 needs something that moves; allowed are the other formats"},
		{func(f *film.Film) { f.Plays = -1 }, film.APNG, "film: played -1 times, allowed are 0 (for ever) to 65535"},
		{func(f *film.Film) { f.Plays = 65536 }, film.GIF, "film: played 65536 times, allowed are 0 (for ever) to 65535"},
	} {
		f := scripted(8, 8, 5, walk...)
		c.change(f)
		var b bytes.Buffer
		require.EqualError(t, f.Write(context.Background(), &b, c.as, nil), c.want)
		require.Zero(t, b.Len())
		_, err := f.Expect(context.Background(), c.as)
		require.EqualError(t, err, c.want)
	}
}

// What is just within the bounds of a film can be one, and what is just beyond cannot.
func TestFilmsAtTheirBounds(t *testing.T) {
	for _, c := range []struct {
		change func(f *film.Film, by int)
		as     film.Format
	}{
		{func(f *film.Film, by int) { f.W = film.MostSide + by }, film.APNG},
		{func(f *film.Film, by int) { f.H = film.MostSide + by }, film.WebP},
		{func(f *film.Film, by int) { f.W = 1 - by }, film.GIF},
		{func(f *film.Film, by int) { f.H = 1 - by }, film.GIF},
		{func(f *film.Film, by int) { f.Rate = film.MostRate + by }, film.APNG},
		{func(f *film.Film, by int) { f.Rate = film.MostRate + by }, film.MP4},
		{func(f *film.Film, by int) { f.Rate = film.MostRateGIF + by }, film.GIF},
		{func(f *film.Film, by int) { f.Rate = 1 - by }, film.APNG},
		{func(f *film.Film, by int) { f.Frames = film.MostSeconds*f.Rate + by }, film.APNG},
		{func(f *film.Film, by int) { f.Frames = 1 - by }, film.APNG},
		{func(f *film.Film, by int) { f.Frames = 2 - by }, film.MP4},
		{func(f *film.Film, by int) { f.Plays = 65535 + by }, film.GIF},
		{func(f *film.Film, by int) { f.Plays = 0 - by }, film.GIF},
	} {
		f := scripted(8, 8, 5, walk...)
		c.change(f, 0)
		require.NoError(t, f.Validate(c.as), "%v: %+v", c.as, *f)
		c.change(f, 1)
		require.Error(t, f.Validate(c.as), "%v: %+v", c.as, *f)
	}
}

func TestErrorsOfTheWriterArePassedOn(t *testing.T) {
	f := wavering("too-far-doubled", 96, 54, 15, 6)
	for _, as := range []film.Format{film.APNG, film.GIF, film.WebP} {
		n := len(written(t, f, as))
		for _, room := range []int{0, 100, n / 2, n - 1} {
			require.ErrorIs(t, f.Write(context.Background(), &full{room}, as, nil), errFull)
		}
	}
}

func TestCancellingLeavesNoFileAndNothingRunning(t *testing.T) {
	for _, as := range []film.Format{film.APNG, film.GIF, film.WebP} {
		ctx, cancel := context.WithCancel(context.Background())
		var running atomic.Int32
		f := wavering("too-far-doubled", 160, 90, 15, 100)
		drawer := f.Drawer
		f.Drawer = func() func(int, *display.List) {
			draw := drawer()
			return func(frame int, l *display.List) {
				running.Add(1)
				defer running.Add(-1)
				draw(frame, l)
			}
		}
		path := filepath.Join(t.TempDir(), "film")
		err := document.Replace(path, func(w io.Writer) error {
			return f.Write(ctx, w, as, func(done int) {
				if done == 10 {
					cancel()
				}
			})
		})
		require.True(t, errors.Is(err, context.Canceled), "%v", err)
		require.Zero(t, running.Load())
		files, err := os.ReadDir(filepath.Dir(path))
		require.NoError(t, err)
		require.Empty(t, files)
		_, err = f.Expect(ctx, as)
		require.ErrorIs(t, err, context.Canceled)
	}
}
