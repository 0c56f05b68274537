package desk

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
	"twincord/render/ui"
	"twincord/render/words"
)

// Whatever the width of the column, each line of what stands before the eyes says which eye it
// is of, to the left of its cells.
func TestEachEyeIsNamed(t *testing.T) {
	p := sit(t, "middle-of-three")
	p.desk.openSetup()
	for i := range topics {
		if topics[i].label == words.TabGlasses != p.desk.unfolded(i) {
			p.desk.Groups ^= 1 << i
		}
	}
	names := [2]string{p.desk.say.Label(words.RightLetter), p.desk.say.Label(words.LeftLetter)}
	looked := 0
	for width := 820.; width < 2000; width += 11 {
		p.in.W, p.in.H = width, width*0.6
		p.update()
		var l display.List
		p.desk.Draw(&l)
		wide := lettering.Width(p.desk.kit.Style(theme.Body), names[0])
		for i, eye := range []string{"right", "left"} {
			for _, key := range []string{"base_out_prism", "lens_d", "filter"} {
				a := p.named("key " + eye + "." + key).Self().Area
				if s := p.desk.page.columns[setupPage].scroll.Area; a.Y < s.Y || a.Y+a.H > s.Y+s.H {
					continue
				}
				looked++
				found := false
				for j := range l.Texts {
					b := bounds(&l.Texts[j])
					found = found || l.Texts[j].String == names[i] && b.X+wide < a.X && b.Y > a.Y && b.Y+b.H < a.Y+a.H
				}
				require.True(t, found, "%s of the %s eye, %v wide", key, eye, width)
			}
		}
	}
	assert.Greater(t, looked, 500)
}

// named finds a widget of the set-up, shown or not.
func (p *person) named(name string) ui.Widget {
	for _, w := range p.desk.page.paged[setupPage] {
		if w.Self().Name == name {
			return w
		}
	}
	require.Fail(p.t, "no widget "+name)
	return nil
}

// Of a group that keys unfold as much is seen at once as has room, its heading in any case.
func TestAGroupThatIsUnfoldedIsSeen(t *testing.T) {
	for _, h := range []float64{600, 800} {
		for i := range topics {
			p := sit(t, "middle-of-three")
			p.in.H = h
			p.desk.openSetup()
			heading := p.named("topic " + string(topics[i].label)).(*ui.Fold)
			p.desk.kit.SetFocus(heading)
			p.desk.kit.Ring = true
			if heading.Open() {
				p.key(ui.KeyLeft)
			}
			p.key(ui.KeyRight)
			s := p.desk.page.columns[setupPage].scroll
			end := p.desk.endOfGroup(heading)
			a := heading.Area
			assert.GreaterOrEqual(t, a.Y, s.Area.Y-1, "%s at %v", heading.Text, h)
			if end-a.Y <= s.Area.H {
				assert.LessOrEqual(t, end, s.Area.Y+s.Area.H+1, "%s at %v", heading.Text, h)
			} else {
				assert.InDelta(t, s.Area.Y, a.Y, 1, "%s at %v: more than has room begins at the top", heading.Text, h)
			}
		}
	}
}
