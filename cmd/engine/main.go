//go:build wasip1

// Command engine is the simulator as a family page runs it: a WebAssembly reactor whose
// exports are what render/browser/live does, and nothing else.
//
// The script puts a text into the room that it asked for, calls an export, and, where
// that gives a length, finds the answer of that length there, as JSON. Nothing here is
// called at the same time as anything else.
package main

import (
	"strings"
	"unsafe"

	"twincord/render/browser/live"
	"twincord/scenes"
	"twincord/sim"
)

func main() {} // a reactor has none, but the toolchain wants one

var (
	engine = live.New()
	buffer []byte
)

// room gives n bytes for a text; answer is where an answer stands.
//
//go:wasmexport room
func room(n int32) unsafe.Pointer {
	buffer = make([]byte, n, max(n, 1))
	return answer()
}

//go:wasmexport answer
func answer() unsafe.Pointer { return unsafe.Pointer(unsafe.SliceData(buffer)) }

func reply(text string) int32 {
	buffer = append(buffer[:0], text...)
	return int32(len(buffer))
}

// open shows a scene: the name of a built-in one or nothing, what is allowed, and the
// file, a line each but for the last.
//
//go:wasmexport open
func open() int32 {
	name, rest, _ := strings.Cut(string(buffer), "\n")
	allow, source, _ := strings.Cut(rest, "\n")
	s := live.Scene{Source: source, Allow: live.Allowed(allow)}
	if name != "" {
		s.ID = scenes.Identity{Origin: scenes.BuiltIn, Name: name}
	}
	return reply(live.ErrorJSON(engine.Open(s)))
}

// speak takes a language.
//
//go:wasmexport speak
func speak(inches int32) int32 {
	return reply(live.ErrorJSON(engine.Speak(string(buffer), inches != 0)))
}

// set takes the key of a control and its value, a line each.
//
//go:wasmexport set
func set() int32 {
	key, value, _ := strings.Cut(string(buffer), "\n")
	return reply(live.ErrorJSON(engine.Set(key, value)))
}

// cover takes the eye that is covered from a moment on.
//
//go:wasmexport cover
func cover(seconds float64) int32 {
	return reply(live.ErrorJSON(engine.Cover(sim.Side(buffer), seconds)))
}

//go:wasmexport controls
func controls() int32 { return reply(live.ControlsJSON(engine.Controls())) }

//go:wasmexport practice
func practice() int32 { return reply(engine.Practice().JSON()) }

//go:wasmexport step
func step(i int32) int32 { return reply(live.ErrorJSON(engine.Step(int(i)))) }

//go:wasmexport others
func others() int32 { return reply(live.OthersJSON(engine.Others())) }

//go:wasmexport hear
func hear(i int32) int32 { return reply(live.ErrorJSON(engine.Hear(int(i)))) }

//go:wasmexport look
func look(seconds float64) int32 {
	seen, err := engine.Look(seconds)
	if err != nil {
		return reply(live.ErrorJSON(err))
	}
	return reply(seen.JSON())
}

// paint paints what was seen last, and gives where its pixels are; nil where there are
// none.
//
//go:wasmexport paint
func paint(w, h, light, beside, marks int32, scale float64) unsafe.Pointer {
	pixels, _ := engine.Paint(int(w), int(h), live.Picture{Light: light != 0, SideBySide: beside != 0, Marks: marks != 0, Scale: scale})
	return unsafe.Pointer(unsafe.SliceData(pixels))
}
