package desk

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/sheet/casebook"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes/cases"
	"twincord/sim"
	"twincord/sim/answers"
)

// build makes the widgets: what is given at the left, what is asked at the right, and at
// its foot what is pressed when that is done.
func (c *casework) build(d *Desk) []ui.Widget {
	c.write = casebook.In(d.say)
	if c.of != nil {
		c.page = c.write.Page(c.of)
	}
	c.foot, c.sights, c.shown = nil, nil, nil
	switch {
	case c.choosing():
		c.left.blocks, c.right.blocks = c.record(), c.choice()
		c.foot = append(c.foot, d.textButton("begin", words.CasesBegin, words.HintCasesBegin, c.begin))
	case c.ended():
		c.left.blocks, c.right.blocks = c.outcome(), c.after()
	case c.of == nil:
		c.left.blocks, c.right.blocks = []block{c.waiting()}, nil
	case c.judged() == nil:
		c.left.blocks, c.right.blocks = c.given(), c.askBlocks()
		c.foot = append(c.foot, d.textButton("check", words.CasesCheck, words.HintCasesCheck, c.check))
	default:
		c.right.blocks = c.keyBlocks()
		c.left.blocks = c.given()
		label, hint := words.CasesNext, words.HintCasesNext
		if at, of := c.sitting.Place(); at == of {
			label, hint = words.CasesEnd, words.HintCasesEnd
		}
		if len(c.sights) > 0 {
			c.foot = append(c.foot, d.textButton("open scene", words.CasesOpen, words.HintCasesOpen, c.openScene))
		}
		c.foot = append(c.foot, d.textButton("next case", label, hint, c.next))
	}
	if n := len(c.foot); n > 0 {
		c.foot[n-1].On = func() bool { return true } // it is what to press
	}
	var ws []ui.Widget
	for i, col := range []*column{&c.right, &c.left} {
		if col.scroll == nil {
			col.scroll = d.columnScroll([2]string{"asked", "given"}[i])
		}
		for _, b := range col.blocks {
			ws = append(ws, b.widgets()...)
		}
		if ui.Is(col.scroll, c.right.scroll) {
			for _, b := range slices.Backward(c.foot) { // what goes on comes first
				ws = append(ws, b)
			}
		}
	}
	return append(ws, c.left.scroll, c.right.scroll)
}

// focus gives the focus to what is done first: a question, or what goes on.
func (c *casework) focus() {
	d := c.d
	for _, w := range d.overs {
		_, isRow := w.(*choices)
		if b := w.Self(); isRow && !c.choosing() || strings.HasPrefix(b.Name, "case ") || len(c.foot) > 0 && ui.Is(w, c.foot[len(c.foot)-1]) || c.ended() && !b.Skip {
			d.kit.SetFocus(w)
			return
		}
	}
}

// paragraph is text that stays as it is.
func paragraph(size float64, muted bool, text string) *prose {
	return &prose{size: size, muted: muted, text: func(*Desk) string { return text }}
}

func (c *casework) waiting() block {
	return &prose{size: theme.Lead, text: func(d *Desk) string { return d.say.AnswersSearching(float64(c.percent())) }}
}

// given says what is given: under its picture, or where there is none on a plate in its place.
func (c *casework) given() []block {
	switch {
	case !c.pictured():
		return []block{c.spoken()}
	case len(c.shown) > 0:
		return c.givenBlocks(theme.Body)
	}
	return c.givenBlocks(theme.Lead)
}

// givenBlocks say what is given, and on what string.
func (c *casework) givenBlocks(size float64) (bs []block) {
	if len(c.sights) == 1 && c.sights[0].Role == cases.OneOfThem {
		bs = append(bs, paragraph(theme.Small, true, c.write.Sight(cases.OneOfThem)))
	}
	for _, s := range c.page.Given {
		bs = append(bs, paragraph(size, false, s))
	}
	return append(bs, paragraph(theme.Small, true, c.lead()))
}

// lead says what string it is, unless what is to be known of that is given.
func (c *casework) lead() string {
	if c.of.Kind == cases.Stop || c.of.Kind == cases.Walk {
		return ""
	}
	return c.write.Lead(c.of)
}

