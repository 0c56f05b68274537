// Command twincord-window is the window of twincord. It is a program of its own, since the
// library of the window takes its time to begin, which no command should have to wait for,
// and since Windows gives a program either a console or none.
package main

import (
	"os"

	"github.com/alecthomas/kong"

	"twincord/cmd/internal/call"
)

const description = `What a patient sees along a Brock string, in a window.

A model's expected view for an average eye: no test, no diagnosis, no promise.
SCENE is a scene file, or the name of a built-in one (twincord scenes list).`

// program is the command line.
type program struct {
	call.Window

	Version kong.VersionFlag `help:"Say which version this is."`
}

func main() {
	p := call.Program{Name: call.WindowProgram, Description: description, Line: &program{}}
	s, told := heard(call.Standard())
	code := p.Run(os.Args[1:], s)
	told()
	os.Exit(code)
}
