package desk

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

// practising opens the routine of a scene.
func practising(t *testing.T, scene string) (*person, *practice) {
	p := sit(t, scene)
	p.write("r")
	require.IsType(t, &practice{}, p.desk.over)
	return p, p.desk.over.(*practice)
}

// seconds lets time go by, a frame at a time.
func (p *person) seconds(s float64) {
	for range int(s * 60) {
		p.update()
	}
}

// A routine that goes on by itself is true to its times, pauses where it is, and is
// not run down by a computer that slept.
func TestRoutineRunsTrueToItsTimes(t *testing.T) {
	p, r := practising(t, "walk-of-ten")
	p.click(middle(p.widget("run").Self().Area))
	p.seconds(4.9)
	assert.Equal(t, 0, r.at)
	p.seconds(0.3)
	assert.Equal(t, 1, r.at, "five seconds were counted")
	p.seconds(0.5)
	assert.InDelta(t, (r.steps[0].At+r.steps[1].At)/2, r.view.Target.At, 15, "the bead is on its way")
	p.seconds(5.6)
	assert.Equal(t, 2, r.at)

	p.click(middle(p.widget("run").Self().Area))
	since := r.since
	p.seconds(20)
	assert.Equal(t, 2, r.at)
	assert.InDelta(t, since, r.since, 1.1, "it stands still, but for the bead's way")
	p.click(middle(p.widget("run").Self().Area))
	p.in.Seconds += 3600
	p.update()
	assert.Equal(t, 2, r.at)
	p.in.W, p.in.H = 1024, 700
	p.seconds(6)
	assert.Equal(t, 3, r.at)
}

// By hand a hold counts from when it is right, and another answer puts the count back.
func TestHoldCountsFromWhenItIsRight(t *testing.T) {
	p, r := practising(t, "walk-of-ten")
	p.seconds(8)
	assert.Zero(t, r.count, "nobody said that it is right")
	p.click(middle(p.widget("right").Self().Area))
	p.seconds(3)
	assert.InDelta(t, 3, r.count, 0.1)
	assert.False(t, r.next.On(), "it is not done")
	p.click(middle(p.widget("answer beyond").Self().Area))
	assert.Zero(t, r.count)
	assert.Equal(t, p.desk.say.Means(string(routine.CrossBeyond)), r.says(p.desk)[0].text)
	p.seconds(3)
	assert.Zero(t, r.count)
	p.click(middle(p.widget("right").Self().Area))
	p.seconds(6)
	assert.InDelta(t, 5, r.count, 1e-9)
	assert.True(t, r.next.On(), "what to press when a step is done")
	assert.Equal(t, 0, r.at, "by hand it waits")
	p.click(middle(p.widget("next").Self().Area))
	assert.Equal(t, 1, r.at)
}

// What is asked and tried is what the routine has, in its order and its words.
func TestPracticeAsksInOrder(t *testing.T) {
	for _, scene := range []string{"walk-of-ten", "jumps-of-three", "bare-string-walk"} {
		p, r := practising(t, scene)
		say, kind := p.desk.say, p.desk.doc.Scene().Routine.Value.Kind
		texts := func(said []saying) (all []string) {
			for _, s := range said {
				all = append(all, s.text)
			}
			return all
		}
		var asked []string
		for _, q := range routine.Questions(kind) {
			asked = append(asked, say.Ask(string(q)))
		}
		require.Greater(t, len(r.said), len(asked), scene)
		assert.Equal(t, asked, texts(r.said)[1:1+len(asked)], scene)

		for _, o := range r.others {
			a := o.Answer
			b := p.widget("answer " + string(a)).(*ui.Button)
			assert.Equal(t, say.OtherAnswer(string(a)), b.Text, scene)
			p.click(middle(b.Area))
			want := []string{say.Means(string(a)), say.Label(words.SheetTry) + ":"}
			for _, try := range a.Tries(kind) {
				want = append(want, say.Try(string(try)))
			}
			want = append(want, say.Label(words.SheetStopWhen)+":", say.StopWhen(string(a.Stop())))
			assert.Equal(t, want, texts(r.said), scene)
		}
	}
}

