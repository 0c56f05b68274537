package sim_test

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// The stated accuracy of every number that a View holds.
const (
	placeTolerance   = 0.1           // mm
	angleTolerance   = 0.01 * arcmin // rad
	pictureTolerance = 1e-6          // tangents; relative beyond 45°
)

// A comparison collects where a View and the witness of the same set-up part.
type comparison struct {
	w     *witness
	v     *sim.View
	parts []string
}

// disagreements sets everything in a View against the second route.
func disagreements(s *sim.Setup) []string {
	var v sim.View
	v.Look(s)
	c := &comparison{w: newWitness(s), v: &v}
	c.target()
	c.eyes()
	c.crossing()
	for i := range s.Beads {
		c.bead(i)
	}
	c.strings()
	c.account()
	return c.parts
}

func (c *comparison) part(what string, want, got any) {
	c.parts = append(c.parts, fmt.Sprintf("%s: want %v, got %v", what, want, got))
}

func (c *comparison) number(what string, want, got, tolerance float64) {
	if !(math.Abs(want-got) <= tolerance) {
		c.part(what, want, got)
	}
}

func same[T comparable](c *comparison, what string, want, got T) {
	if want != got {
		c.part(what, want, got)
	}
}

// maybe compares a value that may not exist.
func (c *comparison) maybe(what string, want float64, wantOK bool, got float64, gotOK bool, tolerance float64) {
	if wantOK != gotOK {
		c.part(what+" exists", fmt.Sprint(wantOK, " ", want), fmt.Sprint(gotOK, " ", got))
	} else if wantOK {
		c.number(what, want, got, tolerance)
	}
}

func (c *comparison) vec(what string, want, got r3.Vec, tolerance float64) {
	c.number(what+".X", want.X, got.X, tolerance)
	c.number(what+".Y", want.Y, got.Y, tolerance)
	c.number(what+".Z", want.Z, got.Z, tolerance)
}

func (c *comparison) xy(what string, m image, got sim.Maybe[sim.XY]) {
	tolerance := pictureTolerance * (1 + m.x*m.x + m.y*m.y)
	c.maybe(what+".X", m.x, m.has, got.Value.X, got.OK, tolerance)
	c.maybe(what+".Y", m.y, m.has, got.Value.Y, got.OK, tolerance)
}

func (c *comparison) target() {
	w, got, s := c.w, c.v.Target, c.w.s
	c.number("target at", w.at, got.At, placeTolerance)
	c.vec("target point", w.target, got.Point, 1e-6)
	c.number("target from eyes", r3.Norm(w.target), got.FromEyes, 1e-6)
	d := math.Hypot(w.target.Y, w.target.Z)
	c.number("demand", 100*s.Patient.PD/d, float64(got.Demand), 1e-9)
	c.number("metre angles", 1000/d, got.MetreAngles, 1e-9)
	c.number("accommodation demand", w.targetDemand(), float64(got.Accommodation), 1e-9)
	angle := func(right, left r3.Vec) float64 {
		// Between the two lines of sight, seen from above the plane of regard.
		r, _ := aim(w.eyes[sim.RightEye].centre, right)
		l, _ := aim(w.eyes[sim.LeftEye].centre, left)
		return l - r
	}
	c.number("demand angle", angle(w.target, w.target), float64(got.DemandAngle), angleTolerance)
	c.number("required", angle(displaced(1, s.Right, w.target), displaced(-1, s.Left, w.target)), float64(got.Required), angleTolerance)
}

func (c *comparison) eyes() {
	for i := range sim.Eyes {
		e := c.w.eyes[i]
		name, got := [2]string{"right eye ", "left eye "}[i], c.v.Eyes[i]
		c.number(name+"azimuth", e.azimuth, float64(got.Azimuth), angleTolerance)
		c.number(name+"elevation", e.elevation, float64(got.Elevation), angleTolerance)
		c.number(name+"torsion", e.turn, float64(got.Torsion), angleTolerance)
		c.vec(name+"centre", e.centre, got.Centre, 1e-9)
		c.vec(name+"nodal", e.nodal, got.Nodal, 1e-9)
		c.vec(name+"axis", e.axis, got.Axis, 1e-9)
	}
	gap, point, meet := c.w.axes()
	c.maybe("axes gap", gap, meet, c.v.Axes.Gap.Value, c.v.Axes.Gap.OK, 1e-3)
	if same(c, "axes point exists", meet, c.v.Axes.Point.OK); meet {
		c.vec("axes point", point, c.v.Axes.Point.Value, placeTolerance*(1+r3.Norm(point)*r3.Norm(point)*1e-10))
	}
	c.number("axes vergence", c.w.eyes[sim.LeftEye].azimuth-c.w.eyes[sim.RightEye].azimuth, float64(c.v.Axes.Vergence), angleTolerance)
}

