package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/signal"
	"path/filepath"
	"strings"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/film"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

type filmCommand struct {
	Scene    string   `arg:"" help:"Routine or scene: a file or a built-in one; - is the standard input."`
	Output   string   `short:"o" required:"" placeholder:"FILE" help:"File to write: .png (animated, lossless) or .gif. An existing one is replaced."`
	Seconds  *float64 `placeholder:"S" help:"Length; left out, 10 s of a scene and the whole of a routine."`
	Hold     *float64 `placeholder:"S" help:"Show each place of a routine for so long, 0.5 to 120 s, instead of the time it is held."`
	Rate     int      `default:"15" help:"Frames a second, 1 to 50."`
	Size     string   `default:"960x540" placeholder:"WxH" help:"Size in pixels, 160x120 to 7680x4320; left out, 960x540."`
	Field    float64  `placeholder:"DEG" help:"Field from the upper to the lower edge, 10 to 90 degrees; left out, what shows every bead all the time."`
	Caption  bool     `help:"Write the sentence of the moment below the picture."`
	Language string   `default:"en" help:"Language of the captions."`
}

// Help is an example.
func (*filmCommand) Help() string {
	return "Example: twincord film jumps-of-three -o jumps.png --hold 2 --caption"
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
	switch {
	case c.Rate < 1 || c.Rate > mostRate:
		return bad("--rate: %d frames a second, allowed are 1 to %d", c.Rate, mostRate)
	case c.Field != 0 && !(c.Field >= render.LeastField && c.Field <= render.MostField):
		return bad("--field %v: must be from %d to %d degrees", c.Field, render.LeastField, render.MostField)
	case c.Seconds != nil && !(*c.Seconds > 0 && *c.Seconds <= film.MostSeconds):
		return bad("--seconds: %v s, allowed is above 0 to %d", *c.Seconds, film.MostSeconds)
	case c.Hold != nil && !(*c.Hold >= leastHold && *c.Hold <= mostHold):
		return bad("--hold: %v s, allowed is %v to %v", *c.Hold, leastHold, mostHold)
	}
	say, err := words.For(c.Language)
	if err != nil {
		return bad("--language: %w", err)
	}
	sc, file, err := openScene(c.Scene, s)
	if err != nil {
		return err
	}
	if c.Hold != nil && !sc.Routine.OK {
		return bad("%s: --hold needs a scene with a [routine], which it has not", file)
	}
	r, err := c.reel(sc, file, say, w, h)
	if err != nil {
		return err
	}
	f := &film.Film{W: w, H: h, Rate: c.Rate, Frames: max(1, int(math.Round(r.seconds*float64(c.Rate)))), Drawer: r.drawer}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	expected, err := f.Expect(ctx, as)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.err, "%s: %d frames, %.4g s, about %s\n", c.Output, f.Frames, r.seconds, bytesOf(expected))
	progress, done := c.progress(s, f.Frames)
	defer done()
	err = replace(c.Output, func(out io.Writer) error { return f.Write(ctx, out, as, progress) })
	if errors.Is(err, context.Canceled) {
		return fmt.Errorf("%s: stopped, nothing written", c.Output)
	}
	return err
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
	bar := progressbar.NewOptions(frames, progressbar.OptionSetWriter(f), progressbar.OptionShowCount(),
		progressbar.OptionClearOnFinish(), progressbar.OptionSetWidth(30))
	return func(n int) { bar.Set(n) }, func() { bar.Exit() }
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
	steps   []scenes.Step // one long hold, where there is no routine
	seconds float64
	frame   display.Rect // of the picture
	caption display.Rect // below it; empty: none
	field   sim.Degrees
	rate    int
	say     *words.Words
	name    string
}

func (c *filmCommand) reel(sc *scenes.Scene, file string, say *words.Words, w, h int) (*reel, error) {
	r := &reel{
		rate: c.Rate, say: say, name: nameOf(sc, file),
		frame: display.Rect{W: float64(w), H: float64(h)}, field: sim.Degrees(c.Field),
	}
	if c.Caption {
		r.caption = r.frame
		r.caption.H = math.Round(max(0.14*r.frame.H, 40))
		r.frame.H -= r.caption.H
		r.caption.Y = r.frame.H
	}
	r.steps, r.seconds = []scenes.Step{{Setup: sc.Setup, Hold: sceneSeconds}}, sceneSeconds
	if sc.Routine.OK {
		if c.Hold != nil {
			sc.Routine.Value.Hold = *c.Hold
		}
		r.steps = sc.RoutineSteps()
		r.seconds = r.steps[len(r.steps)-1].End()
	}
	if c.Seconds != nil {
		r.seconds = *c.Seconds
	}
	if r.seconds > film.MostSeconds {
		return nil, bad("%s: lasts %.4g s, a film at most %d; allowed are --hold or --seconds to make it shorter", file, r.seconds, film.MostSeconds)
	}
	if r.field == 0 {
		r.field = r.widest()
	}
	return r, nil
}

// widest is the field that shows every bead at every moment.
func (r *reel) widest() (field sim.Degrees) {
	show := r.shower()
	const looks = 200
	for i := range looks {
		v := show(r.seconds * float64(i) / looks)
		field = max(field, render.AutoField(v, r.frame.W/r.frame.H, false))
	}
	return field
}

// shower gives what shows the view of a moment; moments are best asked for in order.
func (r *reel) shower() func(seconds float64) *sim.View {
	var v sim.View
	course, held := new(sim.Course), -1
	return func(seconds float64) *sim.View {
		step, setup, since := scenes.RoutineAt(r.steps, seconds)
		if moving := since < r.steps[step].Move; moving || step != held {
			course.Start(&setup)
			held = step
			if moving {
				held = -1
			}
		}
		course.Look(&v, since)
		return &v
	}
}

// drawer draws the frames.
func (r *reel) drawer() func(frame int, l *display.List) {
	show := r.shower()
	t := &theme.Dark
	return func(frame int, l *display.List) {
		v := show(float64(frame) / float64(r.rate))
		l.Reset(r.frame.W, r.frame.H+r.caption.H, t.Ground)
		l.Title = r.name
		render.Patient(l, r.frame, v, render.PatientOptions{Field: r.field})
		if r.caption.H == 0 {
			return
		}
		st := lettering.Style{Size: 0.27 * r.caption.H, Colour: t.Ink}
		edge := st.Size
		lines := lettering.Wrap(st, r.say.Family(v), r.caption.W-2*edge)
		for len(lines) > 2 {
			st.Size *= 0.94
			lines = lettering.Wrap(st, r.say.Family(v), r.caption.W-2*edge)
		}
		y := r.caption.Y + r.caption.H/2 - float64(len(lines)-1)*lettering.LineHeight(st)/2 + lettering.CapHeight(st)/2
		for i, line := range lines {
			lettering.Draw(l, st, edge, y+float64(i)*lettering.LineHeight(st), lettering.Start, line)
		}
	}
}
