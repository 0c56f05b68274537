package desk

import (
	"math"
	"slices"
	"strconv"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/sim"
	"twincord/sim/answers"
)

// mostCards is how many set-ups are shown at most: one of every family.
const mostCards = 32

// buildAnswers makes the page of answers: the questions in the order in which they are
// asked, and the set-ups that would give the answers.
func (d *Desk) buildAnswers() []block {
	q := &d.inquiry
	var first, more []block
	for _, i := range answers.Items() {
		asked := func() bool { return q.asked(i) }
		if i == answers.MeetAt {
			first = append(first, &question{row: d.crossingOf(), when: asked})
			continue
		}
		b := &question{row: d.choicesOf(i), when: asked}
		if i <= answers.Meet && i != answers.Higher {
			first = append(first, b)
		} else {
			more = append(more, &group{block: b, open: func() bool { return q.more }})
		}
	}
	foot := &moreAnswers{
		fold: &ui.Fold{Base: ui.Base{Name: "more answers", Hint: d.say.Label(words.HintAnswersMore)}, Text: d.say.Label(words.AnswersMore),
			Open: func() bool { return q.more }, Toggle: func() { q.more = !q.more }},
		clear: d.textButton("clear answers", words.AnswersClear, words.HintAnswersClear, d.forgetAnswers),
	}
	foot.clear.Cannot = func() bool { return !q.answered() }
	for _, c := range q.cards {
		c.tell(d.say)
	}
	return []block{&halves{left: slices.Concat(first, []block{foot}, more), right: d.resultBlocks()}}
}

// resultBlocks are what stands under the questions.
func (d *Desk) resultBlocks() []block {
	q := &d.inquiry
	blocks := []block{
		&prose{size: theme.Small, muted: true, text: func(d *Desk) string {
			switch {
			case !q.answered():
				return d.say.Label(words.AnswersBegin)
			case q.searching:
				return d.say.AnswersSearching(100 * q.search.Progress())
			}
			return ""
		}},
		&prose{size: theme.Body, warn: true, text: func(d *Desk) string {
			if q.done && q.result.Conflict.OK {
				return d.say.AnswersConflict(&q.given, q.result.Conflict.Value)
			}
			return ""
		}},
		&prose{size: theme.Body, text: func(d *Desk) string {
			if q.done && len(q.result.Families) == 0 {
				return d.say.AnswersNoFit()
			}
			return ""
		}},
	}
	for n := range mostCards {
		blocks = append(blocks, &cardBlock{place: &placed{Base: ui.Base{Name: "card " + strconv.Itoa(n+1), Hint: d.say.Label(words.HintAnswersOpen)}, d: d, n: n}})
	}
	said := func(size float64, muted bool, text func(r *answers.Result) string) {
		blocks = append(blocks, &prose{size: size, muted: muted, text: func(*Desk) string {
			if !q.done || !q.answered() || len(q.result.Families) == 0 {
				return ""
			}
			return text(&q.result)
		}})
	}
	for n := range mostInseparable {
		said(theme.Small, false, func(r *answers.Result) string {
			if n < len(r.Inseparable) {
				return d.say.Inseparable(r.Inseparable[n])
			}
			return ""
		})
	}
	blocks = append(blocks, &nextAsked{}, &press{button: d.commandButton("cases")})
	return append(blocks, &prose{size: theme.Small, muted: true, text: func(*Desk) string { return d.say.AnswersNote() }})
}

// halves are blocks that stand beside others where there is room, else over them.
type halves struct{ left, right []block }

// halfLeast is how wide a half is at least, units.
const halfLeast = 340

func (b *halves) widgets() (ws []ui.Widget) {
	for _, in := range slices.Concat(b.left, b.right) {
		ws = append(ws, in.widgets()...)
	}
	return ws
}

func (b *halves) lay(d *Desk, x, y, width float64) float64 {
	stack := func(blocks []block, x, y, width float64) float64 {
		from := y
		for _, in := range blocks {
			y += in.lay(d, x, y, width)
		}
		return y - from
	}
	gap, pad := 2*theme.Unit*d.kit.Unit, math.Round(0.5*theme.Unit*d.kit.Unit)
	if half := math.Floor((width - gap) / 2); half >= halfLeast*d.kit.Text {
		return pad + max(stack(b.left, x, y+pad, half), stack(b.right, x+half+gap, y+pad, half))
	}
	left := pad + stack(b.left, x, y+pad, width)
	return left + stack(b.right, x, y+left, width)
}

