package desk

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"twincord/render"
	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// The controls are made from the table of keys of scene files: a new key has its
// control by being there.

// relevant says when a key's control shows, for those that do not always.
var relevant = map[string]func(*sim.Setup) bool{
	"suppression.zone":       suppressed,
	"suppression.centre":     func(s *sim.Setup) bool { return suppressed(s) && s.Suppression.Zone == sim.ZoneCentral },
	"suppression.radius_deg": func(s *sim.Setup) bool { return suppressed(s) && s.Suppression.Zone == sim.ZoneCentral },
	"suppression.depth":      suppressed,
	"suppression.period_s":   suppressed,
	"suppression.share": func(s *sim.Setup) bool {
		return suppressed(s) && s.Suppression.Period > 0 && s.Suppression.Eye != sim.Alternating
	},
	"look.at_mm": func(s *sim.Setup) bool { return s.Look.Bead == sim.NoBead },
	"hold.seed":  func(s *sim.Setup) bool { return s.Hold.SD > 0 },
}

func suppressed(s *sim.Setup) bool { return s.Suppression.Eye != sim.Neither }
func found(s *sim.Setup) bool      { return s.Findings.OK }
func typed(s *sim.Setup) bool      { return !s.Findings.OK }
func beaded(s *sim.Setup) bool     { return len(s.Beads) > 0 }

// quantities are the kinds of numbers by the unit of the table of keys.
func quantityOf(key *scenes.Key, inches bool) *quantity {
	q := quantity{unit: words.UnitPlain, per: 1, step: 1, most: 3}
	widest := 0.
	for _, r := range key.Ranges {
		widest = max(widest, r.Max, -r.Min)
	}
	switch key.Unit {
	case "mm":
		q.others = lengthNames
		switch {
		case widest <= 100: // the trade's own mm, whatever else is in inches
			q.unit, q.most = words.UnitMm, 1
			q.step = 1
			if widest <= 10 {
				q.step = 0.5
			}
		case inches:
			q.unit, q.per, q.step, q.most = words.UnitIn, 25.4, 12.7, 2
		default:
			q.unit, q.per, q.step, q.most = words.UnitCm, 10, 10, 2
		}
	case "°":
		q.unit = words.UnitDegrees
		if key.Name == "cyclo_deg" {
			q.plus, q.minus = words.UnitExcyclo, words.UnitIncyclo
		}
	case "arcmin":
		q.unit = words.UnitArcmin
	case "Δ":
		q.unit, q.step, q.most = words.UnitPrism, 0.5, 2
		switch {
		case key.Name == "base_out_prism":
			q.plus, q.minus = words.UnitBaseOut, words.UnitBaseIn
		case key.Name == "base_up_prism":
			q.plus, q.minus = words.UnitBaseUp, words.UnitBaseDown
		case key.Path() == "posture.deviation_prism", key.Name == "far_phoria_prism", key.Name == "near_phoria_prism":
			q.plus, q.minus = words.UnitEso, words.UnitExo
		}
	case "D":
		q.unit, q.step, q.most = words.UnitDioptres, 0.25, 3
	case "years":
		q.unit, q.most = words.UnitYears, 1
	case "s":
		q.unit, q.step, q.most = words.UnitSeconds, 0.5, 2
	case "Δ/D":
		q.unit, q.step, q.most = words.UnitRatio, 0.5, 2
	case "arcmin/Δ":
		q.unit, q.step, q.most = words.UnitSlope, 0.1, 2
	case "":
		switch {
		case key.Whole:
			q.most = 0
		case widest == 1:
			q.unit, q.per, q.step, q.most = words.UnitPercent, 0.01, 0.1, 1
		default:
			q.step, q.most = 0.005, 5
		}
	}
	return &q
}

