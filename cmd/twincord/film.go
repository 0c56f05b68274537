package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strings"

	"twincord/cmd/internal/call"
	"twincord/cmd/internal/made"
	"twincord/render"
	"twincord/render/film"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

type filmCommand struct {
	Scene    string   `arg:"" help:"Routine or scene: a file or a built-in one; - is the standard input."`
	Output   string   `short:"o" required:"" placeholder:"FILE" help:"File to write: .mp4 (made by ffmpeg, for every phone), .webp (small), .png (animated, lossless) or .gif. An existing one is replaced."`
	Seconds  *float64 `placeholder:"S" help:"Length without the cards; left out, 10 s of a scene and the whole of a routine."`
	Hold     *float64 `placeholder:"S" help:"Show each place of a routine for so long, 0.5 to 120 s; left out, as briefly as its caption can be read."`
	Rate     *int     `placeholder:"N" help:"Frames a second, 1 to 50; left out, 15, in a WebP 8."`
	Size     string   `default:"960x720" placeholder:"WxH" help:"Size in pixels, 160x120 to 7680x4320; left out, 960x720."`
	View     string   `enum:"patient,above,front" default:"patient" help:"What to show: patient, above or front."`
	Field    float64  `placeholder:"DEG" help:"Field from the upper to the lower edge, 10 to 90 degrees; left out, what shows every bead all the time."`
	Compare  bool     `help:"Show the eyes on the bead beside this set-up."`
	Caption  *bool    `negatable:"" help:"Write which step it is, below the picture what is seen, and the cautions before and after; left out, with a routine only."`
	Bare     bool     `help:"Leave out what says that it is a model's expected view: the cautions before and after, or the line below the picture."`
	Language string   `default:"en" help:"Language of the words: ${languages}."`
	Units    string   `enum:"cm,in" default:"cm" help:"Lengths in the words in cm or in (inches)."`
}

// Help is an example.
func (*filmCommand) Help() string {
	return "Example: twincord film walk-of-ten -o walk.mp4"
}

// The lengths and rates of films.
const (
	leastHold = 0.5
	mostHold  = 120
	mostRate  = film.MostRateGIF
)

// Run draws the film.
func (c *filmCommand) Run(s *call.Streams) error {
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
	say, err := wordsIn(c.Language, c.Units)
	if err != nil {
		return err
	}
	sc, id, err := call.Scene(c.Scene, s)
	if err != nil {
		return err
	}
	rate := as.UsualRate()
	if c.Rate != nil {
		rate = *c.Rate
	}
	r, err := c.reel(told(sc, id, say), id, say, w, h, rate)
	if err != nil {
		return err
	}
	f := r.Film()
	if err := cmp.Or(f.Validate(as), as.Ready()); err != nil {
		return call.Bad("%s: %w", c.Output, err)
	}
	return untilStopped(c.Output, func(ctx context.Context) error { return c.write(ctx, s, f, as, r) })
}

// reel is what the film shows of a scene.
func (c *filmCommand) reel(sc *scenes.Scene, id scenes.Identity, say *words.Words, w, h, rate int) (*film.Reel, error) {
	if c.Hold != nil && !sc.Routine.OK {
		return nil, call.Bad("%s: --hold needs a scene with a [routine], which it has not", id)
	}
	script := made.Film(sc, id, say, w, h, rate)
	script.Seconds, script.Hold, script.Bare = given(c.Seconds), given(c.Hold), c.Bare
	if c.Caption != nil {
		script.Caption = *c.Caption
	}
	script.Picture.Kind, script.Picture.Compare = render.Kind(c.View), c.Compare
	script.Picture.Options.Field = sim.Degrees(c.Field)
	r, err := script.Reel()
	if err != nil {
		return nil, call.Bad("%s: %w", id, err)
	}
	return r, nil
}

// given is what an option was given, or 0.
func given(option *float64) float64 {
	if option == nil {
		return 0
	}
	return *option
}

// write says how large the film will be, and writes it.
func (c *filmCommand) write(ctx context.Context, s *call.Streams, f *film.Film, as film.Format, r *film.Reel) error {
	expected, err := f.Expect(ctx, as)
	if err != nil {
		return err
	}
	name := call.Printable(c.Output)
	about := ""
	if expected > 0 {
		about = ", about " + bytesOf(expected)
	}
	if r.Still {
		fmt.Fprintf(s.Err, "%s: nothing moves in this scene: one picture%s\n", name, about)
	} else {
		fmt.Fprintf(s.Err, "%s: %d frames, %.4g s%s\n", name, f.Frames, r.Seconds, about)
	}
	if r.Shown != r.Held {
		fmt.Fprintf(s.Err, "%s: each place is shown for %.4g s; the routine holds it for %.4g s\n", name, r.Shown, r.Held)
	}
	if c.Seconds != nil && *c.Seconds < r.Whole && !r.Still {
		fmt.Fprintf(s.Err, "%s: what comes later, up to %.4g s, is left out\n", name, r.Whole)
	}
	progress, done := c.progress(s, f.Frames)
	defer done()
	return replaceIn(ctx, c.Output, func(out io.Writer) error { return f.Write(ctx, out, as, progress) })
}

// agree says whether the options go together.
func (c *filmCommand) agree() error {
	switch {
	case c.Rate != nil && (*c.Rate < 1 || *c.Rate > mostRate):
		return call.Bad("--rate: %d frames a second, allowed are 1 to %d", *c.Rate, mostRate)
	case c.Seconds != nil && !(*c.Seconds > 0 && *c.Seconds <= film.MostSeconds):
		return call.Bad("--seconds: %v s, allowed is above 0 to %d", *c.Seconds, film.MostSeconds)
	case c.Hold != nil && !(*c.Hold >= leastHold && *c.Hold <= mostHold):
		return call.Bad("--hold: %v s, allowed is %v to %v", *c.Hold, leastHold, mostHold)
	case c.View != viewPatient && (c.Compare || c.Field != 0):
		return call.Bad("--view %s takes neither --field nor --compare", c.View)
	}
	return nil
}

// format is that of the file's ending.
func (c *filmCommand) format() (film.Format, error) {
	ext := strings.ToLower(filepath.Ext(c.Output))
	as, ok := film.Of(ext)
	if !ok {
		return 0, call.Bad("%s: no film ends in %q; %s do", c.Output, ext, strings.Join(film.Endings(), ", "))
	}
	return as, nil
}

// progress is a bar, where somebody sits before it.
func (c *filmCommand) progress(s *call.Streams, frames int) (progress func(int), done func()) {
	if !s.Watched {
		return nil, func() {}
	}
	bar := &progressBar{to: s.Err, whole: frames}
	return bar.show, bar.clear
}

// bytesOf is a size of a file in words.
func bytesOf(n int64) string {
	if n < 1e6 {
		return fmt.Sprintf("%.0f kB", math.Max(1, float64(n)/1e3))
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1e6)
}