func (b *halves) draw(d *Desk, l *display.List) {
	for _, in := range slices.Concat(b.left, b.right) {
		in.draw(d, l)
	}
}

// mostInseparable is how many lines there are of what cannot be told apart.
const mostInseparable = 6

// question is a block with something that is answered, while it can be asked.
type question struct {
	when func() bool // nil: always
	row  interface {
		ui.Widget
		// room gives the height that it needs over a width.
		room(k *ui.Kit, width float64) float64
	}
}

func (b *question) widgets() []ui.Widget { return []ui.Widget{b.row} }

func (b *question) lay(d *Desk, x, y, width float64) float64 {
	b.row.Self().Area = display.Rect{}
	if b.when != nil && !b.when() {
		return 0
	}
	h := math.Round(b.row.room(&d.kit, width))
	b.row.Self().Area = display.Rect{X: x, Y: math.Round(y), W: math.Round(width), H: h}
	return h + math.Round(theme.Unit/2*d.kit.Unit)
}

func (b *question) draw(d *Desk, l *display.List) {
	if a := b.row.Self().Area; a.H > 0 && d.inColumn(a) {
		b.row.Draw(&d.kit, l)
	}
}

// choices are the answers to a question under it, side by side, each with its picture or
// its sign where it has one.
type choices struct {
	ui.Base
	d        *Desk
	question string // empty: it stands elsewhere
	texts    []string
	on       func(i int) bool // it was said
	choose   func(i int)      // says it; what was said is taken back
	many     bool             // several may be said at once
	next     func(step int)   // goes to the question after it, or before
	lit      func() bool      // it is what should be asked next; nil: never
	pictures []snapshot       // none: no picture
	sight    func(i int) *sight
	sign     func(l *display.List, r display.Rect, u float64, i int, ink display.Colour) bool

	lines      []string   // of the question
	broken     [][]string // the texts, where one alone is too long for a line
	columns    int
	head, tall float64 // heights of the question and of one choice, pixels
}

// choicesOf makes the choices of an item.
func (d *Desk) choicesOf(i answers.Item) *choices {
	q, codes := &d.inquiry, i.Codes()
	o := &choices{Base: ui.Base{Name: "answer " + i.String(), Hint: d.say.Label(words.HintAnswersRow)}, d: d, question: d.say.Question(i)}
	for _, c := range codes {
		o.texts = append(o.texts, d.say.Answer(i, c))
	}
	o.on = func(n int) bool { return q.given.Code[i] == codes[n] }
	o.choose = func(n int) { d.sayAnswer(i, codes[n]) }
	o.next = func(step int) { d.nextQuestion(o, step) }
	o.lit = func() bool { return q.lit(i) }
	if slices.Contains(pictured[:], i) {
		o.pictures = make([]snapshot, len(codes))
	}
	o.sight = func(n int) *sight { return q.modelOf(i, codes[n]) }
	o.sign = func(l *display.List, r display.Rect, u float64, n int, ink display.Colour) bool {
		return drawCovered(l, r, u, i, codes[n], ink)
	}
	return o
}

// room takes as few lines of choices as the texts allow.
func (o *choices) room(k *ui.Kit, width float64) float64 {
	st := k.Style(theme.Small)
	widest := 0.
	for _, t := range o.texts {
		widest = max(widest, lettering.Width(st, t))
	}
	if o.pictures == nil {
		widest += 2 * badgeRoom(k) // the key beside it, and it in the middle
	} else {
		widest += theme.Unit * k.Unit
	}
	rows := 1
	for rows < len(o.texts) && widest > width/float64(o.per(rows)) {
		rows++
	}
	o.columns = o.per(rows)
	rows = (len(o.texts) + o.columns - 1) / o.columns
	o.tall = theme.Target * k.Unit
	o.broken = nil
	if room := width - theme.Unit*k.Unit - badgeRoom(k); o.columns == 1 && widest > width {
		for _, t := range o.texts {
			o.broken = append(o.broken, lettering.Wrap(st, t, room))
			o.tall = max(o.tall, (float64(len(o.broken[len(o.broken)-1]))+0.7)*lettering.LineHeight(st))
		}
	}
	if o.pictures != nil {
		// Where the column is high or wide there is room for larger pictures.
		tall := max(pictureShare*o.d.pageArea().H, pictureFlat*width/float64(o.columns))
		o.tall = max(o.tall, min(tall, pictureMost*k.Unit)) + 0.4*st.Size
	}
	o.tall = math.Round(o.tall)
	o.lines, o.head = nil, 0
	if o.question != "" {
		o.lines = lettering.Wrap(st, o.question, width-litIndent*k.Unit)
		o.head = math.Round(float64(len(o.lines))*lettering.LineHeight(st) + 3*k.Unit)
	}
	return o.head + float64(rows)*o.tall
}

