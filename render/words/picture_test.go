package words

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
)

// everyDraw calls f for hundreds of set-ups from the whole range of a scene file, each as
// it is seen and with its caption.
func everyDraw(t *testing.T, f func(seed uint64, v *sim.View, said []sentence)) {
	t.Helper()
	for seed := uint64(0); seed < 10_000/share; seed += 3 { // each law has enough of them
		s := draw(seed)
		if s.Validate() != nil {
			continue
		}
		v := lookSometime(&s, seed)
		f(seed, v, caption(v, v.Jump()))
	}
}

// tells says whether a caption has one of the sentences.
func tells(said []sentence, ids ...string) bool {
	return slices.ContainsFunc(said, func(s sentence) bool { return slices.Contains(ids, s.id) })
}

// full says whether a caption has room for nothing but what it has: five sentences, none
// of which it could do without before the reason.
func full(said []sentence) bool {
	return len(said) >= room && !slices.ContainsFunc(said, func(s sentence) bool { return s.spare > reason })
}

// Two pictures that are tilted against each other look it, whatever else the eyes do, and
// that is said; a tilt that nobody sees is not.
func TestATiltIsTold(t *testing.T) {
	met := map[bool]int{}
	everyDraw(t, func(seed uint64, v *sim.View, said []sentence) {
		a, tilt := &v.Account, math.Abs(float64(v.Now.Posture.Cyclo))
		met[tilt >= 1]++
		switch is := tells(said, "why-tilted", "why-tilted-too"); {
		case tilt >= 1 && a.MissingWhere != sim.WhereAll && !full(said):
			require.True(t, is, "seed %d: %v° of torsion: %+v", seed, tilt, said)
		case tilt == 0 || a.MissingWhere == sim.WhereAll:
			require.False(t, is, "seed %d: %v", seed, said)
		}
	})
	assert.Positive(t, met[true])
	assert.Positive(t, met[false])
}

// One string is said to lie above the other only where both are drawn over a part of the
// picture's width, one higher than the other: side by side they only do not cross.
func TestOneAboveTheOtherIsDrawnSo(t *testing.T) {
	met := map[bool]int{}
	everyDraw(t, func(seed uint64, v *sim.View, said []sentence) {
		if v.Account.Meet != sim.MeetPasses {
			return
		}
		above := slices.ContainsFunc(said, func(s sentence) bool { return strings.Contains(s.id, "-passes-") })
		var from, to [2]float64
		for e := range sim.Eyes {
			from[e], to[e] = math.Inf(1), math.Inf(-1)
			for i := range 2000 {
				u := float64(i) / 1999
				at := 60 * u / (1 - u + 60/v.Now.String.Length)
				if p := v.Sight(e, at); p.InField && p.Weight >= 0.2 {
					x := math.Atan(p.At.X) * 180 * 60 / math.Pi
					from[e], to[e] = min(from[e], x), max(to[e], x)
				}
			}
		}
		over := min(to[0], to[1]) - max(from[0], from[1])
		met[above]++
		if above {
			require.Greater(t, over, 29., "seed %d: %v", seed, said)
		}
	})
	assert.Positive(t, met[true])
	assert.Positive(t, met[false])
}

// Of two strings none is said to run to a bead that only one eye sees: the other eye's
// string goes by at a distance, or ends before it. Through two beads there runs a string
// each, and none past them.
func TestNoStringRunsToABeadThatItsEyeLeavesOut(t *testing.T) {
	w := english(t)
	met := map[string]int{}
	everyDraw(t, func(seed uint64, v *sim.View, _ []sentence) {
		a, text := &v.Account, w.Seen(v)
		require.NotContains(t, text, "run past it", "seed %d", seed)
		require.NotContains(t, text, "run past them", "seed %d", seed)
		require.NotRegexp(t, `One string runs to them.* two go on behind`, text, "seed %d: one of them has no string in front", seed)
		if (a.Fixated == sim.SeenRight || a.Fixated == sim.SeenLeft) && a.Meet != sim.MeetAt {
			require.NotContains(t, text, "Two strings run to it", "seed %d: %+v", seed, *a)
		}
		if a.Near == 2 && a.Far == 2 {
			met[string(a.Fixated)]++
		}
	})
	assert.Positive(t, met[string(sim.SeenTwo)])
	assert.Positive(t, met[string(sim.SeenOne)])
	assert.Positive(t, met[string(sim.SeenLeft)])
}

