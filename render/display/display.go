// Package display is the display list: what a picture is made of before anyone
// paints it. A picture, a widget and a page all become a List; a painter turns a
// List into pixels, SVG or PDF and decides nothing.
//
// A list is resolved: places are pixels of the stated page, x to the right and y
// down, origin at the page's upper left corner; colours are sRGB, mixed in sRGB;
// text is glyphs with positions. A List that is Reset keeps its storage, so that
// building the same picture again allocates nothing.
package display

// Point is a place on the page, or a step from one place to another, in pixels.
type Point struct{ X, Y float64 }

// Colour is a colour in sRGB with straight (not premultiplied) opacity, each
// 0 – 1.
type Colour struct{ R, G, B, A float64 }

// Faded is the colour with its opacity multiplied by a.
func (c Colour) Faded(a float64) Colour { c.A *= a; return c }

// Kind tells the shapes apart.
type Kind uint8

// The shapes. The last three are bracketed: everything up to the matching
// KindEnd is inside.
const (
	KindPath   Kind = iota // a filled area or an even stroke
	KindRibbon             // a band of varying width, softness and opacity
	KindBall               // a lit sphere, as seen
	KindText               // a run of glyphs
	KindClip               // its contents show inside a path only
	KindGroup              // its contents share one opacity
	KindEnd                // closes the innermost clip or group
)

// Op is one entry of a list: a shape, as an index into the list's slice of that
// kind. Index is unused for KindEnd.
type Op struct {
	Kind  Kind
	Index int
}

// Verb says what the next points of an outline do.
type Verb uint8

// The verbs, with how many points each takes.
const (
	MoveTo  Verb = iota // 1
	LineTo              // 1
	QuadTo              // 2: control, end
	CubicTo             // 3: control, control, end
	Close               // 0
)

// Outline is a sequence of verbs and their points. Open contours are closed when
// they are filled; fills use the non-zero rule unless EvenOdd is set.
type Outline struct {
	Verbs   []Verb
	Points  []Point
	EvenOdd bool
}

// Paint is what fills an area: one colour, or a gradient from From to To.
type Paint struct {
	Kind     PaintKind
	From, To Colour // Solid uses From alone
	// Linear: the colour is From at A and To at B, even across.
	// Radial: From at A, To on the ellipse round A with half-axes B.X and B.Y.
	// Beyond the ends the end colours go on.
	A, B Point
	// Dither adds the list's fixed pattern of at most half a step of 1/255, so
	// that a slow gradient shows no bands. Painters that cannot may leave it out.
	Dither bool
}

// PaintKind is the kind of a Paint.
type PaintKind uint8

// The kinds of paint.
const (
	Solid PaintKind = iota
	Linear
	Radial
)

// Path is an area, or, when Stroke is above 0, a stroke of that even width
// with round caps and joins along the outline. Dash, if above 0, breaks a stroke into
// dashes of that length with gaps of the same length.
type Path struct {
	Outline Outline
	Paint   Paint
	Stroke  float64
	Dash    float64
}

// RibbonPoint is one cross-section of a ribbon.
//
// Coverage across it, at distance d from the centre line: a box of half-width
// Half spread by a box of half-width Soft. With h = Half and b = Soft it is
// min(1, h/b) for d ≤ |h − b|, 0 for d ≥ h + b, a straight ramp between; ink is
// conserved.
type RibbonPoint struct {
	At      Point
	Half    float64 // half-width, pixels
	Soft    float64 // half-width of the blur, pixels
	Opacity float64 // 0 – 1
	Twist   float64 // phase of the twist along the ribbon, in turns, growing
}

// Ribbon is a band along centre points, drawn as one thing: where it overlaps
// itself it is no darker. Values run linearly between points. Colour is the
// lit middle, Shade the colour in the hollows of the twist and at the edges;
// TwistDepth 0 – 1 says how strongly the twist shows (0: a smooth band).
type Ribbon struct {
	Points     []RibbonPoint
	Colour     Colour
	Shade      Colour
	TwistDepth float64
}

// Surface is the pattern on a ball.
type Surface uint8

// The surfaces.
const (
	Plain Surface = iota
	Banded
	Dotted
	Ringed
)

// Ball is a sphere as projected: an ellipse, lit from the upper left, with a
// pattern and the mouth of the hole through it.
type Ball struct {
	Centre  Point
	RadiusX float64 // half-axis along Angle, pixels
	RadiusY float64 // half-axis across it
	Angle   float64 // of RadiusX's axis from +x towards +y, radians
	Soft    float64 // half-width of the blur at the edge, pixels
	Opacity float64
	Colour  Colour
	Surface Surface
	// Hole is where the near mouth of the hole appears, as a step from Centre in
	// units of the ball's radius (length at most 1), and Bore its radius in the
	// same units; Bore 0: no hole is drawn. The pattern is laid out about the axis
	// of the hole: unit vector Axis, x right, y down, z towards the viewer.
	Hole Point
	Bore float64
	Axis [3]float64
	// Light is the unit vector towards the light, in the frame of Axis.
	Light [3]float64
	// Tint is what white is here, in the gleam and in pale dots: left out, white
	// itself; behind a filter, the filter's colour.
	Tint Colour
}

// White is the ball's white.
func (b *Ball) White() Colour {
	if b.Tint == (Colour{}) {
		return Colour{R: 1, G: 1, B: 1, A: 1}
	}
	return b.Tint
}

// Glyph is one glyph of a text: its number in the font, and the place of its
// origin on the baseline.
type Glyph struct {
	ID uint32
	At Point
}

// Face is a font face that every painter knows.
type Face uint8

// The faces.
const (
	Regular Face = iota
	Bold
)

// Text is a run of glyphs of one face and size, with the string that it spells.
type Text struct {
	Glyphs []Glyph
	String string
	Face   Face
	Size   float64 // pixels per em
	Colour Colour
}

// Clip shows its contents inside Outline only, with an antialiased edge.
type Clip struct {
	Outline Outline
}

// Group paints its contents as one thing, at Opacity.
//
// An Even group mixes what two eyes see without preferring either. Its contents
// are, at the top level, a ground that is opaque everywhere in the group's
// Bounds and then shapes in pairs (a Group, a Clip or a plain shape counts as
// one). The group is painted twice, each pair once in order and once the other
// way round, and the result is the mean of the two. Where nothing of a pair overlaps the
// two are the same. Opacity of an Even group is 1.
type Group struct {
	Opacity float64
	Even    bool
	Bounds  Rect   // of an Even group
	Label   string // what the group shows, for painters that can say it
}

// Rect is a rectangle of the page.
type Rect struct{ X, Y, W, H float64 }

// Around is the square with a point in its middle, half as wide as given.
func Around(p Point, half float64) Rect {
	return Rect{X: p.X - half, Y: p.Y - half, W: 2 * half, H: 2 * half}
}

// List is a page: its size and its shapes in the order in which they are
// painted, over Ground.
type List struct {
	W, H    float64 // pixels
	Ground  Colour
	Title   string // what the page shows, for painters that can say it
	Ops     []Op
	Paths   []Path
	Ribbons []Ribbon
	Balls   []Ball
	Texts   []Text
	Clips   []Clip
	Groups  []Group

	// What the shapes' points, glyphs and outlines stand in, and where the outline
	// under the pen begins.
	verbs               []Verb
	points              []Point
	ribs                []RibbonPoint
	glyphs              []Glyph
	penVerbs, penPoints int
}