// badge is the side of the plate with the key of a choice, and badgeRoom what it takes of
// the choice's width.
func badge(k *ui.Kit) float64     { return 1.3 * badgeType * theme.Small * k.Text }
func badgeRoom(k *ui.Kit) float64 { return 4*k.Unit + badge(k) }

// badgeType is the size of a key's type, as a share of the choice's.
const badgeType = 0.9

// litIndent is the room before a question for the sign that it should be asked next.
const litIndent = 14

// The height of a choice with a picture: a share of the page, no less of its own width,
// and at most so many units.
const (
	pictureShare = 0.085
	pictureFlat  = 0.38
	pictureMost  = 84
)

// per is how many choices stand in a line, of so many lines.
func (o *choices) per(rows int) int { return (len(o.texts) + rows - 1) / rows }

// at is the area of one.
func (o *choices) at(i int) display.Rect {
	w := o.Area.W / float64(o.columns)
	x := math.Round(float64(i%o.columns) * w)
	return display.Rect{X: o.Area.X + x, Y: o.Area.Y + o.head + float64(i/o.columns)*o.tall, W: math.Round(float64(i%o.columns+1)*w) - x, H: o.tall}
}

// chosen is which of them was said; −1: none.
func (o *choices) chosen() int {
	for i := range o.texts {
		if o.on(i) {
			return i
		}
	}
	return -1
}

// Press steps through the answers, or goes to the question before or after.
func (o *choices) Press(_ *ui.Kit, p ui.Press) bool {
	at := o.chosen()
	if o.many && (p.Key == ui.KeyRight || p.Key == ui.KeyLeft) {
		return false
	}
	switch p.Key {
	case ui.KeyRight:
		if at+1 < len(o.texts) {
			o.choose(at + 1)
		}
	case ui.KeyLeft:
		if at < 0 {
			at = len(o.texts)
		}
		if at > 0 {
			o.choose(at - 1)
		}
	case ui.KeyDown, ui.KeyEnter:
		o.next(1)
	case ui.KeyUp:
		o.next(-1)
	case ui.KeyBackspace, ui.KeyDelete:
		o.clear()
	default:
		return false
	}
	return true
}

func (o *choices) clear() {
	if i := o.chosen(); i >= 0 {
		o.choose(i)
	}
}

// Typed takes the number of an answer and goes on to the next question.
func (o *choices) Typed(_ *ui.Kit, c rune) bool {
	switch n := int(c - '1'); {
	case c == '0':
		o.clear()
	case n >= 0 && n < len(o.texts):
		o.choose(n)
		if o.chosen() == n && !o.many {
			o.next(1)
		}
	case c < '0' || c > '9':
		return false
	}
	return true
}

// nextQuestion gives the focus to the question after another one, or before.
func (d *Desk) nextQuestion(from *choices, step int) {
	ws := d.page.paged[answersPage]
	at := slices.IndexFunc(ws, func(w ui.Widget) bool { return ui.Is(w, from) })
	for at += step; at >= 0 && at < len(ws); at += step {
		if r, ok := ws[at].(*choices); ok && r.Shown() {
			d.kit.SetFocus(r)
			return
		}
	}
}

// Point chooses the one that is clicked.
func (o *choices) Point(_ *ui.Kit, g ui.Gesture) {
	if !g.Clicked() {
		return
	}
	for i := range o.texts {
		if ui.Inside(o.at(i), g.At) {
			o.choose(i)
		}
	}
}

// Draw draws the question, and each answer on a plate of its own.
func (o *choices) Draw(k *ui.Kit, l *display.List) {
	u := k.Unit
	st := k.Muted(theme.Small)
	x := o.Area.X
	if o.lit != nil && o.lit() {
		st.Colour = k.Theme.Accent
		ui.Arrow(l, display.Point{X: x + 6*u, Y: o.Area.Y + 0.55*lettering.LineHeight(st)}, 4*u, u, st.Colour)
		x += litIndent * u
	}
	for i, s := range o.lines {
		lettering.Draw(l, st, x, o.Area.Y+lettering.Ascent(st)+float64(i)*lettering.LineHeight(st), lettering.Start, s)
	}
	for i := range o.texts {
		o.drawOne(k, l, i)
	}
	all := o.Area
	all.Y, all.H = all.Y+o.head, all.H-o.head
	k.DrawRing(l, o, ui.Inset(all, 3*u))
}