// controlsOf makes the widgets of a key: three for a point, one for all others.
func (d *Desk) controlsOf(k *scenes.Key) []ui.Widget {
	b := ui.Base{Name: "key " + k.Path(), Label: d.say.Key(k.Path()), Hint: d.say.KeyHint(k.Path())}
	switch k.Kind {
	case scenes.Number:
		return []ui.Widget{d.numberOf(k, b, k.Ranges, func(v any) float64 { return v.(float64) }, func(_ any, to float64) any { return to })}
	case scenes.Point:
		var ws []ui.Widget
		for axis, letter := range [3]string{"x", "y", "z"} {
			path := k.Path() + "." + letter
			at := ui.Base{Name: "key " + path, Label: d.say.Key(path), Hint: d.say.KeyHint(path)}
			ws = append(ws, d.numberOf(k, at, k.Ranges[axis:axis+1],
				func(v any) float64 { return v.([3]float64)[axis] },
				func(was any, to float64) any {
					p := was.([3]float64)
					p[axis] = to
					return p
				}))
		}
		return ws
	case scenes.Choice:
		return []ui.Widget{d.choiceOf(k, b)}
	case scenes.Name:
		return []ui.Widget{d.nameOf(k, b)}
	case scenes.Colour:
		hex := b
		hex.Name, hex.Label = b.Name+" hex", ""
		f := d.textOf(k, hex, 7, 5.5, words.AllowedColour)
		f.Swatch = func() (display.Colour, bool) { return d.beadColour() }
		return []ui.Widget{d.swatchesOf(k, b), f}
	case scenes.Text, scenes.Prose, scenes.Names:
		most, wide, allowed := 60, 18., words.AllowedNot
		switch {
		case k.Table == "beads[]":
			most, wide, allowed = 32, 10, words.AllowedName
		case k.Kind == scenes.Prose:
			most = 2000
		case k.Kind == scenes.Names:
			most = 400
		}
		return []ui.Widget{d.textOf(k, b, most, wide, allowed)}
	}
	return nil
}

// palette is that of row G5 without its black, and white: colours that differ for
// colour-blind eyes.
var palette = [...]sim.RGB{
	{R: 0xE6, G: 0x9F}, {R: 0x56, G: 0xB4, B: 0xE9}, {R: 0xCC, G: 0x79, B: 0xA7}, {G: 0x9E, B: 0x73},
	{R: 0xF0, G: 0xE4, B: 0x42}, {R: 0xD5, G: 0x5E}, {G: 0x72, B: 0xB2}, {R: 0xFF, G: 0xFF, B: 0xFF},
}

// beadColour is the colour of the bead that the controls are about.
func (d *Desk) beadColour() (display.Colour, bool) {
	s := &d.doc.Scene().Setup
	if d.bead >= len(s.Beads) {
		return display.Colour{}, false
	}
	return render.Colour(s.Beads[d.bead].Colour), true
}

// swatchesOf makes the palette from which the colour of a bead is picked.
func (d *Desk) swatchesOf(k *scenes.Key, b ui.Base) *ui.Swatches {
	s := &ui.Swatches{Base: b}
	for _, c := range palette {
		s.Colours = append(s.Colours, render.Colour(c))
	}
	s.Get = func() int {
		beads := d.doc.Scene().Setup.Beads
		if d.bead >= len(beads) {
			return -1
		}
		return slices.Index(palette[:], beads[d.bead].Colour)
	}
	s.Set = func(i int) {
		c := palette[i]
		d.put(b.Name, k, fmt.Sprintf("#%02X%02X%02X", c.R, c.G, c.B))
		d.doc.Done()
	}
	return s
}

// value is what the scene has for a key.
func (d *Desk) value(k *scenes.Key) (any, bool) { return k.Get(d.doc.Scene(), d.bead) }