// Another answer that the model expects of this patient ends nothing: the clinic says when
// to stop.
func TestExpectedAnswerEndsNothing(t *testing.T) {
	for eye, stop := range map[sim.Side]routine.Stop{sim.Neither: routine.StopTell, sim.Right: routine.StopAsked} {
		p := sit(t, "walk-of-ten")
		p.desk.doc.Edit("", func(sc *scenes.Scene) { sc.Setup.Suppression.Eye = eye })
		p.update()
		p.write("r")
		r := p.desk.over.(*practice)
		r.hear(routine.OneString)
		says := r.says(p.desk)
		assert.Equal(t, p.desk.say.StopWhen(string(stop)), says[len(says)-1].text, "left out: %s", eye)
	}
}

// Where the bead stays two the walk goes back until it is one, and no closer again.
func TestWalkGoesNoCloserThanItStaysOne(t *testing.T) {
	p := sit(t, "walk-of-ten")
	p.desk.doc.Edit("", func(sc *scenes.Scene) { sc.Routine.Value.Rounds = 2 })
	p.update()
	p.write("r")
	r := p.desk.over.(*practice)
	for range 3 {
		p.click(middle(p.widget("next").Self().Area))
	}
	here := r.steps[r.at].At
	p.click(middle(p.widget("stays").Self().Area))
	assert.Greater(t, r.steps[r.at].At, here)
	assert.Equal(t, routine.Away, r.steps[r.at].Way)
	for range len(r.steps) {
		before := r.at
		r.begin(r.following(r.at + 1))
		if r.at == before {
			break
		}
		assert.Greater(t, r.steps[r.at].At, here)
	}
}

// What is shown at each step is what the model expects there.
func TestStepsShowWhatIsExpected(t *testing.T) {
	for _, scene := range []string{"walk-of-ten", "jumps-of-three", "bare-string-walk", "walk-with-findings", "jumps-unsteady"} {
		p, r := practising(t, scene)
		p.click(middle(p.widget("run").Self().Area))
		seen := map[int]bool{}
		for range 60 * 400 {
			p.in.Seconds += 1. / 10
			p.update()
			s := &r.steps[r.at]
			if r.since > s.Move+2 {
				seen[r.at] = true
				if s.Setup.Hold.SD == 0 {
					require.Equal(t, s.Expected.Fixated, r.view.Account.Fixated, "%s step %d", scene, r.at)
					require.Equal(t, s.Expected.Pattern, r.view.Account.Pattern, "%s step %d", scene, r.at)
				}
			}
			if !r.run {
				break
			}
		}
		assert.Len(t, seen, len(r.steps), scene)
	}
}

// The count is heard only where that was asked for.
func TestBeats(t *testing.T) {
	p, _ := practising(t, "walk-of-ten")
	p.click(middle(p.widget("right").Self().Area))
	p.seconds(3.2)
	assert.Zero(t, p.desk.Beats())
	p.desk.Sound = true
	p.seconds(2)
	assert.Equal(t, 2, p.desk.Beats())
}

func TestRoutineSwitch(t *testing.T) {
	p := sit(t, "middle-of-three")
	p.write("r")
	assert.Nil(t, p.desk.over)
	assert.Equal(t, p.desk.say.Label(words.HintNoRoutine), p.desk.News())
	o := p.desk.routineSwitch().(*ui.Choice)
	for i, want := range []scenes.RoutineKind{"", scenes.Walk, scenes.Jumps} {
		o.Set(i)
		r := p.desk.doc.Scene().Routine
		assert.Equal(t, want != "", r.OK)
		assert.Equal(t, want, r.Value.Kind)
		assert.NoError(t, p.desk.doc.Scene().Check())
	}
	o.Set(3)
	assert.Equal(t, scenes.Jumps, p.desk.doc.Scene().Routine.Value.Kind, "a bead is looked at")
	assert.Equal(t, p.desk.say.Label(words.RoutineCannot), p.desk.News())
}

// longAnswers are none, and those to which there is most to say.
var longAnswers = []routine.Answer{"", routine.NothingBehind, routine.Blurred, routine.TwoBeads}

// A routine in which the model expects nothing to count, such as with one image left
// out, is shown as long and goes on.
func TestRoutineWithNothingToCountGoesOn(t *testing.T) {
	p := sit(t, "walk-of-ten")
	p.desk.doc.Edit("", func(sc *scenes.Scene) { sc.Setup.Suppression.Eye = sim.Right })
	p.update()
	p.write("r")
	r := p.desk.over.(*practice)
	p.click(middle(p.widget("run").Self().Area))
	p.seconds(12)
	assert.Equal(t, 2, r.at)
	assert.Zero(t, r.count)
}

