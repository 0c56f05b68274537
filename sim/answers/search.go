package answers

import (
	"cmp"
	"math"
	"slices"

	"twincord/sim"
)

// Search knows what the set-ups of every family of a scene would say. It is made step
// by step, so that a window can go on answering meanwhile; it is for one goroutine.
type Search struct {
	families []family
	traces   [][]trace // of each family, its rows one after the other, each at all scales
	done     int       // families that are traced
	row      tracing   // of the family that is being traced

	view sim.View
	now  sim.Setup
}

// trace is what the members of a row say at one scale of Panum's limits.
type trace []heard

// heard is one member and what it says.
type heard struct {
	x float64
	Told
}

// New is a search through the families of a scene, of which nothing is looked at yet.
// The scene must be valid.
func New(scene *sim.Setup) *Search {
	x := &Search{families: families(scene)}
	x.traces = make([][]trace, len(x.families))
	return x
}

// stepLooks is after how many looks a step ends, about 2 ms of work.
const stepLooks = 16

// Step looks on along a row of a family at all scales, about 2 ms of work, and says
// whether there is more to look at.
func (x *Search) Step() (more bool) {
	if x.done == len(x.families) {
		return false
	}
	f, traces := &x.families[x.done], &x.traces[x.done]
	t := &x.row
	if t.f == nil {
		*t = tracing{f: f, r: &f.rows[len(*traces)/len(Scales)]}
	}
	for t.looks = 0; t.looks < stepLooks; {
		if x.trace(t) {
			continue
		}
		for i := range t.all {
			*traces = append(*traces, slices.Clip(t.all[i]))
		}
		t.f = nil
		break
	}
	if len(*traces) == len(f.rows)*len(Scales) {
		x.done++
	}
	return x.done < len(x.families)
}

// Progress is how much of the search is done, from 0 to 1.
func (x *Search) Progress() float64 {
	rows, done := 0, 0
	for i := range x.families {
		rows += len(x.families[i].rows) * len(Scales)
		done += len(x.traces[i])
	}
	return float64(done) / float64(rows)
}

// Run makes the whole search.
func (x *Search) Run() *Search {
	for x.Step() {
	}
	return x
}

// hear looks at a member of a family.
func (x *Search) hear(f *family, at, y, scale float64) heard {
	f.member(&x.now, at, y, scale)
	x.view.Look(&x.now)
	return heard{at, Tell(&x.view)}
}

// chorus is one member at the scales of Panum's limits, and what it says at each.
type chorus [len(Scales)]heard

// hearAll looks at a member of a family at those scales that are open.
func (x *Search) hearAll(f *family, at, y float64, open [len(Scales)]bool) (c chorus) {
	looked := false
	for i, scale := range Scales {
		switch {
		case !open[i]:
			continue
		case !looked:
			f.member(&x.now, at, y, scale)
			x.view.Look(&x.now)
			looked = true
		default:
			limits := f.base.Patient.WithPanum(scale)
			x.view.Fuse(&limits)
		}
		c[i] = heard{at, Tell(&x.view)}
	}
	return c
}

// tracing is a row of a family of which as many members of its grid were heard, at each
// scale.
type tracing struct {
	f     *family
	r     *row
	all   [len(Scales)]trace
	heard int
	last  chorus
	looks int // in this step
}

// trace hears the next member of a row's grid, and at each scale between it and the last
// one, where they say different things, more of them, until what they say changes within
// as little as ends are found to. It says whether there are more of the grid.
func (x *Search) trace(t *tracing) (more bool) {
	var every [len(Scales)]bool
	for i := range every {
		every[i] = true
	}
	at := t.r.grid[t.heard]
	c := x.hearAll(t.f, at, t.r.y, every)
	t.looks++
	if t.heard > 0 {
		x.between(t, t.r.grid[t.heard-1], at, &t.last, &c, every)
	}
	t.add(&c, every)
	t.last = c
	t.heard++
	return t.heard < len(t.r.grid)
}

// between hears members between two, at those of the open scales at which they say
// different things.
func (x *Search) between(t *tracing, from, to float64, a, b *chorus, open [len(Scales)]bool) {
	for i := range open {
		open[i] = open[i] && !a[i].same(&b[i].Told)
	}
	if t.f.resolved(from, to) || !slices.Contains(open[:], true) {
		return
	}
	middle := (from + to) / 2
	m := x.hearAll(t.f, middle, t.r.y, open)
	t.looks++
	x.between(t, from, middle, a, &m, open)
	t.add(&m, open)
	x.between(t, middle, to, &m, b, open)
}

func (t *tracing) add(c *chorus, open [len(Scales)]bool) {
	for i := range t.all {
		if open[i] {
			t.all[i] = append(t.all[i], c[i])
		}
	}
}

// rims gives the members of a row at which the place where the strings cross comes
// within the place that was said, and leaves it: pairs, each within as little as ends
// are found to, and for a stretch that lies between two neighbours of the trace one in
// it. Where the strings cross does not depend on Panum's limits.
func (x *Search) rims(f *family, y float64, t trace, p Place) []heard {
	if f.discrete {
		return nil
	}
	var all []heard
	off := func(h *heard) float64 { return h.Place.Value - p.At }
	within := func(h *heard) bool { return h.Place.OK && math.Abs(off(h)) <= p.Within }
	rim := func(in, out heard) {
		for !f.resolved(in.x, out.x) {
			m := x.hear(f, (in.x+out.x)/2, y, Scales[0])
			if within(&m) {
				in = m
			} else {
				out = m
			}
		}
		all = append(all, in, out)
	}
	for i := 1; i < len(t); i++ {
		a, b := t[i-1], t[i]
		switch {
		case within(&a) && !within(&b):
			rim(a, b)
		case !within(&a) && within(&b):
			rim(b, a)
		case !within(&a) && a.Place.OK && b.Place.OK && off(&a)*off(&b) < 0:
			// It passes through between the two.
			c, d := a, b
			for !within(&c) && !f.resolvedFinely(c.x, d.x) {
				m := x.hear(f, (c.x+d.x)/2, y, Scales[0])
				switch {
				case !m.Place.OK:
					d = m
				case within(&m), off(&m)*off(&a) > 0:
					c = m
				default:
					d = m
				}
			}
			if within(&c) {
				all = append(all, c)
				rim(c, a)
				rim(c, b)
			}
		}
	}
	return all
}

// resolvedFinely is resolved with a hundredth of what ends are found to, for stretches
// narrower than that.
func (f *family) resolvedFinely(a, b float64) bool { return math.Abs(b-a) <= f.fine/100 }

// merged is a trace with more members of its row put in: they say there what their
// neighbours say, but of the place where the strings cross what they say themselves.
func (t trace) merged(more []heard) trace {
	if len(more) == 0 {
		return t
	}
	all := slices.Clone(t)
	for _, h := range more {
		i, found := slices.BinarySearchFunc(t, h.x, func(a heard, x float64) int { return cmp.Compare(a.x, x) })
		if found {
			continue
		}
		// Of two neighbours that say different things either may be meant: they are as
		// near to each other as ends are found to.
		h.Code, h.Also = t[max(i-1, 0)].Code, t[max(i-1, 0)].Also
		all = append(all, h)
	}
	slices.SortFunc(all, func(a, b heard) int { return cmp.Compare(a.x, b.x) })
	return all
}
