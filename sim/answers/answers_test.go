package answers_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
	"twincord/sim/answers"
	"twincord/testdata/published"
)

// threeBeads is the default scene: the middle one of three beads is looked at.
func threeBeads() sim.Setup {
	s := sim.Default()
	s.String.Length = 1200
	s.Beads = []sim.Bead{
		{Name: "orange", At: 230, Diameter: 16}, {Name: "sky", At: 480, Diameter: 16}, {Name: "plum", At: 900, Diameter: 16},
	}
	s.Look.Bead = 1
	return s
}

// searched is the search through the default scene, made once for all tests.
var searched = sync.OnceValue(func() *answers.Search {
	s := threeBeads()
	return answers.New(&s).Run()
})

func with(s sim.Setup, change func(s *sim.Setup)) sim.Setup {
	change(&s)
	return s
}

func tell(s sim.Setup) answers.Told {
	var v sim.View
	v.Look(&s)
	return answers.Tell(&v)
}

// said is answers from items and codes by turns.
func said(pairs ...any) (a answers.Answers) {
	for i := 0; i < len(pairs); i += 2 {
		a.Code[pairs[i].(answers.Item)] = pairs[i+1].(answers.Code)
	}
	return a
}

func kinds(m []answers.Match) (all []answers.Kind) {
	for _, f := range m {
		if !slices.Contains(all, f.Kind) {
			all = append(all, f.Kind)
		}
	}
	return all
}

func find(m []answers.Match, k answers.Kind) *answers.Match {
	for i := range m {
		if m[i].Kind == k {
			return &m[i]
		}
	}
	return nil
}

func TestTellIsWhatTheTradeTells(t *testing.T) {
	tests := []struct {
		name   string
		source string
		set    func(s *sim.Setup)
		item   answers.Item
		want   answers.Code
	}{
		{"eyes on the bead: one", "common practice, no source", func(*sim.Setup) {}, answers.Bead, answers.One},
		{"and the strings cross in it", "common practice, no source", func(*sim.Setup) {}, answers.Meet, answers.At},
		{"two in front", "common practice, no source", func(*sim.Setup) {}, answers.Near, answers.Double},
		{"two behind", "common practice, no source", func(*sim.Setup) {}, answers.Far, answers.Double},
		{"the nearer bead is two", "D3", func(*sim.Setup) {}, answers.NearerBeads, answers.Two},
		{"the farther bead is two", "D4", func(*sim.Setup) {}, answers.FartherBeads, answers.Two},
		{"eso: the strings cross before the bead", "common practice, no source", func(s *sim.Setup) { s.Posture.Deviation = 4 }, answers.Meet, answers.Nearer},
		{"exo: behind it", "common practice, no source", func(s *sim.Setup) { s.Posture.Deviation = -2 }, answers.Meet, answers.Beyond},
		{"exo is crossed: the right eye's bead is to the left", "D5", func(s *sim.Setup) { s.Posture.Deviation = -10 }, answers.RightCoverBead, answers.Left},
		{"eso is uncrossed", "D5", func(s *sim.Setup) { s.Posture.Deviation = 10 }, answers.RightCoverBead, answers.Right},
		{"and the left eye's is to the left", "D5", func(s *sim.Setup) { s.Posture.Deviation = 10 }, answers.LeftCoverBead, answers.Left},
		{"right hyper: its image is the lower one", "D6", func(s *sim.Setup) { s.Posture.Vertical = 3 }, answers.RightCoverBead, answers.Lower},
		{"and the left eye's the upper", "D6", func(s *sim.Setup) { s.Posture.Vertical = 3 }, answers.LeftCoverBead, answers.Upper},
		{"one is higher", "D6", func(s *sim.Setup) { s.Posture.Vertical = 3 }, answers.Higher, answers.Yes},
		{"cover the right eye: the left string in front goes", "Z10", func(*sim.Setup) {}, answers.RightCoverString, answers.Left},
		{"cover the left eye: the right one", "Z10", func(*sim.Setup) {}, answers.LeftCoverString, answers.Right},
		{"right left out: a single string", "Z10", func(s *sim.Setup) { s.Suppression.Eye = sim.Right }, answers.Near, answers.Single},
		{"which the left eye sees", "Z10", func(s *sim.Setup) { s.Suppression.Eye = sim.Right }, answers.LeftCoverString, answers.Only},
		{"and the right does not", "Z10", func(s *sim.Setup) { s.Suppression.Eye = sim.Right }, answers.RightCoverString, answers.None},
		{"fainter is the right eye's, which is the left string", "Z10", func(s *sim.Setup) { s.Suppression.Eye, s.Suppression.Depth = sim.Right, 0.5 }, answers.Fainter, answers.Left},
		{"left out behind the bead: one string there", "common practice, no source", func(s *sim.Setup) { s.Suppression.Eye, s.Suppression.Zone = sim.Left, sim.ZoneBeyond }, answers.Far, answers.Single},
		{"out of reach of a stiff eye: blurred", "C18", func(s *sim.Setup) { s.Patient.Age = 70; s.Look = sim.Fixation{Bead: 0, Asked: sim.NoBead} }, answers.Clear, answers.Blurred},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if tt.source[0] != 'c' {
				published.Get(t, tt.source)
			}
			s := threeBeads()
			tt.set(&s)
			told := tell(s)
			assert.Equal(t, tt.want.String(), told.Code[tt.item].String(), tt.source)
		})
	}
}

