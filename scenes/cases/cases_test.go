package cases

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"twincord/sim"
	"twincord/sim/answers"
	"twincord/testdata/published"
)

// drawing is a case with its key and what fits, and the bench of its string.
type drawing struct {
	*Case
	bench *Bench
	key   []Entry
	fits  []answers.Match // of SeeToEyes and WhichEye
}

// drawings are cases of some seeds of every kind and level, made once for all tests.
// Few are of more than two strings, so that few are searched.
var drawings = sync.OnceValues(func() (all []drawing, err error) {
	seeds, strung := 16, 2
	if long {
		seeds, strung = 2000, len(layouts)
	}
	var benches [len(layouts)]*Bench
	for n := range seeds {
		seed := uint64(n/strung*len(layouts) + n%strung)
		if benches[n%strung] == nil {
			benches[n%strung] = NewBench(seed)
		}
		b := benches[n%strung]
		for _, k := range Kinds() {
			if !long && n >= 8 && k != SeeToEyes && k != WhichEye && k != DoesItFit { // of which there is most to choose
				continue
			}
			for level := 1; level <= Levels; level++ {
				c, err := Make(ID{k, level, seed}, b)
				if err != nil {
					return nil, err
				}
				d := drawing{Case: c, bench: b, key: c.Key(b)}
				if k == SeeToEyes || k == WhichEye {
					d.fits = c.fitting(b) // which the key was made from
				}
				all = append(all, d)
			}
		}
	}
	return all, nil
})

// drawn tests all drawings of some kinds, of no kinds all; the first that fails is named.
func drawn(t *testing.T, test func(t *testing.T, d *drawing), kinds ...Kind) {
	t.Helper()
	drawnOfOneIn(1, t, test, kinds...)
}

// sampled is drawn for what searches again, which is done with one in three of the seeds, of
// either string, and with one in ten where there are very many.
func sampled(t *testing.T, test func(t *testing.T, d *drawing), kinds ...Kind) {
	t.Helper()
	share := 3
	if long {
		share = 10
	}
	drawnOfOneIn(share, t, test, kinds...)
}

func drawnOfOneIn(share int, t *testing.T, test func(t *testing.T, d *drawing), kinds ...Kind) {
	t.Helper()
	all, err := drawings()
	require.NoError(t, err)
	ofSeed := len(Kinds()) * Levels
	for i := range all {
		d := &all[i]
		if i/ofSeed%share != 0 || len(kinds) > 0 && !slices.Contains(kinds, d.Kind) {
			continue
		}
		if test(t, d); t.Failed() {
			t.Fatalf("by the case %+v", d.ID)
		}
	}
}

// truth is what the hidden set-up says to an item: written from what it was made of,
// with no look at the families.
func truth(c *Case, i Item) Answer {
	h := &c.hidden
	v, _ := look(h)
	code := func(code string) Answer { return Answer{Code: code} }
	switch i {
	case Sign:
		switch e := h.Posture.Deviation; {
		case h.LookPlace() != c.scene.LookPlace():
			return code(Elsewhere)
		case e > 0:
			return code(Eso)
		case e < 0:
			return code(Exo)
		}
		return code(Straight)
	case Deviation:
		return Answer{Number: float64(h.Posture.Deviation)}
	case Missing:
		if h.Suppression.Eye == sim.Neither {
			return code(Nobody)
		}
		return code(string(h.Suppression.Eye))
	case Where:
		if h.Suppression.Eye == sim.Neither {
			return code(Nothing)
		}
		return code(map[sim.Zone]string{sim.ZoneAll: All, sim.ZoneNearer: InFront, sim.ZoneBeyond: Behind, sim.ZoneCentral: Centre}[h.Suppression.Zone])
	case Fixing:
		return code(string(v.Account.Fixes))
	case Doubling:
		switch v.Beads[asked].Diplopia {
		case sim.DiplopiaCrossed:
			return code(Crossed)
		case sim.DiplopiaUncrossed:
			return code(Uncrossed)
		}
		return code(NotDoubled)
	case Whose:
		if v.Beads[asked].Right.Value.X > v.Beads[asked].Left.Value.X {
			return code(Right)
		}
		return code(Left)
	case CrossAt:
		if m := v.Account.Meet; m == sim.MeetAt || m == sim.MeetNearer || m == sim.MeetBeyond {
			return Answer{Number: v.Crossing.At.Value}
		}
		return code(Never)
	case Beads:
		if v.Beads[asked].Seen == sim.SeenTwo {
			return code(Two)
		}
		return code(One)
	case Front:
		return code(fmt.Sprint(v.Account.Near))
	case Back:
		return code(fmt.Sprint(v.Account.Far))
	}
	return Answer{}
}

