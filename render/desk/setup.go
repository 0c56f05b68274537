package desk

import (
	"cmp"
	"slices"
	"strings"

	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// topic is a group of the page of the set-up: the tables of keys that it is about.
type topic struct {
	label  words.Label
	tables []string
	care   string // the key after which it says that a professional's care is needed
	folded bool   // until somebody unfolds it
}

// topics are the groups in the order in which a clinic fills them in.
var topics = [...]topic{
	{label: words.TabPatient, tables: []string{"patient"}},
	{label: words.TabEyes, tables: []string{"posture", "findings", "look", "hold"}, care: "posture.deviation_prism"},
	{label: words.TabLeftOut, tables: []string{"suppression", "cover"}, care: "suppression.eye", folded: true},
	{label: words.TabGlasses, tables: []string{"right"}, folded: true},
	{label: words.GroupBeads, tables: []string{"beads[]"}, folded: true},
	{label: words.GroupString, tables: []string{"string"}, folded: true},
	{label: words.TabRoutine, tables: []string{"routine"}, folded: true},
	{label: words.GroupModel, folded: true},
	{label: words.GroupScene, tables: []string{""}, folded: true},
	{label: words.TabWindow, folded: true},
}

// unshown are the keys that have no control of their own: what a file is, and what a
// switch is for.
var unshown = map[string]bool{"format": true, "routine.kind": true}

// modelTopic has the keys of the patient that nobody measures in a chair.
const modelTopic = 7

var modelled = map[string]bool{
	"patient.nodal_mm": true, "patient.fusion_h_arcmin": true, "patient.fusion_v_arcmin": true,
	"patient.fusion_h_slope": true, "patient.fusion_v_slope": true, "patient.lambda_deg": true,
}

// early are the keys that come before the others of their table.
var early = []string{"patient.age_years", "patient.pd_mm"}

// topicOf is the topic of a key, or −1.
func topicOf(k *scenes.Key) int {
	if modelled[k.Path()] {
		return modelTopic
	}
	table := k.Table
	if table == "left" {
		table = "right" // its keys stand under those of the other eye
	}
	return slices.IndexFunc(topics[:], func(t topic) bool { return slices.Contains(t.tables, table) })
}

// unfolded says whether a topic is open.
func (d *Desk) unfolded(i int) bool { return topics[i].folded == (d.Groups>>i&1 == 1) }

// buildSetup makes the page of the set-up.
func (d *Desk) buildSetup() []block {
	keys := scenes.Keys()
	slices.SortStableFunc(keys, func(a, b scenes.Key) int { return cmp.Compare(rank(&a), rank(&b)) })
	d.page.ofBead = nil
	var blocks []block
	for i := range topics {
		t := &topics[i]
		blocks = append(blocks, &folding{&ui.Fold{
			Base: ui.Base{Name: "topic " + string(t.label), Hint: d.say.Label(words.HintFold)},
			Text: d.say.Label(t.label), Open: func() bool { return d.unfolded(i) }, Toggle: func() { d.Groups ^= 1 << i },
		}})
		in := func(b block) { blocks = append(blocks, &group{block: b, open: func() bool { return d.unfolded(i) }}) }
		add := func(b *line) { in(b) }
		d.addFirst(t.label, add)
		d.addKeys(i, keys, in)
		if t.label == words.GroupBeads {
			d.addBeadButtons(add)
		}
	}
	return blocks
}

// openSetup turns to the set-up. Who does so by keys goes on with what is filled in first.
func (d *Desk) openSetup() {
	d.turnTo(setupPage)
	for _, w := range d.page.paged[setupPage] {
		if _, heading := w.(*ui.Fold); !heading {
			d.kit.SetFocus(w)
			return
		}
	}
}

// addFirst adds what comes before the keys of a topic.
func (d *Desk) addFirst(topic words.Label, add func(*line)) {
	switch topic {
	case words.TabPatient:
		d.addSizes(add)
	case words.TabEyes:
		d.addPosture(add)
	case words.GroupBeads:
		d.addBeadChooser(add)
	case words.TabRoutine:
		d.addRoutine(add)
	case words.TabWindow:
		d.addSettings(add)
	}
}

// rank orders keys: the tables as the topics have them, and in each the early ones
// first.
func rank(k *scenes.Key) int {
	t := topicOf(k)
	if t < 0 {
		return -1
	}
	n := 1000*t + 100*slices.Index(topics[t].tables, k.Table)
	if i := slices.Index(early, k.Path()); i >= 0 {
		return n + i
	}
	return n + len(early)
}

// addKeys adds the lines of a topic's keys.
func (d *Desk) addKeys(topic int, keys []scenes.Key, add func(block)) {
	if topics[topic].label == words.TabGlasses {
		d.addGlasses(keys, add)
		return
	}
	for i := range keys {
		k := &keys[i]
		if topicOf(k) != topic || unshown[k.Path()] {
			continue
		}
		when := d.whenOf(k)
		for _, w := range d.controlsOf(k) {
			add(&line{label: w.Self().Label, cells: []ui.Widget{w}, when: when})
			if t, ok := w.(ui.Typing); ok && k.Table == "beads[]" {
				d.page.ofBead = append(d.page.ofBead, t)
			}
		}
		if topics[topic].care == k.Path() {
			add(&prose{size: theme.Small, warn: true, text: func(d *Desk) string {
				if d.cautious() {
					return d.fixed.care
				}
				return ""
			}})
		}
	}
}

// addGlasses adds what stands before the eyes: two keys beside each other, a line for
// each eye.
func (d *Desk) addGlasses(keys []scenes.Key, add func(block)) {
	eyes := [2]string{"right", "left"}
	letters := [2]string{d.say.Label(words.RightLetter), d.say.Label(words.LeftLetter)}
	var of [2][]*scenes.Key
	for i := range keys {
		if e := slices.Index(eyes[:], keys[i].Table); e >= 0 {
			of[e] = append(of[e], &keys[i])
		}
	}
	for n := 0; n < len(of[0]); n += 2 {
		for e := range eyes {
			b := &line{label: letters[e], table: letters[:]}
			for _, k := range of[e][n:min(n+2, len(of[e]))] {
				w := d.controlsOf(k)[0]
				b.cells = append(b.cells, w)
				if e == 0 {
					b.heads = append(b.heads, afterEye(w.Self().Label))
				}
			}
			add(b)
		}
	}
}

// afterEye is the name of a key without that of the eye before it.
func afterEye(label string) string {
	if _, after, ok := strings.Cut(label, ": "); ok {
		return after
	}
	return label
}

// whenOf says when the line of a key shows.
func (d *Desk) whenOf(k *scenes.Key) func(*Desk) bool {
	if k.Table == "routine" {
		return func(d *Desk) bool { return d.practised(k) }
	}
	when := relevant[k.Path()]
	if when == nil {
		when = map[string]func(*sim.Setup) bool{"posture": typed, "findings": found, "beads[]": beaded}[k.Table]
	}
	if when == nil {
		return nil
	}
	return func(d *Desk) bool { return when(&d.doc.Scene().Setup) }
}

// addPosture adds the switch between a posture that is typed and one that follows from
// findings, beside which their keys stand.
func (d *Desk) addPosture(add func(*line)) {
	w := d.postureSwitch()
	add(&line{label: w.Self().Label, cells: []ui.Widget{w}})
}

func (d *Desk) addBeadChooser(add func(*line)) {
	w := d.beadChooser()
	add(&line{label: w.Self().Label, cells: []ui.Widget{w}, when: func(d *Desk) bool { return beaded(&d.doc.Scene().Setup) }})
}

func (d *Desk) addBeadButtons(add func(*line)) {
	more := d.textButton("add-bead", words.ButtonAddBead, words.HintAddBead, d.addBead)
	more.Cannot = func() bool { return len(d.doc.Scene().Setup.Beads) >= sim.MaxBeads }
	less := d.textButton("remove-bead", words.ButtonRemoveBead, words.HintRemoveBead, d.removeBead)
	less.Cannot = func() bool { return !beaded(&d.doc.Scene().Setup) }
	add(&line{cells: []ui.Widget{more, less}})
}

func (d *Desk) addRoutine(add func(*line)) {
	w := d.routineSwitch()
	has := func(d *Desk) bool { return d.doc.Scene().Routine.OK }
	add(&line{label: w.Self().Label, cells: []ui.Widget{w}})
	for _, name := range [...]string{"practise", "sheet"} {
		add(&line{cells: []ui.Widget{d.commandButton(name)}, when: has})
	}
}

// addSizes adds the choice of a size by age, which fills in the distance between the
// eyes, the nose and the age (M19).
func (d *Desk) addSizes(add func(*line)) {
	w := &ui.Choice{
		Base:   ui.Base{Name: "size by age", Label: d.say.Label(words.SettingSize), Hint: d.say.Label(words.HintSize)},
		Folded: true, Rest: d.say.Label(words.SizeOther),
	}
	sizes := sim.Sizes()
	for _, z := range sizes {
		w.Texts = append(w.Texts, d.say.Size(z.Name, z.Age))
	}
	w.Get = func() int {
		s := &d.doc.Scene().Setup
		return slices.IndexFunc(sizes, func(z sim.Size) bool { return z.Of(s) })
	}
	w.Set = func(i int) {
		if d.try("", func(sc *scenes.Scene) { sizes[i].Fill(&sc.Setup) }) {
			return
		}
		d.Warn(d.say.Label(words.AllowedNot))
	}
	add(&line{label: w.Label, cells: []ui.Widget{w}})
}

// addSettings adds what is chosen for the window itself.
func (d *Desk) addSettings(add func(*line)) {
	put := func(w ui.Widget) { add(&line{label: w.Self().Label, cells: []ui.Widget{w}}) }
	languages := words.Languages()
	put(&ui.Choice{
		Base:  ui.Base{Name: "language", Label: d.say.Label(words.SettingLanguage), Hint: d.say.Label(words.HintLanguage)},
		Texts: words.LanguageNames(),
		Get:   func() int { return slices.Index(languages, d.say.Language()) },
		Set:   func(i int) { d.setLanguage(languages[i]) },
	})
	put(&ui.Choice{
		Base:  ui.Base{Name: "length", Label: d.say.Label(words.SettingLength), Hint: d.say.Label(words.HintLength)},
		Texts: []string{d.say.Label(words.SettingLengthCm), d.say.Label(words.SettingLengthIn)},
		Get:   func() int { return number(d.say.Inches()) },
		Set:   func(i int) { d.speakAfresh(d.say.WithInches(i == 1)) },
	})
	for _, s := range []struct {
		name                 string
		label, hint, off, on words.Label
		at                   *bool
	}{
		{"look", words.SettingLook, words.HintLook, words.SettingLookDim, words.SettingLookLight, &d.Light},
		{"type", words.SettingType, words.HintType, words.SettingTypeUsual, words.SettingTypeLarge, &d.Large},
		{"motion", words.SettingMotion, words.HintMotion, words.SettingMotionFull, words.SettingMotionReduced, &d.Reduced},
		{"sound", words.SettingSound, words.HintSound, words.SettingSoundOff, words.SettingSoundOn, &d.Sound},
		{"letters", words.SettingLetters, words.HintLetters, words.SettingLettersOn, words.SettingLettersOff, &d.NoLetters},
	} {
		put(&ui.Choice{
			Base:  ui.Base{Name: s.name, Label: d.say.Label(s.label), Hint: d.say.Label(s.hint)},
			Texts: []string{d.say.Label(s.off), d.say.Label(s.on)},
			Get:   func() int { return number(*s.at) }, Set: func(i int) { *s.at = i == 1 },
		})
	}
	for _, pair := range [...][2]string{{"true", "card"}, {"keys", "about"}} {
		add(&line{cells: []ui.Widget{d.commandButton(pair[0]), d.commandButton(pair[1])}})
	}
}

func number(b bool) int {
	if b {
		return 1
	}
	return 0
}