// All that there is to say of a step has room, in every size and language.
func TestPracticeSaysAll(t *testing.T) {
	for _, size := range [][3]float64{{1024, 700, 1}, {1280, 800, 1}, {3840, 2160, 2}} {
		for _, language := range words.Languages() {
			for i, large := range []bool{false, true} {
				for n, answer := range longAnswers {
					if !onTurn(n, i, 2) {
						continue
					}
					p := sit(t, "walk-with-findings")
					p.desk.Large = large
					p.in.W, p.in.H, p.in.Scale = size[0], size[1], size[2]
					p.desk.setLanguage(language)
					p.update()
					p.write("r")
					r := p.desk.over.(*practice)
					if answer != "" {
						r.hear(answer)
					}
					p.desk.dirty = true
					p.update()
					want := r.expected
					if answer != "" {
						says := r.says(p.desk)
						want = says[len(says)-1].text
					}
					var l display.List
					p.desk.Draw(&l)
					last := ""
					for i := range l.Texts {
						if s := l.Texts[i].String; strings.HasSuffix(want, s) && s != "" {
							last = s
						}
					}
					assert.NotEmpty(t, last, "%v %s large=%v answer %s: %q is cut off", size, language, large, answer, want)
				}
			}
		}
	}
}

// The picture has room for every image of every step, however narrow it is.
func TestPracticeShowsEveryImage(t *testing.T) {
	for _, size := range [][3]float64{{1024, 700, 1}, {1280, 800, 1}, {3840, 2160, 2}} {
		p := sit(t, "walk-with-findings")
		p.in.W, p.in.H, p.in.Scale = size[0], size[1], size[2]
		p.update()
		p.write("r")
		r := p.desk.over.(*practice)
		for i := range r.steps {
			r.begin(i)
			r.since = r.steps[i].Move
			r.look()
			p.desk.dirty = true
			p.update()
			var l display.List
			p.desk.Draw(&l)
			for _, b := range l.Balls {
				if math.Abs(b.Colour.B-0xe9/255.) < 0.01 && b.Opacity > 0.3 { // the bead, not the anchor
					assert.True(t, b.Centre.X-b.RadiusX >= r.picture.X && b.Centre.X+b.RadiusX <= r.picture.X+r.picture.W, "%v step %d", size, i)
				}
			}
		}
	}
}

// A bead that is moved is as large as the room at its place allows, and the picture never
// jumps; where the eyes jump, nothing changes its scale.
func TestPracticeIsAsLargeAsItCanBe(t *testing.T) {
	_, r := practising(t, "walk-of-ten")
	farthest, nearest := r.fields[0], r.fields[len(r.fields)/2]
	assert.Less(t, farthest, nearest/2)
	for i := 1; i < len(r.steps); i++ {
		assert.InDelta(t, float64(r.fields[i-1]), float64(routine.Along(r.steps, r.fields, i, 0)), 1e-9)
		assert.InDelta(t, float64(r.fields[i]), float64(routine.Along(r.steps, r.fields, i, r.steps[i].Move)), 1e-9)
	}
	_, r = practising(t, "jumps-of-three")
	assert.Equal(t, slices.Min(r.fields), slices.Max(r.fields))
}

// After the last step is an end, where there is nothing to go on to; back is the last
// step, and again the first.
func TestRoutineEnds(t *testing.T) {
	p, r := practising(t, "jumps-of-three")
	cautions := []words.Label{words.CautionStop, words.CautionAfter}
	for range r.steps {
		assert.False(t, r.over)
		for _, c := range cautions {
			assert.NotContains(t, r.said, saying{text: p.desk.say.Label(c)})
		}
		p.click(middle(p.widget("next").Self().Area))
	}
	require.True(t, r.over)
	assert.Equal(t, p.desk.say.Label(words.PracticeEnd), r.title(p.desk))
	assert.Equal(t, r.steps[len(r.steps)-1].Expected, r.view.Account, "what is hoped for, and no jump that was cut short")
	assert.NotContains(t, r.said, saying{text: r.title(p.desk)}, "the title says it")
	for _, c := range cautions {
		assert.Contains(t, r.said, saying{text: p.desk.say.Label(c)})
	}
	assert.True(t, p.widget("next").Self().Off)
	checkPage(t, p.desk, "the end")
	p.click(middle(p.widget("next").Self().Area))
	assert.True(t, r.over)
	p.click(middle(p.widget("back").Self().Area))
	assert.False(t, r.over)
	assert.Equal(t, len(r.steps)-1, r.at)
	p.click(middle(p.widget("next").Self().Area))
	p.click(middle(p.widget("again").Self().Area))
	assert.False(t, r.over)
	assert.Zero(t, r.at)
}