// A bead that is asked for and not looked at is what the answers speak of.
func TestTellOfTheBeadAskedFor(t *testing.T) {
	s := threeBeads()
	s.Look = sim.Fixation{Bead: 0, Asked: 2}
	told := tell(s)
	assert.Equal(t, answers.Two, told.Code[answers.Bead])
	assert.Equal(t, answers.Nearer, told.Code[answers.Meet], "they cross in the near bead, before the far one")
}

// Other beads are told of as a group: as one or as two where all of them are, else not
// at all.
func TestTellOfTheOthers(t *testing.T) {
	tests := []struct {
		name  string
		beads []float64
		near  answers.Code
		far   answers.Code
		wider answers.Code
	}{
		{"none", nil, answers.Open, answers.Open, answers.Open},
		{"two near ones, both two", []float64{230, 300}, answers.Two, answers.Open, answers.Nearer},
		{"both one", []float64{470, 474}, answers.One, answers.Open, answers.Open},
		{"a two and a one", []float64{230, 470}, answers.Open, answers.Open, answers.Nearer},
		{"a one and a two", []float64{470, 230}, answers.Open, answers.Open, answers.Nearer},
		{"two far ones, both two", []float64{800, 1000}, answers.Open, answers.Two, answers.Farther},
		{"both one", []float64{486, 490}, answers.Open, answers.One, answers.Open},
		{"a one and a two", []float64{490, 900}, answers.Open, answers.Open, answers.Farther},
		{"on both sides", []float64{300, 470, 800, 900}, answers.Open, answers.Two, answers.Nearer},
		{"the far one wider", []float64{470, 1100}, answers.One, answers.Two, answers.Farther},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := threeBeads()
			s.Beads, s.Look.Bead = []sim.Bead{{At: 480, Diameter: 10}}, 0
			for _, at := range tt.beads {
				s.Beads = append(s.Beads, sim.Bead{At: at, Diameter: 10})
			}
			told := tell(s)
			assert.Equal(t, [3]answers.Code{tt.near, tt.far, tt.wider},
				[3]answers.Code{told.Code[answers.NearerBeads], told.Code[answers.FartherBeads], told.Code[answers.Wider]})
		})
	}
}

// mirrored is the same with the eyes swapped.
func mirrored(s sim.Setup) sim.Setup {
	swap := func(e sim.Side) sim.Side {
		switch e {
		case sim.Right:
			return sim.Left
		case sim.Left:
			return sim.Right
		}
		return e
	}
	s.String.NearEnd.X, s.String.AnchorSide = -s.String.NearEnd.X, -s.String.AnchorSide
	s.Right, s.Left = s.Left, s.Right
	s.Posture.Vertical = -s.Posture.Vertical
	s.Posture.Fixing, s.Suppression.Eye, s.Cover = swap(s.Posture.Fixing), swap(s.Suppression.Eye), swap(s.Cover)
	return s
}

// random draws a set-up that a patient might have.
func random(r *rand.Rand) sim.Setup {
	s := threeBeads()
	among := func(sides ...sim.Side) sim.Side { return sides[r.IntN(len(sides))] }
	s.Look.Bead = r.IntN(3)
	s.Posture.Deviation = sim.Prism(10 * r.NormFloat64())
	s.Posture.Fixing = among(sim.Both, sim.Right, sim.Left)
	if r.IntN(3) == 0 {
		s.Posture.Vertical = sim.Prism(2 * r.NormFloat64())
	}
	if r.IntN(3) == 0 {
		s.String.NearEnd.X = 20 * r.NormFloat64()
	}
	if r.IntN(2) == 0 {
		s.Suppression.Eye = among(sim.Right, sim.Left)
		if s.Suppression.Eye == s.Posture.Fixing {
			s.Posture.Fixing = sim.Both
		}
		s.Suppression.Zone = []sim.Zone{sim.ZoneAll, sim.ZoneNearer, sim.ZoneBeyond, sim.ZoneCentral}[r.IntN(4)]
		s.Suppression.Depth = []float64{0.5, 1}[r.IntN(2)]
	}
	return s
}

func TestTellMirrored(t *testing.T) {
	swapped := map[answers.Code]answers.Code{answers.Left: answers.Right, answers.Right: answers.Left}
	of := func(c answers.Code) answers.Code {
		if s, ok := swapped[c]; ok {
			return s
		}
		return c
	}
	const seed = 1
	r := rand.New(rand.NewPCG(seed, 0))
	for range 300 {
		s := random(r)
		a, b := tell(s), tell(mirrored(s))
		for _, i := range answers.Items() {
			other := i
			switch i {
			case answers.RightCoverString:
				other = answers.LeftCoverString
			case answers.LeftCoverString:
				other = answers.RightCoverString
			case answers.RightCoverBead:
				other = answers.LeftCoverBead
			case answers.LeftCoverBead:
				other = answers.RightCoverBead
			}
			require.Equal(t, of(a.Code[i]), b.Code[other], "%v of %+v (seed %d)", i, s, seed)
		}
	}
}

