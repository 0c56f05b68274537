package film_test

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/draw"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/webp"

	"twincord/render/film"
)

// readWebP is a reader of animated WebPs (RFC 9649) whose frames stay and are laid over
// one another. Each frame is read as a still by golang.org/x/image.
func readWebP(t *testing.T, b []byte) (frames []shown, plays int) {
	u16 := func(b []byte) int { return int(binary.LittleEndian.Uint16(b)) }
	u24 := func(b []byte) int { return u16(b) | int(b[2])<<16 }
	u32 := func(b []byte) int { return int(binary.LittleEndian.Uint32(b)) }
	require.Equal(t, "RIFF", string(b[:4]))
	require.Equal(t, len(b)-8, u32(b[4:]))
	require.Equal(t, "WEBP", string(b[8:12]))
	var canvas *image.RGBA
	for b = b[12:]; len(b) > 0; {
		kind, n := string(b[:4]), u32(b[4:])
		body := b[8 : 8+n]
		b = b[8+n+n%2:]
		switch kind {
		case "VP8X":
			require.Equal(t, byte(0x12), body[0], "animated, with clear pixels")
			canvas = image.NewRGBA(image.Rect(0, 0, u24(body[4:])+1, u24(body[7:])+1))
		case "ANIM":
			plays = u16(body[4:])
		case "ANMF":
			at := image.Pt(2*u24(body), 2*u24(body[3:]))
			size := image.Pt(u24(body[6:])+1, u24(body[9:])+1)
			s := shown{part: image.Rectangle{at, at.Add(size)}, num: u24(body[12:]), den: 1000}
			require.True(t, s.part.In(canvas.Rect))
			require.Zero(t, body[15], "stays, laid over")
			img, err := webp.Decode(bytes.NewReader(stillWebP(size, body[16:])))
			require.NoError(t, err)
			require.Equal(t, size, img.Bounds().Size())
			draw.Draw(canvas, s.part, studio(img), image.Point{}, draw.Over)
			s.img = image.NewRGBA(canvas.Rect)
			copy(s.img.Pix, canvas.Pix)
			frames = append(frames, s)
		default:
			require.Fail(t, "a chunk of no use", kind)
		}
	}
	return frames, plays
}

// studio is a decoded picture in its colours: WebP's are those of ITU-R BT.601 from 16 to
// 235, which image.YCbCr takes for 0 to 255.
func studio(img image.Image) *image.NRGBA {
	p, clear := (*image.YCbCr)(nil), (*image.NYCbCrA)(nil)
	switch img := img.(type) {
	case *image.YCbCr:
		p = img
	case *image.NYCbCrA:
		p, clear = &img.YCbCr, img
	}
	b := img.Bounds()
	out := image.NewNRGBA(b)
	level := func(v float64) byte { return byte(math.Round(min(max(v, 0), 255))) }
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := p.YCbCrAt(x, y)
			l, cb, cr := 255./219*(float64(c.Y)-16), 255./224*(float64(c.Cb)-128), 255./224*(float64(c.Cr)-128)
			a := byte(255)
			if clear != nil {
				a = clear.A[clear.AOffset(x, y)]
			}
			out.SetNRGBA(x, y, color.NRGBA{level(l + 1.402*cr), level(l - 0.344136*cb - 0.714136*cr), level(l + 1.772*cb), a})
		}
	}
	return out
}

// stillWebP is a file of the chunks of one picture.
func stillWebP(size image.Point, chunks []byte) []byte {
	body := []byte("WEBP")
	if string(chunks[:4]) == "ALPH" {
		side := func(n int) []byte { return []byte{byte(n - 1), byte((n - 1) >> 8), byte((n - 1) >> 16)} }
		body = append(body, "VP8X\x0a\x00\x00\x00\x10\x00\x00\x00"...)
		body = append(append(body, side(size.X)...), side(size.Y)...)
	}
	body = append(body, chunks...)
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

// difference is how far two pictures are apart on average, in steps of 1/255, and the
// share of values that are more than 24 steps apart.
func difference(a, b *image.RGBA) (mean, far float64) {
	for i, v := range a.Pix {
		d := max(v, b.Pix[i]) - min(v, b.Pix[i])
		mean += float64(d)
		if d > 24 {
			far++
		}
	}
	n := float64(len(a.Pix))
	return mean / n, far / n
}

func TestWebPIsCloseToWhatIsDrawnAndOnTime(t *testing.T) {
	f := wavering("too-far-doubled", 231, 131, 15, 23)
	f.Plays = 3
	frames, plays := readWebP(t, written(t, f, film.WebP))
	require.Equal(t, 3, plays)
	require.Len(t, frames, f.Frames)
	milliseconds := 0
	for i, want := range drawn(f) {
		mean, far := difference(want, frames[i].img)
		assert.Less(t, mean, 2., "frame %d", i)
		assert.Less(t, far, 0.005, "frame %d", i)
		milliseconds += frames[i].num
		require.InDelta(t, 1000*float64(i+1)/15, milliseconds, 0.5)
	}
}

// Frames of a hold are not written again, only what changes is, and what stands still
// stands still.
func TestWebPHoldsAndChangedParts(t *testing.T) {
	frames, plays := readWebP(t, written(t, scripted(40, 30, 7, walk...), film.WebP))
	require.Zero(t, plays, "for ever")
	require.Len(t, frames, 5)
	var parts []image.Rectangle
	var lasts []int
	for _, s := range frames {
		parts, lasts = append(parts, s.part), append(lasts, s.num)
	}
	require.Equal(t, []image.Rectangle{
		image.Rect(0, 0, 40, 30),
		image.Rect(2, 2, 7, 5),
		image.Rect(4, 2, 33, 22),
		image.Rect(30, 20, 33, 22),
		image.Rect(2, 2, 5, 5),
	}, parts)
	require.Equal(t, []int{429, 142, 286, 143, 143}, lasts)
	f := wavering("too-far-doubled", 320, 180, 15, 6)
	want := drawn(f)
	frames, _ = readWebP(t, written(t, f, film.WebP))
	still := 0
	for i := 1; i < len(want); i++ {
		for y := 0; y+32 <= 180; y += 32 {
			for x := 0; x+32 <= 320; x += 32 {
				// Blocks begin where the part that changes does, so that one lies in this.
				block := image.Rect(x, y, x+32, y+32)
				if equalIn(block, want[i-1], want[i]) {
					still++
					inner := image.Rect(x+15, y+15, x+17, y+17)
					require.True(t, equalIn(inner, frames[i-1].img, frames[i].img), "frame %d at %v", i, block)
				}
			}
		}
	}
	require.Positive(t, still)
}

func equalIn(r image.Rectangle, a, b *image.RGBA) bool {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		if !bytes.Equal(a.Pix[a.PixOffset(r.Min.X, y):a.PixOffset(r.Max.X, y)], b.Pix[b.PixOffset(r.Min.X, y):b.PixOffset(r.Max.X, y)]) {
			return false
		}
	}
	return true
}