// What can do nothing just now says why, and as soon as it can what it does.
func TestWhyNothingGoesOn(t *testing.T) {
	p, r := practising(t, "walk-of-ten")
	says := func(name string, want words.Label) {
		t.Helper()
		p.moveTo(middle(p.widget(name).Self().Area))
		assert.Equal(t, p.desk.say.Label(want), p.desk.Hint(), name)
	}
	says("back", words.StepIsFirst)
	says("stays", words.NothingFarther)
	says("next", words.HintStepNext)
	p.click(middle(r.next.Area))
	says("back", words.HintStepBack)
	says("stays", words.HintStaysTwo)
	for !r.over {
		p.click(middle(r.next.Area))
	}
	says("next", words.StepWasLast)
	says("run", words.StepWasLast)
	says("back", words.HintStepBack)
}

// Another answer shows what is said beside what is hoped for.
func TestAnotherAnswerIsShown(t *testing.T) {
	p, r := practising(t, "walk-of-ten")
	p.click(middle(p.widget("answer nearer").Self().Area))
	assert.Equal(t, sim.MeetNearer, r.heard.Account.Meet)
	assert.Equal(t, sim.MeetAt, r.ideal.Account.Meet)
	var l display.List
	p.desk.Draw(&l)
	said := map[string]bool{}
	for i := range l.Texts {
		said[l.Texts[i].String] = true
	}
	assert.True(t, said[p.desk.say.Label(words.PracticeSaid)] && said[p.desk.say.Label(words.PracticeIdeal)])
}

// Enter alone goes through a routine to its end, and there is no way back before its
// first step nor out beyond its farthest one.
func TestRoutineByKeys(t *testing.T) {
	p, r := practising(t, "walk-of-ten")
	assert.True(t, r.back.Cannot())
	assert.True(t, r.stays.Cannot(), "nothing is farther out than the first step")
	for range r.steps {
		assert.False(t, r.over)
		p.key(ui.KeyEnter)
	}
	assert.True(t, r.over)
	assert.False(t, r.back.Cannot())
	others := p.desk.say.Label(words.SheetOthers)
	assert.NotContains(t, r.said, saying{text: others}, "there are none")

	_, r = practising(t, "jumps-of-three")
	r.begin(len(r.steps))
	r.fit(r.d)
	assert.Contains(t, r.said, saying{text: others})
}

// From a step one goes back to the one before, from the end to the last.
func TestGoingBack(t *testing.T) {
	p, r := practising(t, "walk-of-ten")
	p.key(ui.KeyEnter)
	p.key(ui.KeyEnter)
	require.Equal(t, 2, r.at)
	back := func() { p.click(middle(p.widget("back").Self().Area)) }
	for _, at := range []int{1, 0, 0} {
		back()
		assert.Equal(t, at, r.at)
	}
	p.desk.kit.SetFocus(r.next)
	for range r.steps {
		p.key(ui.KeyEnter)
	}
	require.True(t, r.over)
	back()
	assert.False(t, r.over)
	assert.Equal(t, len(r.steps)-1, r.at)
}