// Z1 turned round: from where the strings are said to cross to the deviation.
func TestCrossingBackToDeviation(t *testing.T) {
	published.Get(t, "Z1")
	s := threeBeads()
	s.Patient.PD, s.Patient.Nodal = 64, 0
	// Along the string from the nose; the row measures from the eyes.
	from := func(place float64) float64 {
		p := s.Place(place)
		return math.Hypot(p.Y, p.Z)
	}
	along := func(eyes float64) float64 {
		near, far := 0., s.String.Length
		for far-near > 1e-6 {
			if middle := (near + far) / 2; from(middle) < eyes {
				near = middle
			} else {
				far = middle
			}
		}
		return near
	}
	s.Beads, s.Look.Bead = s.Beads[1:2], 0
	s.Beads[0].At = along(427)
	a := said(answers.Bead, answers.Two)
	at := along(337)
	a.Place = sim.Some(answers.Place{At: at, Within: along(347) - at})
	r := answers.New(&s).Run().Explain(a).Result()
	eso := find(r.Families, answers.Eso)
	require.NotNil(t, eso)
	require.Len(t, eso.Ranges, 1)
	e := func(eyes float64) float64 { return 100 * 64 * (1/eyes - 1/427.) } // Z1
	assert.InEpsilon(t, e(347), eso.Ranges[0].From, 0.02)
	assert.InEpsilon(t, e(327), eso.Ranges[0].To, 0.02)
	assert.Nil(t, find(r.Families, answers.Exo))
}

func TestWorkedExamples(t *testing.T) {
	s := threeBeads()
	x := searched()

	t.Run("two beads, two and two strings, crossing at 30 to 38 cm", func(t *testing.T) {
		a := said(answers.Bead, answers.Two, answers.Near, answers.Double, answers.Far, answers.Double)
		a.Place = sim.Some(answers.Place{At: 340, Within: 40})
		r := x.Explain(a).Result()
		assert.Equal(t, []answers.Kind{answers.AnotherSpot, answers.Eso, answers.Vertical}, kinds(r.Families))
		place, eso := r.Families[0], r.Families[1]
		assert.Equal(t, []answers.Range{{"look.at_mm", 300, 380}}, place.Ranges)
		require.Len(t, eso.Ranges, 1)
		assert.InDelta(t, 2.65, eso.Ranges[0].From, 0.05)
		assert.InDelta(t, 5.86, eso.Ranges[0].To, 0.05)
		// Vertically as far as the strands meet within 30′ of where they cross (M11); and
		// where neither bead is higher, as far as the largest of Panum's limits reaches.
		assert.InDelta(t, 1.95, mostVertical(&r), 0.06)
		a.Code[answers.Higher] = answers.No
		higher := x.Explain(a).Result()
		assert.InDelta(t, 100*math.Tan(4*6*math.Pi/(180*60)), mostVertical(&higher), 0.06, "four times 6′")
		assert.Contains(t, r.Inseparable, answers.PlaceOrEso)
	})
	t.Run("one bead, one string", func(t *testing.T) {
		r := x.Explain(said(answers.Bead, answers.One, answers.Near, answers.Single, answers.Far, answers.Single)).Result()
		assert.Equal(t, []answers.Kind{answers.LeftOut, answers.Strings}, kinds(r.Families))
		for _, m := range r.Families {
			if m.Kind == answers.LeftOut {
				assert.Equal(t, []answers.Range{{"posture.deviation_prism", -40, 40}}, m.Ranges, "at any deviation")
			} else {
				assert.Equal(t, answers.HeldLevel, m.Held)
			}
		}
		assert.Contains(t, r.Inseparable, answers.WhichEye)
		require.True(t, r.Ask.OK)
	})
	t.Run("one bead, two in front, one behind", func(t *testing.T) {
		r := x.Explain(said(answers.Bead, answers.One, answers.Near, answers.Double, answers.Far, answers.Single)).Result()
		var beyond int
		for _, m := range r.Families {
			if m.Zone == sim.ZoneBeyond {
				beyond++
			}
		}
		assert.Equal(t, 2, beyond, "left out behind it, in either eye")
		assert.Nil(t, find(r.Families, answers.OnBead))
	})
	t.Run("two beads, and with the right eye covered the left one goes", func(t *testing.T) {
		r := x.Explain(said(answers.Bead, answers.Two, answers.RightCoverBead, answers.Left)).Result()
		require.NotNil(t, find(r.Families, answers.Exo))
		assert.Nil(t, find(r.Families, answers.Eso))
	})
	t.Run("one bead, X in it, others double", func(t *testing.T) {
		r := x.Explain(said(answers.Bead, answers.One, answers.Near, answers.Double, answers.Far, answers.Double,
			answers.Meet, answers.At, answers.NearerBeads, answers.Two, answers.FartherBeads, answers.Two)).Result()
		assert.Equal(t, answers.OnBead, r.Families[0].Kind)
		assert.NotNil(t, find(r.Families, answers.Anomaly))
		assert.Contains(t, r.Inseparable, answers.AnomalyOrStraight)
	})
	t.Run("one bead, no string in front, none behind", func(t *testing.T) {
		r := x.Explain(said(answers.Bead, answers.One, answers.Near, answers.Zero, answers.Far, answers.Zero)).Result()
		assert.Empty(t, r.Families)
		require.NotEmpty(t, r.Nearest)
		assert.True(t, r.Conflict.OK)
		assert.Equal(t, [2]answers.Item{answers.Bead, answers.Near}, r.Conflict.Value)
	})
	t.Run("no bead at all, which is one answer and no contradiction", func(t *testing.T) {
		r := x.Explain(said(answers.Bead, answers.None)).Result()
		assert.Empty(t, r.Families)
		require.NotEmpty(t, r.Nearest)
		assert.Equal(t, []answers.Item{answers.Bead}, r.Nearest[0].Against)
		assert.False(t, r.Conflict.OK, "%v", r.Conflict.Value)
	})
	t.Run("a fused stretch round the bead counts as a crossing in it", func(t *testing.T) {
		published.Get(t, "K6") // two in three people report one
		told := tell(with(s, func(s *sim.Setup) { s.Posture.Deviation = 0.25 }))
		require.Equal(t, answers.Nearer, told.Code[answers.Meet])
		assert.Equal(t, answers.At, told.Also[answers.Meet])
	})
	t.Run("where a bead hides the crossing none may be said to be seen", func(t *testing.T) {
		told := tell(with(s, func(s *sim.Setup) { s.Posture.Deviation = -5.5 }))
		require.True(t, told.Hidden)
		require.Equal(t, answers.Beyond, told.Code[answers.Meet])
		assert.Equal(t, answers.Not, told.Also[answers.Meet])
		open := tell(with(s, func(s *sim.Setup) { s.Posture.Deviation = -3 }))
		assert.False(t, open.Hidden)
		assert.Equal(t, answers.Open, open.Also[answers.Meet])

		r := x.Explain(said(answers.Bead, answers.Two, answers.Far, answers.Double, answers.Meet, answers.Not)).Result()
		exo := find(r.Families, answers.Exo)
		require.NotNil(t, exo)
		assert.True(t, slices.ContainsFunc(exo.Ranges, func(r answers.Range) bool { return r.From <= -5.5 && -5.5 <= r.To }), "%v", exo.Ranges)
		assert.False(t, slices.ContainsFunc(exo.Ranges, func(r answers.Range) bool { return r.From <= -3 && -3 <= r.To }), "%v", exo.Ranges)
	})
	t.Run("fainter is looked for where it was said", func(t *testing.T) {
		r := x.Explain(said(answers.Fainter, answers.Left)).Result()
		assert.Equal(t, []answers.Kind{answers.LeftOutPart}, kinds(r.Families))
		for _, m := range r.Families {
			assert.Equal(t, sim.Right, m.Eye, "Z10: the left string in front is the right eye's")
		}
	})
}

