package theme

// Paper is the look of what is printed: a white page that saves ink, and a patient's
// view with a wall as light, on which the string is dark. Beads keep their
// colours: as they are shaded, their outlines have 3:1 against the wall.
var Paper = func() Theme {
	t := Light
	t.Ground, t.Panel, t.Field = hex(0xffffff), hex(0xffffff), hex(0xffffff)
	t.Raised = hex(0xf1efeb)
	t.Edge = hex(0x6b6f72)
	// White round the string and with much ink on it, so that one bit a pixel will do.
	t.Wall, t.WallEdge, t.Floor = hex(0xffffff), hex(0xfdfcfb), hex(0xf3f1ed)
	t.String, t.StringShade, t.Hook = hex(0x3f3729), hex(0x1d1812), hex(0x77736a)
	t.HookLit, t.HookShade = hex(0x8b877d), hex(0x3d3a34)
	return t
}()
