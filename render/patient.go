package render

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/render/display"
	"twincord/render/theme"
	"twincord/sim"
)

// The field of a picture, from its upper to its lower edge. A field of 0 is the
// automatic one: the least that holds every bead's images, the crossing and what the
// string is tied to, with a margin of a tenth, within the automatic bounds.
const (
	LeastField     = 10 // degrees, of those that can be chosen
	MostField      = 90
	leastAutoField = 14
	mostAutoField  = 55
	fieldMargin    = 1.1
)

// fixationHeight is how far below the upper edge the fixation direction lies, as a
// share of the picture's height: most of the string lies below it.
const fixationHeight = 0.4

// Drawing rules. They change no number.
const (
	double      = 0.78 // opacity of what one eye sees where the other sees something else
	partsFrom   = 0.8  // of Panum's limit, where a single thing's two images begin to part
	strandsPart = 0.45 // of it, where the string's do: the two strands then run into one without a step
	hiddenShare = 0.9  // of a bead's outline inside which the eye's own string is left out
	bore        = 0.16 // of a bead's radius
	twistLength = 12   // of one turn of the string, in thicknesses: long, as it is seen nearly end-on
	stepRatio   = 1.07 // between the distances of neighbouring cross-sections of a strand
	holeTaper   = 0.3  // of the string's width, which it loses on its way into a hole
	noseFade    = 40.  // of the string at the nose, over which it fades out, mm
)

// PatientOptions says how the patient's view is drawn.
type PatientOptions struct {
	Field sim.Degrees // from the upper to the lower edge; 0: AutoField
	// HeadCentred keeps straight ahead in place instead of the fixation direction,
	// so that the string stays put while the crossing moves.
	HeadCentred bool
	Marks       *Marks       // nil: no marks
	Theme       *theme.Theme // nil: theme.Dark
	Type        float64      // the least size of the words in it, pixels
	NoInset     bool         // leaves out the glass that shows a small crossing larger
	// Taken is what stands over the picture and is kept clear of. The first is the
	// heading's in a comparison.
	Taken [4]display.Rect
}

func (o *PatientOptions) theme() *theme.Theme {
	if o.Theme == nil {
		return &theme.Dark
	}
	return o.Theme
}

// Patient draws what the patient sees, both eyes together.
func Patient(l *display.List, frame display.Rect, v *sim.View, o PatientOptions) {
	p := newPatient(l, frame, v, o)
	p.draw(sim.RightEye, sim.LeftEye)
	if g, ok := p.inset(); ok {
		p.shown = g
		p.glass(g)
	}
	if o.Marks != nil {
		p.marks(o.Marks)
	}
	p.l.End()
}

// patient is one patient's view while it is drawn.
type patient struct {
	l     *display.List
	frame display.Rect
	v     *sim.View
	s     *sim.Setup
	o     PatientOptions

	alone   bool    // one eye's own image: nothing of the other, and nothing hides it
	merging float64 // how far the strands are drawn as one where they fuse, 0 – 1
	scale   float64
	origin  display.Point

	beads  [sim.MaxBeads]int // from far to near
	places [maxPlaces]float64
	count  int
	ground func() // draws what is behind everything
	kept   kept
	shown  inset
}

// newPatient opens the clip of the frame, which the caller closes.
func newPatient(l *display.List, frame display.Rect, v *sim.View, o PatientOptions) *patient {
	if o.Field == 0 {
		o.Field = AutoField(v, frame.W/frame.H, o.HeadCentred)
	}
	p := &patient{l: l, frame: frame, v: v, s: &v.Now, o: o}
	p.scale = frame.H / tangents(o.Field)
	p.origin = FixationAt(frame)
	l.Rect(frame)
	l.OpenClip()
	p.ground = p.wall
	p.order()
	p.walk()
	return p
}

// FixationAt is where in a frame the fixation direction is drawn, or straight ahead
// where the picture is head-centred.
func FixationAt(frame display.Rect) display.Point {
	return display.Point{X: frame.X + frame.W/2, Y: frame.Y + fixationHeight*frame.H}
}