// askBlocks ask every item of the case; over them it says how far the work is that
// somebody waits for.
func (c *casework) askBlocks() (bs []block) {
	bs = append(bs, &prose{size: theme.Small, text: func(d *Desk) string {
		if c.checking {
			return d.say.AnswersSearching(float64(c.percent()))
		}
		return ""
	}})
	for _, q := range c.page.Asked {
		bs = append(bs, c.askBlock(q)...)
	}
	return append(bs, paragraph(theme.Small, true, c.d.say.Label(words.CasesHow)))
}

// askBlock asks an item as its answers are: codes, a number of Δ, a place on the string,
// or two of the answers that are given.
func (c *casework) askBlock(q casebook.Question) []block {
	switch {
	case q.Item == cases.Fits:
		return []block{&question{row: c.letters(q)}, &question{row: c.codes(q, "", cases.TheyFit, cases.CannotTell)}}
	case q.Number == "":
		return []block{&question{row: c.codes(q, q.Text)}}
	case q.Item == cases.Breaks || q.Item == cases.Returns: // worked out, not pointed at
		return []block{paragraph(theme.Small, true, q.Text), &field{number: c.distance(q)}, &question{row: c.codes(q, "")}}
	case q.Item.Place():
		return []block{paragraph(theme.Small, true, q.Text), &question{row: c.place(q)}, &question{row: c.codes(q, "")}}
	}
	return []block{paragraph(theme.Small, true, q.Text), &field{number: c.amount(q)}, &question{row: c.codes(q, "")}}
}

// codes are the choices of an item, or some of them.
func (c *casework) codes(q casebook.Question, text string, only ...string) *choices {
	name := itemName(q.Item)
	if text == "" {
		name = codesName(q.Item)
	}
	o := c.row(name, text)
	var codes []string
	for _, one := range q.Choices {
		if len(only) == 0 || slices.Contains(only, one.Code) {
			codes, o.texts = append(codes, one.Code), append(o.texts, one.Text)
		}
	}
	o.on = func(i int) bool {
		a, ok := c.sitting.Given(q.Item)
		return ok && a.Code == codes[i]
	}
	o.choose = func(i int) {
		c.letter = ""
		c.sitting.Answer(q.Item, cases.Answer{Code: codes[i]})
		c.resign()
		c.d.dirty = true
	}
	return o
}

// row is a row of choices of the page.
func (c *casework) row(name, question string) *choices {
	o := &choices{Base: ui.Base{Name: name, Hint: c.d.say.Label(words.HintCasesRow)}, d: c.d, question: question}
	o.next = func(step int) { c.nextAsked(o, step) }
	return o
}

// nextAsked gives the focus to what comes after a row, or before; after the last one is
// what goes on.
func (c *casework) nextAsked(from ui.Widget, step int) {
	ws := c.d.overs
	at := slices.IndexFunc(ws, func(w ui.Widget) bool { return ui.Is(w, from) })
	for at += step; at >= 0 && at < len(ws); at += step {
		if b := ws[at].Self(); b.Shown() && !b.Skip && !b.Off {
			c.d.kit.SetFocus(ws[at])
			return
		}
	}
}

// goOn goes on from a number or a place that was entered, past what else the item could be
// answered with.
func (c *casework) goOn(i cases.Item) {
	var last ui.Widget
	for _, w := range c.d.overs {
		if name := w.Self().Name; name == itemName(i) || name == codesName(i) {
			last = w
		}
	}
	c.nextAsked(last, 1)
}

// itemName and codesName name what an item is answered with, and beside a number or a place
// the row of its codes.
func itemName(i cases.Item) string  { return "case " + string(i) }
func codesName(i cases.Item) string { return itemName(i) + " codes" }