// What these answers leave open is said, and nothing else is.
func TestWhatCannotBeToldApart(t *testing.T) {
	tests := []struct {
		name string
		says answers.Answers
		want []answers.Inseparable
	}{
		{"the right bead lower", said(answers.Bead, answers.Two, answers.Higher, answers.Yes, answers.RightCoverBead, answers.Lower), nil},
		{"all as it should be", said(answers.Bead, answers.One, answers.Near, answers.Double, answers.Far, answers.Double, answers.Meet, answers.At),
			[]answers.Inseparable{answers.PlaceOrEso, answers.WhoFixes, answers.AnomalyOrStraight, answers.LimitOrError}},
		{"one string", said(answers.Bead, answers.One, answers.Near, answers.Single, answers.Far, answers.Single),
			[]answers.Inseparable{answers.WhichEye}},
		{"one string, which goes with the right eye", said(answers.Bead, answers.One, answers.Near, answers.Single, answers.Far, answers.Single,
			answers.RightCoverString, answers.Only), nil},
		{"two beads, a crossing before them", said(answers.Bead, answers.Two, answers.Meet, answers.Nearer),
			[]answers.Inseparable{answers.PlaceOrEso, answers.WhichEye, answers.WhoFixes, answers.LeftOutOrUnnoticed, answers.LimitOrError}},
		{"and an eye covered, so that covering one is no advice", said(answers.Bead, answers.Two, answers.Meet, answers.Nearer,
			answers.RightCoverString, answers.Left),
			[]answers.Inseparable{answers.PlaceOrEso, answers.WhoFixes, answers.LeftOutOrUnnoticed, answers.LimitOrError}},
		{"one string behind, and the farther bead widest", said(answers.Far, answers.Single, answers.Wider, answers.Farther),
			[]answers.Inseparable{answers.WhichEye}},
		// It may be behind the beads, where from depends on how large an error makes them two.
		{"two beads and no crossing", said(answers.Bead, answers.Two, answers.Meet, answers.Not),
			[]answers.Inseparable{answers.PlaceOrEso, answers.WhichEye, answers.WhoFixes, answers.LeftOutOrUnnoticed, answers.LimitOrError}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := searched().Explain(tt.says).Result()
			require.NotEmpty(t, r.Families)
			assert.Equal(t, tt.want, r.Inseparable)
		})
	}
}

// A place that is said to within a millimetre lies between two members of every grid:
// looked at without error the strings cross where somebody looks.
func TestAPlaceIsFoundHoweverNarrow(t *testing.T) {
	for _, at := range []float64{92, 187, 340, 543, 700, 1003} {
		a := said(answers.Bead, answers.Two)
		a.Place = sim.Some(answers.Place{At: at, Within: 1})
		r := searched().Explain(a).Result()
		spot := find(r.Families, answers.AnotherSpot)
		require.NotNil(t, spot, at)
		require.Len(t, spot.Ranges, 1)
		assert.InDelta(t, at, spot.Ranges[0].From, 1.5)
		assert.InDelta(t, at, spot.Ranges[0].To, 1.5)
		assert.InDelta(t, at, spot.Says.Place.Value, 1)
		// Z1 for eyes that turn: the place is met by one deviation alone.
		kind := answers.Eso
		if at > 480 {
			kind = answers.Exo
		}
		turned := find(r.Families, kind)
		require.NotNil(t, turned, at)
		require.Len(t, turned.Ranges, 1)
		assert.LessOrEqual(t, turned.Ranges[0].To-turned.Ranges[0].From, 0.05+2*6400/(at*at))
		assert.InDelta(t, at, turned.Says.Place.Value, 1)
	}
}

