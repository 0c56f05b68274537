package film

import (
	"math"
	"slices"
	"strings"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/words"
	"twincord/scenes/routine"
)

// A caption stands from when it has come true until the next one does, and with it above
// the picture the step that it tells of.
type caption struct {
	begin float64 // s
	end   float64 // s, of what it says
	says  string
	lines []string
	step  int
	since float64 // s, since when its step is told of
}

// A card is what stands alone at the beginning or the end of a film. The zero value is
// none.
type card struct {
	says       []string // a paragraph each
	paragraphs [][]string
	style      lettering.Style
	height     float64
}

// mostText is the most of a film's height that its words may take.
const mostText = 0.5

// write writes what is said beside the pictures, and gives it its room.
func (r *Reel) write() {
	s := &r.script
	r.captions = r.settled()
	if s.Seconds == 0 { // the last one too is there long enough to be read
		r.body = max(r.body, r.captions[len(r.captions)-1].begin+leastCaption)
	}
	whole := r.frame
	for {
		most := 0
		for i := range r.captions {
			c := &r.captions[i]
			c.lines = lettering.Wrap(r.style, c.says, whole.W-2*r.margin())
			most = max(most, len(c.lines))
		}
		above := 0.
		if s.routine() {
			above = math.Round(1.6 * r.style.Size)
		}
		below := math.Round(float64(most)*lettering.LineHeight(r.style) + 0.5*r.style.Size)
		if above+below <= mostText*whole.H {
			r.frame = display.Rect{Y: above, W: whole.W, H: whole.H - above - below}
			r.caption = display.Rect{Y: whole.H - below, W: whole.W, H: below}
			break
		}
		r.style.Size *= 0.96
	}
	if !s.Bare {
		r.last.says = r.lastSays()
		r.fit(&r.last, whole)
	}
	r.strip = r.style
	for i := range r.steps {
		left, right := r.stepSays(i), r.countSays(i, math.Inf(1))
		if wide := lettering.Width(r.strip, left+"   "+right); wide > whole.W-2*r.margin() {
			r.strip.Size *= (whole.W - 2*r.margin()) / wide
		}
	}
}

// margin is what is left free beside the words.
func (r *Reel) margin() float64 { return 0.5 * r.style.Size }

// settled are the captions, in order: what is seen at each place once it has settled, one
// or more for each step. What passes before a caption can be read has none.
func (r *Reel) settled() []caption {
	show := r.shower()
	p := r.script.Picture
	says := func(seconds float64) string { return p.Brief(show(seconds)) }
	var all []caption
	changed := math.Inf(-1) // s, since when what is said stands
	for i := range r.steps {
		from, to := r.steps[i].Begin+r.steps[i].Move, r.body
		if i+1 < len(r.steps) {
			to = min(to, r.steps[i+1].Begin+r.steps[i+1].Move)
		}
		if i > 0 && from >= r.body {
			break
		}
		for _, c := range settledIn(from, to, says) {
			n := len(all)
			same, told := n > 0 && all[n-1].says == c.says, n > 0 && all[n-1].step == i
			if !same {
				c.begin = max(c.begin, changed+leastCaption)
			}
			if same && told || c.begin >= c.end {
				continue
			}
			c.step, c.since = i, c.begin
			if told {
				c.since = all[n-1].since
			}
			if !same {
				changed = c.begin
			}
			all = append(all, c)
		}
	}
	all[0].begin, all[0].since = 0, 0
	return all
}

// settledIn are what is said of a stretch of time: what is true for as long as a caption
// stands, or where nothing is, what is true the longest at a time.
func settledIn(from, to float64, says func(seconds float64) string) []caption {
	const every = 0.1 // s
	var runs []caption
	for i := range max(1, int((to-from)/every)) {
		at := from + every*float64(i)
		if s := says(at); len(runs) == 0 || runs[len(runs)-1].says != s {
			if len(runs) > 0 {
				runs[len(runs)-1].end = at
			}
			runs = append(runs, caption{begin: at, says: s})
		}
	}
	runs[len(runs)-1].end = to
	lasts := func(c caption) float64 { return c.end - c.begin }
	long := slices.DeleteFunc(slices.Clone(runs), func(c caption) bool { return lasts(c) < leastCaption })
	if len(long) > 0 {
		return long
	}
	longest := slices.MaxFunc(runs, func(a, b caption) int { return compare(lasts(a), lasts(b)) })
	longest.end = to
	return []caption{longest}
}