// angleApart is the angle between the directions of two places of the picture.
func angleApart(a, b sim.XY) float64 {
	p, q := r3.Vec{X: a.X, Y: 1, Z: a.Y}, r3.Vec{X: b.X, Y: 1, Z: b.Y}
	return math.Atan2(r3.Norm(r3.Cross(p, q)), r3.Dot(p, q))
}

// Where the strings cross inside another bead than the one looked at, that is the first
// thing that strikes the eye, and it is said of that bead and of no other.
func TestACrossingInAnotherBeadIsTold(t *testing.T) {
	met := 0
	check := func(v *sim.View, said []sentence, what any) {
		a, c := &v.Account, &v.Crossing
		told := ""
		for _, s := range said {
			if s.id == "inside" {
				told = s.with["Bead"]
			}
		}
		crosses := slices.ContainsFunc(said, func(s sentence) bool {
			return strings.HasPrefix(s.id, "strings-"+string(a.Meet)) || strings.HasPrefix(s.id, "bare-"+string(a.Meet))
		})
		if told != "" {
			met++
		}
		for _, b := range v.Now.Beads {
			if !crosses || !a.Meet.OnString() || a.Meet == sim.MeetAt || b.Name == a.LookedAt || a.HiddenBy != "" || !c.Picture.OK {
				require.NotEqual(t, b.Name, told, "%v", what)
				continue
			}
			within := true // on the string, of either eye
			for _, at := range []sim.Maybe[float64]{c.At, c.RightAt, c.LeftAt} {
				within = within && math.Abs(at.Value-b.At) <= b.Diameter/2
			}
			if told != "" || !full(said) {
				require.Equal(t, within, told == b.Name, "%v: %v: %+v", what, b.Name, *a)
			}
			for e := range sim.Eyes { // in the picture: inside the ball as either eye has it
				ball := v.SightOf(e, v.Now.Place(b.At), b.At)
				if within {
					require.LessOrEqual(t, angleApart(c.Picture.Value, ball.At), math.Asin(min(1, b.Diameter/2/ball.Distance))+1e-9, "%v: %v", what, b.Name)
				}
			}
		}
	}
	everyDraw(t, func(seed uint64, v *sim.View, said []sentence) { check(v, said, seed) })
	for e := -6.; e < 12; e += 0.05 {
		v := lookedAt(0, func(s *sim.Setup) { s.Posture.Deviation = sim.Prism(e) })
		check(v, caption(v, sim.JumpNone), e)
	}
	assert.Greater(t, met, 5)

	w := english(t)
	v := lookedAt(0, func(s *sim.Setup) { s.Posture = sim.Posture{Deviation: -5.1} })
	assert.Contains(t, w.Seen(v), "They cross inside the bead “soot”.")
	assert.Contains(t, w.Clinician(v), "The crossing lies in the bead “soot”.")
}

// Another bead is said to be double only where it is drawn as two: one with a doubled edge
// looks like one. And where one is, nobody is told that none of them is double.
func TestADoubledEdgeIsNoDoubleBead(t *testing.T) {
	met := map[string]int{}
	everyDraw(t, func(seed uint64, v *sim.View, said []sentence) {
		clear, edged, beads := 0, 0, 0
		for _, b := range v.Beads {
			switch {
			case b.Name == v.Account.LookedAt:
				continue
			case b.Seen == sim.SeenTwo && b.Overlap.Value > 0.75:
				edged++
			case b.Seen == sim.SeenTwo:
				clear++
			}
			beads++
		}
		for _, s := range said {
			of, how, ok := strings.Cut(s.id, "-")
			if !ok || of != "others" && of != "beads" {
				continue
			}
			met[how]++
			is := map[string]bool{"all": clear == beads, "too": clear == beads, "some": clear > 0 && clear < beads, "but": clear == beads-1,
				"none": clear+edged == 0, "edge": clear == 0 && edged > 0}[how]
			require.True(t, is, "seed %d: %s of %d, %d double and %d at the edge", seed, s.id, beads, clear, edged)
		}
	})
	for _, how := range []string{"all", "too", "some", "but", "none"} {
		assert.Positive(t, met[how], how)
	}
	w := english(t)
	big := lookedAt(0, func(s *sim.Setup) {
		s.Beads, s.Posture.Deviation = s.Beads[:2], 3
		s.Beads[0].At, s.Beads[0].Diameter = 380, 50
	})
	assert.Contains(t, w.Seen(big), "The other bead looks like one with a doubled edge.")
}