func (c *comparison) crossing() {
	w, got := c.w, c.v.Crossing
	exists := w.cross >= 0
	at := 0.
	if exists {
		at = w.samples[w.cross].place
	}
	c.maybe("crossing at", at, exists, got.At.Value, got.At.OK, placeTolerance)
	c.maybe("crossing offset", at-w.at, exists, got.Offset.Value, got.Offset.OK, placeTolerance)
	// Where the crossing is an end of the string, one of its sides is but a point.
	atEnd := at < 1e-3 || at > w.s.String.Length-1e-3
	if reach := w.crossingSeen(); (!exists || !atEnd) && (reach < 24*arcmin || reach > 36*arcmin) {
		same(c, "crossing seen", reach < 30*arcmin, got.Seen)
	}

	// Strands that stray from one line by less than this, but not by nothing,
	// meet wherever rounding has them meet.
	const nothing, enough = 1e-13, 1e-9
	if stray := w.bend(); stray >= nothing && stray < enough {
		return
	} else if stray < nothing {
		c.maybe("right at (one line)", at, exists, got.RightAt.Value, got.RightAt.OK, placeTolerance)
		c.maybe("left at (one line)", at, exists, got.LeftAt.Value, got.LeftAt.OK, placeTolerance)
		if same(c, "crossing picture exists (one line)", exists, got.Picture.OK); exists {
			m := w.samples[w.cross].eye
			c.number("crossing picture.X (one line)", m[0].x, got.Picture.Value.X, 1e-6)
			c.number("crossing picture.Y (one line)", m[0].y, got.Picture.Value.Y, 1e-6)
		}
		return
	}
	same(c, "crossing picture exists with both places", got.RightAt.OK && got.LeftAt.OK, got.Picture.OK)
	all := w.meetings()
	onString := func(place float64, eye sim.Eye) bool {
		return place >= 0 && place <= w.s.String.Length && w.project(eye, w.place(place), place).ahead
	}
	if w.straight() {
		if len(all) == 0 {
			return // a strand is a point: nothing more is said of the other
		}
		m := all[0]
		// A place is known as well as the strands are steep to each other.
		tolerance := placeTolerance + 1e-9*w.s.String.Length/m.steep
		for _, e := range []struct {
			name  string
			place float64
			eye   sim.Eye
			got   sim.Maybe[float64]
		}{{"right at", m.right, sim.RightEye, got.RightAt}, {"left at", m.left, sim.LeftEye, got.LeftAt}} {
			if math.Abs(e.place) < tolerance || math.Abs(e.place-w.s.String.Length) < tolerance {
				continue // at an end: on the string or just off it
			}
			c.maybe(e.name, e.place, onString(e.place, e.eye), e.got.Value, e.got.OK, tolerance)
		}
		if got.Picture.OK {
			c.number("crossing picture.X", m.x, got.Picture.Value.X, 1e-6*(1+m.x*m.x+m.y*m.y)+1e-12/m.steep)
			c.number("crossing picture.Y", m.y, got.Picture.Value.Y, 1e-6*(1+m.x*m.x+m.y*m.y)+1e-12/m.steep)
		}
		return
	}
	// At the very ends of the string rounding alone says whether they meet on it.
	const rounding = 1e-6
	var real []meeting
	sure := false
	for _, m := range all {
		lowest, highest := min(m.right, m.left), max(m.right, m.left)
		clamp := func(place float64) float64 { return max(0, min(w.s.String.Length, place)) }
		if lowest < -rounding || highest > w.s.String.Length+rounding ||
			!onString(clamp(m.right), sim.RightEye) || !onString(clamp(m.left), sim.LeftEye) {
			continue
		}
		real = append(real, m)
		sure = sure || lowest > rounding && highest < w.s.String.Length-rounding
	}
	if !sure && !got.Picture.OK {
		c.halfMeeting(real)
		return
	}
	// Of several meetings the one nearest to the target counts.
	far := func(right, left float64) float64 { return math.Abs(right-w.at) + math.Abs(left-w.at) }
	is := func(m meeting) bool {
		tolerance := placeTolerance + 1e-9*w.s.String.Length/m.steep
		return math.Abs(m.right-got.RightAt.Value) <= tolerance && math.Abs(m.left-got.LeftAt.Value) <= tolerance &&
			math.Abs(m.x-got.Picture.Value.X) <= 1e-6*(1+m.x*m.x+m.y*m.y)+1e-12/m.steep &&
			math.Abs(m.y-got.Picture.Value.Y) <= 1e-6*(1+m.x*m.x+m.y*m.y)+1e-12/m.steep
	}
	found, nearest := false, true
	for _, m := range real {
		found = found || got.Picture.OK && is(m)
		nearest = nearest && far(m.right, m.left) > far(got.RightAt.Value, got.LeftAt.Value)-1e-3-1e-9*w.s.String.Length/m.steep
	}
	if found && nearest {
		return
	}
	c.part("strands meet", real, fmt.Sprint(got.RightAt, got.LeftAt, got.Picture))
}

