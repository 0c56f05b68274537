// Command twincord shows and computes what a patient sees along a Brock string.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"unicode"
	"unicode/utf8"

	"github.com/alecthomas/kong"

	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/document"
)

// version is set by the Makefile.
var version = "development"

const description = `What a patient sees along a Brock string.

A model's expected view for an average eye: no test, no diagnosis, no promise.
SCENE is a scene file, or the name of a built-in one (twincord scenes list).`

// commands is the command line.
type commands struct {
	Window  windowCommand  `cmd:"" default:"withargs" help:"Open a scene in a window."`
	Draw    drawCommand    `cmd:"" help:"Draw a scene into a PNG or SVG file."`
	Sheet   sheetCommand   `cmd:"" help:"Write what a family takes home of a routine, as PDF or HTML."`
	Page    pageCommand    `cmd:"" help:"Write the simulator of scenes as one HTML file for a phone."`
	Measure measureCommand `cmd:"" help:"Write the numbers of scenes, as a table or as JSON."`
	Answers answersCommand `cmd:"" help:"Say which set-ups would give what a patient answered."`
	Cases   casesCommand   `cmd:"" help:"Write cases to learn to read answers by, as PDF, HTML or JSON."`
	Check   checkCommand   `cmd:"" help:"Check scene files."`
	Film    filmCommand    `cmd:"" help:"Draw a routine or a moving scene into an MP4, a WebP, an animated PNG or a GIF."`
	Scenes  scenesCommand  `cmd:"" help:"List, show, copy or draw the built-in scenes."`

	Version kong.VersionFlag `help:"Say which version this is."`
}

// streams are where a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// The exit codes: a failure while working, and a wrong call or bad input.
const (
	failedWorking = 1
	badInput      = 2
)

// badCall is an error of what the command was given: arguments or a scene.
type badCall struct{ error }

func (b badCall) Unwrap() error { return b.error }

func bad(format string, args ...any) error { return badCall{fmt.Errorf(format, args...)} }

func main() {
	os.Exit(run(os.Args[1:], &streams{os.Stdin, os.Stdout, os.Stderr}))
}

// run runs one command line and gives its exit code. What could not be written to the
// standard output is a failure, whoever wrote it.
func run(args []string, s *streams) (code int) {
	out := &output{to: s.out}
	s = &streams{s.in, out, s.err}
	code = call(args, s)
	if code == 0 && out.err != nil {
		return report(fmt.Errorf("the standard output: %w", out.err), s)
	}
	return code
}

// call is run without a look at the output.
func call(args []string, s *streams) (code int) {
	// Kong ends the process after the help; here it only ends the run.
	type exit int
	defer func() {
		if r := recover(); r != nil {
			e, ok := r.(exit)
			if !ok {
				panic(r)
			}
			code = int(e)
		}
	}()
	for _, arg := range args {
		if !utf8.ValidString(arg) { // which the parser would take for another
			return report(bad("%q: is not UTF-8; allowed are arguments in UTF-8, and \"-\" for a scene on the standard input", arg), s)
		}
	}
	parser, err := kong.New(&commands{},
		kong.Name("twincord"), kong.Description(description),
		kong.Writers(s.out, s.err), kong.Vars{"version": "twincord " + version, "first": scenes.DefaultName, "sizes": sizeNames(), "kinds": kindNames()},
		kong.Exit(func(code int) { panic(exit(code)) }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.Bind(s),
	)
	if err != nil {
		fmt.Fprintln(s.err, "twincord:", err)
		return failedWorking
	}
	parsed, err := parser.Parse(args)
	switch out, ok := s.out.(*output); {
	case ok && out.err != nil: // of the help
		return report(fmt.Errorf("the standard output: %w", out.err), s)
	case err != nil:
		fmt.Fprintf(s.err, "twincord: %s\nTry \"twincord --help\".\n", printable(err.Error()))
		return badInput
	}
	return report(parsed.Run(), s)
}

// output is a standard output that remembers what went wrong.
type output struct {
	to  io.Writer
	err error
}

func (o *output) Write(b []byte) (int, error) {
	n, err := o.to.Write(b)
	if o.err == nil && err != nil {
		o.err = err
	}
	return n, err
}

// printable is a text for people with the characters written out that would do
// something to a terminal, or turn round what is read.
func printable(text string) string {
	var b strings.Builder
	for _, r := range text {
		if unicode.IsGraphic(r) || r == '\n' || r == '\t' {
			b.WriteRune(r)
		} else {
			quoted := strconv.QuoteRuneToASCII(r)
			b.WriteString(quoted[1 : len(quoted)-1])
		}
	}
	return b.String()
}

// report prints an error and gives the exit code for it. Output that nobody reads
// any longer is none.
func report(err error, s *streams) int {
	switch {
	case err == nil, errors.Is(err, syscall.EPIPE):
		return 0
	case errors.As(err, new(badCall)):
		fmt.Fprintln(s.err, printable(prefixed(err)))
		return badInput
	}
	fmt.Fprintln(s.err, printable(prefixed(err)))
	return failedWorking
}

// prefixed says who speaks, but for faults of a file, which begin with its name.
func prefixed(err error) string {
	if errors.As(err, new(scenes.Faults)) || errors.As(err, new(faultLines)) {
		return err.Error()
	}
	return "twincord: " + err.Error()
}

// openScene opens a built-in scene, a file, or for "-" what stands on the
// standard input.
func openScene(name string, s *streams) (*scenes.Scene, scenes.Identity, error) {
	id := identify(name)
	if id.Origin != scenes.New {
		sc, _, err := scenes.Open(name)
		if err != nil {
			err = badCall{err}
		}
		return sc, id, err
	}
	data, err := io.ReadAll(io.LimitReader(s.in, scenes.MaxSize+1))
	if err != nil {
		return nil, id, fmt.Errorf("%s: %w", id, err)
	}
	sc, err := scenes.Parse(id.Name, data)
	if err != nil {
		err = badCall{err}
	}
	return sc, id, err
}

// identify says which scene is meant by an argument.
func identify(name string) scenes.Identity {
	if name == "-" {
		return scenes.Identity{Origin: scenes.New, Name: "standard input"}
	}
	return scenes.Identify(name)
}

// wordsIn gives the words of a --language.
func wordsIn(language string) (*words.Words, error) {
	say, err := words.For(language)
	if err != nil {
		return nil, bad("--language: %w", err)
	}
	return say, nil
}

// told is a scene as it is told in the language of some words.
func told(sc *scenes.Scene, id scenes.Identity, say *words.Words) *scenes.Scene {
	return scenes.TranslationOf(id, say).Scene(sc)
}

// stopping are the signals with which somebody ends a program, but for those that were
// to be ignored when it was started.
func stopping() []os.Signal {
	return slices.DeleteFunc([]os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}, signal.Ignored)
}