// Where a part of one eye's picture is left out or fainter that holds no string, nothing is
// missing in the picture, and that is said: else one would look for it.
func TestWhatIsLeftOutWhereNothingLiesIsToldSo(t *testing.T) {
	met := map[bool]int{}
	everyDraw(t, func(seed uint64, v *sim.View, said []sentence) {
		z := &v.Now.Suppression
		eye := map[sim.Side]sim.Eye{sim.Right: sim.RightEye, sim.Left: sim.LeftEye}[z.Eye]
		if v.Now.Cover != sim.Neither || z.Depth == 0 || v.Account.Missing == sim.Neither && v.Account.Fainter == sim.Neither {
			return
		}
		least := 1.
		for i := range 6000 {
			if p := v.Sight(eye, v.Now.String.Length*float64(i)/5999); p.InField {
				least = min(least, p.Weight)
			}
		}
		for _, b := range v.Beads {
			least = min(least, v.SightOf(eye, v.Now.Place(b.At), b.At).Weight)
		}
		side := string(z.Eye)
		none := tells(said, "why-out-none-"+side, "why-fainter-none-"+side)
		met[none]++
		if none {
			require.InDelta(t, 1, least, 1e-9, "seed %d: something is left out: %v", seed, said)
		}
	})
	assert.Positive(t, met[true])
	assert.Positive(t, met[false])

	w := english(t)
	exo := func(zone sim.Zone, depth float64) string {
		return w.Seen(lookedAt(0, func(s *sim.Setup) {
			s.Posture = sim.Posture{Deviation: -8, Fixing: sim.Left}
			s.Suppression = sim.Suppression{Eye: sim.Right, Zone: zone, When: sim.WhenAlways, Depth: depth}
		}))
	}
	none := "Part of the right eye's picture is being left out just now, where there is no string."
	assert.Contains(t, exo(sim.ZoneNasal, 1), none)
	assert.NotContains(t, exo(sim.ZoneTemporal, 1), none)
	assert.Contains(t, exo(sim.ZoneNasal, 0.5), "Part of the right eye's picture is fainter just now, where there is no string.")
}

// A gap is said to be at the bead, or at the place looked at, only where the string that
// has it would pass there: the string of an eye that points elsewhere passes at a distance.
func TestAGapIsWhereItIsSaidToBe(t *testing.T) {
	met := map[bool]int{}
	everyDraw(t, func(seed uint64, v *sim.View, said []sentence) {
		at := func(e sim.Eye) sim.XY { return v.SightOf(e, v.Target.Point, v.Target.At).At }
		apart := angleApart(at(sim.RightEye), at(sim.LeftEye)) * 180 * 60 / math.Pi
		switch {
		case tells(said, "gap", "gap-bare"):
			require.LessOrEqual(t, apart, 30., "seed %d", seed)
			met[true]++
		case tells(said, "gap-apart", "gap-apart-bare"):
			require.Greater(t, apart, 30., "seed %d", seed)
			met[false]++
		default:
			require.Equal(t, sim.Neither, v.Account.Gap, "seed %d", seed)
		}
	})
	assert.Positive(t, met[true])
	assert.Positive(t, met[false])
}

// Where the two strings look like one line no crossing is seen in it, and none is said to
// be: neither to families nor to clinicians.
func TestNoCrossingIsToldInOneLine(t *testing.T) {
	w := english(t)
	met := 0
	check := func(v *sim.View, what any) {
		a, s := &v.Account, &v.Strings
		crosses := map[sim.Meet]bool{
			sim.MeetNearer: s.NearOverlaid, sim.MeetBeyond: s.FarOverlaid, sim.MeetAt: s.NearOverlaid && s.FarOverlaid,
		}
		if !crosses[a.Meet] {
			return
		}
		met++
		for _, text := range []string{w.Seen(v), w.Clinician(v)} {
			require.NotRegexp(t, `strings? cross |crossing is hidden|Where they cross|cross inside`, text, "%v: %+v", what, *a)
		}
	}
	everyDraw(t, func(seed uint64, v *sim.View, _ []sentence) { check(v, seed) })
	for height := -1000.; height <= 600; height += 50 {
		for e := sim.Prism(-8); e <= 8; e += 0.5 {
			check(lookedAt(0, func(s *sim.Setup) { s.String.AnchorHeight, s.Posture.Deviation = height, e }), [2]any{height, e})
		}
	}
	assert.Greater(t, met, 20)
	level := lookedAt(0, func(s *sim.Setup) { s.String.NearEnd.Z, s.Posture.Deviation = 0, 5 })
	assert.Contains(t, w.Clinician(level), "No horizontal disparity 31.9 cm from the nose, 16.1 cm in front of the target.")
}