// A place that nobody can point at, of no length at all, is met by no member that is looked
// at, and the search for one ends.
func TestAPlaceOfNoLength(t *testing.T) {
	var a answers.Answers
	a.Place = sim.Some(answers.Place{At: 543.21})
	r := searched().Explain(a).Result()
	assert.Empty(t, r.Families)
	assert.False(t, r.Conflict.OK, "one answer is no contradiction")
}

// Another place is one beside what was asked for: past the rim of a bead, and past the
// reach of a look at a bare place, by as much as ends are found to.
func TestOtherPlacesLeaveOutTheOneAskedFor(t *testing.T) {
	bare := threeBeads()
	bare.Beads, bare.Look = nil, sim.Fixation{Bead: sim.NoBead, At: 600, Asked: sim.NoBead}
	for _, tt := range []struct {
		search     *answers.Search
		at, radius float64
	}{{searched(), 480, 8}, {answers.New(&bare).Run(), 600, sim.BareRadius}} {
		spot := find(tt.search.Explain(answers.Answers{}).Result().Families, answers.AnotherSpot)
		require.NotNil(t, spot)
		assert.Equal(t, []answers.Range{
			{Key: "look.at_mm", From: 0, To: tt.at - tt.radius - 1}, {Key: "look.at_mm", From: tt.at + tt.radius + 1, To: 1200},
		}, spot.Ranges)
	}
}

// A vertical error is told from the least that Panum's smallest limit, half of the
// patient's, lets through to the most that is tried, without a gap between the rows; on
// which side of zero it is an eye that is covered tells.
func TestVerticalRanges(t *testing.T) {
	wide := threeBeads()
	wide.Beads, wide.Look.Bead = wide.Beads[1:2], 0
	wide.Patient.FusionV = 48 // so that the end lies far from every row
	for _, tt := range []struct {
		search *answers.Search
		limit  float64 // minutes of arc
	}{{searched(), 6}, {answers.New(&wide).Run(), 48}} {
		vertical := func(a answers.Answers) (all [][2]float64) {
			r := tt.search.Explain(a).Result()
			require.Equal(t, []answers.Kind{answers.Vertical}, kinds(r.Families))
			for _, g := range r.Families[0].Ranges {
				if g.Key == "posture.vertical_prism" {
					all = append(all, [2]float64{g.From, g.To})
				}
			}
			return all
		}
		both := vertical(said(answers.Bead, answers.Two, answers.Higher, answers.Yes))
		require.Len(t, both, 2)
		up := vertical(said(answers.Bead, answers.Two, answers.Higher, answers.Yes, answers.RightCoverBead, answers.Lower))
		require.Len(t, up, 1)
		down := vertical(said(answers.Bead, answers.Two, answers.Higher, answers.Yes, answers.RightCoverBead, answers.Upper))
		require.Len(t, down, 1)
		assert.InDelta(t, 100*math.Tan(tt.limit/2*math.Pi/(180*60)), up[0][0], 0.055)
		assert.Equal(t, 10., up[0][1])
		assert.Equal(t, [][2]float64{down[0], up[0]}, both)
		assert.Equal(t, [2]float64{-up[0][1], -up[0][0]}, down[0])
	}
}

// Where a vertical error ends to give the answers, between two rows, a brute grid of
// horizontal ones finds some just before and none just past it.
func TestEndsOfAVerticalError(t *testing.T) {
	for n, a := range []answers.Answers{
		said(answers.Bead, answers.Two, answers.Near, answers.Double, answers.Far, answers.Double, answers.Meet, answers.Nearer),
		said(answers.Bead, answers.Two, answers.Meet, answers.Not, answers.Far, answers.Single),
	} {
		r := searched().Explain(a).Result()
		m := find(r.Families, answers.Vertical)
		require.NotNil(t, m, n)
		gives := func(v float64) bool {
			for e := -40.; e <= 40; e += 0.5 {
				for _, scale := range answers.Scales {
					told := tell(with(threeBeads(), func(s *sim.Setup) {
						s.Patient = s.Patient.WithPanum(scale)
						s.Posture.Deviation, s.Posture.Vertical = sim.Prism(e), sim.Prism(v)
					}))
					if agrees(&told, &a) {
						return true
					}
				}
			}
			return false
		}
		for _, g := range m.Ranges {
			if g.Key != "posture.vertical_prism" {
				continue
			}
			for _, end := range []struct{ at, out float64 }{{g.From, -1}, {g.To, 1}} {
				if math.Abs(end.at) == answers.MostVertical || math.Abs(end.at) <= 0.051 {
					continue // what is tried ends there
				}
				assert.True(t, gives(end.at-0.05*end.out), "answers %d: %v", n, m.Ranges)
				assert.False(t, gives(end.at+0.1*end.out), "answers %d: %v", n, m.Ranges)
			}
		}
	}
}

