package words

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// everyFront calls f for every combination of the codes that the caption from in
// front looks at.
func everyFront(f func(v *sim.View, face *sim.Face)) {
	sides := []sim.Turn{sim.TurnNone, sim.TurnIn, sim.TurnOut}
	heights := []sim.Turn{sim.TurnNone, sim.TurnUp, sim.TurnDown}
	type eye struct{ side, height, tilt sim.Turn }
	var eyes []eye
	for _, side := range sides {
		for _, height := range heights {
			eyes = append(eyes, eye{side, height, sim.TurnNone})
		}
		eyes = append(eyes, eye{sim.TurnNone, sim.TurnNone, side}) // tilts go with any turn alike
	}
	for _, right := range eyes {
		for _, left := range eyes {
			for _, cover := range []sim.Side{sim.Neither, sim.Right, sim.Left} {
				var face sim.Face
				turned := false
				for i, e := range [2]eye{right, left} {
					p := &face.Eyes[i]
					p.Side, p.Height, p.Tilt = e.side, e.height, e.tilt
					p.Covered = cover == [2]sim.Side{sim.Right, sim.Left}[i]
					turned = turned || p.Turned() && !p.Covered
				}
				facings := []sim.Facing{sim.FacingTarget, sim.FacingNear}
				switch {
				case turned:
					facings = []sim.Facing{sim.FacingTurned, sim.FacingPrism, sim.FacingMoving}
				case cover != sim.Neither:
					facings = facings[:1]
				}
				for _, facing := range facings {
					for _, bead := range []string{"sky", ""} {
						for _, anomaly := range []sim.Prism{0, 20} {
							for _, meet := range []sim.Meet{sim.MeetAt, sim.MeetNearer} {
								v := sim.View{Account: sim.Account{LookedAt: bead, Meet: meet}}
								v.Now.Posture.Anomaly = anomaly
								face.Facing = facing
								f(&v, &face)
								switch facing {
								case sim.FacingTarget: // off by less than is seen
									v.Account.Eyes = sim.AimEso
									f(&v, &face)
								case sim.FacingPrism:
									v.Now.Right.BaseOut, v.Now.Posture.PrismMet = 4, 0.5
									f(&v, &face)
								}
							}
						}
					}
				}
			}
		}
	}
}

// Every combination of codes has its sentences, and none says what the codes deny.
func TestFrontSaysWhatIsSo(t *testing.T) {
	text := catalogue(t, "en")
	is := func(e *sim.EyeFace, turn sim.Turn) bool { return e.Side == turn || e.Height == turn }
	heard := map[string]bool{}
	// Of the eye that a sentence names, each word is borne out by its code.
	codes := map[string]sim.Turn{"inward": sim.TurnIn, "outward": sim.TurnOut, "upward": sim.TurnUp, "downward": sim.TurnDown}
	everyFront(func(v *sim.View, f *sim.Face) {
		r, l := &f.Eyes[sim.RightEye], &f.Eyes[sim.LeftEye]
		ids := frontIDs(v, f)
		require.NotEmpty(t, ids)
		told := map[*sim.EyeFace]bool{}
		for _, id := range ids {
			message := text[id]
			if message == nil {
				t.Fatalf("%q: not in the catalogue", id)
			}
			said := message.other
			heard[id] = true
			var of []*sim.EyeFace
			switch {
			case strings.Contains(said, "Behind the cover"):
				of = append(of, map[bool]*sim.EyeFace{true: r, false: l}[r.Covered])
				require.True(t, of[0].Covered)
			case strings.Contains(said, "oth eyes"):
				of = append(of, r, l)
			case strings.Contains(said, "right eye"):
				of = append(of, r)
			case strings.Contains(said, "left eye"):
				of = append(of, l)
			}
			for _, e := range of {
				told[e] = true
				covered := strings.Contains(said, "covered") || strings.Contains(said, "Behind")
				if covered != e.Covered {
					t.Fatalf("%q is said of %+v", said, *e)
				}
				for word, code := range codes {
					if strings.Contains(said, "tilted") {
						if strings.Contains(said, word) && e.Tilt != code {
							t.Fatalf("%q is said of %+v", said, *e)
						}
					} else if (strings.Contains(said, "point") || strings.Contains(said, "turn in")) &&
						strings.Contains(said, word) != is(e, code) {
						t.Fatalf("%q is said of %+v", said, *e)
					}
				}
				if strings.Contains(said, "at the bead") || strings.Contains(said, "at the place") {
					assert.False(t, e.Turned(), said)
				}
			}
			if strings.Contains(said, "bead") && v.Account.LookedAt == "" {
				t.Fatalf("%q is said of a bare string", said)
			}
			if strings.HasPrefix(said, "Both eyes point at") && v.Account.Eyes == sim.AimEso {
				t.Fatalf("%q is said of eyes that are off", said)
			}
			if strings.Contains(said, "matched") {
				assert.NotZero(t, v.Now.Posture.Anomaly)
				assert.Equal(t, sim.MeetAt, v.Account.Meet)
			}
		}
		// Each eye that is turned, or left alone, is spoken of.
		if f.Facing == sim.FacingTurned {
			assert.True(t, told[r] && told[l])
		}
		if r.Covered || l.Covered {
			assert.Contains(t, ids[0], "front-covered")
		}
	})
	for id := range text {
		if prefix, _, _ := strings.Cut(id, "-"); prefix == "front" && !strings.HasPrefix(id, "front-turned") {
			assert.True(t, heard[id], "%s is never said", id)
		}
	}
}