// letters are the answers that are given; two of them are said not to go together. A
// third one takes the place of the first.
func (c *casework) letters(q casebook.Question) *choices {
	o := c.row(itemName(q.Item), q.Text+" "+c.d.say.Label(words.CasesTwo))
	o.many = true
	told := c.of.Told()
	for n := range told {
		o.texts = append(o.texts, string(rune('a'+n)))
	}
	pair := func() (a, b string) {
		given, _ := c.sitting.Given(q.Item)
		if a, b, ok := strings.Cut(given.Code, "+"); ok {
			return a, b
		}
		return c.letter, ""
	}
	o.on = func(i int) bool {
		a, b := pair()
		return told[i].String() == a || told[i].String() == b
	}
	o.choose = func(i int) {
		a, b := pair()
		switch now := told[i]; {
		case now.String() == a:
			a, b = b, ""
		case now.String() == b:
			b = ""
		case a == "":
			a = now.String()
		default:
			if b != "" {
				a = b
			}
			b = now.String()
		}
		c.pair(q.Item, a, b)
	}
	return o
}

// pair says that two answers do not go together, or remembers the first of them.
func (c *casework) pair(i cases.Item, a, b string) {
	c.d.dirty = true
	if was, ok := c.sitting.Given(i); ok {
		c.sitting.Answer(i, was)
	}
	c.letter = a
	first, errA := answers.ParseItem(a)
	second, errB := answers.ParseItem(b)
	if errA == nil && errB == nil {
		c.sitting.Answer(i, cases.Answer{Code: cases.PairCode(first, second)})
	}
}

// place is a place on the string, at which something is said to be.
func (c *casework) place(q casebook.Question) *crossing {
	scene := c.of.Scene()
	return &crossing{
		Base:  ui.Base{Name: itemName(q.Item), Hint: c.d.say.Label(words.HintCasesPlace)},
		scene: func() *sim.Setup { return &scene },
		get: func() (p sim.Maybe[answers.Place]) {
			if a, ok := c.sitting.Given(q.Item); ok && a.Code == "" {
				p = sim.Some(answers.Place{At: a.Number})
			}
			return p
		},
		set: func(p sim.Maybe[answers.Place]) {
			was, ok := c.sitting.Given(q.Item)
			switch {
			case p.OK && !(ok && was == cases.Answer{Number: p.Value.At}):
				c.sitting.Answer(q.Item, cases.Answer{Number: p.Value.At})
			case !p.OK && ok:
				c.sitting.Answer(q.Item, was) // takes it back
			}
			c.d.dirty = true
		},
		text:  func() string { return c.d.say.Label(words.CasesPull) },
		enter: func() { c.goOn(q.Item) },
		told:  func(p answers.Place) string { return c.d.say.Length(p.At) },
	}
}

// mostAmount is the largest number of Δ that may be answered.
const mostAmount = 40

// amount is a number of Δ. On which side it is, is an item of its own.
func (c *casework) amount(q casebook.Question) *ui.Number {
	n := c.numbered(q, words.HintCasesAmount, &quantity{unit: words.UnitPrism, per: 1, step: 0.5, most: 1}, mostAmount)
	n.Set = func(v float64) bool {
		c.sitAmount(q.Item, v)
		return true
	}
	return n
}

// distance is how far from the nose something is.
func (c *casework) distance(q casebook.Question) *ui.Number {
	n := c.numbered(q, words.HintCasesAway, c.d.lengths(), c.of.Scene().String.Length)
	n.Set = func(v float64) bool {
		c.sit(q.Item, v)
		return true
	}
	return n
}

// numbered is a number from 0 to the most that an item is answered with.
func (c *casework) numbered(q casebook.Question, hint words.Label, of *quantity, most float64) *ui.Number {
	n := c.d.number(ui.Base{Name: itemName(q.Item), Hint: c.d.say.Label(hint)}, of)
	n.Span, n.Rest, n.Done = [2]float64{0, most}, "–", func() {}
	n.Limits = func() (low, high float64) { return 0, most }
	n.Get = func() (float64, bool) {
		a, ok := c.sitting.Given(q.Item)
		return math.Abs(a.Number), ok && a.Code == ""
	}
	n.Entered = func() { c.goOn(q.Item) }
	n.Clear = func() {
		if a, ok := c.sitting.Given(q.Item); ok {
			c.sitting.Answer(q.Item, a)
		}
	}
	return n
}

