package theme

import "twincord/render/display"

// Face holds the colours of a face as an observer sees it: skin where it is lit and
// in its hollows, hair, the eye, and what covers it. The skin is neither light nor
// dark for its own sake but as the look around it: nobody's, and anybody's. Ink is
// text on the skin.
type Face struct {
	Skin, Lit, Bright, Shade, Hair    display.Colour
	White, WhiteShade, Corner         display.Colour
	Iris, IrisLit, IrisShade, IrisRim display.Colour
	Pupil, Reflex                     display.Colour
	Paddle, PaddleLit, PaddleEdge     display.Colour
	Ink                               display.Colour
}

// Face gives the colours of a face: the same in every look, as the patient is.
func (t *Theme) Face() Face {
	white, black := hex(0xffffff), hex(0x000000)
	f := Face{
		Skin: hex(0x5f5349), Lit: hex(0x6c5f54), Bright: hex(0x74675b), Shade: hex(0x352d28), Hair: hex(0x1f1a17),
		White: Dark.EyeWhite, WhiteShade: hex(0xa39c95), Ink: Dark.Ink,
	}
	f.Corner = mix(f.White, hex(0xb0685c), 0.55)
	f.Iris, f.Pupil, f.Reflex = t.Iris, t.Pupil, white
	f.IrisLit = mix(t.Iris, white, 0.35)
	f.IrisShade = mix(t.Iris, black, 0.35)
	f.IrisRim = mix(t.Iris, black, 0.6)
	f.Paddle = mix(Dark.Panel, Dark.Edge, 0.35)
	f.PaddleLit = mix(Dark.Panel, Dark.Edge, 0.6)
	f.PaddleEdge = mix(Dark.Edge, Dark.Ink, 0.5)
	return f
}
