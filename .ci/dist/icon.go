package main

import (
	"bytes"
	"encoding/binary"
	"image/png"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/raster"
	"twincord/render/svg"
)

// The sides of the icons that the systems ask for, pixels. Each is drawn by itself: a small
// icon is no large one made smaller.
var (
	windowsSides = []int{16, 24, 32, 48, 64, 256}
	linuxSides   = []int{16, 24, 32, 48, 64, 128, 256, 512}
)

// appleTypes are the entries of an .icns that hold a PNG, by their sides.
var appleTypes = []struct {
	side int
	name string
}{
	{16, "icp4"}, {32, "icp5"}, {64, "icp6"}, {128, "ic07"}, {256, "ic08"}, {512, "ic09"}, {1024, "ic10"},
}

// icon is the program's icon in all sizes.
type icon struct {
	png map[int][]byte
	svg []byte
}

func drawIcon() (*icon, error) {
	i := &icon{png: map[int][]byte{}}
	for _, side := range []int{16, 24, 32, 48, 64, 128, 256, 512, 1024} {
		var l display.List
		render.Icon(&l, float64(side))
		var b bytes.Buffer
		if err := png.Encode(&b, raster.Transparent(&l)); err != nil {
			return nil, err
		}
		i.png[side] = b.Bytes()
	}
	var l display.List
	render.Icon(&l, 256)
	l.Title = "twincord"
	var b bytes.Buffer
	err := svg.Write(&b, &l)
	i.svg = b.Bytes()
	return i, err
}

// icns is the icon as a Mac reads it: a head, and each picture with its type and length.
func (i *icon) icns() []byte {
	var entries []byte
	for _, t := range appleTypes {
		entries = append(entries, t.name...)
		entries = binary.BigEndian.AppendUint32(entries, uint32(8+len(i.png[t.side])))
		entries = append(entries, i.png[t.side]...)
	}
	return append(binary.BigEndian.AppendUint32([]byte("icns"), uint32(8+len(entries))), entries...)
}
