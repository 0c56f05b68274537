package display

// Append adds what is in another list, where it stands there. Points, glyphs and
// outlines are shared with it: it must stay as it is while l is used.
func (l *List) Append(o *List) {
	from := [...]int{
		KindPath: len(l.Paths), KindRibbon: len(l.Ribbons), KindBall: len(l.Balls),
		KindText: len(l.Texts), KindClip: len(l.Clips), KindGroup: len(l.Groups), KindEnd: 0,
	}
	for _, op := range o.Ops {
		op.Index += from[op.Kind]
		l.Ops = append(l.Ops, op)
	}
	l.Paths = append(l.Paths, o.Paths...)
	l.Ribbons = append(l.Ribbons, o.Ribbons...)
	l.Balls = append(l.Balls, o.Balls...)
	l.Texts = append(l.Texts, o.Texts...)
	l.Clips = append(l.Clips, o.Clips...)
	l.Groups = append(l.Groups, o.Groups...)
}