// put changes a key, with what must go along with it.
func (d *Desk) put(name string, k *scenes.Key, v any) bool {
	refused := false
	taken := d.try(name, func(sc *scenes.Scene) {
		if refused = k.Set(sc, d.bead, v) != nil; refused {
			return
		}
		s := &sc.Setup
		switch k.Path() {
		case "posture.fixing":
			if s.Posture.Fixing == sim.Both {
				s.Posture.Anomaly = 0
			}
		case "posture.anomaly_prism":
			if s.Posture.Anomaly != 0 && s.Posture.Fixing == sim.Both {
				s.Posture.Fixing = sim.Right
			}
		case "suppression.eye":
			if s.Suppression.Eye == sim.Alternating && s.Suppression.Period < 2 {
				s.Suppression.Period = 4
			}
			switch { // an eye that sees nothing fixes nothing
			case s.Suppression.Eye == sim.Right && s.Posture.Fixing == sim.Right:
				s.Posture.Fixing = sim.Left
			case s.Suppression.Eye == sim.Left && s.Posture.Fixing == sim.Left:
				s.Posture.Fixing = sim.Right
			}
		}
	})
	return taken && !refused
}

// number makes a number of a kind, as the words of the window write it.
func (d *Desk) number(b ui.Base, q *quantity) *ui.Number {
	return &ui.Number{Base: b, Measure: measure{q, d.say}, Range: d.say.Allowed, Not: d.say.Label(words.AllowedNot)}
}

// numberOf makes the control of a number, or of one of a point's. of takes the
// number out of the key's value, with puts it there.
func (d *Desk) numberOf(k *scenes.Key, b ui.Base, ranges []scenes.Range, of func(any) float64, with func(any, float64) any) ui.Widget {
	n := d.number(b, quantityOf(k, d.say.Inches()))
	n.Done, n.Whole = d.doc.Done, k.Whole
	n.Span = [2]float64{ranges[0].Min, ranges[len(ranges)-1].Max}
	low, high := n.Span[0], n.Span[1]
	n.Limits = func() (float64, float64) { return d.limits(k, low, high) }
	n.Get = func() (float64, bool) {
		v, ok := d.value(k)
		if !ok {
			return 0, false
		}
		return of(v), true
	}
	n.Set = func(to float64) bool {
		was, _ := d.value(k)
		return d.put(b.Name, k, with(was, to))
	}
	n.Fit = func(v float64, up bool) float64 { return fitted(ranges, v, up) }
	n.Rest = "–"
	if k.Optional() {
		n.Rest = d.say.Label(words.LabelComputed)
		if strings.HasSuffix(k.Name, "_blur_prism") {
			n.Rest = d.say.Label(words.LabelNone)
		}
		n.Clear = func() {
			d.try(b.Name, func(sc *scenes.Scene) { k.Clear(sc, d.bead) })
		}
	}
	return n
}

// fitted is the number of the ranges that is nearest on the way up or down.
func fitted(ranges []scenes.Range, v float64, up bool) float64 {
	for i, r := range ranges {
		if v <= r.Max && v >= r.Min {
			return v
		}
		if v < r.Min && i > 0 && !up {
			return ranges[i-1].Max
		}
		if v < r.Min {
			return r.Min
		}
	}
	return ranges[len(ranges)-1].Max
}

// limits are those of a key in the scene as it stands: what else is in it may leave
// less than the table allows.
func (d *Desk) limits(k *scenes.Key, low, high float64) (float64, float64) {
	r := k.Room(&d.doc.Scene().Setup, d.bead, scenes.Range{Min: low, Max: high})
	return r.Min, r.Max
}

func (d *Desk) choiceOf(k *scenes.Key, b ui.Base) ui.Widget {
	o := &ui.Choice{Base: b}
	for _, c := range k.Choices {
		o.Texts = append(o.Texts, d.say.Choice(k.Name, c))
	}
	o.Get = func() int {
		v, ok := d.value(k)
		if !ok {
			return -1
		}
		return slices.Index(k.Choices, v.(string))
	}
	o.Set = func(i int) {
		if !d.put(b.Name, k, k.Choices[i]) {
			d.Warn(d.say.Label(words.AllowedNot))
		}
		d.doc.Done()
	}
	return o
}