func TestKeyAndTruthAreRight(t *testing.T) {
	drawn(t, func(t *testing.T, d *drawing) {
		require.Len(t, d.key, len(d.Asked))
		best, real := map[Item]Answer{}, map[Item]Answer{}
		for n, e := range d.key {
			assert.Equal(t, d.Asked[n], e.Item)
			best[e.Item], real[e.Item] = e.Best, e.Best
			if a := truth(d.Case, e.Item); a != (Answer{}) || e.Item == Deviation {
				real[e.Item] = a
			}
			for _, code := range append(slices.Clone(e.Codes), e.Half...) {
				assert.Contains(t, d.Choices(e.Item), code, "what is right can be chosen")
			}
			if e.Best.Code != "" {
				assert.Contains(t, e.Codes, e.Best.Code)
			}
		}
		for _, given := range []map[Item]Answer{best, real} {
			j := judge(d.key, given)
			assert.InDelta(t, 1., j.Points, 1e-9, "%v for %+v, key %+v", j.Items, given, d.key)
			assert.False(t, j.Failed || j.Missed())
		}
		j := judge(d.key, nil)
		assert.Zero(t, j.Points, "nothing answered")
		assert.True(t, j.Missed())
	})
}

func TestWrongSignGetsNothing(t *testing.T) {
	told := 0
	drawn(t, func(t *testing.T, d *drawing) {
		for _, e := range d.key {
			if !e.Told() {
				continue
			}
			switch e.Item {
			case Sign, Base, Doubling:
				for _, code := range d.Choices(e.Item) {
					if code != e.Best.Code {
						assert.Zero(t, e.Points(Answer{Code: code}), code)
						told++
					}
				}
			case Deviation:
				if !slices.ContainsFunc(e.Spans, func(s Span) bool { return s.From <= onBead && s.To >= -onBead }) {
					assert.Zero(t, e.Points(Answer{Number: -e.Best.Number}), "%+v", e)
					told++
				}
			}
		}
	})
	assert.NotZero(t, told)
}

// Where it cannot be told CannotTell is right, and what agrees with nothing costs half
// a point; where it can, CannotTell is worth nothing.
func TestConfidenceCosts(t *testing.T) {
	cost := 0
	drawn(t, func(t *testing.T, d *drawing) {
		for _, e := range d.key {
			if e.Told() {
				assert.LessOrEqual(t, e.Points(Answer{Code: CannotTell}), 0., "%+v", e)
				continue
			}
			assert.Equal(t, 1., e.Points(Answer{Code: CannotTell}))
			for _, code := range d.Choices(e.Item) {
				if !slices.Contains(e.Codes, code) && !slices.Contains(e.Half, code) {
					assert.Equal(t, -0.5, e.Points(Answer{Code: code}), "%s %s", e.Item, code)
					cost++
				}
			}
		}
	})
	assert.NotZero(t, cost)
}

