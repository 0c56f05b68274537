package live

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"twincord/render/words"
	"twincord/scenes"
	"twincord/sim"
)

// Control is what somebody pulls on: a key of scene files, as it stands.
type Control struct {
	Key     string
	Label   string
	Value   any    // a text or a number
	Text    string // a number in words; empty where Seen has it
	More    bool   // it is one of the many that only some want
	Choices []Choice
	// Of a number: what it may be, how far an arrow key goes, and what stands at the left
	// end and at the right one. The number falls from left to right where Falls says so.
	Min   float64
	Max   float64
	Step  float64
	Left  string
	Right string
	Falls bool
}

// Choice is one of what a control may be.
type Choice struct {
	Value string
	Text  string
}

// The keys that everybody may pull on.
const (
	keyBead  = "look.bead"
	keyPlace = "look.at_mm"
	keyMeet  = "posture.deviation_prism"
)

// mostPulled is how far the eyes can be pulled off what they look at, Δ, unless they are
// farther off already: enough for every bead of a usual string, and fine enough for a
// finger.
const mostPulled = 20.

// Controls are those of the scene as it stands. Where the eyes meet follows from findings
// where there are some.
func (e *Engine) Controls() []Control {
	if e.scene == nil || e.allow == Nothing {
		return nil
	}
	var all []Control
	s := &e.scene.Setup
	if bead := s.Look.Bead; bead == sim.NoBead {
		all = append(all, e.place())
	} else if len(s.Beads) > 1 {
		c := e.control(keyBead)
		for _, i := range s.FarToNear() {
			told := &e.setup.Beads[i]
			c.Choices = append(c.Choices, Choice{s.Beads[i].Name, e.say.Filled(words.SheetPlace, "Bead", told.Name, "At", e.say.Length(told.At))})
		}
		all = append(all, c)
	}
	if !s.Findings.OK {
		c := e.control(keyMeet)
		c.Label = e.say.Label(words.PageMeet)
		most := math.Max(mostPulled, math.Ceil(math.Abs(float64(s.Posture.Deviation))))
		c.Min, c.Max, c.Step, c.Falls = -most, most, 0.5, true
		c.Left, c.Right = e.say.Label(words.PageNearer), e.say.Label(words.PageFarther)
		all = append(all, c)
	}
	if e.allow == Everything {
		all = append(all, e.others()...)
	}
	return all
}

// others are the controls of all other keys of the eyes, of what is left out and of the
// glasses, as the table of keys has them.
func (e *Engine) others() (all []Control) {
	tables := []string{"posture", "hold", "suppression", "right", "left"}
	if e.scene.Setup.Findings.OK {
		tables[0] = "findings"
	}
	for _, k := range scenes.Keys() {
		value, ok := k.Get(e.scene, 0)
		if !ok || !slices.Contains(tables, k.Table) || k.Path() == keyMeet {
			continue
		}
		c := e.control(k.Path())
		c.More = true
		switch v := value.(type) {
		case string:
			for _, choice := range k.Choices {
				c.Choices = append(c.Choices, Choice{choice, e.say.Choice(k.Name, choice)})
			}
		case float64:
			u := units[k.Unit]
			c.Min, c.Max, c.Step = k.Ranges[0].Min, k.Ranges[len(k.Ranges)-1].Max, u.step
			c.Text = e.say.Quantity(u.label, e.say.Number(v, u.decimals))
		}
		all = append(all, c)
	}
	return all
}

// units say how numbers are written, and how far an arrow key goes, by the unit of the
// table of keys.
var units = map[string]struct {
	label    words.Label
	step     float64
	decimals int
}{
	"Δ":        {words.UnitPrism, 0.5, 1},
	"°":        {words.UnitDegrees, 0.5, 1},
	"D":        {words.UnitDioptres, 0.25, 2},
	"arcmin":   {words.UnitArcmin, 1, 0},
	"s":        {words.UnitSeconds, 0.5, 1},
	"mm":       {words.UnitMm, 5, 0},
	"Δ/D":      {words.UnitRatio, 0.5, 1},
	"arcmin/Δ": {words.UnitSlope, 0.1, 1},
	"":         {words.UnitPlain, 0.1, 1},
}

// place is the control of the place on a bare string that is looked at.
func (e *Engine) place() Control {
	c := e.control(keyPlace)
	r := scenes.RangeOf(keyPlace)
	c.Min, c.Max, c.Step = math.Max(r.Min, 10), e.scene.Setup.String.Length, 10
	c.Left, c.Right = e.say.Label(words.PageNearer), e.say.Label(words.PageFarther)
	c.Text = e.say.Length(e.scene.Setup.Look.At)
	return c
}

// control is that of a key, with its value.
func (e *Engine) control(path string) Control {
	k, _ := scenes.Find(path)
	value, _ := k.Get(e.scene, 0)
	return Control{Key: path, Label: e.say.Key(path), Value: value}
}

// Set puts a value of a control into the scene: a choice, or a number as it is written.
// What the scene cannot be it refuses, and changes nothing.
func (e *Engine) Set(path, text string) error {
	var allowed bool
	for _, c := range e.Controls() {
		allowed = allowed || c.Key == path
	}
	if !allowed {
		return fmt.Errorf("%s: %w", path, errLocked)
	}
	k, _ := scenes.Find(path)
	var value any = text
	if k.Kind == scenes.Number {
		number, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return fmt.Errorf("%s: %q is no number", path, text)
		}
		value = number
	}
	was := *e.scene
	was.Setup = e.scene.Setup.Clone()
	if err := k.Set(e.scene, 0, value); err != nil {
		return err
	}
	if err := e.scene.Check(); err != nil {
		e.scene = &was
		return err
	}
	e.restart()
	return nil
}