func (o *choices) drawOne(k *ui.Kit, l *display.List, i int) {
	t, u := k.Theme, k.Unit
	a := ui.Inset(o.at(i), 1.5*u)
	fill, ink := t.Raised, t.Ink
	switch {
	case o.on(i):
		fill, ink = t.Accent, t.OnAccent
	case k.Hot(o) && ui.Inside(a, k.Pointer):
		fill = t.Hover
	}
	k.Plate(l, a, fill)
	st := k.Style(theme.Small)
	st.Colour = ink
	text, key := a, display.Rect{X: a.X + 3*u, Y: a.Y + 3*u, W: badge(k), H: badge(k)}
	var m *sight
	if o.pictures != nil {
		m = o.sight(i)
	}
	if m != nil {
		foot := math.Round(1.35 * st.Size)
		pic := display.Rect{X: math.Round(a.X + 2.5*u), Y: math.Round(a.Y + 2.5*u)}
		pic.W, pic.H = math.Round(a.W-5*u), math.Round(a.H-foot-3.5*u)
		text.Y, text.H = a.Y+a.H-foot, foot
		if pic.W >= 1 && pic.H >= 1 && o.d.inColumn(pic) {
			o.pictures[i].draw(l, m, pic, o.d.inquiry.closeUp())
		}
	} else if o.sign != nil {
		icon := display.Rect{X: a.X, Y: a.Y, W: a.W, H: a.H - 1.35*st.Size}
		if o.sign(l, icon, u, i, ink) {
			text.Y, text.H = a.Y+a.H-1.35*st.Size, 1.35*st.Size
		}
	}
	if o.pictures == nil && text == a { // there is nothing over any of them
		key.Y = a.Y + (a.H-key.H)/2
	}
	if o.broken != nil {
		high := float64(len(o.broken[i])) * lettering.LineHeight(st)
		drawLines(l, st, text.X+0.5*theme.Unit*u+badgeRoom(k), text.Y+(text.H-high)/2, o.broken[i])
	} else {
		wide := lettering.Width(st, o.texts[i])
		if wide > text.W {
			st.Size *= max(0.8, text.W/wide)
		}
		ui.Write(l, st, text, lettering.Ellipsis(st, o.texts[i], text.W))
	}
	if k.Ring && ui.Is(k.Focus, o) && i < 9 { // the key that chooses it
		st.Size, st.Colour = badgeType*theme.Small*k.Text, t.OnAccent
		k.Plate(l, key, t.Accent)
		ui.Write(l, st, key, strconv.Itoa(i+1))
	}
}

// drawCovered draws which string, or which bead, goes behind a cover, dotted, or which is
// fainter. It says whether the item has such a sign.
func drawCovered(l *display.List, r display.Rect, u float64, i answers.Item, c answers.Code, ink display.Colour) bool {
	m := ui.Middle(r)
	m.Y += 1.5 * u
	reach := min(r.H/2-3*u, 11*u)
	if reach < 5*u {
		return false
	}
	stroke := func(told bool) {
		switch {
		case told && i == answers.Fainter:
			l.Stroke(u, display.Paint{From: ink.Faded(0.6)})
		case told:
			l.StrokeDashed(2*u, 2.5*u, display.Paint{From: ink.Faded(0.75)})
		default:
			l.Stroke(2*u, display.Paint{From: ink})
		}
	}
	string := func(x float64, told bool) {
		l.MoveTo(m.X+x, m.Y+reach)
		l.LineTo(m.X, m.Y-reach)
		stroke(told)
	}
	bead := func(x, y float64, told bool) {
		l.Circle(display.Point{X: m.X + x*reach, Y: m.Y + y*reach}, 0.5*reach)
		stroke(told)
	}
	ofString := i == answers.RightCoverString || i == answers.LeftCoverString || i == answers.Fainter
	switch {
	case ofString && c == answers.Only:
		string(0, true)
	case ofString:
		string(-reach, c == answers.Left)
		string(reach, c == answers.Right)
	case i != answers.RightCoverBead && i != answers.LeftCoverBead:
		return false
	case c == answers.Only:
		bead(0, 0, true)
	case c == answers.Upper, c == answers.Lower:
		bead(0, -0.55, c == answers.Upper)
		bead(0, 0.55, c == answers.Lower)
	default:
		bead(-0.8, 0, c == answers.Left)
		bead(0.8, 0, c == answers.Right)
	}
	return true
}

