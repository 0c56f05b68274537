package call

import (
	"errors"
	"fmt"
	"os"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/alecthomas/kong"

	"twincord/scenes"
)

// read makes ready what a program was called with, so that the parser reads it as it is
// meant: numbers below zero as values. What cannot be meant is an error.
func (p *Program) read(args []string) (read []string, err error) {
	for i, arg := range args {
		last := ""
		if i > 0 {
			last = args[i-1]
		}
		flag, value, valued := strings.Cut(arg, "=")
		switch {
		case !utf8.ValidString(arg): // which the parser would take for another
			return nil, Bad("%q: is not UTF-8; allowed are arguments in UTF-8, and \"-\" for a scene on the standard input", arg)
		case arg == "--":
			return append(read, args[i:]...), nil
		case valued && value == "" && strings.HasPrefix(flag, "-"):
			return nil, Bad("%s: is empty; what is allowed says \"%s --help\"", flag, p.helped(args))
		case arg == "" && strings.HasPrefix(last, "-"):
			return nil, Bad("%s: is empty; what is allowed says \"%s --help\"", last, p.helped(args))
		case arg == "":
			return nil, Bad("\"\": argument %d is empty; what is allowed says \"%s --help\"", i+1, p.helped(args))
		case belowZero.MatchString(arg) && strings.HasPrefix(last, "--") && !strings.Contains(last, "="):
			read[len(read)-1] += "=" + arg
		default:
			read = append(read, arg)
		}
	}
	return read, p.begins(read)
}

// helped is what has the help for a line.
func (p *Program) helped(args []string) string {
	if asked := p.asked(args); len(asked) == 1 {
		return p.Name + " " + asked[0].Name
	}
	return p.Name
}

// belowZero is what begins like a number below zero and like no flag.
var belowZero = regexp.MustCompile(`^-(\d|\.\d|(?i:inf)$)`)