// nameOf makes the control of a key that names a bead, or none.
func (d *Desk) nameOf(k *scenes.Key, b ui.Base) ui.Widget {
	none := "asked"
	switch k.Name {
	case "bead":
		none = "look"
	case "from":
		none = "from"
	}
	o := &ui.Choice{Base: b, Texts: []string{d.say.Choice(none, "none")}, Folded: true}
	o.Texts = append(o.Texts, d.page.told...)
	o.Get = func() int {
		v, ok := d.value(k)
		if !ok {
			return 0
		}
		return 1 + slices.Index(d.page.names, v.(string))
	}
	o.Set = func(i int) {
		defer d.doc.Done()
		if i > 0 {
			if !d.put(b.Name, k, d.page.names[i-1]) {
				d.Warn(d.say.Label(words.AllowedNot))
			}
			return
		}
		d.edit(b.Name, func(s *sim.Setup) {
			switch k.Name {
			case "bead":
				s.Look.At, s.Look.Bead = s.LookPlace(), sim.NoBead
			case "asked":
				s.Look.Asked = sim.NoBead
			case "from":
				s.Look.From = sim.Maybe[int]{}
			}
		})
	}
	return o
}

func (d *Desk) textOf(k *scenes.Key, b ui.Base, most int, wide float64, allowed words.Label) *ui.TextField {
	f := &ui.TextField{Base: b, Most: most, Wide: wide, Allowed: d.say.Label(allowed)}
	f.Get = func() string {
		v, _ := d.value(k)
		s, _ := v.(string)
		s = strings.TrimSpace(s)
		switch k.Path() {
		case "title":
			return d.told.Title(s)
		case "note":
			return strings.ReplaceAll(d.told.Note(s), "\n", " ")
		case "beads[].name":
			return d.told.Bead(d.doc.Scene().Setup.Beads, s)
		}
		if k.Kind == scenes.Names && s != "" {
			return d.toldList(s)
		}
		return strings.ReplaceAll(s, "\n", " ")
	}
	f.Set = func(to string) bool {
		if to = strings.TrimSpace(to); to == f.Get() {
			return true // as it was told, it is not typed
		}
		if !utf8.ValidString(to) || k.Kind == scenes.Colour && !isColour(to) {
			return false
		}
		defer d.doc.Done()
		if k.Kind != scenes.Names {
			return d.put(b.Name, k, to)
		}
		if to == "" {
			return d.try(b.Name, func(sc *scenes.Scene) { k.Clear(sc, d.bead) })
		}
		return d.put(b.Name, k, d.namesIn(to))
	}
	return f
}

// toldList is a list of beads, by their names a line each, as it is told here: by commas.
func (d *Desk) toldList(lines string) string {
	beads := d.doc.Scene().Setup.Beads
	names := strings.Split(lines, "\n")
	for i := range names {
		names[i] = d.told.Bead(beads, names[i])
	}
	return strings.Join(names, ", ")
}

// namesIn is a list of beads as it is told, or typed, by their names a line each.
func (d *Desk) namesIn(list string) string {
	names := strings.Split(list, ",")
	for i := range names {
		names[i] = strings.TrimSpace(names[i])
		if at := slices.Index(d.page.told, names[i]); at >= 0 {
			names[i] = d.page.names[at]
		}
	}
	return strings.Join(names, "\n")
}

// isColour says whether a text is a colour as scene files have it.
func isColour(s string) bool {
	if len(s) != 7 || s[0] != '#' {
		return false
	}
	_, err := strconv.ParseUint(s[1:], 16, 32)
	return err == nil
}

func (d *Desk) textButton(name string, label, hint words.Label, do func()) *ui.Button {
	return &ui.Button{Base: ui.Base{Name: name, Hint: d.say.Label(hint)}, Text: d.say.Label(label), Do: do}
}

// postureSwitch says whether the posture is typed in or follows from findings.
func (d *Desk) postureSwitch() ui.Widget {
	return &ui.Choice{
		Base:  ui.Base{Name: "posture switch", Label: d.say.Label(words.SettingPosture), Hint: d.say.Label(words.HintPosture)},
		Texts: []string{d.say.Label(words.SettingPostureTyped), d.say.Label(words.SettingPostureFindings)},
		Get: func() int {
			if d.doc.Scene().Setup.Findings.OK {
				return 1
			}
			return 0
		},
		Set: func(i int) {
			if i == 0 {
				d.typePosture()
				return
			}
			d.edit("", func(s *sim.Setup) {
				s.Findings = sim.Some(sim.DefaultFindings())
				s.Posture = sim.Default().Posture
			})
		},
	}
}

