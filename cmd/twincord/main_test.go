package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"unicode/utf16"

	"github.com/rogpeppe/go-internal/testscript"

	"github.com/stretchr/testify/assert"

	"twincord/cmd/internal/call"
	"twincord/render/browser"
)

// The scripts run this test binary again as twincord, and as one that stands in for the
// program with the window.
func TestMain(m *testing.M) {
	if err := os.Setenv("GORACE", calls); err != nil {
		panic(err)
	}
	testscript.Main(m, map[string]func(){"twincord": main, call.WindowProgram: standIn})
}

// calls is how programs that are called here end where they look for races: at once, not
// after a second in which others might race on, hundreds of times.
const calls = "atexit_sleep_ms=0"

// standIn says how the program with the window was called, and ends with a code that no
// other program here has.
func standIn() {
	given, err := io.ReadAll(os.Stdin)
	fmt.Fprintf(os.Stderr, "window %q, given %q, %v\n", os.Args[1:], given, err)
	os.Exit(7)
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Condition: func(name string) (bool, error) {
			if name != "engine" {
				return false, fmt.Errorf("no such condition: %s", name)
			}
			_, err := browser.Engine()
			return err == nil, nil
		},
		Dir: filepath.Join("..", "..", "testdata", "cli"),
		Setup: func(e *testscript.Env) error {
			e.Setenv("GORACE", calls)
			return nil
		},
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits":   exits,
			"field":   field,
			"picture": pictureIs,
			"pixels":  pixels,
			"folder":  folder,
			"make":    makeFile,
		},
	})
}

// exits CODE PROGRAM ARG… runs a program that must end with that exit code. A
// failure must say something, and never a panic's trace.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code program [args...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	code := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		code = exit.ExitCode()
	}
	said := ts.ReadFile("stderr")
	switch {
	case code != want:
		ts.Fatalf("exit code %d, not %d", code, want)
	case code != 0 && said == "":
		ts.Fatalf("failed without a word")
	case code == 0 && said != "":
		ts.Fatalf("succeeded, but said %q", said)
	case strings.Contains(said, "goroutine"):
		ts.Fatalf("panicked")
	}
}

// field PATH WANT [WITHIN] compares one value of the JSON on the standard output; PATH is keys
// and indices joined by dots, WANT as JSON has it or a bare word.
func field(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) < 2 || len(args) > 3 {
		ts.Fatalf("usage: field path want [within]")
	}
	var v any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &v))
	for key := range strings.SplitSeq(args[0], ".") {
		switch at := v.(type) {
		case []any:
			i, err := strconv.Atoi(key)
			if err != nil || i >= len(at) {
				ts.Fatalf("%s: no element %s of %d", args[0], key, len(at))
			}
			v = at[i]
		case map[string]any:
			var ok bool
			if v, ok = at[key]; !ok {
				ts.Fatalf("%s: no %s", args[0], key)
			}
		default:
			ts.Fatalf("%s: %s is not inside %v", args[0], key, v)
		}
	}
	same := false
	if len(args) == 3 {
		want, err := strconv.ParseFloat(args[1], 64)
		ts.Check(err)
		within, err := strconv.ParseFloat(args[2], 64)
		ts.Check(err)
		x, ok := v.(float64)
		same = ok && math.Abs(x-want) <= within
	} else {
		got, err := json.Marshal(v)
		ts.Check(err)
		word, isText := v.(string)
		same = string(got) == args[1] || isText && word == args[1]
	}
	if same == neg {
		ts.Fatalf("%s is %v", args[0], v)
	}
}

// pixels FILE FILE compares two PNG pictures pixel by pixel.
func pixels(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 2 {
		ts.Fatalf("usage: [!] pixels file file")
	}
	var img [2]image.Image
	for i, name := range args {
		var err error
		img[i], err = png.Decode(strings.NewReader(ts.ReadFile(name)))
		ts.Check(err)
	}
	same := img[0].Bounds() == img[1].Bounds()
	for y := 0; same && y < img[0].Bounds().Dy(); y++ {
		for x := 0; same && x < img[0].Bounds().Dx(); x++ {
			r0, g0, b0, _ := img[0].At(x, y).RGBA()
			r1, g1, b1, _ := img[1].At(x, y).RGBA()
			same = r0 == r1 && g0 == g1 && b0 == b1
		}
	}
	if same == neg {
		ts.Fatalf("the same pixels: %v", same)
	}
}