// crossing is the string, with a mark that says where on it something is said to be.
type crossing struct {
	ui.Base
	scene func() *sim.Setup // whose string it is
	get   func() sim.Maybe[answers.Place]
	set   func(sim.Maybe[answers.Place])
	text  func() string // what is asked
	told  func(answers.Place) string
	enter func() // nil: nothing is to follow when it was put
}

// crossingOf is where the strings are said to cross.
func (d *Desk) crossingOf() *crossing {
	q := &d.inquiry
	return &crossing{
		Base:  ui.Base{Name: "answer meet_at_mm", Hint: d.say.Label(words.HintAnswersPlace)},
		scene: func() *sim.Setup { return &q.scene },
		get:   func() sim.Maybe[answers.Place] { return q.given.Place }, set: d.sayPlace,
		text: func() string { return d.say.Question(answers.MeetAt) },
		told: func(p answers.Place) string {
			return d.say.Stretch(max(0, p.At-p.Within), min(p.At+p.Within, q.scene.String.Length))
		},
	}
}

func (o *crossing) room(k *ui.Kit, _ float64) float64 {
	return math.Round(theme.Target*k.Unit + 0.5*theme.Small*k.Text)
}

// ends are where the string is drawn from and to, and at what height.
func (o *crossing) ends(k *ui.Kit) (from, to, y float64) {
	pad := 12 * k.Unit
	return o.Area.X + pad, o.Area.X + o.Area.W - pad, o.Area.Y + o.Area.H - 15*k.Unit
}

// x is where a place on the string stands, and place the inverse.
func (o *crossing) x(k *ui.Kit, at float64) float64 {
	from, to, _ := o.ends(k)
	s := o.scene()
	return from + stringShare(s, max(0, min(at, s.String.Length)))*(to-from)
}

func (o *crossing) place(k *ui.Kit, x float64) float64 {
	s := o.scene()
	from, to, _ := o.ends(k)
	near, far := distanceX(render.FromEyes(s, 0)), distanceX(render.FromEyes(s, s.String.Length))
	share := max(0, min((x-from)/(to-from), 1))
	return render.PlaceAt(s, xDistance(near+share*(far-near)))
}

// stringShare is where a place on a string stands between its ends, on the bar's scale.
func stringShare(s *sim.Setup, at float64) float64 {
	near, far := distanceX(render.FromEyes(s, 0)), distanceX(render.FromEyes(s, s.String.Length))
	return (distanceX(render.FromEyes(s, at)) - near) / (far - near)
}

func (o *crossing) put(at float64) {
	at = snap(max(0, min(at, o.scene().String.Length)), placeStep)
	o.set(sim.Some(answers.Around(at)))
}

// Press moves the mark as the arrow keys move what is on the bar.
func (o *crossing) Press(_ *ui.Kit, p ui.Press) bool {
	n := 1.
	if p.Shift {
		n = 0.1
	}
	at := o.get()
	if !at.OK {
		at.Value.At = o.scene().LookPlace()
	}
	switch p.Key {
	case ui.KeyRight, ui.KeyUp:
		o.put(at.Value.At + n*arrowPlace)
	case ui.KeyLeft, ui.KeyDown:
		o.put(at.Value.At - n*arrowPlace)
	case ui.KeyPageUp:
		o.put(at.Value.At + 10*n*arrowPlace)
	case ui.KeyPageDown:
		o.put(at.Value.At - 10*n*arrowPlace)
	case ui.KeyBackspace, ui.KeyDelete:
		o.set(sim.Maybe[answers.Place]{})
	case ui.KeyEnter:
		if o.enter == nil {
			return false
		}
		o.enter()
	default:
		return false
	}
	return true
}

// Typed takes the mark back.
func (o *crossing) Typed(_ *ui.Kit, c rune) bool {
	if c == '0' {
		o.set(sim.Maybe[answers.Place]{})
	}
	return c >= '0' && c <= '9'
}

// Point pulls the mark; a press on it that pulls it nowhere takes it back.
func (o *crossing) Point(k *ui.Kit, g ui.Gesture) {
	was := o.get()
	switch {
	case g.Escaped:
	case g.Clicked() && !g.Moved && was.OK && math.Abs(g.At.X-o.x(k, was.Value.At)) < 0.25*theme.Target*k.Unit:
		o.set(sim.Maybe[answers.Place]{})
	case g.Moved, g.Clicked():
		o.put(math.Round(o.place(k, g.At.X)/5) * 5)
	}
}

