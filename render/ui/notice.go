package ui

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// Notice is a text among other widgets.
type Notice struct {
	Base
	Text  string
	lines []string
	at    float64
}

// Size has room for its lines.
func (n *Notice) Size(k *Kit) (w, h float64) {
	st := k.Style(theme.Small)
	w = 16 * st.Size
	if n.at != k.Text {
		n.at, n.lines = k.Text, lettering.Wrap(st, n.Text, w)
	}
	return math.Round(w), k.Tall()
}

// Draw sets the lines so that they end where the widgets beside them do.
func (n *Notice) Draw(k *Kit, l *display.List) {
	st := k.Style(theme.Small)
	st.Colour = k.Theme.Warning
	y := n.Area.Y + n.Area.H - 0.5*st.Size
	for i := len(n.lines) - 1; i >= 0; i-- {
		lettering.Draw(l, st, n.Area.X, y, lettering.Start, n.lines[i])
		y -= 1.2 * st.Size
	}
}