// begins says what is wrong with a word that a line begins with, where it is neither a
// command nor a scene that is there. What looks like a file is left to whoever opens it.
func (p *Program) begins(args []string) error {
	if len(args) == 0 || len(p.Commands) == 0 || strings.HasPrefix(args[0], "-") || strings.ContainsAny(args[0], `./\`) {
		return nil
	}
	word := args[0]
	if Identify(word).Origin == scenes.BuiltIn {
		return nil
	}
	if _, err := os.Stat(word); err == nil {
		return nil
	}
	var names []string
	for _, c := range p.Commands {
		if c.Name == word {
			return nil
		}
		names = append(names, c.Name)
	}
	return Bad("%s: is no command, and no scene of that name is there; commands are %s; the built-in scenes are listed by \"%s scenes list\"",
		word, strings.Join(names, ", "), p.Name)
}

// numbers are how numbers are read.
func numbers() []kong.Option {
	return []kong.Option{
		kong.KindMapper(reflect.Int, reader("a whole number", func(text string, to reflect.Value) error {
			n, err := strconv.Atoi(text)
			to.SetInt(int64(n))
			return err
		})),
		kong.KindMapper(reflect.Uint64, reader("a whole number from 0 to 18446744073709551615", func(text string, to reflect.Value) error {
			n, err := strconv.ParseUint(text, 10, 64)
			to.SetUint(n)
			return err
		})),
		kong.KindMapper(reflect.Float64, reader("a number", func(text string, to reflect.Value) error {
			x, err := strconv.ParseFloat(text, 64)
			to.SetFloat(x)
			return err
		})),
	}
}

// reader reads a kind of value; what is none of it is told with what the flag takes.
func reader(kind string, read func(text string, to reflect.Value) error) kong.MapperFunc {
	return func(ctx *kong.DecodeContext, to reflect.Value) error {
		token, err := ctx.Scan.PopValue(kind)
		if err != nil {
			return err
		}
		if err := read(token.String(), to); err != nil {
			return fmt.Errorf("%q is not allowed; allowed is %s: %s", token.String(), kind, ctx.Value.Help)
		}
		return nil
	}
}

// wrong is what the parser says of a line, in the words of this program: where, what, and
// what is allowed.
func (p *Program) wrong(err error) error {
	usage, help := p.Name, p.Name
	var commands []string
	var flags []*kong.Flag
	var parse *kong.ParseError
	if errors.As(err, &parse) && parse.Context != nil {
		flags = parse.Context.Flags()
		for _, at := range parse.Context.Path {
			if n := at.Node(); n != nil {
				usage, help, commands = p.Name+" "+strings.TrimSpace(n.Summary()), n.FullPath(), nil
				for _, c := range n.Children {
					commands = append(commands, c.Name)
				}
			}
		}
	}
	told := err.Error()
	for _, s := range parserSays {
		if part := s.says.FindStringSubmatch(told); part != nil {
			told = s.tell(part, line{usage, commands, flags})
			break
		}
	}
	return Bad("%s\nTry \"%s --help\".", told, help)
}

// line is what can be told of a command line.
type line struct {
	usage    string
	commands []string // that can follow
	flags    []*kong.Flag
}

// takes is what a flag takes, as its help says it.
func (l *line) takes(name string) string {
	for _, f := range l.flags {
		if "--"+f.Name == name {
			return f.Help
		}
	}
	return l.usage
}

// parserSays are the parser's own messages, and what is told instead.
var parserSays = []struct {
	says *regexp.Regexp
	tell func(part []string, l line) string
}{
	{regexp.MustCompile(`^unknown flag (\S+?)(?:, did you mean (?:one of )?(.*)\?)?$`), func(part []string, l line) string {
		if part[2] != "" && len(part[1]) > len("-o") { // letters are all alike
			return fmt.Sprintf("%s: is no flag; meant may be %s; allowed is: %s", part[1], strings.ReplaceAll(part[2], `"`, ""), l.usage)
		}
		return fmt.Sprintf("%s: is no flag; allowed is: %s", part[1], l.usage)
	}},
	{regexp.MustCompile(`(?s)^unexpected argument (.*?)(?:, did you mean .*)?$`), func(part []string, l line) string {
		if len(l.commands) > 0 {
			return fmt.Sprintf("%s: is no command; allowed are %s", part[1], strings.Join(l.commands, ", "))
		}
		return fmt.Sprintf("%s: is one argument too many; allowed is: %s", part[1], l.usage)
	}},
	{regexp.MustCompile(`^expected one of `), func(_ []string, l line) string {
		return fmt.Sprintf("a command is missing; allowed are %s", strings.Join(l.commands, ", "))
	}},
	{regexp.MustCompile(`^expected "(.*)"$`), func(part []string, l line) string {
		return fmt.Sprintf("%s: is missing; allowed is: %s", part[1], l.usage)
	}},
	{regexp.MustCompile(`^missing flags: (.*)$`), func(part []string, l line) string {
		return fmt.Sprintf("%s: is missing; allowed is: %s", part[1], l.usage)
	}},
	{regexp.MustCompile(`(?s)^(--\S+) must be one of (.*?) but got (".*")$`), func(part []string, _ line) string {
		return fmt.Sprintf("%s: %s is not allowed; allowed are %s", part[1], part[3], strings.ReplaceAll(strings.ReplaceAll(part[2], `"`, ""), ",", ", "))
	}},
	{regexp.MustCompile(`(?s)^(--\S+): bool value must be .* but got (".*")$`), func(part []string, _ line) string {
		return fmt.Sprintf("%s: %s is not allowed; allowed are true, false, and the flag alone", part[1], part[2])
	}},
	{regexp.MustCompile(`^(--\S+) and (--\S+) can't be used together$`), func(part []string, _ line) string {
		return fmt.Sprintf("%s, %s: do not go together; allowed is one of them", part[1], part[2])
	}},
	{regexp.MustCompile(`(?s)^(--\S+): (?:expected .* value but got|missing value)`), func(part []string, l line) string {
		return fmt.Sprintf("%s: its value is missing; allowed is: %s", part[1], l.takes(part[1]))
	}},
}

// once says which flag was given twice where it takes one value: nobody can tell which of
// the two is meant.
func once(parsed *kong.Context) error {
	given := map[*kong.Flag]bool{}
	for _, at := range parsed.Path {
		switch f := at.Flag; {
		case f == nil, f.IsCumulative():
		case given[f]:
			return Bad("--%s: is given twice; allowed is once", f.Name)
		default:
			given[f] = true
		}
	}
	return nil
}