// Of beads that are not there nothing is asked.
func TestAsked(t *testing.T) {
	ofBead := []answers.Item{answers.Bead, answers.Higher, answers.RightCoverBead, answers.LeftCoverBead}
	bare := func(at float64) sim.Fixation { return sim.Fixation{Bead: sim.NoBead, At: at, Asked: sim.NoBead} }
	tests := []struct {
		name   string
		set    func(s *sim.Setup)
		cannot []answers.Item
	}{
		{"the middle bead", func(*sim.Setup) {}, nil},
		{"the nearest", func(s *sim.Setup) { s.Look.Bead = 0 }, []answers.Item{answers.NearerBeads, answers.Wider}},
		{"the farthest", func(s *sim.Setup) { s.Look.Bead = 2 }, []answers.Item{answers.FartherBeads, answers.Wider}},
		{"a bead asked for, another looked at", func(s *sim.Setup) { s.Look = sim.Fixation{Bead: 1, Asked: 2} }, []answers.Item{answers.FartherBeads, answers.Wider}},
		{"a bare place among them", func(s *sim.Setup) { s.Look = bare(600) }, ofBead},
		{"before them", func(s *sim.Setup) { s.Look = bare(100) }, append([]answers.Item{answers.NearerBeads, answers.Wider}, ofBead...)},
		{"beyond them", func(s *sim.Setup) { s.Look = bare(1000) }, append([]answers.Item{answers.FartherBeads, answers.Wider}, ofBead...)},
		{"a single bead", func(s *sim.Setup) { s.Beads, s.Look.Bead = s.Beads[:1], 0 },
			[]answers.Item{answers.NearerBeads, answers.FartherBeads, answers.Wider}},
		{"none", func(s *sim.Setup) { s.Beads, s.Look = nil, bare(600) },
			append([]answers.Item{answers.NearerBeads, answers.FartherBeads, answers.Wider}, ofBead...)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := threeBeads()
			tt.set(&s)
			can := answers.Asked(&s)
			for _, i := range answers.Items() {
				assert.Equal(t, !slices.Contains(tt.cannot, i), can[i], "%v", i)
			}
		})
	}
}

// mostVertical is the largest vertical error that gives the answers, Δ.
func mostVertical(r *answers.Result) (most float64) {
	if m := find(r.Families, answers.Vertical); m != nil {
		for _, v := range m.Ranges {
			if v.Key == "posture.vertical_prism" {
				most = max(most, -v.From, v.To)
			}
		}
	}
	return most
}

// Every set-up of the families, with any of its answers left open, is found again; and
// every example told gives the answers.
func TestFindsEverySetupAgain(t *testing.T) {
	const seed = 7
	findsAgain(t, seed, 60)
}

func findsAgain(t *testing.T, seed uint64, times int) {
	x := searched()
	r := rand.New(rand.NewPCG(seed, 0))
	for n := range times {
		member, family, value := x.Member(r)
		told := tell(member)
		var a answers.Answers
		for _, i := range answers.Items() {
			if r.IntN(2) == 0 {
				a.Code[i] = told.Code[i]
			}
		}
		if told.Place.OK && r.IntN(2) == 0 {
			a.Place = sim.Some(answers.Around(told.Place.Value))
		}
		if family.Zone == sim.ZoneAll && family.Kind == answers.LeftOutPart {
			a.Code[answers.Fainter] = told.Code[answers.Fainter] // without it nobody looks for it
			if c := a.Code[answers.Fainter]; c != answers.Left && c != answers.Right {
				continue
			}
		}
		result := x.Explain(a).Result()
		found := false
		for _, m := range result.Families {
			e := tell(m.Example)
			for _, i := range answers.Items() {
				require.True(t, e.Agrees(i, &a), "seed %d, %d: the example of %v says %v to %v", seed, n, m.Family, e.Code[i], i)
			}
			if m.Family != family {
				continue
			}
			found = len(m.Ranges) == 0
			for _, g := range m.Ranges {
				slack := map[string]float64{"look.at_mm": 1, "posture.cyclo_deg": 0.1}[g.Key] + 0.1 // to which ends are found
				found = found || g.From-slack <= value && value <= g.To+slack
			}
		}
		require.True(t, found, "seed %d, %d: %v at %v says %v", seed, n, family, value, told)
	}
}