// halfMeeting compares a crossing of curved strands that is not on the string of
// both eyes. doubtful are the meetings at the very ends, on the string or not.
func (c *comparison) halfMeeting(doubtful []meeting) {
	w, got, length := c.w, c.v.Crossing, c.w.s.String.Length
	all := w.halves()
	const rounding = 1e-6
	sure := false
	for _, h := range all {
		place, other := got.RightAt, got.LeftAt
		if h.eye == sim.LeftEye {
			place, other = other, place
		}
		sure = sure || h.place > rounding && h.place < length-rounding && h.beyond > rounding && h.steep > 1e-6
		if place.OK && !other.OK && math.Abs(place.Value-h.place) <= placeTolerance+1e-9*length/h.steep {
			return
		}
	}
	for _, m := range doubtful {
		if got.RightAt.OK && math.Abs(m.right-got.RightAt.Value) <= placeTolerance ||
			got.LeftAt.OK && math.Abs(m.left-got.LeftAt.Value) <= placeTolerance {
			return
		}
	}
	for _, a := range all {
		for _, b := range all {
			if a.eye != b.eye && math.Abs(a.place-b.place) < placeTolerance && !got.RightAt.OK && !got.LeftAt.OK {
				return // either strand does it equally near: neither is the one
			}
		}
	}
	if sure || got.RightAt.OK || got.LeftAt.OK {
		c.part("one strand beyond its end", all, fmt.Sprint(got.RightAt, got.LeftAt))
	}
}

// seenness is how a thing is seen by eyes that see it, or not, as one or not.
func seenness(right, left, single bool) sim.Seen {
	switch {
	case right && left && single:
		return sim.SeenOne
	case right && left:
		return sim.SeenTwo
	case right:
		return sim.SeenRight
	case left:
		return sim.SeenLeft
	}
	return sim.SeenNone
}

// beadImages is what each eye has of a bead, the fixated one belonging to no
// zone along the string.
func (w *witness) beadImages(i int) (right, left image) {
	b := w.s.Beads[i]
	place := b.At
	if i == w.fixated {
		place = w.at
	}
	return w.project(sim.RightEye, w.place(b.At), place), w.project(sim.LeftEye, w.place(b.At), place)
}