// A walk is asked about with its bead alone on the string, whatever else is on it.
func TestWalkAmongBeadsIsAskedAbout(t *testing.T) {
	for _, bead := range []int{1, sim.NoBead} {
		sc, _, err := scenes.Open("middle-of-three")
		require.NoError(t, err)
		sc.Setup.Look = sim.Fixation{Bead: bead, At: 500, Asked: sim.NoBead}
		sc.Routine = sim.Some(routine.Usual(sc, routine.Walk))
		routine.Keep(sc)
		p := sitBefore(t, sc, "es", Settings{}, 1280, 800, 1)
		p.write("r")
		p.click(middle(p.widget("next").Self().Area))
		step := p.desk.over.(*practice).steps[1].Setup
		p.click(middle(p.widget("ask").Self().Area))
		require.Nil(t, p.desk.over)
		now := p.desk.doc.Scene().Setup
		assert.InDelta(t, step.LookPlace(), now.LookPlace(), 1e-9)
		require.Len(t, now.Beads, len(step.Beads))
		if bead != sim.NoBead {
			assert.Equal(t, sc.Setup.Beads[bead].Name, now.Beads[0].Name)
		}
	}
}

// A scene that changes under its routine, as by undoing or from the disk, has its own
// routine begun, or none.
func TestRoutineOfASceneThatChanges(t *testing.T) {
	p, r := practising(t, "walk-of-ten")
	p.click(middle(p.widget("next").Self().Area))
	p.desk.doc.Edit("", func(sc *scenes.Scene) { sc.Routine.Value.Steps = 2 })
	p.update()
	require.NotSame(t, r, p.desk.over)
	r = p.desk.over.(*practice)
	assert.Equal(t, 0, r.at)
	assert.Len(t, r.steps, len(routine.Steps(p.desk.doc.Scene())))

	p.desk.doc.Edit("", func(sc *scenes.Scene) { sc.Routine = sim.Maybe[scenes.Routine]{} })
	p.update()
	assert.Nil(t, p.desk.over)
	assert.Equal(t, p.desk.say.Label(words.HintNoRoutine), p.desk.news.text)
}

// At the end of a routine nothing dead has the focus: Enter closes, and the sheet is there
// to be taken home.
func TestEndOfARoutine(t *testing.T) {
	h := starting(t, "walk-of-ten")
	h.write("r")
	r := h.desk.over.(*practice)
	for !r.over {
		h.key(ui.KeyEnter)
	}
	h.has("close")
	assert.True(t, r.next.Off)
	checkPage(t, h.desk, "the end")
	h.clickName("sheet")
	assert.Contains(t, h.desk.News(), "a.pdf")
	h.clickName("again")
	assert.Zero(t, r.at)
	assert.False(t, r.over)
	for !r.over {
		h.clickName("next")
	}
	h.update()
	h.key(ui.KeyEnter)
	assert.Nil(t, h.desk.over)
}

// An answer that a step does not have gives the focus on, and keys still do something.
func TestFocusOfAnAnswerThatIsGone(t *testing.T) {
	p, r := practising(t, "walk-of-ten")
	p.key(ui.KeyEnter)
	p.desk.kit.SetFocus(r.stays) // on the way in alone
	for r.steps[r.at].Way != routine.Away {
		r.begin(r.at + 1)
	}
	p.desk.dirty = true
	p.update()
	p.has("next")
}

// On a page taller than wide the picture has all of its width.
func TestRoutineOfAPortrait(t *testing.T) {
	p, r := practising(t, "walk-of-ten")
	p.in.W, p.in.H = 800, 1200
	p.update()
	assert.Greater(t, r.picture.W, 700.)
	assert.GreaterOrEqual(t, r.text.Y, r.picture.Y+r.picture.H)
	checkPage(t, p.desk, "a routine")
	p.click(middle(p.widget("answer nearer").Self().Area))
	checkPage(t, p.desk, "another answer")
	p.in.W, p.in.H = 1280, 800
	p.update()
	assert.Less(t, r.text.Y, r.picture.Y+r.picture.H)
}

// The numbers of a routine show where there is one, and how far and how many where a bead
// is moved: eyes that jump have their places from the beads.
func TestNumbersOfARoutineShow(t *testing.T) {
	for scene, want := range map[string]map[string]bool{
		"middle-of-three": {"step_mm": false, "steps": false, "hold_s": false},
		"walk-of-ten":     {"step_mm": true, "steps": true, "hold_s": true},
		"jumps-of-three":  {"step_mm": false, "steps": false, "hold_s": true},
	} {
		d := sit(t, scene).desk
		for name, shows := range want {
			k, ok := scenes.Find("routine." + name)
			require.True(t, ok, name)
			assert.Equal(t, shows, d.practised(&k), "%s: %s", scene, name)
		}
	}
}
