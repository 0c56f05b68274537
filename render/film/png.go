package film

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/adler32"
	"hash/crc32"
	"image"
	"io"
	"runtime"

	"github.com/klauspost/compress/flate"
)

// WritePNG writes an opaque picture as a PNG of 8 bits a channel in sRGB. Each pixel
// is written as the difference to the one on its left and compressed lightly. On views
// of 1920 × 1080 with a dithered ground that gave 460–580 kB; without differences 480–700,
// to the pixel above 770–880, to the mean of both 630–750, with Paeth's predictor 670–790,
// none of them faster.
func WritePNG(w io.Writer, img *image.RGBA) error {
	size := img.Rect.Size()
	if img.Rect.Empty() {
		return fmt.Errorf("writing the PNG: %d × %d pixels are no picture, it needs at least 1 × 1", size.X, size.Y)
	}
	buffered := bufio.NewWriterSize(w, 1<<16)
	p := pngWriter{w: buffered}
	p.head(size)
	p.pixels(img)
	p.chunk("IEND")
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

// head writes what comes before all pixels.
func (p *pngWriter) head(size image.Point) {
	p.raw("\x89PNG\r\n\x1a\n")
	p.chunk("IHDR", big32(size.X, size.Y), []byte{8, 2, 0, 0, 0}) // 8 bits a channel; red, green, blue
	p.chunk("sRGB", []byte{0})                                    // perceptual
}

func (p *pngWriter) chunk(kind string, data ...[]byte) {
	n := 0
	sum := crc32.ChecksumIEEE([]byte(kind))
	for _, part := range data {
		n += len(part)
		sum = crc32.Update(sum, crc32.IEEETable, part)
	}
	p.raw(string(big32(n)))
	p.raw(kind)
	for _, part := range data {
		if p.err == nil {
			_, p.err = p.w.Write(part)
		}
	}
	p.raw(string(big32(int(sum))))
}

// big32 is numbers of four bytes, the highest first.
func big32(numbers ...int) []byte {
	var b []byte
	for _, n := range numbers {
		b = binary.BigEndian.AppendUint32(b, uint32(n))
	}
	return b
}

const filterSub = 1

// stripRows is how many rows are compressed at a time, each strip on a core of its
// own.
const stripRows = 64

// pixels writes the rows as one zlib stream in several chunks. Strips are compressed
// side by side and written in order: each ends on a byte, so that they join, and
// their checksums add up.
func (p *pngWriter) pixels(img *image.RGBA) {
	height := img.Rect.Dy()
	strips := make([]chan strip, (height+stripRows-1)/stripRows)
	for i := range strips {
		strips[i] = make(chan strip, 1)
	}
	deflaters := make(chan *deflater, min(runtime.GOMAXPROCS(0), len(strips)))
	for range cap(deflaters) {
		deflaters <- newDeflater(flate.BestSpeed)
	}
	go func() {
		for i := range strips {
			d := <-deflaters
			go func() {
				to := (i + 1) * stripRows
				strips[i] <- d.strip(i*stripRows, min(to, height), 3*img.Rect.Dx(), to >= height, func(row []byte, y int) {
					subtractLeft(row, img.Pix[y*img.Stride:][:4*img.Rect.Dx()])
				})
				deflaters <- d
			}()
		}
	}()
	p.chunk("IDAT", zlibHead)
	sum := uint32(1)
	for _, c := range strips {
		s := <-c
		if p.err == nil {
			p.err = s.err
		}
		p.chunk("IDAT", s.data)
		sum = joinAdler(sum, s.sum, s.bytes)
	}
	p.chunk("IDAT", big32(int(sum)))
}

// subtractLeft is the filter Sub on opaque pixels.
func subtractLeft(row, pix []byte) {
	var r, g, b byte
	for i, o := 0, 0; i < len(pix); i, o = i+4, o+3 {
		row[o], row[o+1], row[o+2] = pix[i]-r, pix[i+1]-g, pix[i+2]-b
		r, g, b = pix[i], pix[i+1], pix[i+2]
	}
}

// strip is some rows, filtered and compressed.
type strip struct {
	data  []byte
	sum   uint32 // Adler-32 of the filtered rows
	bytes int    // how many those are
	err   error
}

// zlibHead begins a zlib stream: deflate with a 32 kB window.
var zlibHead = []byte{0x78, 0x01}

// A deflater compresses one strip after another.
type deflater struct {
	z   *flate.Writer
	row []byte
}

func newDeflater(level int) *deflater {
	z, err := flate.NewWriter(nil, level)
	if err != nil {
		panic(err) // of a level that does not exist
	}
	return &deflater{z: z}
}

// strip compresses the rows from ≤ y < to, each of width bytes, as filter leaves them.
func (d *deflater) strip(from, to, width int, last bool, filter func(row []byte, y int)) strip {
	var out bytes.Buffer
	d.z.Reset(&out)
	if len(d.row) != 1+width {
		d.row = make([]byte, 1+width)
	}
	d.row[0] = filterSub
	sum := adler32.New()
	for y := from; y < to; y++ {
		filter(d.row[1:], y)
		_, _ = sum.Write(d.row) // a hash takes everything
		if _, err := d.z.Write(d.row); err != nil {
			return strip{err: err}
		}
	}
	var err error
	if last {
		err = d.z.Close()
	} else {
		err = d.z.Flush()
	}
	return strip{out.Bytes(), sum.Sum32(), (to - from) * len(d.row), err}
}

// joinAdler is the Adler-32 of two pieces of data one after the other, b of them n
// bytes long (RFC 1950: both halves are sums modulo the largest prime below 2¹⁶).
func joinAdler(a, b uint32, n int) uint32 {
	const mod = 65521
	low := (a&0xffff + b&0xffff + mod - 1) % mod
	high := (a>>16 + b>>16 + uint32(n%mod)*((a&0xffff+mod-1)%mod)%mod) % mod
	return high<<16 | low
}