// beadChooser chooses the bead that the controls after it are about.
func (d *Desk) beadChooser() ui.Widget {
	return &ui.Choice{
		Base:  ui.Base{Name: "bead chooser", Label: d.say.Label(words.SettingBead), Hint: d.say.Label(words.HintBeadChosen)},
		Texts: d.page.told, Folded: true,
		Get: func() int { return min(d.bead, len(d.page.names)-1) },
		Set: d.chooseBead,
	}
}

// chooseBead makes the controls those of another bead. What was typed at the one before
// and could not be taken goes with it.
func (d *Desk) chooseBead(i int) {
	if i == d.bead {
		return
	}
	for _, w := range d.page.ofBead {
		w.Forget()
	}
	d.bead = i
}

// addBead puts a bead where there is most room.
func (d *Desk) addBead() {
	s := &d.doc.Scene().Setup
	if len(s.Beads) >= sim.MaxBeads {
		return
	}
	ends := []float64{0}
	for _, b := range s.Beads {
		ends = append(ends, b.At-b.Diameter/2, b.At+b.Diameter/2)
	}
	ends = append(ends, s.String.Length)
	slices.Sort(ends)
	at, most := 0., -1.
	for i := 0; i+1 < len(ends); i += 2 {
		if gap := ends[i+1] - ends[i]; gap > most {
			at, most = (ends[i]+ends[i+1])/2, gap
		}
	}
	word := d.say.Label(words.BeadNew)
	name := word
	for n := 2; slices.Contains(d.page.names, name) || slices.Contains(d.page.told, name); n++ {
		name = word + " " + strconv.Itoa(n)
	}
	surfaces := [...]sim.Surface{sim.SurfaceBanded, sim.SurfaceDotted, sim.SurfaceRinged, sim.SurfacePlain}
	n := len(s.Beads)
	if d.try("", func(sc *scenes.Scene) {
		sc.Setup.Beads = append(sc.Setup.Beads, sim.Bead{Name: name, At: snap(at, placeStep), Diameter: min(16, max(4, most)), Colour: palette[n%3], Surface: surfaces[n%len(surfaces)]})
	}) {
		d.chooseBead(n)
	}
}

// removeBead takes the chosen bead off. What looked at it looks at its place.
func (d *Desk) removeBead() {
	d.edit("", func(s *sim.Setup) {
		i := d.bead
		if i >= len(s.Beads) {
			return
		}
		if s.Look.Bead == i {
			s.Look.Bead, s.Look.At = sim.NoBead, s.Beads[i].At
		}
		after := func(n *int) {
			switch {
			case *n == i:
				*n = sim.NoBead
			case *n > i:
				*n--
			}
		}
		after(&s.Look.Bead)
		after(&s.Look.Asked)
		if s.Look.From.OK {
			from := s.Look.From.Value
			if after(&from); from == sim.NoBead {
				s.Look.From = sim.Maybe[int]{}
			} else {
				s.Look.From.Value = from
			}
		}
		s.Beads = slices.Delete(s.Beads, i, i+1)
	})
	d.chooseBead(max(0, d.bead-1))
}

// commandButton is the button of a command.
func (d *Desk) commandButton(name string) *ui.Button {
	c := d.command(name)
	b := &ui.Button{Base: ui.Base{Name: name, Hint: d.say.Label(c.hint)}, Text: d.say.Label(c.label), Icon: c.icon, Do: func() { d.run(c) }}
	if c.on != nil {
		b.On = func() bool { return c.on(d) }
	}
	if c.off != nil {
		b.Cannot = func() bool { return c.off(d) }
	}
	return b
}
