package theme

// Paper is the look of what is printed: a white page that saves ink, and a patient's
// view with a wall nearly as light, on which the string is dark. Beads keep their
// colours: as they are shaded, their outlines have 3:1 against the wall.
var Paper = func() Theme {
	t := Light
	t.Ground, t.Panel, t.Field = hex(0xffffff), hex(0xffffff), hex(0xffffff)
	t.Raised = hex(0xf1efeb)
	t.Edge = hex(0x6b6f72)
	t.Wall, t.WallEdge, t.Floor = hex(0xfaf9f7), hex(0xf3f1ed), hex(0xeceae5)
	t.String, t.StringShade, t.Hook = hex(0x5b5140), hex(0x2f2920), hex(0x77736a)
	t.HookLit, t.HookShade = hex(0x8b877d), hex(0x3d3a34)
	return t
}()
