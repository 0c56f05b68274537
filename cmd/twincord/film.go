package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"

	"golang.org/x/term"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/film"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

type filmCommand struct {
	Scene    string   `arg:"" help:"Routine or scene: a file or a built-in one; - is the standard input."`
	Output   string   `short:"o" required:"" placeholder:"FILE" help:"File to write: .png (animated, lossless) or .gif. An existing one is replaced."`
	Seconds  *float64 `placeholder:"S" help:"Length; left out, 10 s of a scene and the whole of a routine."`
	Hold     *float64 `placeholder:"S" help:"Show each place of a routine for so long, 0.5 to 120 s, instead of the time it is held."`
	Rate     int      `default:"15" help:"Frames a second, 1 to 50."`
	Size     string   `default:"960x540" placeholder:"WxH" help:"Size in pixels, 160x120 to 7680x4320; left out, 960x540."`
	View     string   `enum:"patient,above,front" default:"patient" help:"What to show: patient, above or front."`
	Field    float64  `placeholder:"DEG" help:"Field from the upper to the lower edge, 10 to 90 degrees; left out, what shows every bead all the time."`
	Compare  bool     `help:"Show the eyes on the bead beside this set-up."`
	Caption  *bool    `negatable:"" help:"Write below the picture what is seen; left out, with a routine only."`
	Language string   `default:"en" help:"Language of the words."`
}

// Help is an example.
func (*filmCommand) Help() string {
	return "Example: twincord film jumps-of-three -o jumps.png --hold 2"
}

// The lengths and rates of films.
const (
	sceneSeconds = 10
	leastHold    = 0.5
	mostHold     = 120
	mostRate     = film.MostRateGIF
)

// Run draws the film.
func (c *filmCommand) Run(s *streams) error {
	as, err := c.format()
	if err != nil {
		return err
	}
	w, h, err := sizeOf(c.Size)
	if err != nil {
		return err
	}
	if err := cmp.Or(fieldAllowed(c.Field), c.agree()); err != nil {
		return err
	}
	if err := notItself(c.Scene, c.Output); err != nil {
		return err
	}
	say, err := wordsIn(c.Language)
	if err != nil {
		return err
	}
	sc, id, err := openScene(c.Scene, s)
	if err != nil {
		return err
	}
	r, err := c.reel(told(sc, id, say), id, say, w, h)
	if err != nil {
		return err
	}
	f := r.film()
	return untilStopped(c.Output, func(ctx context.Context) error {
		return c.write(ctx, s, f, as, r.seconds, r.leftOut)
	})
}

// write says how large the film will be, and writes it.
func (c *filmCommand) write(ctx context.Context, s *streams, f *film.Film, as film.Format, seconds float64, leftOut []string) error {
	expected, err := f.Expect(ctx, as)
	if err != nil {
		return err
	}
	name := printable(c.Output)
	fmt.Fprintf(s.err, "%s: %d frames, %.4g s, about %s\n", name, f.Frames, seconds, bytesOf(expected))
	for _, line := range leftOut {
		fmt.Fprintf(s.err, "%s: %s\n", name, line)
	}
	progress, done := c.progress(s, f.Frames)
	defer done()
	return replaceIn(ctx, c.Output, func(out io.Writer) error { return f.Write(ctx, out, as, progress) })
}

// agree says whether the options go together.
func (c *filmCommand) agree() error {
	switch {
	case c.Rate < 1 || c.Rate > mostRate:
		return bad("--rate: %d frames a second, allowed are 1 to %d", c.Rate, mostRate)
	case c.Seconds != nil && !(*c.Seconds > 0 && *c.Seconds <= film.MostSeconds):
		return bad("--seconds: %v s, allowed is above 0 to %d", *c.Seconds, film.MostSeconds)
	case c.Hold != nil && !(*c.Hold >= leastHold && *c.Hold <= mostHold):
		return bad("--hold: %v s, allowed is %v to %v", *c.Hold, leastHold, mostHold)
	case c.View != viewPatient && (c.Compare || c.Field != 0):
		return bad("--view %s takes neither --field nor --compare", c.View)
	}
	return nil
}

// format is that of the file's ending.
func (c *filmCommand) format() (film.Format, error) {
	switch ext := strings.ToLower(filepath.Ext(c.Output)); ext {
	case ".png", ".apng":
		return film.APNG, nil
	case ".gif":
		return film.GIF, nil
	default:
		return 0, bad("%s: no film ends in %q; .png and .gif do", c.Output, ext)
	}
}

// progress is a bar, where somebody sits before it.
func (c *filmCommand) progress(s *streams, frames int) (progress func(int), done func()) {
	f, ok := s.err.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return nil, func() {}
	}
	bar := &progressBar{to: f, whole: frames}
	return bar.show, bar.clear
}

// bytesOf is a size of a file in words.
func bytesOf(n int64) string {
	if n < 1e6 {
		return fmt.Sprintf("%.0f kB", math.Max(1, float64(n)/1e3))
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1e6)
}

