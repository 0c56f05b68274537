package film

import (
	"bytes"
	"compress/lzw"
	"context"
	"encoding/binary"
	"image"
	"io"
)

// gif writes GIFs (GIF89a). Each frame after the first is the least rectangle that
// changes, laid over what is there; what does not change in it is clear. Colours are
// taken pixel by pixel, without spreading errors, so that what stands still is still.
type gif struct {
	f       *Film
	w       io.Writer
	palette *palette
	err     error
}

const clearIndex = 255 // the entry of the palette that is no colour

func newGIF(ctx context.Context, f *Film, w io.Writer) (*gif, error) {
	p, err := filmPalette(ctx, f)
	return &gif{f: f, w: w, palette: p}, err
}

// write writes on, unless something went wrong before: err says what.
func (g *gif) write(parts ...[]byte) {
	for _, b := range parts {
		if g.err == nil {
			_, g.err = g.w.Write(b)
		}
	}
}

// little16 is numbers of two bytes, the lowest first.
func little16(numbers ...int) []byte {
	var b []byte
	for _, n := range numbers {
		b = binary.LittleEndian.AppendUint16(b, uint16(n))
	}
	return b
}

func (g *gif) head(int) error {
	colours := make([]byte, 3*256)
	for i, c := range g.palette.colours {
		colours[3*i], colours[3*i+1], colours[3*i+2] = byte(c), byte(c>>8), byte(c>>16)
	}
	const table256 = 0x80 | 7<<4 | 7 // one palette of 256 entries for all, 8 bits a channel
	g.write([]byte("GIF89a"), little16(g.f.W, g.f.H), []byte{table256, 0, 0}, colours)
	if g.f.Plays != 1 {
		// It counts how often the film is played again; 0 is for ever.
		again := max(0, g.f.Plays-1)
		g.write([]byte("\x21\xff\x0bNETSCAPE2.0\x03\x01"), little16(again), []byte{0})
	}
	return g.err
}

func (g *gif) tail() error {
	g.write([]byte{0x3b})
	return g.err
}

func (g *gif) frame(s shot, p packed) error {
	if g.err == nil {
		g.err = p.err
	}
	// Rounded where a frame begins and ends, so that the film as a whole keeps its time.
	hundredths := func(frame int) int { return (200*frame + g.f.Rate) / (2 * g.f.Rate) }
	delay := hundredths(s.frame+s.count) - hundredths(s.frame)
	const keepOver = 1<<2 | 1 // leave the frame in place; one index is clear
	g.write(
		[]byte{0x21, 0xf9, 4, keepOver}, little16(delay), []byte{clearIndex, 0},
		[]byte{0x2c}, little16(p.part.Min.X, p.part.Min.Y, p.part.Dx(), p.part.Dy()), []byte{0},
		p.data)
	return g.err
}

func (g *gif) packer() func(before, now *image.RGBA) packed {
	p := g.palette
	z := lzw.NewWriter(io.Discard, lzw.LSB, 8).(*lzw.Writer)
	var out bytes.Buffer
	var row []byte
	return func(before, now *image.RGBA) packed {
		part := changed(before, now)
		out.Reset()
		z.Reset(&out, lzw.LSB, 8)
		row = append(row[:0], make([]byte, part.Dx())...)
		for y := part.Min.Y; y < part.Max.Y; y++ {
			pix := now.Pix[now.PixOffset(part.Min.X, y):]
			var old []byte
			if before != nil {
				old = before.Pix[before.PixOffset(part.Min.X, y):]
			}
			for x := range row {
				c := binary.LittleEndian.Uint32(pix[4*x:])
				row[x] = clearIndex
				if old == nil {
					row[x] = p.index(c)
				} else if was := binary.LittleEndian.Uint32(old[4*x:]); c != was {
					if i := p.index(c); i != p.index(was) {
						row[x] = i
					}
				}
			}
			if _, err := z.Write(row); err != nil {
				return packed{err: err}
			}
		}
		if err := z.Close(); err != nil {
			return packed{err: err}
		}
		return packed{part: part, data: blocks(out.Bytes())}
	}
}

// blocks is compressed pixels as a GIF has them: the bits of a pixel, blocks of at
// most 255 bytes with their lengths, an empty one.
func blocks(data []byte) []byte {
	b := make([]byte, 1, len(data)+len(data)/255+3)
	b[0] = 8
	for len(data) > 0 {
		n := min(len(data), 255)
		b = append(append(b, byte(n)), data[:n]...)
		data = data[n:]
	}
	return append(b, 0)
}