// CannotTell is right exactly where families that fit differ in what is asked, which
// here is found by looking at the examples of all of them.
func TestCannotTellIsRightWhereFamiliesDiffer(t *testing.T) {
	items := []Item{Sign, Missing, Where, Doubling, Whose}
	drawn(t, func(t *testing.T, d *drawing) {
		differ := map[Item]map[Answer]bool{}
		for _, m := range d.fits {
			assert.NotEqual(t, answers.Strings, m.Kind, "whoever asks sees how the string is held")
			as := *d.Case
			as.hidden = m.Example
			for _, i := range items {
				if differ[i] == nil {
					differ[i] = map[Answer]bool{}
				}
				if a := truth(&as, i); i != Sign || a.Code == Straight || math.Abs(float64(m.Example.Posture.Deviation)) > onBead {
					differ[i][a] = true
				}
			}
		}
		for _, e := range d.key {
			if !slices.Contains(items, e.Item) {
				continue
			}
			if len(differ[e.Item]) > 1 {
				assert.False(t, e.Told(), "%s: %v", e.Item, differ[e.Item])
			}
			if e.Told() {
				assert.Len(t, differ[e.Item], 1, "%s", e.Item)
			}
		}
	}, SeeToEyes, WhichEye)
}

// Every kind at every level has more than one right answer, so that none is learned
// by heart.
func TestNoKindHasOneAnswer(t *testing.T) {
	answers := map[string]map[string]int{}
	drawn(t, func(t *testing.T, d *drawing) {
		first := fmt.Sprintf("%s, level %d", d.Kind, d.Level)
		if answers[first] == nil {
			answers[first] = map[string]int{}
		}
		var all []string
		for _, e := range d.key {
			all = append(all, fmt.Sprintf("%s %s %.0f", e.Item, e.Best.Code, e.Best.Number))
		}
		answers[first][fmt.Sprint(all)]++
	})
	for what, n := range answers {
		assert.GreaterOrEqual(t, len(n), 2, "%s: %v", what, n)
	}
}

// No answer to an item is right in every case of a kind at a level: nobody gets through
// without looking.
func TestNoAnswerIsAlwaysRight(t *testing.T) {
	type which struct {
		Kind
		level int
		Item
	}
	all := map[which][]*Entry{}
	drawn(t, func(t *testing.T, d *drawing) {
		for i := range d.key {
			w := which{d.Kind, d.Level, d.key[i].Item}
			all[w] = append(all[w], &d.key[i])
		}
	})
	for w, entries := range all {
		if len(entries) < 10 {
			continue // it may be by chance
		}
		for _, e := range entries {
			tried := []Answer{e.Best}
			for _, code := range e.Codes {
				tried = append(tried, Answer{Code: code})
			}
			for _, a := range tried {
				require.True(t, slices.ContainsFunc(entries, func(e *Entry) bool { return e.Points(a) < whole }), "%+v: always %+v", w, a)
			}
		}
	}
}

// What does not go together is not always the same answer, nor always told last.
func TestContradictionsAreSpread(t *testing.T) {
	items, last, pairs := map[string]int{}, 0, 0
	drawn(t, func(t *testing.T, d *drawing) {
		first, second, ok := strings.Cut(d.key[0].Best.Code, "+")
		if !ok {
			return
		}
		pairs++
		items[first]++
		items[second]++
		if told := d.Told(); second == told[len(told)-1].String() {
			last++
		}
	}, DoesItFit)
	require.NotZero(t, pairs)
	assert.LessOrEqual(t, 4*last, 3*pairs, "of %d the last one is in %d", pairs, last)
	for i, n := range items {
		assert.LessOrEqual(t, 2*n, pairs, "%s is in %d of %d", i, n, pairs)
	}
}

