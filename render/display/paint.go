package display

import "iter"

// Painter is told the shapes of a list in the order in which they are painted. A kind
// of shape is a method here, so that every painter has each of them.
type Painter interface {
	Path(*Path)
	Ribbon(*Ribbon)
	Ball(*Ball)
	Text(*Text)
	// Clip and Group are told what is inside them, which they Paint when they are ready.
	Clip(c *Clip, inside Span)
	Group(g *Group, inside Span)
	// Even is told of an Even group its ground and the pairs over it.
	Even(g *Group, ground, pairs Span)
}

// Span is a run of whole shapes of a list: the ops From and on, up to but not
// including To.
type Span struct{ From, To int }

// Empty says whether there is nothing in it.
func (s Span) Empty() bool { return s.From >= s.To }

// All is everything in the list.
func (l *List) All() Span { return Span{0, len(l.Ops)} }

// Paint tells a painter the shapes of a span.
func (l *List) Paint(s Span, p Painter) {
	for i := s.From; i < s.To; {
		next := l.next(i)
		switch op := l.Ops[i]; op.Kind {
		case KindPath:
			p.Path(&l.Paths[op.Index])
		case KindRibbon:
			p.Ribbon(&l.Ribbons[op.Index])
		case KindBall:
			p.Ball(&l.Balls[op.Index])
		case KindText:
			p.Text(&l.Texts[op.Index])
		case KindClip:
			p.Clip(&l.Clips[op.Index], l.inside(i, next))
		case KindGroup:
			g, inside := &l.Groups[op.Index], l.inside(i, next)
			if g.Even {
				ground, pairs := l.first(inside)
				p.Even(g, ground, pairs)
			} else {
				p.Group(g, inside)
			}
		}
		i = next
	}
}

// Pairs goes through a span two shapes at a time. A last one without a partner has an
// empty second.
func (l *List) Pairs(s Span) iter.Seq2[Span, Span] {
	return func(yield func(first, second Span) bool) {
		for !s.Empty() {
			var first, second Span
			first, s = l.first(s)
			second, s = l.first(s)
			if !yield(first, second) {
				return
			}
		}
	}
}

// first parts a span into its first shape and the rest.
func (l *List) first(s Span) (first, rest Span) {
	if s.Empty() {
		return s, s
	}
	next := min(l.next(s.From), s.To)
	return Span{s.From, next}, Span{next, s.To}
}

// next is the index of the op that follows the whole of the shape at op i: for a clip
// or a group, the one after its End.
func (l *List) next(i int) int {
	depth := 0
	for ; i < len(l.Ops); i++ {
		switch l.Ops[i].Kind {
		case KindClip, KindGroup:
			depth++
		case KindEnd:
			depth--
		}
		if depth <= 0 {
			return i + 1
		}
	}
	return i
}

// inside is what is in the clip or group at op i, which ends before next: up to its
// End, if it has one.
func (l *List) inside(i, next int) Span {
	if next-1 > i && l.Ops[next-1].Kind == KindEnd {
		next--
	}
	return Span{i + 1, next}
}