// Plain, whole and short, as for families.
func TestFrontSentencesAreWholeAndPlain(t *testing.T) {
	never := regexp.MustCompile(`(?i)normal|fail|diagnos|your|child|diplop|tropia|phoria|\beso\b|\bexo\b|deviat|wrong|bad|squint|weak|lazy|patient|error`)
	for id, m := range catalogue(t, "en") {
		if !strings.HasPrefix(id, "front-") {
			continue
		}
		assert.NotRegexp(t, never, m.other, id)
		assert.LessOrEqual(t, len(strings.Fields(m.other)), 20, id)
		if strings.HasPrefix(id, "front-turned") {
			assert.Regexp(t, `^turned [a-z ]+$`, m.other, id)
		} else {
			assert.Regexp(t, `^[A-Z][^.]*\.$`, m.other, id)
		}
	}
}

// Captions in full, as they are read.
func TestFrontReads(t *testing.T) {
	w := english(t)
	for _, c := range []struct {
		want   string
		change func(*sim.Setup)
	}{
		{"Both eyes point at the bead.", func(*sim.Setup) {}},
		{"Both eyes point at the place looked at.", func(s *sim.Setup) { s.Look.Bead, s.Look.At = sim.NoBead, 900 }},
		{"The left eye points outward. The right eye points at the bead.",
			func(s *sim.Setup) { s.Posture.Deviation, s.Posture.Fixing = -25, sim.Right }},
		{"The right eye points upward. The left eye points at the bead.",
			func(s *sim.Setup) { s.Posture.Vertical, s.Posture.Fixing = 10, sim.Left }},
		{"Both eyes point farther inward than the bead asks for.", func(s *sim.Setup) { s.Posture.Deviation = 20 }},
		{"Both eyes turn in to the near bead: that is convergence, not a turn.", func(s *sim.Setup) { s.Beads[0].At = 80 }},
		{"The right eye is covered. The left eye points at the bead.", func(s *sim.Setup) { s.Cover = sim.Right }},
		{"The left eye is covered. The right eye points at the bead. Behind the cover, the eye points outward.",
			func(s *sim.Setup) {
				s.Cover, s.Posture.Deviation, s.Posture.Fixing = sim.Left, -20, sim.Right
			}},
		{"The left eye points inward. The right eye points at the bead. " +
			"Yet the strings cross in the bead: in this set-up the two pictures are matched in another way.",
			func(s *sim.Setup) {
				s.Patient.Nodal = 0
				s.Posture.Deviation, s.Posture.Anomaly, s.Posture.Fixing = 20, 20, sim.Right
			}},
		{"The eyes point where things appear through the prisms.", func(s *sim.Setup) { s.Right.BaseOut, s.Left.BaseOut = 6, 6 }},
		{"Both eyes point at the bead. The top of both eyes is tilted outward.", func(s *sim.Setup) { s.Posture.Cyclo = 8 }},
	} {
		s := sim.Default()
		s.String.Length = 1200
		s.Beads = []sim.Bead{{Name: "sky", At: 480, Diameter: 16}}
		s.Look.Bead = 0
		c.change(&s)
		var v sim.View
		v.Look(&s)
		assert.Equal(t, c.want, w.Front(&v))
	}
}

func TestTurned(t *testing.T) {
	w := english(t)
	var all []string
	for _, side := range []sim.Turn{sim.TurnNone, sim.TurnIn, sim.TurnOut} {
		for _, height := range []sim.Turn{sim.TurnNone, sim.TurnUp, sim.TurnDown} {
			all = append(all, w.Turned(side, height))
		}
	}
	assert.Equal(t, "", all[0])
	assert.Contains(t, all, "turned outward and downward")
	slices.Sort(all)
	assert.Len(t, slices.Compact(all), 9)
}
