package lettering

import (
	"encoding/binary"
	"slices"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"twincord/render/display"
)

// sources are the faces as TrueType files, and their names.
var sources = [...]struct {
	name string
	ttf  []byte
}{
	display.Regular: {"GoRegular", goregular.TTF},
	display.Bold:    {"GoBold", gobold.TTF},
}

// Metrics are the measures of a face that a page states beside the font. All but Name
// are in ems, y up.
type Metrics struct {
	Name                       string
	Ascent, Descent, CapHeight float64 // Descent is below 0
}

// MetricsOf gives the measures of a face.
func MetricsOf(f display.Face) Metrics {
	fc := faceOf(f)
	fc.mu.Lock()
	defer fc.mu.Unlock()
	ascent, descent, capHeight := fc.font.measures()
	return Metrics{Name: sources[f].name, Ascent: ascent, Descent: descent, CapHeight: capHeight}
}

// Advance is how far a glyph leads on by itself, in ems.
func Advance(f display.Face, glyph uint32) float64 {
	fc := faceOf(f)
	fc.mu.Lock()
	defer fc.mu.Unlock()
	return fc.font.advance(glyph)
}

// Spelling says of each glyph of s, as Draw sets it, what it spells. Of several glyphs
// that stand for one character the last one spells it.
func Spelling(f display.Face, s string) []string {
	text := []rune(s)
	glyphs := shaped(f, s).glyphs
	spelling := make([]string, len(glyphs))
	end := len(text)
	for i := len(glyphs) - 1; i >= 0; i-- {
		from := min(glyphs[i].char, end)
		spelling[i] = string(text[from:end])
		end = from
	}
	return spelling
}

// Subset is a face as a TrueType file that holds the outlines of some glyphs, under their
// own numbers. It has no table of characters: who embeds it names glyphs. It relies on
// what the faces are: no glyph is composed of others, and their offsets are short.
func Subset(f display.Face, glyphs []uint32) []byte {
	tables := tablesOf(sources[f].ttf)
	count := int(binary.BigEndian.Uint16(tables["maxp"][4:]))
	offset := func(i int) int { return 2 * int(binary.BigEndian.Uint16(tables["loca"][2*i:])) }
	kept := map[int]bool{0: true} // what stands in for a missing one
	for _, g := range glyphs {
		kept[int(g)] = true
	}
	var outlines, loca []byte
	for i := range count {
		loca = binary.BigEndian.AppendUint16(loca, uint16(len(outlines)/2))
		if kept[i] {
			outlines = padded(append(outlines, tables["glyf"][offset(i):offset(i+1)]...))
		}
	}
	loca = binary.BigEndian.AppendUint16(loca, uint16(len(outlines)/2))
	tables["glyf"], tables["loca"] = outlines, loca
	// The sum of the whole file in head is left as it was: readers of an embedded font do
	// not look at it.
	return joined(tables, []string{"cvt ", "fpgm", "glyf", "head", "hhea", "hmtx", "loca", "maxp", "prep"})
}

// tablesOf are the tables of a TrueType file by name.
func tablesOf(ttf []byte) map[string][]byte {
	tables := map[string][]byte{}
	for i := range int(binary.BigEndian.Uint16(ttf[4:])) {
		entry := ttf[12+16*i:]
		from, length := binary.BigEndian.Uint32(entry[8:]), binary.BigEndian.Uint32(entry[12:])
		tables[string(entry[:4])] = ttf[from : from+length]
	}
	return tables
}

// joined is a TrueType file of the tables named, as far as there are such.
func joined(tables map[string][]byte, names []string) []byte {
	names = slices.DeleteFunc(names, func(name string) bool { return tables[name] == nil })
	n := len(names)
	search := 1
	selector := 0
	for search*2 <= n {
		search, selector = search*2, selector+1
	}
	file := binary.BigEndian.AppendUint32(nil, 0x00010000)
	for _, v := range []int{n, 16 * search, selector, 16 * (n - search)} {
		file = binary.BigEndian.AppendUint16(file, uint16(v))
	}
	from := len(file) + 16*n
	for _, name := range names {
		t := tables[name]
		file = append(file, name...)
		for _, v := range []uint32{checksum(t), uint32(from), uint32(len(t))} {
			file = binary.BigEndian.AppendUint32(file, v)
		}
		from += (len(t) + 3) &^ 3
	}
	for _, name := range names {
		file = padded(append(file, tables[name]...))
	}
	return file
}

// padded is b with zeros to a multiple of four bytes.
func padded(b []byte) []byte {
	for len(b)%4 != 0 {
		b = append(b, 0)
	}
	return b
}

func checksum(table []byte) (sum uint32) {
	table = padded(slices.Clone(table))
	for ; len(table) > 0; table = table[4:] {
		sum += binary.BigEndian.Uint32(table)
	}
	return sum
}
