package desk

import (
	"math"
	"strings"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes/cases"
)

// keyBlocks say of every item what was answered, what is right and, below, why.
func (c *casework) keyBlocks() []block {
	d, j := c.d, c.judged()
	c.sights = c.sitting.Sights()
	for i := range c.sights {
		s := c.write.Told(&c.sights[i].Setup)
		c.shown = append(c.shown, newSight(&s))
	}
	c.why = c.write.Why(c.of, j.Key)
	bs := []block{&prose{size: theme.Lead, bold: true, text: func(d *Desk) string { return c.write.Points(j) }}}
	if j.Failed {
		bs = append(bs, &prose{size: theme.Body, warn: true, text: func(d *Desk) string { return d.say.Label(words.CasesStopMissed) }})
	}
	for i := range j.Key {
		e := &j.Key[i]
		bs = append(bs, paragraph(theme.Small, true, c.page.Asked[i].Text))
		said, right := d.say.Label(words.CasesNoAnswer), d.say.Filled(words.CasesIsRight, "Answer", c.write.Key(c.of, e))
		a, ok := c.sitting.Given(e.Item)
		if ok {
			said = d.say.Filled(words.CasesYou, "Answer", c.write.Answer(c.of, e.Item, a))
		}
		if ok && len(e.Codes) == 1 && a.Code == e.Codes[0] {
			right = "" // it says the same
		}
		bs = append(bs, &ruling{points: j.Items[i], said: *paragraph(theme.Body, false, said+" "+c.verdict(j.Items[i])), right: *paragraph(theme.Body, false, right)})
	}
	bs = append(bs, paragraph(theme.Body, false, c.why))
	if id := c.of.Given.Story.Caution(); id != "" {
		bs = append(bs, paragraph(theme.Small, true, d.say.Label(words.Label(id))))
	}
	if sources := c.write.Sources([]*cases.Case{c.of}); len(sources) > 0 {
		bs = append(bs, paragraph(theme.Small, true, d.say.Label(words.CasesSources)+": "+strings.Join(sources, " ")))
	}
	return append(bs, paragraph(theme.Small, true, d.say.AnswersNote()))
}

// verdict says what an answer is worth.
func (c *casework) verdict(points float64) string {
	switch {
	case points >= 1:
		return c.d.say.Label(words.CasesFull)
	case points > 0:
		return c.d.say.Label(words.CasesHalf)
	case points < 0:
		return c.d.say.Label(words.CasesCosts)
	}
	return c.d.say.Label(words.CasesNone)
}

// ruling is an answer beside its sign, and what is right where it is not.
type ruling struct {
	points      float64
	said, right prose
	at          display.Point
}

func (b *ruling) widgets() []ui.Widget { return nil }

func (b *ruling) lay(d *Desk, x, y, width float64) float64 {
	b.said.indent, b.right.indent, b.right.bold = rulingIndent, rulingIndent, true
	b.at = display.Point{X: x + rulingIndent/2*d.kit.Unit, Y: y + 0.5*lettering.LineHeight(d.kit.Style(theme.Body))}
	h := b.said.lay(d, x, y, width)
	return h + b.right.lay(d, x, y+h, width)
}

// rulingIndent is the room for the sign, units.
const rulingIndent = 26

func (b *ruling) draw(d *Desk, l *display.List) {
	b.said.draw(d, l)
	b.right.draw(d, l)
	if !d.inColumn(b.said.at) {
		return
	}
	u, t, m := d.kit.Unit, d.kit.Theme, b.at
	switch {
	case b.points >= 1:
		l.MoveTo(m.X-7*u, m.Y)
		l.LineTo(m.X-2*u, m.Y+5*u)
		l.LineTo(m.X+7*u, m.Y-6*u)
		l.Stroke(2.5*u, display.Paint{From: t.Accent})
	case b.points > 0:
		l.MoveTo(m.X-7*u, m.Y)
		l.LineTo(m.X+7*u, m.Y)
		l.Stroke(2.5*u, display.Paint{From: t.Ink})
	default:
		ui.Cross(l, m, 5.5*u, 2.5*u, t.Warning)
	}
}

// pointsTable is a table of points: a row for each kind, a cell for each count.
type pointsTable struct {
	heads []string
	rows  []pointsRow

	at         display.Rect
	row, names float64
}

// pointsRow is a row of it.
type pointsRow struct {
	name  string
	cells []cases.Count
}

func (b *pointsTable) widgets() []ui.Widget { return nil }

func (b *pointsTable) lay(d *Desk, x, y, width float64) float64 {
	st := d.kit.Style(theme.Small)
	width = min(width, pointsMost*d.kit.Unit)
	b.row = math.Round(2.1 * lettering.LineHeight(st))
	b.names = 0.42 * width
	n := float64(len(b.rows))
	if len(b.heads) > 0 {
		n += 0.6
	}
	b.at = display.Rect{X: x, Y: y, W: width, H: math.Round(n*b.row + theme.Unit*d.kit.Unit)}
	return b.at.H
}

// pointsMost is how wide a table is at most, units: a name stays near its numbers.
const pointsMost = 640

func (b *pointsTable) draw(d *Desk, l *display.List) {
	if !d.inColumn(b.at) {
		return
	}
	k := &d.kit
	st, muted := k.Style(theme.Small), k.Muted(theme.Small)
	y := b.at.Y
	if len(b.heads) > 0 {
		for i, h := range b.heads {
			lettering.Draw(l, muted, b.cell(i, len(b.heads)), y+lettering.Ascent(muted), lettering.Start, h)
		}
		y += 0.6 * b.row
	}
	for _, r := range b.rows {
		lines := lettering.Wrap(st, r.name, b.names-theme.Unit*k.Unit)
		if len(lines) > 1 {
			lines = []string{lines[0], lettering.Ellipsis(st, strings.Join(lines[1:], " "), b.names-theme.Unit*k.Unit)}
		}
		drawLines(l, st, b.at.X, y, lines)
		for i, n := range r.cells {
			x := b.cell(i, len(r.cells))
			text, share := "–", 0.
			if n.Cases > 0 {
				text, share = d.say.PointsOf(n.Points, n.Cases), n.Points/float64(n.Cases)
			}
			lettering.Draw(l, st, x, y+lettering.Ascent(st), lettering.Start, text)
			bar := display.Rect{X: x, Y: y + 1.2*lettering.LineHeight(st), W: (b.at.W-b.names)/float64(len(r.cells)) - 2*theme.Unit*k.Unit, H: 6 * k.Unit}
			k.Plate(l, bar, k.Theme.Raised)
			if share > 0.02 {
				bar.W *= share
				k.Plate(l, bar, k.Theme.Accent)
			}
		}
		y += b.row
	}
}

// cell is where a cell of a row begins.
func (b *pointsTable) cell(i, of int) float64 {
	return b.at.X + b.names + float64(i)*(b.at.W-b.names)/float64(of)
}