// A picture that is clear to one eye and blurred to the other is said to be so.
func TestABlurredPictureBesideAClearOne(t *testing.T) {
	met := map[sim.Clarity]int{}
	everyDraw(t, func(seed uint64, v *sim.View, said []sentence) {
		if !v.Account.Uneven {
			return
		}
		arcmin := func(e sim.Eye) sim.Arcmin { return v.SightOf(e, v.Target.Point, v.Target.At).Blur.Arcmin() }
		low, high := min(arcmin(sim.RightEye), arcmin(sim.LeftEye)), max(arcmin(sim.RightEye), arcmin(sim.LeftEye))
		id := "clarity-uneven-soft"
		switch {
		case low <= 5 && high > 15:
			id = "clarity-uneven-blurred"
		case low <= 5:
			id = "clarity-uneven-clear"
		}
		require.True(t, tells(said, id), "seed %d: %v′ and %v′: %v", seed, low, high, said)
		met[v.Account.Clarity]++
	})
	assert.Positive(t, met[sim.ClarityClear])
	assert.Positive(t, met[sim.ClaritySoft])
	w := english(t)
	v := lookedAt(0, func(s *sim.Setup) { s.Right.Refraction = 3 })
	assert.Contains(t, w.Seen(v), "One eye's picture is clear, the other's is blurred.")
}

// A prism that brings the pictures to where a turned eye points is not said to be waiting
// for the eyes to follow it, however little is left over.
func TestAPrismThatMeetsATurnedEye(t *testing.T) {
	w := english(t)
	close := "In this set-up a prism moves the pictures close to where the eyes already point."
	for e := sim.Prism(-12); e <= 12; e += 0.5 {
		v := lookedAt(0, func(s *sim.Setup) {
			s.Posture = sim.Posture{Deviation: e, Fixing: sim.Left}
			s.Right.BaseOut = e
		})
		said := w.Seen(v)
		if math.Abs(float64(e)) <= sim.OnTarget {
			assert.NotContains(t, said, close, "%v Δ", e)
			continue
		}
		one := v.Account.Fixated == sim.SeenOne || v.Beads[1].Overlap.Value > 0.75
		assert.Equal(t, one, strings.Contains(said, close), "%v Δ: %s", e, said)
	}
	for h := sim.Prism(-10); h <= 10; h++ { // base-down before the eye that is higher
		v := lookedAt(0, func(s *sim.Setup) {
			s.Posture = sim.Posture{Vertical: h, Fixing: sim.Left}
			s.Right.BaseUp = -h
		})
		one := h != 0 && (v.Account.Fixated == sim.SeenOne || v.Beads[1].Overlap.Value > 0.75)
		assert.Equal(t, one, strings.Contains(w.Seen(v), close), "%v Δ: %s", h, w.Seen(v))
	}
}

// Where all of the other beads are double but one, that one is named: it is the one that
// strikes the eye.
func TestTheBeadThatIsNotDoubleIsNamed(t *testing.T) {
	met := 0
	everyDraw(t, func(seed uint64, v *sim.View, said []sentence) {
		var single, rest []string
		for _, b := range v.Beads {
			switch {
			case b.Name == v.Account.LookedAt:
			case b.Seen == sim.SeenTwo && b.Overlap.Value <= 0.75:
				rest = append(rest, b.Name)
			case b.Seen != sim.SeenTwo && b.Seen != sim.SeenNone:
				single = append(single, b.Name)
			default:
				single = append(single, "", "") // neither the one nor the other
			}
		}
		named, room := "", false
		for _, s := range said {
			if s.spare == others {
				named, room = s.with["Bead"], true
			}
		}
		want := ""
		if len(single) == 1 && len(rest) > 0 && room {
			want = single[0]
		}
		if named != "" || want != "" {
			require.Equal(t, want, named, "seed %d: %+v", seed, said)
			met++
		}
	})
	assert.Positive(t, met)
	w := english(t)
	v := lookedAt(0, func(s *sim.Setup) { s.Posture.Deviation = -5.1 })
	assert.Contains(t, w.Seen(v), "Of the other beads only the bead “soot” is not double.")
}
