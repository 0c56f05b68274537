package pdf

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"strings"
	"unicode/utf16"

	"github.com/klauspost/compress/zlib"
)

// objects is a PDF file as its objects, by number from 1.
type objects struct {
	all    []object
	zip    *zlib.Writer // used again and again: a new one takes 800 kB
	packed bytes.Buffer // what it makes of a stream
}

type object struct {
	body   []byte
	stream bool
}

// reserve gives the number of an object that is set later.
func (f *objects) reserve() int {
	f.all = append(f.all, object{})
	return len(f.all)
}

func (f *objects) set(n int, format string, args ...any) {
	f.all[n-1].body = fmt.Appendf(nil, format, args...)
}

func (f *objects) add(format string, args ...any) int {
	n := f.reserve()
	f.set(n, format, args...)
	return n
}

// stream adds an object with data, and with entries in its dictionary besides those
// that every stream has.
func (f *objects) stream(entries string, data []byte) int {
	n := f.reserve()
	f.all[n-1] = object{f.streamBody(entries, data), true}
	return n
}

func (f *objects) streamBody(entries string, data []byte) []byte {
	f.packed.Reset()
	if f.zip == nil {
		// Of sheets, the usual level makes a twentieth less in a seventh more time.
		f.zip, _ = zlib.NewWriterLevel(&f.packed, zlib.BestSpeed) // a level that there is
	} else {
		f.zip.Reset(&f.packed)
	}
	// Neither of the two fails on a buffer.
	_, _ = f.zip.Write(data)
	_ = f.zip.Close()
	return fmt.Appendf(nil, "<<%s/Filter/FlateDecode/Length %d>>stream\n%s\nendstream", entries, f.packed.Len(), f.packed.Bytes())
}

// writeTo writes the file, given its catalogue and what is said about it. Objects that
// are no streams are packed together into one (PDF 1.5).
func (f *objects) writeTo(w io.Writer, catalogue, info int) error {
	var packed, index bytes.Buffer
	within := 0
	for i, o := range f.all {
		if !o.stream {
			fmt.Fprintf(&index, "%d %d ", i+1, packed.Len())
			packed.Write(o.body)
			packed.WriteByte('\n')
			within++
		}
	}
	pack := f.stream(fmt.Sprintf("/Type/ObjStm/N %d/First %d", within, index.Len()), append(index.Bytes(), packed.Bytes()...))

	var b bytes.Buffer
	// The second line tells programs that move files that this is no text.
	b.WriteString("%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
	// Where each object is: a kind, then the place in the file or the object it is packed
	// in, then the place in that.
	table := []byte{0, 0, 0, 0, 0, 0xff, 0xff}
	row := func(kind byte, at, place int) {
		table = append(table, kind)
		table = binary.BigEndian.AppendUint32(table, uint32(at))
		table = binary.BigEndian.AppendUint16(table, uint16(place))
	}
	within = 0
	for i, o := range f.all {
		if !o.stream {
			row(2, pack, within)
			within++
			continue
		}
		row(1, b.Len(), 0)
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o.body)
	}
	start, n := b.Len(), len(f.all)+1
	row(1, start, 0)
	fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\nstartxref\n%d\n%%%%EOF\n", n,
		f.streamBody(fmt.Sprintf("/Type/XRef/Size %d/W[1 4 2]/Root %d 0 R/Info %d 0 R", n+1, catalogue, info), table), start)
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("writing the PDF: %w", err)
	}
	return nil
}

// textString is a text as a PDF string, in UTF-16.
func textString(s string) string { return "<FEFF" + utf16Hex(s) + ">" }

func utf16Hex(s string) string {
	var b strings.Builder
	for _, v := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", v)
	}
	return b.String()
}