// A picture shows what is asked about it: with eyes off the bead two beads, plainly; and
// where a number of prism dioptres is asked for, it is told where the strings cross.
// Nothing is asked that takes a crossing behind a bead.
func TestWhatIsAskedIsGiven(t *testing.T) {
	pictured, hidden := 0, 0
	drawn(t, func(t *testing.T, d *drawing) {
		v, _ := look(&d.hidden)
		if v.Account.HiddenBy != "" {
			hidden++
			assert.False(t, d.Given.Answers.Place.OK, "nobody tells a place that is not seen")
			for _, i := range []Item{CrossAt, Deviation, Power} {
				assert.NotContains(t, d.Asked, i)
			}
		}
		if d.Given.Picture == PatientView && d.hidden.Posture.Deviation != 0 {
			pictured++
			size := 2 * math.Asin(diameter/2/r3.Norm(d.hidden.Place(d.hidden.LookPlace()))) // from the centres
			apart := math.Hypot(v.Beads[asked].Right.Value.X-v.Beads[asked].Left.Value.X, v.Beads[asked].Right.Value.Y-v.Beads[asked].Left.Value.Y)
			assert.Greater(t, apart, 0.22*size)
		}
		for _, e := range d.key {
			if e.Item.prism() && e.Best.Code != CannotTell && e.Best.Number != 0 {
				require.True(t, d.Given.Answers.Place.OK, "%s", e.Item)
				assert.InDelta(t, v.Crossing.At.Value, d.Given.Answers.Place.Value.At, 5)
			}
		}
	})
	assert.NotZero(t, pictured)
	assert.NotZero(t, hidden)
}

// One bead, or one with a doubled edge, shows in no picture where the strings cross.
func TestAPictureShowsTwoBeads(t *testing.T) {
	for deviation, want := range map[sim.Prism]bool{0: true, 0.2: false, -0.25: false, 0.4: false, -0.4: false, 0.8: true, -0.8: true, 5: true} {
		for n := range layouts {
			s := StringOf(uint64(n))
			s.Posture.Deviation = deviation
			v, _ := look(&s)
			assert.Equal(t, want, shows(v), "%v Δ on the string %d", deviation, n)
		}
	}
}

// Looking elsewhere is right wherever nobody points and the crossing is off the bead, and
// never where somebody does; it is not the same as eyes on the bead.
func TestLookingElsewhere(t *testing.T) {
	elsewhere := 0
	drawn(t, func(t *testing.T, d *drawing) {
		r := d.key[0]
		if d.Given.Finger {
			assert.NotContains(t, r.Codes, Elsewhere)
			return
		}
		if m := d.Given.Answers.Code[answers.Meet]; d.hidden.Suppression.Eye == sim.Neither && (m == answers.Nearer || m == answers.Beyond) {
			elsewhere++
			assert.Contains(t, r.Codes, Elsewhere)
			assert.NotContains(t, r.Codes, Straight)
			assert.False(t, r.Told())
		}
	}, SeeToEyes)
	assert.NotZero(t, elsewhere)
}

// The best question is plainly better than those that are not right: a third more
// families are left by any of these.
func TestTheBestQuestionIsPlain(t *testing.T) {
	asks := map[string]int{}
	sampled(t, func(t *testing.T, d *drawing) {
		r := d.key[0]
		asks[r.Best.Code]++
		result := d.bench.explain(&d.Given.Answers)
		assert.Equal(t, len(result.Families), r.Agree)
		if r.Best.Code == CannotTell {
			assert.Equal(t, r.Agree, r.Left)
			return
		}
		for _, code := range d.Choices(Ask) {
			i, err := answers.ParseItem(code)
			if err != nil || slices.Contains(r.Codes, code) {
				continue
			}
			assert.GreaterOrEqual(t, float64(answers.Undivided(result.Families, i)), 4./3*float64(r.Left)-1e-9*float64(r.Left), code)
		}
	}, NextQuestion)
	assert.Greater(t, len(asks), 2, "%v", asks)
}