// A brute grid, without any halving or shortcut, gives the same families and ranges
// within its step.
func TestAgreesWithABruteGrid(t *testing.T) {
	s := threeBeads()
	x := searched()
	asked := []answers.Answers{
		said(answers.Bead, answers.Two, answers.Meet, answers.Nearer),
		said(answers.Bead, answers.One, answers.Meet, answers.Beyond),
		said(answers.Bead, answers.Two, answers.Meet, answers.Not),
		said(answers.Near, answers.Double, answers.Far, answers.Single),
		said(answers.Bead, answers.One, answers.NearerBeads, answers.One),
	}
	at := said(answers.Bead, answers.Two)
	at.Place = sim.Some(answers.Place{At: 700, Within: 20})
	asked = append(asked, at)

	const step = 1
	line := func(vary func(s *sim.Setup, e float64), a *answers.Answers) (found []float64) {
		for e := -40.; e <= 40; e += step {
			for _, scale := range []float64{1, 0.5, 2, 4} {
				m := s
				m.Patient.FusionH *= sim.Arcmin(scale)
				m.Patient.FusionV *= sim.Arcmin(scale)
				m.Patient.FusionHSlope *= scale
				m.Patient.FusionVSlope *= scale
				vary(&m, e)
				if told := tell(m); agrees(&told, a) {
					found = append(found, e)
					break
				}
			}
		}
		return found
	}
	lines := []struct {
		family answers.Family
		vary   func(s *sim.Setup, e float64)
		from   float64
		to     float64
	}{
		{answers.Family{Kind: answers.Eso, Eye: ""}, func(s *sim.Setup, e float64) { s.Posture.Deviation = sim.Prism(e) }, 0, 40},
		{answers.Family{Kind: answers.Exo}, func(s *sim.Setup, e float64) { s.Posture.Deviation = sim.Prism(e) }, -40, 0},
		{answers.Family{Kind: answers.LeftOutPart, Eye: sim.Right, Zone: sim.ZoneBeyond}, func(s *sim.Setup, e float64) {
			s.Posture.Deviation = sim.Prism(e)
			s.Suppression.Eye, s.Suppression.Zone = sim.Right, sim.ZoneBeyond
		}, -40, 40},
		{answers.Family{Kind: answers.LeftOutPart, Eye: sim.Left, Zone: sim.ZoneCentral, Centre: sim.CentreFovea, Radius: 5}, func(s *sim.Setup, e float64) {
			s.Posture.Deviation = sim.Prism(e)
			s.Suppression.Eye, s.Suppression.Zone, s.Suppression.Centre, s.Suppression.Radius = sim.Left, sim.ZoneCentral, sim.CentreFovea, 5
		}, -40, 40},
	}
	for i := range asked {
		r := x.Explain(asked[i]).Result()
		for _, l := range lines {
			var ranges []answers.Range
			for _, m := range r.Families {
				if m.Family == l.family {
					ranges = m.Ranges
				}
			}
			inside := func(e, slack float64) bool {
				for _, g := range ranges {
					if g.From-slack <= e && e <= g.To+slack {
						return true
					}
				}
				return false
			}
			grid := line(l.vary, &asked[i])
			for e := l.from; e <= l.to; e += step {
				switch {
				case slices.Contains(grid, e):
					assert.True(t, inside(e, 0.06), "answers %d, %v: the grid has %v, the ranges are %v", i, l.family, e, ranges)
				default:
					assert.False(t, inside(e, -0.06), "answers %d, %v: the grid has not %v, the ranges are %v", i, l.family, e, ranges)
				}
			}
		}
	}
}

func agrees(t *answers.Told, a *answers.Answers) bool {
	for _, i := range answers.Items() {
		if !t.Agrees(i, a) {
			return false
		}
	}
	return true
}

// The question that is asked is the one that leaves the smallest largest group.
func TestNextQuestion(t *testing.T) {
	x := searched()
	const seed = 3
	r := rand.New(rand.NewPCG(seed, 0))
	asks := 0
	for range 40 {
		member, _, _ := x.Member(r)
		told := tell(member)
		var a answers.Answers
		for _, i := range answers.Items() {
			if r.IntN(3) == 0 {
				a.Code[i] = told.Code[i]
			}
		}
		result := x.Explain(a).Result()
		largest := func(i answers.Item) int {
			groups := map[answers.Code]int{}
			for _, c := range i.Codes() {
				for _, m := range result.Families {
					if says := m.Says.Code[i]; says == c || says == answers.Open {
						groups[c]++
					}
				}
			}
			most := 0
			for _, n := range groups {
				most = max(most, n)
			}
			return most
		}
		for _, i := range answers.Items() {
			if i == answers.MeetAt || a.Answered(i) {
				assert.NotEqual(t, sim.Some(i), result.Ask)
				continue
			}
			if !result.Ask.OK {
				assert.Equal(t, len(result.Families), largest(i), "%v would tell them apart (seed %d)", i, seed)
				continue
			}
			asks++
			switch ask := result.Ask.Value; {
			case i < ask:
				assert.Greater(t, largest(i), largest(ask), "%v comes earlier than %v (seed %d)", i, ask, seed)
			default:
				assert.GreaterOrEqual(t, largest(i), largest(ask), "%v against %v (seed %d)", i, ask, seed)
			}
		}
	}
	assert.Positive(t, asks)
}

func TestBandsTileTheLine(t *testing.T) {
	for name, s := range map[string]sim.Setup{
		"three beads":           threeBeads(),
		"right left out behind": with(threeBeads(), func(s *sim.Setup) { s.Suppression.Eye, s.Suppression.Zone = sim.Right, sim.ZoneBeyond }),
		"one eye higher":        with(threeBeads(), func(s *sim.Setup) { s.Posture.Vertical = 0.1 }),
		"a bare place":          with(threeBeads(), func(s *sim.Setup) { s.Look = sim.Fixation{Bead: sim.NoBead, At: 600, Asked: sim.NoBead} }),
	} {
		t.Run(name, func(t *testing.T) {
			bands := answers.Bands(&s)
			require.NotEmpty(t, bands)
			assert.EqualValues(t, -answers.MostBand, bands[0].From)
			assert.EqualValues(t, answers.MostBand, bands[len(bands)-1].To)
			for i, b := range bands {
				require.Less(t, b.From, b.To)
				m := with(s, func(s *sim.Setup) { s.Posture.Deviation = (b.From + b.To) / 2 })
				var v sim.View
				v.Look(&m)
				told := answers.Tell(&v)
				assert.Equal(t, [4]answers.Code{told.Code[answers.Bead], told.Code[answers.Near], told.Code[answers.Far], told.Code[answers.Meet]},
					[4]answers.Code{b.Bead, b.Near, b.Far, b.Meet}, "in the middle of band %d", i)
				assert.Equal(t, v.Account.Pattern, b.Pattern)
				if i > 0 {
					assert.Equal(t, bands[i-1].To, b.From)
					before := b
					before.From, before.To = bands[i-1].From, bands[i-1].To
					assert.NotEqual(t, bands[i-1], before, "neighbours say different things")
				}
			}
		})
	}
}