// sitAmount answers a number of Δ; a deviation has the sign that is answered.
func (c *casework) sitAmount(i cases.Item, v float64) {
	if sign, ok := c.sitting.Given(cases.Sign); ok && i == cases.Deviation && sign.Code == cases.Exo {
		v = -v
	}
	c.sit(i, v)
}

// sit answers a number.
func (c *casework) sit(i cases.Item, v float64) {
	if was, ok := c.sitting.Given(i); !ok || was != (cases.Answer{Number: v + 0}) {
		c.sitting.Answer(i, cases.Answer{Number: v + 0})
	}
	c.d.dirty = true
}

// resign gives the deviation the sign that is answered now.
func (c *casework) resign() {
	if a, ok := c.sitting.Given(cases.Deviation); ok && a.Code == "" {
		c.sitAmount(cases.Deviation, math.Abs(a.Number))
	}
}

// field is a number among the blocks, as high as a finger needs.
type field struct{ number *ui.Number }

func (b *field) widgets() []ui.Widget { return []ui.Widget{b.number} }

func (b *field) lay(d *Desk, x, y, width float64) float64 {
	k := &d.kit
	b.number.Refresh(k)
	w, h := b.number.Size(k)
	h = math.Round(max(h, theme.Target*k.Unit))
	b.number.Area = display.Rect{X: x, Y: math.Round(y), W: math.Round(min(max(w, numberWidth*k.Unit), width)), H: h}
	return h + math.Round(theme.Unit/2*k.Unit)
}

func (b *field) draw(d *Desk, l *display.List) {
	if d.inColumn(b.number.Area) {
		b.number.Draw(&d.kit, l)
	}
}

// press is a button among the blocks, over their whole width.
type press struct {
	button *ui.Button
	when   func() bool // nil: always
}

func (b *press) widgets() []ui.Widget { return []ui.Widget{b.button} }

func (b *press) lay(d *Desk, x, y, width float64) float64 {
	b.button.Area = display.Rect{}
	if b.when != nil && !b.when() {
		return 0
	}
	b.button.Refresh(&d.kit)
	_, h := b.button.Size(&d.kit)
	h = math.Round(max(h, theme.Target*d.kit.Unit))
	b.button.Area = display.Rect{X: x, Y: math.Round(y), W: math.Round(width), H: h}
	return h + math.Round(theme.Unit/2*d.kit.Unit)
}

func (b *press) draw(d *Desk, l *display.List) {
	if a := b.button.Area; a.H > 0 && d.inColumn(a) {
		b.button.Draw(&d.kit, l)
	}
}

// choice chooses a set: how hard, of what kinds, and which one.
func (c *casework) choice() []block {
	d := c.d
	level := c.row("level", d.say.Label(words.CasesLevel))
	for i := range cases.Levels {
		level.texts = append(level.texts, d.say.CaseLevel(i+1))
	}
	level.on = func(i int) bool { return c.level == i+1 }
	level.choose = func(i int) { c.level, d.dirty = i+1, true }
	kinds := c.row("kinds", d.say.Label(words.CasesKinds))
	kinds.many = true
	kinds.texts = append(kinds.texts, c.write.Kinds()...)
	kinds.on = func(i int) bool { return slices.Contains(c.kinds, cases.Kinds()[i]) }
	kinds.choose = func(i int) { c.toggle(cases.Kinds()[i]); d.dirty = true }
	number := d.number(ui.Base{Name: "set", Hint: d.say.Label(words.HintCasesSet)}, &quantity{unit: words.UnitPlain, per: 1, step: 1})
	number.Whole, number.Span, number.Done = true, [2]float64{1, mostNumber}, func() {}
	number.Limits = func() (low, high float64) { return 1, mostNumber }
	number.Get = func() (float64, bool) { return float64(c.number), true }
	number.Set = func(v float64) bool { c.number, d.dirty = uint64(v), true; return true }
	return []block{
		&question{row: level},
		&question{row: kinds},
		paragraph(theme.Small, true, d.say.Label(words.CasesSet)), &field{number: number},
	}
}

// mostNumber is the largest number of a set that the page takes.
const mostNumber = 99999