func (c *comparison) bead(i int) {
	w, b, got := c.w, c.w.s.Beads[i], c.v.Beads[i]
	what := fmt.Sprintf("bead %d ", i+1)
	same(c, what+"name", b.Name, got.Name)
	c.number(what+"at", b.At, got.At, 0)
	middle := w.place(b.At)
	c.number(what+"from eyes", r3.Norm(middle), got.FromEyes, 1e-6)
	right, left := w.beadImages(i)
	c.xy(what+"right", right, got.Right)
	c.xy(what+"left", left, got.Left)
	c.number(what+"blur", max(w.blur(middle, sim.Right), w.blur(middle, sim.Left)), float64(got.Blur), angleTolerance)

	both := right.has && left.has
	h, v, eps, apart := 0., 0., 0., 0.
	switch {
	case both:
		h, v, eps, apart = pair(right, left)
	case right.has:
		eps = math.Atan(math.Hypot(right.x, right.y))
	case left.has:
		eps = math.Atan(math.Hypot(left.x, left.y))
	}
	limitH, limitV := w.limits(eps)
	if same(c, what+"disparity exists", both, got.Disparity.OK); both && got.Disparity.OK {
		d := got.Disparity.Value
		c.number(what+"disparity h", h, float64(d.H), angleTolerance)
		c.number(what+"disparity v", v, float64(d.V), angleTolerance)
		c.number(what+"limit h of the disparity", limitH, float64(d.LimitH), angleTolerance)
		c.number(what+"limit v of the disparity", limitV, float64(d.LimitV), angleTolerance)
		c.number(what+"separation", apart, float64(d.Separation), angleTolerance)
	}
	if same(c, what+"limits exist", right.has || left.has, got.Limits.OK); got.Limits.OK {
		c.number(what+"limit h", limitH, float64(got.Limits.Value[0]), angleTolerance)
		c.number(what+"limit v", limitV, float64(got.Limits.Value[1]), angleTolerance)
	}
	wide := func(m image) float64 { return 2 * math.Asin(min(1, b.Diameter/2/r3.Norm(m.q))) }
	c.maybe(what+"overlap", max(0, 1-apart/((wide(right)+wide(left))/2)), both, got.Overlap.Value, got.Overlap.OK, 1e-5)

	single := w.single(h, v, eps)
	want := seenness(right.sees(), left.sees(), single)
	same(c, what+"seen", want, got.Seen)
	same(c, what+"diplopia", diplopia(want, h, limitH), got.Diplopia)
}

func diplopia(seen sim.Seen, h, limitH float64) sim.Diplopia {
	switch {
	case seen != sim.SeenTwo:
		return sim.DiplopiaNone
	case math.Abs(h) <= limitH:
		return sim.DiplopiaVertical
	case h > 0:
		return sim.DiplopiaCrossed
	}
	return sim.DiplopiaUncrossed
}

func (c *comparison) strings() {
	w, got := c.w, c.v.Strings
	last := len(w.samples) - 1
	target := w.index(w.at)
	within := func(what string, want count, n int) {
		if n < want.low || n > want.high {
			c.part(what, want, n)
		}
	}
	near, far := w.count(0, target), w.count(target, last)
	within("near", near, got.Near)
	within("far", far, got.Far)
	if overlaid, certain := w.overlaid(0, target); certain {
		same(c, "near overlaid", overlaid, got.NearOverlaid)
	}
	if overlaid, certain := w.overlaid(target, last); certain {
		same(c, "far overlaid", overlaid, got.FarOverlaid)
	}

	// The letter, for every pair of numbers that plain samples leave open.
	allowed := map[sim.Pattern]bool{}
	meets := w.cross >= 0 && c.v.Crossing.Picture.OK
	if meets {
		near, far = w.count(0, w.cross), w.count(w.cross, last)
	}
	for n := near.low; n <= near.high; n++ {
		for f := far.low; f <= far.high; f++ {
			allowed[letter(n, f, meets)] = true
		}
	}
	if !allowed[got.Pattern] {
		c.part("pattern", allowed, got.Pattern)
	}

	// Where an interruption only just reaches the limits, either is right.
	from, to, ok := w.fused(0)
	for _, spare := range []float64{-angleTolerance, angleTolerance} {
		otherFrom, otherTo, _ := w.fused(spare)
		if math.Abs(got.FusedFrom.Value-otherFrom) <= placeTolerance {
			from = otherFrom
		}
		if math.Abs(got.FusedTo.Value-otherTo) <= placeTolerance {
			to = otherTo
		}
	}
	c.maybe("fused from", from, ok, got.FusedFrom.Value, got.FusedFrom.OK, placeTolerance)
	c.maybe("fused to", to, ok, got.FusedTo.Value, got.FusedTo.OK, placeTolerance)
	change, moved, ok := w.gradient()
	const still, moves = 1e-13, 1e-9 // rad: rounding decides in between
	if moved < still || moved > moves {
		ok = ok && moved > moves
		c.maybe("gradient", change/moved, ok, got.Gradient.Value, got.Gradient.OK, 1e-3*(1+change/moved))
	}
}