// reel is what a film shows.
type reel struct {
	steps    []routine.Step // one long hold, where there is no routine
	seconds  float64
	leftOut  []string // what of the routine is not shown
	rate     int
	painting painting
	frame    display.Rect // of the picture
	name     string

	caption display.Rect // below the picture; empty: none
	style   lettering.Style
	said    [][]string // the lines of the caption, second by second
}

func (c *filmCommand) reel(sc *scenes.Scene, id scenes.Identity, say *words.Words, w, h int) (*reel, error) {
	r := &reel{
		rate: c.Rate, name: nameOf(sc, id), frame: display.Rect{W: float64(w), H: float64(h)},
		painting: painting{view: c.View, compare: c.Compare, say: say},
		steps:    []routine.Step{{Setup: sc.Setup}}, seconds: sceneSeconds,
	}
	if c.Hold != nil && !sc.Routine.OK {
		return nil, bad("%s: --hold needs a scene with a [routine], which it has not", id)
	}
	if sc.Routine.OK {
		held := sc.Routine.Value.Hold
		if c.Hold != nil {
			sc.Routine.Value.Hold = *c.Hold
			if *c.Hold != held {
				r.leftOut = append(r.leftOut, fmt.Sprintf("each place is shown for %v s; the routine holds it for %v s", *c.Hold, held))
			}
		}
		r.steps = routine.Steps(sc)
		r.seconds = r.steps[len(r.steps)-1].End()
		if c.Seconds != nil && *c.Seconds < r.seconds {
			r.leftOut = append(r.leftOut, fmt.Sprintf("what comes later, up to %.4g s, is left out", r.seconds))
		}
	}
	if c.Seconds != nil {
		r.seconds = *c.Seconds
	}
	if r.seconds > film.MostSeconds {
		return nil, bad("%s: lasts %.4g s, a film at most %d; allowed are --hold or --seconds to make it shorter", id, r.seconds, film.MostSeconds)
	}
	if c.Caption == nil && sc.Routine.OK || c.Caption != nil && *c.Caption {
		r.caption = r.frame
		r.caption.H = math.Round(max(0.14*r.frame.H, 40))
		r.frame.H -= r.caption.H
		r.caption.Y = r.frame.H
		r.write()
	}
	if r.painting.options.Field = sim.Degrees(c.Field); c.Field == 0 {
		r.painting.options.Field = r.widest()
	}
	return r, nil
}

// film is the reel to be drawn.
func (r *reel) film() *film.Film {
	return &film.Film{
		W: int(r.frame.W), H: int(r.frame.H + r.caption.H), Rate: r.rate,
		Frames: max(1, int(math.Round(r.seconds*float64(r.rate)))), Drawer: r.drawer,
	}
}

// widest is the field that shows every bead at every moment, so that nothing changes its
// scale.
func (r *reel) widest() (field sim.Degrees) {
	const every = 0.25 // s
	aspect := r.frame.W / r.frame.H
	p := r.painting
	if p.compare {
		aspect /= 2
	}
	show := r.shower()
	for i := range int(r.seconds/every) + 1 {
		v := show(every * float64(i))
		field = max(field, render.AutoField(v, aspect, false))
		if p.compare {
			field = max(field, render.AutoField(p.onTarget(v), aspect, false))
		}
	}
	return field
}

// write writes the captions. Each stands for a second, that it can be read, and is of
// what is seen in the middle of it; all are of one size, in which none has more than two
// lines.
func (r *reel) write() {
	r.style = lettering.Style{Size: 0.27 * r.caption.H, Colour: theme.Dark.Ink}
	show := r.shower()
	var said []string
	for second := range int(math.Ceil(r.seconds)) {
		said = append(said, r.painting.brief(show(float64(second)+0.5)))
	}
	for i := 0; i < len(said); i++ {
		lines := lettering.Wrap(r.style, said[i], r.caption.W-2*r.style.Size)
		if len(lines) > 2 {
			r.style.Size *= 0.96
			r.said, i = nil, -1
			continue
		}
		r.said = append(r.said, lines)
	}
}

// shower gives what shows the view of a moment; moments are best asked for in order.
func (r *reel) shower() func(seconds float64) *sim.View {
	var v sim.View
	player := routine.NewPlayer(r.steps)
	return func(seconds float64) *sim.View {
		step, since := routine.At(r.steps, seconds)
		player.Look(&v, step, since)
		return &v
	}
}

// drawer draws the frames.
func (r *reel) drawer() func(frame int, l *display.List) {
	show := r.shower()
	p := r.painting
	return func(frame int, l *display.List) {
		l.Reset(r.frame.W, r.frame.H+r.caption.H, p.ground())
		l.Title = r.name
		p.paint(l, r.frame, show(float64(frame)/float64(r.rate)))
		if r.said == nil {
			return
		}
		st := r.style
		lines := r.said[min(frame/r.rate, len(r.said)-1)]
		y := r.caption.Y + r.caption.H/2 - float64(len(lines)-1)*lettering.LineHeight(st)/2 + lettering.CapHeight(st)/2
		for i, line := range lines {
			lettering.Draw(l, st, st.Size, y+float64(i)*lettering.LineHeight(st), lettering.Start, line)
		}
	}
}