// tangents is the height of a picture in units of the tangent plane: with a share
// h of it above the fixation direction and 1 − h below,
// atan(h·T) + atan((1 − h)·T) is the field.
func tangents(field sim.Degrees) float64 {
	t := math.Tan(float64(field.Angle()))
	const hh = fixationHeight * (1 - fixationHeight)
	if math.Abs(t) > 1e8 {
		return 1 / math.Sqrt(hh)
	}
	return (math.Sqrt(1+4*hh*t*t) - 1) / (2 * hh * t)
}

// FieldOf is the field of a picture t high in the tangent plane, whose unit is the
// distance from which it is looked at: the inverse of tangents.
func FieldOf(t float64) sim.Degrees {
	return sim.Angle(math.Atan(fixationHeight*t) + math.Atan((1-fixationHeight)*t)).Degrees()
}

// AutoField is the automatic field of a picture aspect times as wide as it is
// high.
func AutoField(v *sim.View, aspect float64, headCentred bool) sim.Degrees {
	var need float64
	hold := func(at sim.XY, radius float64) {
		if headCentred {
			var ok bool
			if at, ok = v.HeadCentred(at); !ok {
				return
			}
		}
		need = max(need, (at.Y+radius)/fixationHeight, (radius-at.Y)/(1-fixationHeight),
			2*(math.Abs(at.X)+radius)/aspect)
	}
	for i := range v.Beads {
		b := &v.Beads[i]
		radius := v.Now.Beads[i].Diameter / 2 / max(b.FromEyes, 1)
		for _, at := range []sim.Maybe[sim.XY]{b.Right, b.Left} {
			if at.OK {
				hold(at.Value, radius)
			}
		}
	}
	if v.Crossing.Picture.OK {
		hold(v.Crossing.Picture.Value, 0)
	}
	top := r3.Add(v.Now.Place(v.Now.String.Length), r3.Vec{Z: plateTop})
	for e := range sim.Eyes {
		if s := v.SightOf(e, top, v.Now.String.Length); s.Ahead && s.InField && s.Weight > 0 {
			hold(s.At, 0)
		}
	}
	return min(max(FieldOf(need*fieldMargin), leastAutoField), mostAutoField)
}

// order sorts the beads from far to near.
func (p *patient) order() {
	for i := range p.s.Beads {
		p.beads[i] = i
	}
	order := p.beads[:len(p.s.Beads)]
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(p.s.Beads[b].At, p.s.Beads[a].At) })
}

// maxPlaces holds the places of walk: a 6 m string takes 70, the marks on the way
// some more.
const maxPlaces = 256

// walk lists the places at which the strands get cross-sections, from far to near:
// evenly in the logarithm of the distance, and closer where the two images part.
func (p *patient) walk() {
	add := func(at float64) {
		if at > 0 && at < p.s.String.Length && p.count < maxPlaces {
			p.places[p.count] = at
			p.count++
		}
	}
	near := max(1, r3.Norm(p.s.String.NearEnd))
	for d := (near + p.s.String.Length) / stepRatio; d > near && p.count < maxPlaces/2; d /= stepRatio {
		add(d - near)
	}
	// Where suppression beyond or nearer begins.
	add(p.v.Target.At - 1e-3)
	add(p.v.Target.At + 1e-3)
	// Where it runs into a bead, over a few radii; most of all into the one looked at.
	for i := range p.s.Beads {
		bead := &p.s.Beads[i]
		step := 1.7
		if i == p.s.FixatedBead() {
			step = 1.25
		}
		for d := 1.1; d < 14; d *= step {
			add(bead.At - d*bead.Diameter/2)
		}
	}
	// Where it fades at the nose.
	for d := 0.1; d <= 1; d += 0.15 {
		add(d * noseFade)
	}
	c, st := &p.v.Crossing, &p.v.Strings
	if c.At.OK {
		add(c.At.Value)
		for _, end := range []sim.Maybe[float64]{st.FusedFrom, st.FusedTo} {
			if !end.OK {
				continue
			}
			for _, share := range [...]float64{0.2, 0.4, 0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 1, 1.05, 1.1, 1.25, 1.5, 2} {
				add(c.At.Value + (end.Value-c.At.Value)*share)
			}
			if p.lustre() {
				for n := range 2 * turns {
					add(c.At.Value + (end.Value-c.At.Value)*(float64(n)+0.5)/(2*turns))
				}
			}
		}
	}
	slices.SortFunc(p.places[:p.count], func(a, b float64) int { return cmp.Compare(b, a) })
}