// Row P6: of a prism of 10 Δ before one eye 9.368 Δ are left at 40 cm. In the reduced
// geometry the glass that is right there for a deviation of 9.368 Δ is one of 10 Δ: to
// 1 %, since angles add and tangents do not; and exactly that by which each eye, turned
// by half of the deviation, has the bead displaced onto its axis.
func TestGlassAgreesWithP6(t *testing.T) {
	row := published.Get(t, "P6")
	numbers := published.Numbers(t, row.Given, 3)
	power, stands, away := numbers[0], 10*numbers[1], 10*numbers[2]
	want := published.Numbers(t, row.Expect, 1)[0]
	assert.InDelta(t, sim.SpectaclePlane, stands, 1e-9)

	s := StringOf(0)
	s.Patient.Nodal = 0
	s.String.NearEnd, s.String.AnchorHeight = r3.Vec{Y: 54}, 0 // along the midline: distances are places
	s.Beads[asked].At = away + stands - 54
	s.Posture.PrismMet = 0
	for _, sign := range []float64{1, -1} {
		s.Posture.Deviation = sim.Prism(sign * want)
		assert.InDelta(t, sign*power, Glass(&s), 0.01*power, "deviation %v", s.Posture.Deviation)

		beside, far := s.Patient.PD/2, away+stands
		turned := math.Atan(beside/far) + float64(s.Posture.Deviation.Angle())/2
		displaced := far*math.Tan(turned) - beside
		assert.InDelta(t, 2*100*displaced/away, Glass(&s), 0.001)
	}
}

// The glass of the key, put on, brings the crossing into the bead.
func TestGlassBringsTheCrossingIntoTheBead(t *testing.T) {
	drawn(t, func(t *testing.T, d *drawing) {
		s := d.hidden
		p := sim.Prism(Glass(&s) / 2)
		assert.Greater(t, math.Abs(float64(s.Right.BaseOut-p)), 0.5, "there is something to do")
		s.Right.BaseOut, s.Left.BaseOut = p, p
		v, told := look(&s)
		assert.InDelta(t, s.Beads[asked].At, v.Crossing.At.Value, 0.1)
		assert.Equal(t, answers.One, told.Code[answers.Bead])
		assert.Equal(t, answers.At, told.Code[answers.Meet])
	}, WhichGlass)
}

// Where a walk breaks and comes back, in closed form from M14: the reserve at a vergence
// d, linear from the near test to none at the near point, is as large as the load.
func TestWalkAgreesWithTheReserves(t *testing.T) {
	drawn(t, func(t *testing.T, d *drawing) {
		f, s := &d.hidden.Findings.Value, &d.hidden
		// Plus lenses spare the patient of 12 so much accommodation, and AC/A of that.
		load := float64(s.Right.BaseOut+s.Left.BaseOut) + f.ACA.Value*float64(s.Right.Lens)
		turns := func(reserve, nearPoint float64) float64 {
			end := 1000 / nearPoint
			vergence := end - load/reserve*(end-2.5)
			away := 1000/vergence + sim.SpectaclePlane // from the centres
			// The place whose point is that far away, by bisection.
			near, far := 0., s.String.Length
			for far-near > 1e-6 {
				if middle := (near + far) / 2; r3.Norm(s.Place(middle)) < away {
					near = middle
				} else {
					far = middle
				}
			}
			return near
		}
		assert.InDelta(t, turns(float64(f.Near.BaseOutBreak), f.NPCBreak), d.key[0].Best.Number, 1)
		assert.InDelta(t, turns(float64(f.Near.BaseOutRecovery), f.NPCRecovery), d.key[1].Best.Number, 1)
		assert.Greater(t, d.key[1].Best.Number, d.key[0].Best.Number, "it comes back farther out")
		if d.Level > 1 {
			unloaded := d.key[0].Beside
			assert.Greater(t, d.key[0].Best.Number-unloaded, float64(leastNear), "what is put on tells")
			assert.Less(t, d.key[0].Points(Answer{Number: unloaded - leastNear}), half)
		}
	}, Walk)
}