// untilStopped does something about a file that leaves nothing half-done behind when its
// context ends, which it does when somebody wants the program to end. Whoever wants that
// twice does not wait for it.
func untilStopped(path string, do func(context.Context) error) error {
	ctx, stop := signal.NotifyContext(context.Background(), stopping()...)
	defer stop()
	context.AfterFunc(ctx, stop)
	err := do(ctx)
	if errors.Is(err, context.Canceled) {
		return fmt.Errorf("%s: stopped, nothing left half-written", path)
	}
	return err
}

// replace gives a file new contents, all or nothing.
func replace(path string, write func(io.Writer) error) error {
	return untilStopped(path, func(ctx context.Context) error { return replaceIn(ctx, path, write) })
}

// replaceIn is replace as long as a context lasts. A path that cannot be written to is
// bad input, whatever goes wrong later is not.
func replaceIn(ctx context.Context, path string, write func(io.Writer) error) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return bad("%s: is a folder or a device, not a file", path)
	}
	err := document.Replace(path, func(w io.Writer) error {
		if err := write(lasting{ctx, w}); err != nil {
			return err
		}
		return ctx.Err()
	})
	for _, unwritable := range []error{fs.ErrNotExist, fs.ErrPermission, syscall.ENOTDIR, syscall.EROFS, syscall.ENAMETOOLONG} {
		if errors.Is(err, unwritable) {
			return badCall{err}
		}
	}
	return err
}

// lasting is a writer as long as a context lasts.
type lasting struct {
	ctx context.Context
	to  io.Writer
}

func (l lasting) Write(b []byte) (int, error) {
	if err := l.ctx.Err(); err != nil {
		return 0, err
	}
	return l.to.Write(b)
}

// notItself refuses to write what is made of a scene over the scene.
func notItself(scene, output string) error {
	in, err := os.Stat(scene)
	if err != nil {
		return nil // built in, or what opening it says
	}
	if out, err := os.Stat(output); err == nil && os.SameFile(in, out) {
		return bad("%s: is the scene itself; allowed is another file", output)
	}
	return nil
}

// joined is all errors in one, a line each; nil if there are none.
func joined(errs []error) error {
	if len(errs) == 0 {
		return nil
	}
	lines := make([]string, len(errs))
	for i, err := range errs {
		lines[i] = prefixed(err)
	}
	return badCall{faultLines(strings.Join(lines, "\n"))}
}

// faultLines are lines that already say whose they are.
type faultLines string

func (f faultLines) Error() string { return string(f) }
