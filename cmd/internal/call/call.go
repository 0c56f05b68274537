// Package call is how the programs are called: one command line, one way to say what went
// wrong, one set of exit codes, and which scene an argument means.
package call

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"os/signal"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"unicode"

	"github.com/alecthomas/kong"
	"golang.org/x/term"

	"twincord/scenes"
)

// version is set by the Makefile.
var version = "development"

// Version is the name of the product and which one of it this is.
func Version() string { return "twincord " + version }

// Streams are where a program reads and writes.
type Streams struct {
	In       io.Reader
	Out, Err io.Writer
	Watched  bool // Err is a terminal: somebody reads it as it is written
}

// Standard are the streams that a program is given.
func Standard() *Streams {
	return &Streams{os.Stdin, os.Stdout, os.Stderr, term.IsTerminal(int(os.Stderr.Fd()))}
}

// The exit codes: a failure while working, and a wrong call or bad input.
const (
	FailedWorking = 1
	BadInput      = 2
)

// badCall is an error of what a program was given: arguments or a scene.
type badCall struct{ error }

func (b badCall) Unwrap() error { return b.error }

// Bad is an error of what a program was given.
func Bad(format string, args ...any) error { return badCall{fmt.Errorf(format, args...)} }

// AsBad is an error, if there is one, as one of what a program was given.
func AsBad(err error) error {
	if err == nil {
		return nil
	}
	return badCall{err}
}

// Program is what is called.
type Program struct {
	Name, Description string
	Line              any // flags and arguments as kong reads them
	Commands          []Command
	Vars              kong.Vars // of its help
}

// Command is what a command line can begin with.
type Command struct {
	Name, Help string
	Line       any
	Tags       []string // further ones, as kong has them
}

// asked are the commands that a line has to be read with: to know them all, with all
// their flags, takes longer than most of what they do.
func (p *Program) asked(args []string) []Command {
	if len(args) > 0 {
		if i := slices.IndexFunc(p.Commands, func(c Command) bool { return c.Name == args[0] }); i >= 0 {
			return p.Commands[i : i+1]
		}
	}
	return p.Commands
}

// Run runs one command line and gives its exit code. What could not be written to the
// standard output is a failure, whoever wrote it.
func (p *Program) Run(args []string, s *Streams) (code int) {
	out := &output{to: s.Out}
	counted := *s
	counted.Out = out
	s = &counted
	code = p.run(args, s, out)
	if code == 0 && out.err != nil {
		return report(fmt.Errorf("the standard output: %w", out.err), s)
	}
	return code
}

// run is Run without a last look at the output.
func (p *Program) run(args []string, s *Streams, out *output) (code int) {
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
	args, err := p.read(args)
	if err != nil {
		return report(err, s)
	}
	vars := kong.Vars{"version": Version(), "first": scenes.DefaultName}
	maps.Copy(vars, p.Vars)
	options := []kong.Option{
		kong.Name(p.Name), kong.Description(p.Description),
		kong.Writers(s.Out, s.Err), vars,
		kong.Exit(func(code int) { panic(exit(code)) }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.Bind(s),
	}
	options = append(options, numbers()...)
	for _, c := range p.asked(args) {
		options = append(options, kong.DynamicCommand(c.Name, c.Help, "", c.Line, c.Tags...))
	}
	parser, err := kong.New(p.Line, options...)
	if err != nil {
		return report(err, s)
	}
	parsed, err := parser.Parse(args)
	switch {
	case out.err != nil: // of the help
		return report(fmt.Errorf("the standard output: %w", out.err), s)
	case err != nil:
		return report(p.wrong(err), s)
	}
	if err := once(parsed); err != nil {
		return report(err, s)
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

// Printable is a text for people with the characters written out that would do
// something to a terminal, or turn round what is read.
func Printable(text string) string {
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

// Ended is an exit code of which was said why: by another program that was to do it, or in
// the window.
type Ended int

func (e Ended) Error() string { return fmt.Sprintf("exit code %d", int(e)) }

// report prints an error and gives the exit code for it. Output that nobody reads
// any longer is none.
func report(err error, s *Streams) int {
	var ended Ended
	switch {
	case err == nil, errors.Is(err, syscall.EPIPE):
		return 0
	case errors.As(err, &ended):
		return int(ended)
	}
	fmt.Fprintln(s.Err, Printable(prefixed(err)))
	if errors.As(err, new(badCall)) {
		return BadInput
	}
	return FailedWorking
}

// prefixed says who speaks, but for faults of a file, which begin with its name.
func prefixed(err error) string {
	if errors.As(err, new(scenes.Faults)) || errors.As(err, new(faultLines)) {
		return err.Error()
	}
	return "twincord: " + err.Error()
}

// Joined is all errors in one, a line each; nil if there are none.
func Joined(errs []error) error {
	if len(errs) == 0 {
		return nil
	}
	lines := make([]string, len(errs))
	for i, err := range errs {
		lines[i] = prefixed(err)
	}
	return AsBad(faultLines(strings.Join(lines, "\n")))
}

// faultLines are lines that already say whose they are.
type faultLines string

func (f faultLines) Error() string { return string(f) }

// Stopping are the signals with which somebody ends a program, but for those that were
// to be ignored when it was started.
func Stopping() []os.Signal {
	return slices.DeleteFunc([]os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}, signal.Ignored)
}