func TestTheLevelsAreThose(t *testing.T) {
	limit := float64(sim.Default().Patient.FusionH.Angle().Prism())
	drawn(t, func(t *testing.T, d *drawing) {
		e := math.Abs(float64(d.hidden.Posture.Deviation))
		if e == 0 {
			return
		}
		v, told := look(&d.hidden)
		switch d.Level {
		case 1:
			assert.Greater(t, e, 5*limit)
		case 2:
			assert.True(t, limit < e && e <= 5*limit, e)
		case 3:
			assert.Less(t, e, limit)
			if d.hidden.Patient.FusionH == sim.Default().Patient.FusionH {
				assert.Equal(t, answers.One, told.Code[answers.Bead], "one bead")
			} else {
				assert.True(t, d.Given.Limit, "a smaller limit is told")
			}
			assert.NotEqual(t, sim.MeetAt, v.Account.Meet, "the crossing off")
		}
	}, SeeToEyes, EyesToSee)
}

func TestAMissedStopFailsItsCase(t *testing.T) {
	stops := 0
	drawn(t, func(t *testing.T, d *drawing) {
		if d.Given.Story.Stops() {
			stops++
		}
		for _, code := range []string{Continue, CannotTell, ""} {
			given := map[Item]Answer{}
			if code != "" {
				given[GoOn] = Answer{Code: code}
			}
			j := judge(d.key, given)
			assert.Equal(t, d.Given.Story.Stops(), j.Failed, code)
		}
	}, Stop)
	assert.NotZero(t, stops)
}

// Every story that says stop rests on a row of the cautions, and no story on a row that
// nobody has seen.
func TestStoriesRestOnRows(t *testing.T) {
	var stops, goes [Levels]int
	for _, s := range stories {
		if s.stop {
			stops[s.level-1]++
			require.NotEmpty(t, s.row, s.Story)
			assert.Equal(t, byte('K'), s.row[0], s.Story)
			assert.NotEmpty(t, s.caution, s.Story)
		} else {
			goes[s.level-1]++
		}
		if s.row != "" {
			assert.NotEqual(t, published.FromMemory, published.Listed(t)[s.row], s.Story)
			assert.Contains(t, published.Listed(t), s.row, s.Story)
		}
	}
	for level := range Levels {
		assert.GreaterOrEqual(t, stops[level], 2)
		assert.GreaterOrEqual(t, goes[level], 2)
	}
}

func TestTheSameSeedIsTheSameCase(t *testing.T) {
	sampled(t, func(t *testing.T, d *drawing) {
		again, err := Make(d.ID, d.bench)
		require.NoError(t, err)
		assert.Equal(t, d.Case, again)
	})
}

func TestSets(t *testing.T) {
	for seed := range uint64(200) {
		s := Set{Seed: seed, Count: SetSize, Level: int(seed%Levels) + 1}
		ids := s.IDs()
		require.Len(t, ids, SetSize)
		assert.Equal(t, ids, s.IDs())
		kinds := map[Kind]int{}
		seen := map[ID]bool{}
		for i, id := range ids {
			kinds[id.Kind]++
			assert.False(t, seen[id])
			seen[id] = true
			assert.True(t, NewBench(seed).Serves(id.Seed))
			if i > 0 {
				assert.NotEqual(t, ids[i-1].Kind, id.Kind, "twice in a row, seed %d", seed)
			}
		}
		for _, k := range Kinds() {
			assert.Contains(t, []int{1, 2}, kinds[k], "%s, seed %d", k, seed)
		}
	}
	assert.NotEqual(t, (&Set{Seed: 1, Count: 10, Level: 1}).IDs(), (&Set{Seed: 2, Count: 10, Level: 1}).IDs())
	for seed := range uint64(20) {
		only := Set{Seed: seed, Count: SetSize, Level: int(seed%Levels) + 1, Kinds: []Kind{Stop, Stop}}
		var told []Story
		for _, id := range only.IDs() {
			assert.Equal(t, Stop, id.Kind)
			told = append(told, storyOf(id))
			assert.Equal(t, id.Level, storyOf(id).told().level)
		}
		first := slices.Clone(told[:storiesAt(only.Level)])
		slices.Sort(first)
		assert.Len(t, slices.Compact(first), storiesAt(only.Level), "each once before one comes again, seed %d: %v", seed, told)
	}
}

