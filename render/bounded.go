package render

import (
	"math"

	"twincord/render/display"
	"twincord/render/lettering"
	"twincord/render/theme"
)

// The line under a picture that goes out: its type as a share of the picture's height,
// within what can be read and what is thin.
const (
	boundShare            = 1. / 45
	leastBound, mostBound = 10., 40. // pixels
)

// Bounded writes at the foot of a frame what a picture is and is not, in a line as thin
// as can be read, and gives what of the frame is left for the picture.
func Bounded(l *display.List, frame display.Rect, says string, t *theme.Theme) display.Rect {
	st := lettering.Style{Face: display.Regular, Size: min(max(boundShare*frame.H, leastBound), mostBound), Colour: t.Muted}
	if wide := lettering.Width(st, says); wide > 0.96*frame.W {
		st.Size *= 0.96 * frame.W / wide
	}
	height := math.Ceil(1.6 * st.Size)
	foot := display.Rect{X: frame.X, Y: frame.Y + frame.H - height, W: frame.W, H: height}
	l.Rect(foot)
	l.Fill(display.Paint{From: t.Ground})
	lettering.Draw(l, st, foot.X+foot.W/2, foot.Y+(height+lettering.CapHeight(st))/2, lettering.Middle, says)
	frame.H -= height
	return frame
}