func TestNames(t *testing.T) {
	for _, i := range answers.Items() {
		p, err := answers.ParseItem(i.String())
		require.NoError(t, err)
		assert.Equal(t, i, p)
		for _, c := range i.Codes() {
			code, err := i.ParseCode(c.String())
			require.NoError(t, err)
			assert.Equal(t, c, code)
		}
	}
	_, err := answers.ParseItem("beads")
	assert.Error(t, err)
	_, err = answers.Bead.ParseCode("three")
	assert.EqualError(t, err, `bead: "three" is no answer; allowed: one, two, none`)
}

func BenchmarkSearch(b *testing.B) {
	s := threeBeads()
	b.ReportAllocs()
	for b.Loop() {
		answers.New(&s).Run()
	}
}

func BenchmarkExplain(b *testing.B) {
	x := searched()
	a := said(answers.Bead, answers.Two, answers.Near, answers.Double, answers.Far, answers.Double)
	a.Place = sim.Some(answers.Place{At: 340, Within: 40})
	b.ReportAllocs()
	for b.Loop() {
		x.Explain(a).Result()
	}
}

func BenchmarkBands(b *testing.B) {
	s := threeBeads()
	b.ReportAllocs()
	for b.Loop() {
		answers.Bands(&s)
	}
}

// No stretch goes beyond what is tried, also between the rows of a family of two numbers.
func TestRangesStayWithinWhatIsTried(t *testing.T) {
	scene := threeBeads()
	search := searched()
	most := map[string]float64{"posture.deviation_prism": 40, "posture.vertical_prism": 10, "posture.cyclo_deg": 15, "look.at_mm": scene.String.Length}
	for _, near := range answers.Near.Codes() {
		for _, meet := range answers.Meet.Codes() {
			var a answers.Answers
			a.Code[answers.Bead], a.Code[answers.Near], a.Code[answers.Meet] = answers.Two, near, meet
			r := search.Explain(a).Result()
			for _, m := range append(r.Families, r.Nearest...) {
				for _, g := range m.Ranges {
					assert.LessOrEqual(t, g.From, g.To)
					assert.LessOrEqual(t, max(g.To, -g.From), most[g.Key], "%v %v %v: %s", near, meet, m.Family, g.Key)
					onBead := g.From < 480+8 && g.To > 480-8
					assert.False(t, g.Key == "look.at_mm" && onBead, "%v %v: the bead asked for is no other place", near, meet)
				}
			}
		}
	}
}

// What is explained while the search goes on is what is explained after it.
func TestExplainedWhileSearching(t *testing.T) {
	scene := threeBeads()
	var a answers.Answers
	a.Code[answers.Bead], a.Code[answers.Near] = answers.One, answers.Single
	want := searched().Explain(a).Result()

	search := answers.New(&scene)
	e := search.Explain(a)
	var came []answers.Match
	assert.Zero(t, search.Progress())
	for more := true; more; {
		for e.Waits() {
			before := search.Progress()
			if !search.Step() {
				break
			}
			assert.GreaterOrEqual(t, search.Progress(), before)
			assert.Less(t, search.Progress(), 1.)
		}
		more = e.Step()
		if m, ok := e.Latest(); ok {
			came = append(came, m)
		}
	}
	assert.Equal(t, 1., search.Progress())
	assert.Equal(t, want, e.Result())
	assert.Equal(t, want.Families, came)
}

// An explanation opens as the smallest error that tells, not at the end or in the middle
// of all that would give the answers, and never as one that hardly shows.
func TestExamplesAreThePlainest(t *testing.T) {
	r := searched().Explain(said(answers.Bead, answers.Two)).Result()
	for kind, least := range map[answers.Kind]float64{answers.Eso: 3, answers.Exo: 3} {
		m := find(r.Families, kind)
		require.NotNil(t, m, kind)
		require.Equal(t, 40., max(-m.Ranges[0].From, m.Ranges[0].To), "open toward the end")
		e := math.Abs(float64(m.Example.Posture.Deviation))
		assert.GreaterOrEqual(t, e, least, kind)
		assert.LessOrEqual(t, e, 5., kind)
	}
	spot := find(r.Families, answers.AnotherSpot)
	require.NotNil(t, spot)
	assert.Zero(t, math.Mod(spot.Example.LookPlace(), 10), "a round number")
	assert.InDelta(t, 60, math.Abs(spot.Example.LookPlace()-480), 25, "beside the bead that was asked for")
	m := find(r.Families, answers.Vertical)
	require.NotNil(t, m)
	assert.InDelta(t, 3, math.Abs(float64(m.Example.Posture.Vertical)), 1)
	assert.Zero(t, m.Example.Posture.Deviation, "and nothing else with it")
	// Where no error at all gives the answers, none is shown.
	r = searched().Explain(said(answers.Near, answers.Single, answers.Far, answers.Single)).Result()
	left := find(r.Families, answers.LeftOut)
	require.NotNil(t, left)
	assert.Zero(t, left.Example.Posture.Deviation)
}