// How often what is drawn comes: the usual mostly, and the unusual often enough that
// nobody leaves it out.
func TestTheMixOfCases(t *testing.T) {
	const seeds = 400
	drawn := map[ID][]*Case{} // by kind and level
	share := func(kind Kind, level int, has func(c *Case) bool) float64 {
		of := ID{Kind: kind, Level: level}
		for seed := uint64(len(drawn[of])); seed < seeds; seed++ {
			c := begun(ID{kind, level, seed})
			makers[kind](c, c.lot(), nil)
			drawn[of] = append(drawn[of], c)
		}
		n := 0
		for _, c := range drawn[of] {
			if has(c) {
				n++
			}
		}
		return float64(n) / seeds
	}
	leaves := func(c *Case) bool { return c.hidden.Suppression.Eye != sim.Neither }
	right := func(c *Case) bool { return c.hidden.Suppression.Eye == sim.Right }
	off := func(c *Case) bool { return c.hidden.Posture.Deviation != 0 }
	eso := func(c *Case) bool { return c.hidden.Posture.Deviation > 0 }
	doubled := func(c *Case) bool { return c.Asked[0] == Whose }
	finger := func(c *Case) bool { return c.Given.Finger }
	limit := func(c *Case) bool { return c.Given.Limit }
	picture := func(c *Case) bool { return c.Given.Picture != NoPicture }
	tenths := func(c *Case) bool {
		ten := 10 * float64(c.hidden.Posture.Deviation)
		return math.Abs(ten-math.Round(ten)) < 1e-9
	}
	covered := func(c *Case) bool { // and no picture, which shows both
		return !picture(c) && slices.ContainsFunc(c.Told(), func(i answers.Item) bool { return i >= answers.RightCoverString && i <= answers.LeftCoverBead })
	}
	told := func(items ...answers.Item) func(c *Case) bool {
		return func(c *Case) bool {
			return doubled(c) && slices.ContainsFunc(items, c.Given.Answers.Answered)
		}
	}
	for _, tt := range []struct {
		name string
		kind Kind
		has  func(c *Case) bool
		want [Levels]float64
	}{
		{"something left out", SeeToEyes, leaves, [Levels]float64{2. / 8, 3. / 8, 3. / 8}},
		{"the right eye's", SeeToEyes, right, [Levels]float64{1. / 8, 3. / 16, 3. / 16}},
		{"off the bead", SeeToEyes, off, [Levels]float64{5. / 8, 5. / 8, 5. / 8}},
		{"in tenths", SeeToEyes, tenths, [Levels]float64{1, 1, 3./8 + 5./8*1./8}},
		{"eso", SeeToEyes, eso, [Levels]float64{5. / 16, 5. / 16, 5. / 16}},
		{"something left out", EyesToSee, leaves, [Levels]float64{1. / 4, 1. / 4, 1. / 4}},
		{"eso", EyesToSee, eso, [Levels]float64{1. / 2, 1. / 2, 1. / 2}},
		{"a limit", EyesToSee, limit, [Levels]float64{5. / 8, 3. / 5, 4. / 5}},
		{"a picture", EyesToSee, picture, [Levels]float64{3. / 8, 0, 0}},
		{"a bead that is two", WhichEye, doubled, [Levels]float64{1. / 3, 1. / 3, 1. / 3}},
		{"and it is told which goes", WhichEye, told(answers.RightCoverBead, answers.LeftCoverBead), [Levels]float64{1. / 3, 1. / 3, 0}},
		{"and it is told where they cross", WhichEye, told(answers.Meet), [Levels]float64{0, 0, 1. / 6}},
		{"what goes behind a cover is told", WhichEye, covered, [Levels]float64{1./3 + 2./3*1./2*2./3, 1./3 + 2./3*1./2*2./3, 2. / 3 * 2. / 3}},
		{"something left out", WhichEye, leaves, [Levels]float64{5. / 9, 5. / 9, 5. / 9}},
		{"a picture", WhichEye, picture, [Levels]float64{1. / 3, 1. / 3, 0}},
		{"eso", WhichGlass, eso, [Levels]float64{1. / 2, 1. / 2, 1. / 2}},
		{"a picture", WhichGlass, picture, [Levels]float64{1. / 2, 1. / 2, 1. / 2}},
		{"a finger", WhichGlass, finger, [Levels]float64{1, 1, 1}},
	} {
		for level, want := range tt.want {
			spread := 3.5 * math.Sqrt(want*(1-want)/seeds) // of lots that are fair
			assert.InDelta(t, want, share(tt.kind, level+1, tt.has), spread, "%s, level %d: %s", tt.kind, level+1, tt.name)
		}
	}
}