// image is a point of the scene as drawn for one eye.
type image struct {
	at       sim.XY
	ok       bool    // to be drawn
	opacity  float64 // 0 – 1
	distance float64
	blur     float64 // diameter, radians
}

// images is a point of the scene as drawn for both eyes: each where its eye sees
// it, both in the mean direction where it is single, parting smoothly from
// partsFrom of Panum's limit to the limit. parted, from 0 to 1, says how far.
func (p *patient) images(point r3.Vec, place float64) (i [2]image, parted float64) {
	x := p.pair(point, place, parting)
	p.seeThrough(&x, x.parted)
	return x.image, x.parted
}

// pair is one point's two images.
type pair struct {
	image  [2]image
	weight [2]float64 // what each eye has of it, 0 – 1
	share  float64    // of Panum's limit, by which they differ; +Inf where not both eyes have it
	parted float64    // how far they are drawn apart, 0 – 1
}

// pair is a point as drawn for both eyes, apart as far as is said for a share of Panum's
// limit. Each image is as opaque as its eye has it.
func (p *patient) pair(point r3.Vec, place float64, apart func(share float64) float64) pair {
	var sight [2]sim.Sight
	x := pair{share: math.Inf(1), parted: 1}
	for e := range sim.Eyes {
		sight[e] = p.v.SightOf(e, point, place)
		i := &x.image[e]
		*i = image{at: sight[e].At, distance: sight[e].Distance, blur: float64(sight[e].Blur)}
		if sight[e].Ahead && sight[e].InField {
			x.weight[e], i.opacity = sight[e].Weight, sight[e].Weight
			if p.alone {
				i.opacity = max(i.opacity, leftOut)
			}
		}
		i.ok = i.opacity > 0.01
	}
	if r, l := &x.image[sim.RightEye], &x.image[sim.LeftEye]; !p.alone && min(x.weight[0], x.weight[1]) >= 0.5 {
		x.share = limitShare(p.v.Compare(sight[sim.RightEye], sight[sim.LeftEye]))
		x.parted = apart(x.share)
		r.at, l.at = part(r.at, l.at, x.parted)
	}
	return x
}

// seeThrough makes images that lie apart, 0 – 1, a little see-through, as far as the
// other eye has something else there.
func (p *patient) seeThrough(x *pair, apart float64) {
	if p.alone {
		return
	}
	for e := range sim.Eyes {
		i := &x.image[e]
		i.opacity *= 1 - (1-double)*apart*x.weight[e.Other()]
		i.ok = i.opacity > 0.01
	}
}

// limitShare is a disparity as a share of Panum's limit.
func limitShare(d sim.Disparity) float64 {
	of := func(disparity, limit sim.Angle) float64 {
		disparity = sim.Angle(math.Abs(float64(disparity)))
		if disparity == 0 {
			return 0
		}
		return float64(disparity / limit) // +Inf where nothing is allowed
	}
	return max(of(d.H, d.LimitH), of(d.V, d.LimitV))
}

// parting is how far the images of one thing are drawn apart, 0 – 1, at a share of
// Panum's limit: slowly at first, so that what is single looks it.
func parting(share float64) float64 {
	x := unit((share - partsFrom) / (1 - partsFrom))
	return smooth(x * x)
}