// picture FILE WIDTH HEIGHT reads a PNG or SVG as a whole and compares its size.
func pictureIs(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: picture file width height")
	}
	data := ts.ReadFile(args[0])
	var w, h string
	if strings.HasSuffix(args[0], ".png") {
		img, err := png.Decode(strings.NewReader(data))
		ts.Check(err)
		w, h = strconv.Itoa(img.Bounds().Dx()), strconv.Itoa(img.Bounds().Dy())
	} else {
		d := xml.NewDecoder(strings.NewReader(data))
		for {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			ts.Check(err)
			if root, ok := token.(xml.StartElement); ok && root.Name.Local == "svg" && w == "" {
				for _, a := range root.Attr {
					switch a.Name.Local {
					case "width":
						w = a.Value
					case "height":
						h = a.Value
					}
				}
			}
		}
	}
	if w != args[1] || h != args[2] {
		ts.Fatalf("%s is %s by %s", args[0], w, h)
	}
}

// folder FOLDER [NAME…] compares what a folder holds, hidden files too.
func folder(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: folder folder [name...]")
	}
	entries, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	want := args[1:]
	slices.Sort(want)
	if !slices.Equal(names, want) {
		ts.Fatalf("%s holds %q", args[0], names)
	}
}

// make KIND FILE [FROM] writes a file that a script cannot hold, some of them from another file.
func makeFile(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: make kind file [from]")
	}
	var from string
	if len(args) == 3 {
		from = ts.ReadFile(args[2])
	}
	var data []byte
	switch args[0] {
	case "empty":
	case "binary":
		for i := range 4096 {
			data = append(data, byte(i*167+i/256))
		}
	case "huge":
		data = bytes.Repeat([]byte("# a line that says nothing\n"), 10<<20/27)
	case "deep":
		data = fmt.Appendf(nil, "format = %s1%s\n", strings.Repeat("[", 5000), strings.Repeat("]", 5000))
	case "bom":
		data = []byte("\ufeff" + from)
	case "crlf":
		data = []byte(strings.ReplaceAll(from, "\n", "\r\n"))
	case "utf16":
		data = []byte{0xff, 0xfe}
		for _, u := range utf16.Encode([]rune(from)) {
			data = append(data, byte(u), byte(u>>8))
		}
	default:
		ts.Fatalf("unknown kind %s", args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), data, 0o644))
}

// full is a disk without room, or a reader who has left.
type full struct{ err error }

func (f full) Write([]byte) (int, error) { return 0, f.err }

// Failures while working are told from bad input, and a reader who has left is
// none.
func TestOutputThatCannotBeWritten(t *testing.T) {
	for _, args := range [][]string{
		{"measure", "middle-of-three"},
		{"measure", "middle-of-three", "--json"},
		{"check", filepath.Join("..", "..", "scenes", "library", "middle-of-three.toml")},
		{"scenes", "list"},
		{"scenes", "show", "middle-of-three"},
		{"scenes", "schema"},
		{"--help"},
		{"draw", "--help"},
		{"--version"},
	} {
		var said bytes.Buffer
		code := run(args, &call.Streams{In: strings.NewReader(""), Out: full{syscall.ENOSPC}, Err: &said})
		assert.Equal(t, call.FailedWorking, code, args)
		assert.Contains(t, said.String(), "no space left", args)

		said.Reset()
		code = run(args, &call.Streams{In: strings.NewReader(""), Out: full{syscall.EPIPE}, Err: &said})
		assert.Zero(t, code, args)
		assert.Empty(t, said.String(), args)
	}
}