// Draw draws the string with its beads, and the mark with how exactly it is meant.
func (o *crossing) Draw(k *ui.Kit, l *display.List) {
	t, u, s := k.Theme, k.Unit, o.scene()
	if k.Hot(o) {
		k.Plate(l, ui.Inset(o.Area, 1.5*u), t.Raised)
	}
	from, to, y := o.ends(k)
	ui.Line(l, from, y, to, y, 2*u, t.String)
	st := k.Muted(theme.Small)
	text := o.text()
	if p := o.get(); p.OK {
		a, b := o.x(k, p.Value.At-p.Value.Within), o.x(k, p.Value.At+p.Value.Within)
		k.Plate(l, display.Rect{X: a, Y: y - 6*u, W: b - a, H: 12 * u}, t.Accent.Faded(0.35))
		st.Colour = t.Accent
		text = o.told(p.Value)
	}
	if s.FixatedBead() == sim.NoBead { // a bare place is asked for
		x := o.x(k, s.LookPlace())
		ui.Line(l, x, y-6*u, x, y+6*u, 2*u, t.Edge)
	}
	drawBeads(l, s, u, func(at float64) display.Point { return display.Point{X: o.x(k, at), Y: y} })
	if p := o.get(); p.OK {
		ui.Cross(l, display.Point{X: o.x(k, p.Value.At), Y: y}, 6*u, 2.5*u, t.Accent)
	}
	lettering.Draw(l, st, from, o.Area.Y+lettering.Ascent(st)+2*u, lettering.Start, lettering.Ellipsis(st, text, to-from))
	k.DrawRing(l, o, ui.Inset(o.Area, 3*u))
}

// drawBeads draws the beads of a small string.
func drawBeads(l *display.List, s *sim.Setup, u float64, at func(mm float64) display.Point) {
	for i := range s.Beads {
		c := at(s.Beads[i].At)
		l.Circle(c, 4.5*u)
		l.Fill(display.Paint{From: render.Colour(s.Beads[i].Colour)})
		l.Circle(c, 4.5*u)
		l.Stroke(u, display.Paint{From: theme.Dark.Ground})
	}
}

// moreAnswers is the heading of the questions that are folded at first, beside the
// button that takes all answers back, or over it where both have no room.
type moreAnswers struct {
	fold  *ui.Fold
	clear *ui.Button
	lit   bool
	at    display.Rect
}

func (b *moreAnswers) widgets() []ui.Widget { return []ui.Widget{b.fold, b.clear} }

func (b *moreAnswers) lay(d *Desk, x, y, width float64) float64 {
	k := &d.kit
	b.clear.Refresh(k)
	h := math.Round(max(theme.Target*k.Unit, k.Tall()))
	fold, _ := b.fold.Size(k)
	clear, _ := b.clear.Size(k)
	b.at = display.Rect{X: x, Y: y, W: width, H: h}
	b.fold.Area = display.Rect{X: x, Y: y, W: width - clear, H: h}
	b.clear.Area = display.Rect{X: x + width - clear, Y: y, W: clear, H: h}
	if fold+clear > width {
		b.at.H = 2 * h
		b.fold.Area.W = width
		b.clear.Area.Y = y + h
	}
	q := &d.inquiry
	b.lit = !q.more && q.done && q.result.Ask.OK && (q.result.Ask.Value > answers.MeetAt || q.result.Ask.Value == answers.Higher)
	return b.at.H
}

func (b *moreAnswers) draw(d *Desk, l *display.List) {
	if !d.inColumn(b.at) {
		return
	}
	b.fold.Draw(&d.kit, l)
	b.clear.Draw(&d.kit, l)
	if b.lit {
		u, a := d.kit.Unit, b.fold.Area
		ui.Fill(l, display.Rect{X: a.X, Y: a.Y + 0.2*a.H, W: 3 * u, H: 0.6 * a.H}, d.kit.Theme.Accent)
	}
}

// nextAsked is the question to ask next, lit as it is above.
type nextAsked struct {
	prose
}

func (b *nextAsked) lay(d *Desk, x, y, width float64) float64 {
	q := &d.inquiry
	b.size, b.bold = theme.Body, true
	b.text = func(*Desk) string {
		if !q.done || len(q.result.Families) < 2 {
			return ""
		}
		return d.say.AnswersNext(q.result.Ask)
	}
	return b.prose.lay(d, x, y, width)
}
