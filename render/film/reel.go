package film

import (
	"fmt"
	"math"
	"slices"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/words"
	"twincord/scenes/routine"
	"twincord/sim"
)

// A Script says what a film is to show: a routine, place by place, or a scene for a
// while.
type Script struct {
	Name    string         // of the scene, as it is told
	Setup   sim.Setup      // of a scene; of a routine its steps say it
	Steps   []routine.Step // of a routine
	W, H    int            // pixels
	Rate    int            // frames a second
	Seconds float64        // without the cards; 0: the whole routine, or some of a scene
	Hold    float64        // for how long each place of a routine is shown, s; 0: as briefly as its caption allows
	Caption bool           // write what is seen below the picture, and which step it is above
	Bare    bool           // leave out what says that it is a model's view: the cards, or the line where there are no captions
	Picture render.Picture // with no field: the one that shows every bead all the time
}

// A Reel is what a film shows.
type Reel struct {
	Seconds float64 // with the cards
	Held    float64 // how long the routine holds each place, s
	Shown   float64 // and for how long the film shows it
	Whole   float64 // how long all of the routine takes, as it is shown, s
	Still   bool    // nothing moves: there is one frame

	script Script
	steps  []routine.Step // one without an end, where there is no routine
	body   float64        // s, without the cards
	frame  display.Rect   // of the picture
	fields []sim.Degrees  // at each step

	caption  display.Rect // below the picture; empty: none
	style    lettering.Style
	captions []caption
	strip    lettering.Style // of the line above the picture
	first    card            // for whom the film is not; empty: it is for everybody
	last     card
}

const (
	// sceneSeconds is how long a scene is shown.
	sceneSeconds = 10
	// leastCaption is how long a caption stands at least, that it can be read, in s.
	leastCaption = 2.5
	// wordSeconds is how long a word of a card stands: 180 words a minute
	// (common practice, no source).
	wordSeconds = 60. / 180
	// captionEm is the type of captions as a share of the film's width. On a telephone
	// held upright a film is about 65 mm wide: 3 mm of type.
	captionEm = 1. / 20
)

// Reel makes a reel of a script. It errs where there can be no such film.
func (s Script) Reel() (*Reel, error) {
	r := &Reel{
		script: s, steps: s.Steps, body: s.Seconds,
		frame: display.Rect{W: float64(s.W), H: float64(s.H)},
		style: lettering.Style{Size: captionEm * float64(s.W), Colour: theme.Dark.Ink},
	}
	page := r.frame
	if s.routine() {
		r.Held = s.Steps[0].Hold
		r.Shown = s.Hold
		if r.Shown == 0 {
			r.Shown = min(r.Held, max(leastShown, s.leastHold()))
		}
		if s.Caption && r.Shown < s.leastHold() {
			return nil, fmt.Errorf("each place shown for %.4g s, allowed is %.4g or more: a caption stands for %v s", r.Shown, s.leastHold(), leastCaption)
		}
		r.steps = shownFor(s.Steps, r.Shown)
		r.Whole = r.steps[len(r.steps)-1].End()
	} else {
		r.steps = []routine.Step{{Setup: s.Setup}}
		r.Whole = sceneSeconds
		r.Still = sim.NewCourse(&s.Setup).Still(0)
	}
	if r.body == 0 {
		r.body = r.Whole
	}
	switch {
	case s.Caption:
		r.write()
	case !s.Bare:
		r.frame = r.bounded(new(display.List))
	}
	if !s.Bare {
		r.first.says = r.firstSays()
		r.fit(&r.first, page)
	}
	r.Seconds = r.body
	if !r.Still {
		r.Seconds += r.first.seconds() + r.last.seconds()
	}
	if r.Seconds > MostSeconds {
		return nil, fmt.Errorf("lasts %.4g s, a film at most %d; allowed is a shorter hold or length", r.Seconds, MostSeconds)
	}
	r.measure()
	return r, nil
}

func (s *Script) routine() bool { return len(s.Steps) > 0 }

