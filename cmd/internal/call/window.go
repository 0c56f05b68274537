package call

import "strconv"

// WindowProgram is the program with the window, which stands beside twincord.
const WindowProgram = "twincord-window"

// Window is what a window is opened on: the arguments of the program with the window,
// and of the command that starts it.
type Window struct {
	Scene  string `arg:"" optional:"" help:"Scene file or built-in scene; left out, what was not saved, else the last scene, else ${first}."`
	Follow bool   `help:"Show the picture and the sentence alone, of the scene as another window is editing it: the family's screen."`
	Screen int    `placeholder:"N" help:"Screen to open on, counted from 1; left out, the system's choice, and with --follow another one than the editing window's where there are two."`
}

// Args are the arguments that say the same.
func (w *Window) Args() []string {
	var args []string
	if w.Follow {
		args = append(args, "--follow")
	}
	if w.Screen != 0 {
		args = append(args, "--screen="+strconv.Itoa(w.Screen))
	}
	if w.Scene != "" {
		args = append(args, "--", w.Scene)
	}
	return args
}