// record says what cases are, and what is kept of those that were met.
func (c *casework) record() []block {
	d := c.d
	erase := d.textButton("erase", words.CasesErase, words.HintCasesErase, nil)
	erase.Do = func() { c.erase(); c.turn() }
	if c.erased != nil {
		erase.Text = d.say.Label(words.CasesUnerase)
	}
	t := &pointsTable{}
	for i := range cases.Levels {
		t.heads = append(t.heads, d.say.Filled(words.CasesLevelHead, "Level", strconv.Itoa(i+1)))
	}
	for i, k := range cases.Kinds() {
		r := pointsRow{name: c.write.Kinds()[i]}
		for level := 1; level <= cases.Levels; level++ {
			r.cells = append(r.cells, c.kept.Of(k, level))
		}
		t.rows = append(t.rows, r)
	}
	bs := []block{paragraph(theme.Lead, false, d.say.Label(words.CasesAbout))}
	if c.kept.Met() > 0 || c.erased != nil {
		bs = append(bs, paragraph(theme.Small, true, d.say.Label(words.CasesKept)), t)
		bs = append(bs, c.suggestion()...)
		bs = append(bs, &press{button: erase}, newPrimer(c))
	} else {
		bs = append(bs, newPrimer(c), paragraph(theme.Small, true, d.say.Label(words.CasesKeepNothing)))
	}
	return append(bs,
		paragraph(theme.Body, false, d.say.Label(words.CasesHow)),
		paragraph(theme.Small, true, d.say.Label(words.CasesKeyLead)),
		paragraph(theme.Small, true, d.say.AnswersNote()))
}

// suggestion says what has gone least well, with a button that practises it.
func (c *casework) suggestion() []block {
	k, level, ok := c.weakest()
	if !ok {
		return nil
	}
	d := c.d
	return []block{
		paragraph(theme.Body, false, d.say.Filled(words.CasesLeast, "Kind", c.write.Kind(k), "Level", strconv.Itoa(level))),
		&press{button: d.textButton("practise this", words.CasesSuggest, words.HintCasesSuggest, func() { c.practise(k, level) })},
	}
}

// outcome are the points of the cases that were met, by kind.
func (c *casework) outcome() []block {
	d, counts := c.d, c.sitting.Counts()
	t := &pointsTable{}
	for _, k := range cases.Kinds() {
		var all cases.Count
		for level := 1; level <= cases.Levels; level++ {
			n := counts.Of(k, level)
			all.Cases, all.Points, all.Missed = all.Cases+n.Cases, all.Points+n.Points, all.Missed+n.Missed
		}
		if all.Cases > 0 {
			t.rows = append(t.rows, pointsRow{name: c.write.Kind(k), cells: []cases.Count{all}})
		}
	}
	missed := d.say.Label(words.CasesNoneMissed)
	if n := len(c.sitting.Missed()); n > 0 {
		missed = d.say.CasesMissed(n)
	}
	return []block{
		paragraph(theme.Lead, false, d.say.Label(words.CasesPoints)), t,
		paragraph(theme.Body, false, missed),
		paragraph(theme.Small, true, d.say.AnswersNote()),
	}
}

// after is what can be done after a set.
func (c *casework) after() []block {
	d := c.d
	again := d.textButton("again missed", words.CasesAgain, words.HintCasesAgain, c.again)
	bs := []block{
		&press{button: again, when: func() bool { return len(c.sitting.Missed()) > 0 }},
		&press{button: d.textButton("more cases", words.CasesMore, words.HintCasesMore, c.more)},
		&press{button: d.textButton("choose", words.CasesChoose, words.HintCasesChoose, c.choose)},
	}
	return append(bs, c.suggestion()...)
}

