package film

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"io"
	"slices"

	"github.com/deepteams/webp"
)

// webP writes animated WebPs (RFC 9649): the container is ours, a still encoder makes
// the frames. Each frame after the first is the least rectangle that changes, laid over
// what is there; the blocks of it that do not change are clear, and cost next to nothing.
// What it writes lacks the first bytes of the file, which say how long it is: riffHead.
type webP struct {
	f   *Film
	w   io.Writer
	err error
}

// How WebPs are compressed. Of the frames of a walk, 960 × 720, quality 60 made a tenth
// less than 75; efforts 0, 2, 3 and 4 made 5.2, 5.2, 3.3 and 3.0 kB in 42, 60, 80 and
// 100 ms, and look alike.
const (
	webPQuality = 75
	webPMethod  = 0
	webPBlock   = 16 // pixels: what the format compresses at a time
)

func newWebP(f *Film, w io.Writer) *webP { return &webP{f: f, w: w} }

// riffHead begins a file of so many bytes more.
func riffHead(n int) []byte {
	const kind = "WEBP"
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(kind)+n)), kind...)
}

// chunk writes a chunk of a RIFF file: its length, and a byte more where that is odd.
func (e *webP) chunk(kind string, parts ...[]byte) error {
	n := 0
	for _, p := range parts {
		n += len(p)
	}
	head := binary.LittleEndian.AppendUint32([]byte(kind), uint32(n))
	for _, p := range slices.Concat([][]byte{head}, parts, [][]byte{make([]byte, n%2)}) {
		if e.err == nil {
			_, e.err = e.w.Write(p)
		}
	}
	return e.err
}

// little24 is numbers of three bytes, the lowest first.
func little24(numbers ...int) []byte {
	var b []byte
	for _, n := range numbers {
		b = append(b, byte(n), byte(n>>8), byte(n>>16))
	}
	return b
}

func (e *webP) head(int) error {
	const animated, clear = 1 << 1, 1 << 4
	if err := e.chunk("VP8X", []byte{animated | clear, 0, 0, 0}, little24(e.f.W-1, e.f.H-1)); err != nil {
		return err
	}
	return e.chunk("ANIM", []byte{0, 0, 0, 255}, little16(e.f.Plays))
}

func webPOptions() *webp.EncoderOptions {
	o := webp.DefaultOptions()
	o.Quality, o.Method = webPQuality, webPMethod
	o.Exact = true // what is clear is black already
	return o
}

func (e *webP) packer() func(before, now *image.RGBA) packed {
	o := webPOptions()
	var part image.NRGBA
	var file bytes.Buffer
	return func(before, now *image.RGBA) packed {
		where := changed(before, now)
		// Frames begin at even places.
		where.Min.X, where.Min.Y = where.Min.X&^1, where.Min.Y&^1
		cutOut(&part, where, before, now)
		file.Reset()
		if err := webp.Encode(&file, &part, o); err != nil {
			return packed{err: err}
		}
		data, err := stillChunks(file.Bytes())
		return packed{where, data, err}
	}
}

// cutOut makes the part of a picture that is to be laid over the one before, clear in the
// blocks that are as before.
func cutOut(part *image.NRGBA, where image.Rectangle, before, now *image.RGBA) {
	size := where.Size()
	part.Rect, part.Stride = image.Rectangle{Max: size}, 4*size.X
	part.Pix = append(part.Pix[:0], make([]byte, 4*size.X*size.Y)...)
	for y := 0; y < size.Y; y += webPBlock {
		for x := 0; x < size.X; x += webPBlock {
			block := image.Rect(x, y, x+webPBlock, y+webPBlock).Add(where.Min).Intersect(where)
			if before != nil && sameIn(block, before, now) {
				continue
			}
			for v := block.Min.Y; v < block.Max.Y; v++ {
				copy(part.Pix[part.PixOffset(x, v-where.Min.Y):], now.Pix[now.PixOffset(block.Min.X, v):now.PixOffset(block.Max.X, v)])
			}
		}
	}
}

// sameIn says whether two pictures are equal in a block.
func sameIn(block image.Rectangle, a, b *image.RGBA) bool {
	for y := block.Min.Y; y < block.Max.Y; y++ {
		from, to := a.PixOffset(block.Min.X, y), a.PixOffset(block.Max.X, y)
		if !bytes.Equal(a.Pix[from:to], b.Pix[from:to]) {
			return false
		}
	}
	return true
}

// stillChunks are the chunks of a still WebP that hold its pixels.
func stillChunks(file []byte) ([]byte, error) {
	const head = 12 // RIFF, length, WEBP
	var chunks bytes.Buffer
	for rest := file[min(head, len(file)):]; len(rest) >= 8; {
		n := int(binary.LittleEndian.Uint32(rest[4:]))
		end := 8 + n + n%2
		if end > len(rest) {
			break
		}
		if kind := string(rest[:4]); kind == "ALPH" || kind == "VP8 " {
			chunks.Write(rest[:end])
		}
		rest = rest[end:]
	}
	if chunks.Len() == 0 {
		return nil, fmt.Errorf("film: the encoder of WebP gave no picture")
	}
	return chunks.Bytes(), nil
}

func (e *webP) frame(s shot, p packed) error {
	if p.err != nil {
		return p.err
	}
	// Rounded where a frame begins and ends, so that the film as a whole keeps its time.
	milliseconds := func(frame int) int { return (2000*frame + e.f.Rate) / (2 * e.f.Rate) }
	lasts := milliseconds(s.frame+s.count) - milliseconds(s.frame)
	const over = 0 // laid over what is there, and left in place
	place := little24(p.part.Min.X/2, p.part.Min.Y/2, p.part.Dx()-1, p.part.Dy()-1, lasts)
	return e.chunk("ANMF", place, []byte{over}, p.data)
}

func (e *webP) tail() error { return e.err }
