package desk

import (
	"math"

	"twincord/render/display"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes/cases"
	"twincord/sim"
)

// primer shows side by side what eso, eyes on the bead and exo look like, for those who
// begin.
type primer struct {
	sights   [3]*sight
	pictures [3]snapshot
	frames   [3]display.Rect
	captions [3]*prose
}

// primerDeviation is that of the eyes which are off the bead in it, Δ: so large that
// nobody overlooks it.
const primerDeviation = 4

// newPrimer is one with the string of the set that is chosen.
func newPrimer(c *casework) *primer {
	p := new(primer)
	for i, e := range [...]sim.Prism{primerDeviation, 0, -primerDeviation} {
		s := cases.StringOf(c.number)
		s.Posture.Deviation = e
		s = c.write.Told(&s)
		p.sights[i] = newSight(&s)
		p.captions[i] = paragraph(theme.Small, false, c.d.say.Label([...]words.Label{words.CasesEso, words.CasesOnBead, words.CasesExo}[i]))
	}
	return p
}

func (p *primer) widgets() []ui.Widget { return nil }

func (p *primer) lay(d *Desk, x, y, width float64) (height float64) {
	gap := math.Round(theme.Unit * d.kit.Unit)
	w := math.Floor((width - 2*gap) / 3)
	h := math.Round(primerShare * w)
	for i := range p.frames {
		p.frames[i] = display.Rect{X: math.Round(x + float64(i)*(w+gap)), Y: math.Round(y), W: w, H: h}
		height = max(height, p.captions[i].lay(d, p.frames[i].X, p.frames[i].Y+h+gap/2, w))
	}
	return h + gap/2 + height + gap
}

// primerShare is how high its pictures are against their width.
const primerShare = 0.75

func (p *primer) draw(d *Desk, l *display.List) {
	for i := range p.frames {
		if d.inColumn(p.frames[i]) {
			p.pictures[i].draw(l, p.sights[i], p.frames[i], 0)
		}
		p.captions[i].draw(d, l)
	}
}