// strandsParting is parting for the two strands of the string: as one up to strandsPart,
// then along the cubic that leaves that one strand level and runs into each eye's own
// with its slope, so that they bend as gently as they can.
func strandsParting(share float64) float64 {
	if share >= 1 {
		return 1
	}
	x := unit((share - strandsPart) / (1 - strandsPart))
	if x == 0 {
		return 0
	}
	return x * x * (3 - 2*x - (1-strandsPart)*(1-x)) / share
}

// unit is x held to 0 – 1; 0 for what is no number.
func unit(x float64) float64 {
	if !(x > 0) {
		return 0
	}
	return min(x, 1)
}

// smooth goes from 0 to 1 as x does, level at both ends.
func smooth(x float64) float64 {
	x = unit(x)
	return x * x * (3 - 2*x)
}

// part moves two places toward their mean, but for a share of the way.
func part(a, b sim.XY, share float64) (sim.XY, sim.XY) {
	m := sim.XY{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
	to := func(at sim.XY) sim.XY {
		return sim.XY{X: m.X + (at.X-m.X)*share, Y: m.Y + (at.Y-m.Y)*share}
	}
	return to(a), to(b)
}

// page is a place of the picture on the page, and the stretch of the tangent plane
// there, across the direction to its centre.
func (p *patient) page(at sim.XY) (point display.Point, stretch float64, ok bool) {
	if p.o.HeadCentred {
		if at, ok = p.v.HeadCentred(at); !ok {
			return point, 0, false
		}
	}
	return display.Point{X: p.origin.X + p.scale*at.X, Y: p.origin.Y - p.scale*at.Y},
		math.Sqrt(1 + at.X*at.X + at.Y*at.Y), true
}

// draw draws the wall and, from far to near, what the eyes given see. With two
// eyes, each depth is a pair of an even group: the two eyes are mixed without
// preferring either, and swapping them mirrors the picture.
func (p *patient) draw(eyes ...sim.Eye) {
	both := len(eyes) == 2
	p.merging = p.merge()
	p.kept.begin()
	if both {
		p.l.OpenGroup(display.Group{Opacity: 1, Even: true, Bounds: p.frame})
	}
	p.ground()
	layer := func(paint func(eye sim.Eye)) {
		for _, e := range eyes {
			if both {
				p.l.OpenGroup(display.Group{Opacity: 1})
			}
			paint(e)
			if both {
				p.l.End()
			}
		}
	}
	length := p.s.String.Length
	layer(p.hook)
	far := strand{from: length, bead: sim.NoBead}
	for _, b := range p.beads[:len(p.s.Beads)] {
		bead := &p.s.Beads[b]
		far.to = bead.At + bead.Diameter/2
		p.strands(layer, far)
		layer(func(e sim.Eye) { p.bead(e, b) })
		far = strand{from: bead.At - bead.Diameter/2, bead: b}
	}
	p.strands(layer, far)
	if both {
		p.l.End()
	}
}

// wall draws the quiet ground: a wall with a soft pool of light round the
// fixation direction, and a floor a little lighter.
func (p *patient) wall() {
	t := p.o.theme()
	p.l.OpenGroup(display.Group{Opacity: 1})
	p.l.Rect(p.frame)
	p.l.Fill(display.Paint{
		Kind: display.Radial, From: t.Wall, To: t.WallEdge, Dither: true,
		A: p.origin, B: display.Point{X: 0.62 * p.frame.W, Y: 0.85 * p.frame.H},
	})
	from := math.Floor(p.frame.Y + 0.7*p.frame.H)
	p.l.Rect(display.Rect{X: p.frame.X, Y: from, W: p.frame.W, H: p.frame.Y + p.frame.H - from})
	p.l.Fill(display.Paint{
		Kind: display.Linear, From: t.Floor.Faded(0), To: t.Floor, Dither: true,
		A: display.Point{X: p.frame.X, Y: from}, B: display.Point{X: p.frame.X, Y: p.frame.Y + p.frame.H},
	})
	p.l.End()
}