// Without a finger on the bead a crossing is told among the beads alone, up to the outer
// ones.
func TestCrossingsAmongTheBeads(t *testing.T) {
	c := begun(ID{SeeToEyes, 1, 0})
	assert.True(t, c.amongBeads(), "no place is told")
	near, far := c.scene.Beads[0].At, c.scene.Beads[2].At
	for at, want := range map[float64]bool{near - 1: false, near: true, (near + far) / 2: true, far: true, far + 1: false} {
		c.Given.Answers.Place = sim.Some(answers.Place{At: at, Within: exactly})
		assert.Equal(t, want, c.amongBeads(), "%v", at)
	}
}

// An item is answered with a number where nothing but Never is there to choose.
func TestNumericItems(t *testing.T) {
	for i, codes := range choices {
		assert.Equal(t, len(codes) == 0 || slices.Equal(codes, []string{Never}), i.Numeric(), i)
		assert.Equal(t, slices.Contains(codes, Never), i.Place(), i)
	}
	assert.False(t, Ask.Numeric() || Fits.Numeric())
}

func TestSetsThatThereAreNot(t *testing.T) {
	for _, tt := range []struct {
		set  Set
		says string
	}{
		{Set{Count: 0, Level: 1}, "0 cases; allowed are 1 to 100"},
		{Set{Count: 101, Level: 1}, "101 cases; allowed are 1 to 100"},
		{Set{Count: 10, Level: 0}, "0 is no level; allowed are 1 to 3"},
		{Set{Count: 10, Level: 4}, "4 is no level; allowed are 1 to 3"},
		{Set{Count: 10, Level: 1, Kinds: []Kind{"walks"}}, `"walks" is no kind of case; allowed: see_eyes,`},
	} {
		_, err := tt.set.Make(NewBench(0))
		assert.ErrorContains(t, err, tt.says)
		_, err = Sit(&tt.set, NewBench(0))
		assert.ErrorContains(t, err, tt.says)
	}
	_, err := Make(ID{Stop, 1, 1}, NewBench(2))
	assert.Error(t, err, "another string")
}

// A set has from one case to the most.
func TestBoundsOfSets(t *testing.T) {
	for count, good := range map[int]bool{0: false, 1: true, MostSize: true, MostSize + 1: false} {
		s := Set{Count: count, Level: 1}
		assert.Equal(t, good, s.Check() == nil, "%d", count)
	}
	for level, good := range map[int]bool{0: false, 1: true, Levels: true, Levels + 1: false} {
		s := Set{Count: 1, Level: level}
		assert.Equal(t, good, s.Check() == nil, "level %d", level)
	}
}

// A picture shows whose part is missing: by where its string starts, and by the gap.
func TestAPictureShowsWhoseIsMissing(t *testing.T) {
	zones := map[sim.Zone]int{}
	drawn(t, func(t *testing.T, d *drawing) {
		out := d.hidden.Suppression
		if d.Given.Picture != PatientView || out.Eye == sim.Neither {
			return
		}
		zones[out.Zone]++
		at := slices.IndexFunc(d.key, func(e Entry) bool { return e.Item == Missing })
		assert.Equal(t, []string{string(out.Eye)}, d.key[at].Codes)
	}, SeeToEyes, WhichEye)
	assert.Len(t, zones, 4)
}