func letter(near, far int, meets bool) sim.Pattern {
	if !meets {
		switch max(near, far) {
		case 2:
			return sim.PatternTwo
		case 1:
			return sim.PatternOne
		}
		return sim.PatternNone
	}
	switch [2]int{near, far} {
	case [2]int{2, 2}:
		return sim.PatternX
	case [2]int{2, 0}:
		return sim.PatternA
	case [2]int{0, 2}:
		return sim.PatternV
	case [2]int{2, 1}, [2]int{1, 2}:
		return sim.PatternY
	case [2]int{0, 0}:
		return sim.PatternNone
	}
	return sim.PatternOne
}

// missed says how the strands miss the place of no disparity in the picture, if they
// do: the picture's own meeting is compared in crossing.
func (c *comparison) missed() sim.Meet {
	p, picture := &c.w.samples[c.w.cross], c.v.Crossing.Picture
	m := r3.Vec{X: (p.eye[0].x + p.eye[1].x) / 2, Y: 1, Z: (p.eye[0].y + p.eye[1].y) / 2}
	switch {
	case c.w.single(p.h, p.v, p.eps):
		return ""
	case !picture.OK:
		return sim.MeetPasses
	case angleBetween(m, r3.Vec{X: picture.Value.X, Y: 1, Z: picture.Value.Y}) > 30*arcmin:
		return sim.MeetAside
	}
	return ""
}

// gap is the eye whose string is left out at the place looked at but not beside it,
// while the other's runs through; sure where plain samples decide.
func (c *comparison) gap() (eye sim.Side, certain bool) {
	w := c.w
	right, left := w.project(sim.RightEye, w.target, w.at), w.project(sim.LeftEye, w.target, w.at)
	at := w.index(w.at)
	for e, m := range []image{right, left} {
		other := []image{left, right}[e]
		if !m.has || m.sees() || !other.sees() {
			continue
		}
		least := math.Inf(1)
		for _, part := range [][]sample{w.samples[:at], w.samples[at+1:]} {
			best, run := 0., 0.
			for i := 1; i < len(part); i++ {
				if run += angleBetween(part[i-1].eye[e].q, part[i].eye[e].q); !part[i-1].seen[e] || !part[i].seen[e] {
					run = 0
				}
				best = max(best, run)
			}
			least = min(least, best)
		}
		if least >= doubtful {
			return []sim.Side{sim.Right, sim.Left}[e], least >= sure
		}
	}
	return sim.Neither, true
}

// hidden compares the bead that the strings cross behind, by the ray from each eye to the
// crossing on its strand: a bead hides that where the ray passes through its ball on the way.
// At the rim of a ball rounding alone says.
func (c *comparison) hidden(meet sim.Meet) {
	w, at := c.w, c.v.Crossing.At.Value
	places := [2]float64{c.v.Crossing.RightAt.Or(at), c.v.Crossing.LeftAt.Or(at)}
	nearest, want := math.Inf(1), ""
	for i, b := range w.s.Beads {
		switch off := math.Abs(at - b.At); {
		case !meet.OnString(), off <= b.Diameter/2, off >= nearest, meet == sim.MeetAt && i == w.fixated:
			continue
		}
		for e := range sim.Eyes {
			ray, ball := w.eyes[e].own(w.place(places[e])), w.eyes[e].own(w.place(b.At))
			along := max(0, min(1, r3.Dot(ray, ball)/r3.Dot(ray, ray)))
			clear := r3.Norm(r3.Sub(r3.Scale(along, ray), ball)) - b.Diameter/2
			if math.Abs(clear) < placeTolerance {
				return
			}
			if clear < 0 && r3.Norm(ray) > r3.Norm(ball) {
				nearest, want = math.Abs(at-b.At), b.Name
			}
		}
	}
	same(c, "hidden by", want, c.v.Account.HiddenBy)
}