// compare orders lengths of time; such as differ by less than a frame of most films are
// one, so that the earlier one is taken.
func compare(a, b float64) int {
	switch {
	case a < b-0.01:
		return -1
	case a > b+0.01:
		return 1
	}
	return 0
}

// drawCaption writes what is seen below the picture.
func (r *Reel) drawCaption(l *display.List, seconds float64) {
	if r.captions != nil {
		r.lines(l, r.style, r.caption, r.captionAt(seconds).lines)
	}
}

// captionAt is the caption that stands at a moment of a film that has captions.
func (r *Reel) captionAt(seconds float64) *caption {
	now := 0
	for now+1 < len(r.captions) && seconds >= r.captions[now+1].begin {
		now++
	}
	return &r.captions[now]
}

// lines writes lines into the middle of a frame, from its left edge.
func (r *Reel) lines(l *display.List, st lettering.Style, frame display.Rect, lines []string) {
	y := frame.Y + frame.H/2 - float64(len(lines)-1)*lettering.LineHeight(st)/2 + lettering.CapHeight(st)/2
	for i, line := range lines {
		lettering.Draw(l, st, frame.X+r.margin(), y+float64(i)*lettering.LineHeight(st), lettering.Start, line)
	}
}

// drawStrip writes above the picture which step the caption tells of, where, and how far
// to count.
func (r *Reel) drawStrip(l *display.List, seconds float64) {
	if r.captions == nil || !r.script.routine() {
		return
	}
	c := r.captionAt(seconds)
	y := r.frame.Y/2 + lettering.CapHeight(r.strip)/2
	lettering.Draw(l, r.strip, r.margin(), y, lettering.Start, r.stepSays(c.step))
	lettering.Draw(l, r.strip, float64(r.script.W)-r.margin(), y, lettering.End, r.countSays(c.step, seconds-c.since))
}

// stepSays says which step it is, and where.
func (r *Reel) stepSays(step int) string {
	s, say := &r.steps[step], r.script.Picture.Say
	place := say.Length(s.At)
	if s.Bead != "" {
		place = say.Filled(words.SheetPlace, "Bead", s.Bead, "At", place)
	}
	return say.StepOf(step+1, len(r.steps), place)
}

// countSays says the count of a hold so many seconds after it began, or how far to count
// where the film does not show all of it. Only what is right is counted.
func (r *Reel) countSays(step int, since float64) string {
	say, to := r.script.Picture.Say, int(r.Held)
	switch {
	case !routine.Right(&r.steps[step].Expected) || to < 1:
		return ""
	case r.Shown < r.Held:
		return say.CountTo(to)
	}
	return say.CountOf(int(min(since+1, r.Held)), to)
}

// firstSays is for whom the film is not, where it is not for everybody: in time for them
// to look away.
func (r *Reel) firstSays() []string {
	if !r.restless() {
		return nil
	}
	return []string{r.script.Picture.Say.Label(words.CautionFilm)}
}

// lastSays is that it is a model's view, when to stop and when to get care.
func (r *Reel) lastSays() []string {
	say := r.script.Picture.Say
	card := []string{say.Label(words.FilmCardModel), say.Label(words.FilmCardStop), say.Label(words.FilmCardNew)}
	for i := range r.steps {
		if r.steps[i].Setup.NeedsCare() {
			return append(card, say.Label(words.CautionCare))
		}
	}
	return card
}

// seconds is how long the card is shown.
func (c *card) seconds() float64 {
	return math.Ceil(wordSeconds * float64(len(strings.Fields(strings.Join(c.says, " ")))))
}

// fit breaks a card into lines, in type in which all of it fits.
func (r *Reel) fit(c *card, page display.Rect) {
	c.style = r.style
	for {
		c.paragraphs, c.height = nil, 0
		for i, says := range c.says {
			lines := lettering.Wrap(c.style, says, page.W-2*r.margin())
			c.paragraphs = append(c.paragraphs, lines)
			c.height += float64(len(lines)) * lettering.LineHeight(c.style)
			if i > 0 {
				c.height += c.gap()
			}
		}
		if c.height <= 0.9*page.H {
			return
		}
		c.style.Size *= 0.96
	}
}

// gap is what is left free between two paragraphs.
func (c *card) gap() float64 { return 0.6 * c.style.Size }

// drawCard draws a card.
func (r *Reel) drawCard(l *display.List, c *card) {
	y := (float64(r.script.H) - c.height) / 2
	for _, lines := range c.paragraphs {
		h := float64(len(lines)) * lettering.LineHeight(c.style)
		r.lines(l, c.style, display.Rect{Y: y, H: h}, lines)
		y += h + c.gap()
	}
}