// arrange puts the picture over what is said of it, and what is asked beside them, or
// under them where the page is taller than wide.
func (c *casework) arrange(d *Desk, area display.Rect) {
	u := d.kit.Unit
	gap := math.Round(2 * theme.Unit * u)
	left, right := area, area
	c.right.wide, c.left.wide = true, true
	if d.in.H > d.in.W {
		right.H = math.Round(min(c.right.height(d, right)+c.arrangeFoot(d, right)+gap, askedMost*area.H))
		left.H -= right.H + gap/2
		right.Y += left.H + gap/2
	} else {
		right.W = math.Round(max(columnLeast, min(d.in.W/u*columnShare, columnMost)) * u)
		right.X = area.X + area.W - right.W
		left.W -= right.W + gap
	}
	foot := c.arrangeFoot(d, right)
	right.H -= foot
	if foot > 0 {
		right.H -= gap / 2
	}
	c.picture, c.above = display.Rect{}, display.Rect{}
	if c.pictured() {
		text := math.Round(min(c.left.height(d, left), givenMost*left.H))
		c.picture = left
		c.picture.H -= text
		left.Y, left.H = left.Y+c.picture.H, text
		if len(c.shown) > 0 {
			c.above = c.picture
			c.picture.H = math.Round(sightShare * c.picture.H)
			c.above.Y, c.above.H = c.above.Y+c.picture.H+gap/2, c.above.H-c.picture.H-gap/2
		}
	}
	c.left.arrange(d, left)
	c.right.arrange(d, right)
}

// The most that what is asked may take of a page that is taller than wide, and what is
// given of its half under a picture; and what the picture of what is seen has of the rest
// over the view from above.
const (
	askedMost  = 0.55
	givenMost  = 0.45
	sightShare = 0.58
)

// pictured says whether there is something to see.
func (c *casework) pictured() bool {
	return c.of != nil && (len(c.shown) > 0 || c.judged() == nil && c.page.Picture != cases.NoPicture)
}

// arrangeFoot puts the buttons at the foot of the column, side by side where they have
// room, and gives their height.
func (c *casework) arrangeFoot(d *Desk, area display.Rect) (height float64) {
	if len(c.foot) == 0 {
		return 0
	}
	need, h := 0., theme.Target*d.kit.Unit
	for _, b := range c.foot {
		b.Refresh(&d.kit)
		w, tall := b.Size(&d.kit)
		need, h = max(need, w), max(h, tall)
	}
	h = math.Round(h)
	n := float64(len(c.foot))
	for i, b := range c.foot {
		if at := float64(i); n*need <= area.W {
			b.Area = display.Rect{X: math.Round(area.X + at*area.W/n), Y: area.Y + area.H - h, W: math.Floor(area.W / n), H: h}
			height = h
		} else {
			b.Area = display.Rect{X: area.X, Y: area.Y + area.H - (n-at)*h, W: area.W, H: h}
			height = n * h
		}
	}
	return height
}

func (c *casework) draw(d *Desk, l *display.List, _ display.Rect) {
	c.drawPicture(d, l)
	c.left.draw(d, l)
	c.right.draw(d, l)
}

// drawPicture draws what is given, or once it is judged what was answered beside what is
// so, as the patient sees it and from above.
func (c *casework) drawPicture(d *Desk, l *display.List) {
	size := theme.Small * d.kit.Text
	patient := render.PatientOptions{Type: size}
	above := render.AboveOptions{Theme: d.kit.Theme, Scale: d.kit.Unit, Labels: d.above}
	switch len(c.shown) {
	case 0:
		if c.pictured() {
			c.page.Draw(l, c.picture, patient, above)
		}
		return
	case 1:
		render.Patient(l, c.picture, &c.shown[0].view, patient)
	default:
		render.Compare(l, c.picture, &c.shown[0].view, &c.shown[1].view, patient,
			render.CompareLabels{OnTheBead: c.write.Sight(c.sights[0].Role), ThisSetup: c.write.Sight(c.sights[1].Role)})
	}
	gap := math.Round(theme.Unit * d.kit.Unit)
	n := float64(len(c.shown))
	for i, s := range c.shown {
		w := math.Floor((c.above.W - (n-1)*gap) / n)
		frame := display.Rect{X: c.above.X + float64(i)*(w+gap), Y: c.above.Y, W: w, H: c.above.H}
		if lettering.Width(d.kit.Style(theme.Small), above.Labels.MeetCross) > 0.42*w {
			above.Labels.MeetCross = above.Labels.Meet
		}
		render.Above(l, frame, &s.view, above)
	}
}