func (c *comparison) account() {
	w, got, s := c.w, c.v.Account, c.w.s
	name := func(bead int) string {
		if bead == sim.NoBead {
			return ""
		}
		return s.Beads[bead].Name
	}
	asked := name(w.fixated)
	if s.Look.Asked != sim.NoBead {
		asked = name(s.Look.Asked)
	}
	same(c, "asked", asked, got.Asked)
	same(c, "looked at", name(w.fixated), got.LookedAt)
	fixated := sim.Seen("")
	if w.fixated != sim.NoBead {
		right, left := w.beadImages(w.fixated)
		h, v, eps, _ := pair(right, left)
		fixated = seenness(right.sees(), left.sees(), w.single(h, v, eps))
	}
	same(c, "fixated", fixated, got.Fixated)
	same(c, "account near", c.v.Strings.Near, got.Near)
	same(c, "account far", c.v.Strings.Far, got.Far)
	same(c, "account pattern", c.v.Strings.Pattern, got.Pattern)

	meet := sim.MeetNowhere
	if w.cross >= 0 {
		offset := w.samples[w.cross].place - w.at
		reach := 10.
		if w.fixated != sim.NoBead {
			reach = s.Beads[w.fixated].Diameter / 2
		}
		switch {
		case !c.v.Crossing.Seen:
			meet = sim.MeetUnseen
		case c.missed() != "":
			meet = c.missed()
		case math.Abs(offset) <= reach:
			meet = sim.MeetAt
		case offset < 0:
			meet = sim.MeetNearer
		default:
			meet = sim.MeetBeyond
		}
	}
	same(c, "meet", meet, got.Meet)
	c.hidden(meet)

	right, left := w.project(sim.RightEye, w.target, w.at), w.project(sim.LeftEye, w.target, w.at)
	both := right.has && left.has
	h, v, eps, apart := 0., 0., 0., 0.
	if both {
		h, v, eps, apart = pair(right, left)
	}
	c.maybe("apart", apart, both, float64(got.Apart.Value), got.Apart.OK, angleTolerance)
	seen := seenness(right.sees(), left.sees(), w.single(h, v, eps))
	_, limitV := w.limits(eps)
	higher := sim.Neither
	if seen == sim.SeenTwo && math.Abs(v) > limitV {
		higher = sim.Left
		if v > 0 {
			higher = sim.Right
		}
	}
	same(c, "higher", higher, got.Higher)
	fuses := seen == sim.SeenOne
	if w.fixated != sim.NoBead { // the bead, at whichever place inside it one looks
		fuses = fixated == sim.SeenOne
	}
	same(c, "fuses", fuses, got.Fuses)

	if gap, certain := c.gap(); certain {
		same(c, "gap", gap, got.Gap)
	}
	missing, where, fainter := sim.Neither, sim.WhereNot, sim.Neither
	switch p := s.Suppression; {
	case !w.suppress || p.Eye == sim.Neither:
	case p.Depth > 0.8:
		missing = p.Eye
		where = map[sim.Zone]sim.Where{
			sim.ZoneAll: sim.WhereAll, sim.ZoneCentral: sim.WhereCentre,
			sim.ZoneNasal: sim.WhereNasal, sim.ZoneTemporal: sim.WhereTemporal,
			sim.ZoneNearer: sim.WhereNearer, sim.ZoneBeyond: sim.WhereBeyond,
		}[p.Zone]
	case p.Depth > 0.3:
		fainter = p.Eye
	}
	if s.Cover != sim.Neither {
		missing, where = s.Cover, sim.WhereAll
	}
	same(c, "fainter", fainter, got.Fainter)
	same(c, "fixes", w.fixing, got.Fixes)
	same(c, "took up", s.Posture.Fixing != sim.Both && w.fixing != s.Posture.Fixing, got.TookUp)
	clarity, uneven := w.clarity()
	same(c, "clarity", clarity, got.Clarity)
	same(c, "clarity uneven", uneven, got.Uneven)
	same(c, "needs care", w.needsCare(), got.NeedsCare)
	same(c, "missing", missing, got.Missing)
	same(c, "missing where", where, got.MissingWhere)

	_, _, axesMeet := w.axes()
	eyes := sim.AimOnTarget
	switch {
	case !axesMeet:
		eyes = sim.AimApart
	case s.Posture.Deviation > 0.25:
		eyes = sim.AimEso
	case s.Posture.Deviation < -0.25:
		eyes = sim.AimExo
	}
	same(c, "eyes", eyes, got.Eyes)
}