// leastShown is the least time for which a place is shown where nobody says how long.
const leastShown = 1.5

// leastHold is the least hold with which every caption of a routine can stand long
// enough: a caption goes on while the bead is moved.
func (s *Script) leastHold() float64 {
	least := 0.
	for _, step := range s.Steps[1:] {
		least = max(least, leastCaption-step.Move)
	}
	return least
}

// shownFor are the steps of a routine, with the places held so long.
func shownFor(steps []routine.Step, hold float64) []routine.Step {
	shown := make([]routine.Step, len(steps))
	begin := 0.
	for i, s := range steps {
		s.Begin, s.Hold = begin, hold
		shown[i] = s
		begin = s.End()
	}
	return shown
}

// Film is the reel to be drawn.
func (r *Reel) Film() *Film {
	frames := 1
	if !r.Still {
		frames = max(1, int(math.Round(r.Seconds*float64(r.script.Rate))))
	}
	return &Film{W: r.script.W, H: r.script.H, Rate: r.script.Rate, Frames: frames, Drawer: r.drawer}
}

// measure finds the fields that show every bead: one for each place, where the bead is
// moved from one to the next and the field with it; else one for all, so that nothing
// changes its scale.
func (r *Reel) measure() {
	const every = 0.25 // s
	p := r.script.Picture
	show := r.shower()
	r.fields = make([]sim.Degrees, len(r.steps))
	for i := range r.steps {
		s := &r.steps[i]
		from, to := s.Begin+s.Move, s.End()
		if !r.script.routine() {
			to = r.body
		}
		for at := from; at <= to; at += every {
			r.fields[i] = max(r.fields[i], p.Field(r.frame, show(at)))
		}
	}
	widest := slices.Max(r.fields)
	for i := range r.fields {
		switch {
		case p.Options.Field != 0:
			r.fields[i] = p.Options.Field
		case !routine.Moved(r.steps):
			r.fields[i] = widest
		}
	}
}

// field is the field at a moment.
func (r *Reel) field(seconds float64) sim.Degrees {
	step, since := routine.At(r.steps, seconds)
	return routine.Along(r.steps, r.fields, step, since)
}

// shower gives what shows the view of a moment; moments are best asked for in order.
func (r *Reel) shower() func(seconds float64) *sim.View {
	var v sim.View
	player := routine.NewPlayer(r.steps)
	return func(seconds float64) *sim.View {
		step, since := routine.At(r.steps, seconds)
		player.Look(&v, step, since)
		return &v
	}
}

// drawer draws the frames.
func (r *Reel) drawer() func(frame int, l *display.List) {
	show := r.shower()
	p := r.script.Picture
	return func(frame int, l *display.List) {
		seconds := float64(frame) / float64(r.script.Rate)
		l.Reset(float64(r.script.W), float64(r.script.H), p.Ground())
		l.Title = r.script.Name
		if seconds < r.first.seconds() {
			r.drawCard(l, &r.first)
			return
		}
		if seconds -= r.first.seconds(); seconds >= r.body && r.last.says != nil {
			r.drawCard(l, &r.last)
			return
		}
		r.drawStrip(l, seconds)
		if r.captions == nil && !r.script.Bare {
			r.bounded(l)
		}
		p.Options.Field = r.field(seconds)
		p.Paint(l, r.frame, show(seconds))
		r.drawCaption(l, seconds)
	}
}

// bounded writes at the foot of a frame what a picture is and is not, and gives what is
// left for the picture.
func (r *Reel) bounded(l *display.List) display.Rect {
	page := display.Rect{W: float64(r.script.W), H: float64(r.script.H)}
	return render.Bounded(l, page, r.script.Picture.Say.Label(words.PictureBounds), &theme.Dark)
}

// restless says whether something in the film wavers, or comes and goes, for as long as it
// lasts: such pictures bring on seizures in some.
func (r *Reel) restless() bool {
	return slices.ContainsFunc(r.steps, func(s routine.Step) bool { return !sim.NewCourse(&s.Setup).Still(MostSeconds) })
}
