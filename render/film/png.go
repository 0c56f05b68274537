// Package film writes frames: one as a PNG.
package film

import (
	"bufio"
	"encoding/binary"
	"hash/crc32"
	"image"
	"io"

	"github.com/klauspost/compress/zlib"
)

// WritePNG writes an opaque picture as a PNG of 8 bits a channel in sRGB. Each row
// is written as the difference to the one above and compressed lightly: on pictures
// with a dithered ground that is both the smallest and nearly the fastest of the
// simple ways, see BenchmarkWritePNG.
func WritePNG(w io.Writer, img *image.RGBA) error {
	buffered := bufio.NewWriterSize(w, 1<<16)
	p := pngWriter{w: buffered}
	size := img.Rect.Size()
	p.raw("\x89PNG\r\n\x1a\n")
	header := make([]byte, 13)
	binary.BigEndian.PutUint32(header[0:], uint32(size.X))
	binary.BigEndian.PutUint32(header[4:], uint32(size.Y))
	header[8], header[9] = 8, 2 // bits a channel; red, green, blue
	p.chunk("IHDR", header)
	p.chunk("sRGB", []byte{0}) // perceptual
	p.pixels(img)
	p.chunk("IEND", nil)
	if p.err != nil {
		return p.err
	}
	return buffered.Flush()
}

// pngWriter keeps the first error.
type pngWriter struct {
	w   io.Writer
	err error
}

func (p *pngWriter) raw(s string) {
	if p.err == nil {
		_, p.err = io.WriteString(p.w, s)
	}
}

func (p *pngWriter) chunk(kind string, data []byte) {
	head := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	head = append(head, kind...)
	sum := crc32.Update(crc32.ChecksumIEEE(head[4:]), crc32.IEEETable, data)
	for _, part := range [][]byte{head, data, binary.BigEndian.AppendUint32(nil, sum)} {
		if p.err == nil {
			_, p.err = p.w.Write(part)
		}
	}
}

// Write makes a chunk of compressed pixels.
func (p *pngWriter) Write(b []byte) (int, error) {
	p.chunk("IDAT", b)
	return len(b), p.err
}

const filterUp = 2

func (p *pngWriter) pixels(img *image.RGBA) {
	chunks := bufio.NewWriterSize(p, 1<<15)
	z, err := zlib.NewWriterLevel(chunks, zlib.BestSpeed)
	if err != nil {
		p.err = err
		return
	}
	size := img.Rect.Size()
	row := make([]byte, 1+3*size.X)
	above := make([]byte, 3*size.X)
	row[0] = filterUp
	for y := range size.Y {
		pix := img.Pix[y*img.Stride:][:4*size.X]
		for x := range size.X {
			for c := range 3 {
				v := pix[4*x+c]
				row[1+3*x+c] = v - above[3*x+c]
				above[3*x+c] = v
			}
		}
		if _, err := z.Write(row); err != nil {
			p.err = err
			return
		}
	}
	if err := z.Close(); err != nil {
		p.err = err
	}
	if err := chunks.Flush(); err != nil && p.err == nil {
		p.err = err
	}
}
