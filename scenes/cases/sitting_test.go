package cases

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestASitting(t *testing.T) {
	s, err := Sit(&Set{Seed: 5, Count: 4, Level: 1, Kinds: []Kind{Stop, Walk}}, NewBench(5))
	require.NoError(t, err)
	defer s.Close()
	met := []ID{}
	for n := 1; !s.Done(); n++ {
		at, of := s.Place()
		assert.Equal(t, [2]int{n, 4}, [2]int{at, of})
		for s.Step() {
		}
		assert.True(t, s.Ready())
		c := s.Case()
		met = append(met, c.ID)
		assert.Nil(t, s.Judged())
		if n != 2 { // the second is answered wrongly
			for _, e := range c.Key(s.bench) {
				s.Answer(e.Item, e.Best)
			}
		} else {
			for _, i := range c.Asked {
				s.Answer(i, Answer{Code: CannotTell})
			}
		}
		j := s.Judge()
		assert.Equal(t, n == 2, j.Missed())
		assert.Same(t, j, s.Judge(), "judged once")
		before, _ := s.Given(c.Asked[0])
		s.Answer(c.Asked[0], Answer{Number: 7})
		after, _ := s.Given(c.Asked[0])
		assert.Equal(t, before, after, "what is judged is answered no more")
		s.Next()
	}
	assert.Nil(t, s.Case())
	assert.Nil(t, s.Judge())
	assert.Equal(t, met[1:2], s.Missed())
	counts := s.Counts()
	total, missed := 0, 0
	for _, k := range Kinds() {
		total, missed = total+counts.Of(k, 1).Cases, missed+counts.Of(k, 1).Missed
	}
	assert.Equal(t, [2]int{4, 1}, [2]int{total, missed})
	kind, level, ok := counts.Weakest()
	assert.True(t, ok)
	assert.Equal(t, met[1].Kind, kind)
	assert.Equal(t, 1, level)

	s.Again()
	require.NotNil(t, s.Case(), "it is made already")
	assert.True(t, s.Ready())
	assert.Equal(t, met[1], s.Case().ID)
	s.Next()
	assert.Equal(t, met[1:2], s.Missed(), "passed over")
}

// Cases are made ahead, in slices: what is right of the one that is worked on and of the
// next is known before it is asked for, and it is what the whole work would find.
func TestCasesAreMadeAhead(t *testing.T) {
	all, err := drawings()
	require.NoError(t, err)
	bench := all[0].bench // one that has searched
	set := Set{Seed: all[0].Seed, Count: 5, Level: 2, Kinds: []Kind{DoesItFit, NextQuestion, SeeToEyes}}
	s, err := Sit(&set, NewBench(set.Seed))
	require.NoError(t, err)
	defer s.Close()
	assert.Nil(t, s.Case(), "nothing is made before a step")
	assert.Nil(t, s.Sights())
	want, err := set.Make(bench)
	require.NoError(t, err)
	steps := 0
	for n, c := range want {
		for ; s.Step(); steps++ {
			require.Less(t, steps, 100000)
		}
		assert.True(t, s.known(min(n+1, len(want)-1)))
		assert.False(t, s.known(n+2), "no more than that")
		assert.Equal(t, c, s.Case())
		assert.Equal(t, c.Key(bench), s.Judge().Key)
		s.Next()
	}
	assert.Greater(t, steps, 100, "in slices")

	s, err = Sit(&set, NewBench(set.Seed))
	require.NoError(t, err)
	s.Step()
	s.Close()
	assert.False(t, s.Step(), "it is ended")
	assert.Nil(t, s.Judge())

	_, err = Sit(&set, NewBench(set.Seed+4))
	assert.ErrorContains(t, err, "the string 4")
}

// Whoever does not wait has the work done at once.
func TestJudgingWithoutWaiting(t *testing.T) {
	set := Set{Seed: 3, Count: 1, Level: 1, Kinds: []Kind{SeeToEyes}}
	s, err := Sit(&set, NewBench(3))
	require.NoError(t, err)
	defer s.Close()
	require.NotNil(t, s.Judge())
	assert.NotEmpty(t, s.Sights())
}

func TestAnAnswerAgainIsTakenBack(t *testing.T) {
	s, err := Sit(&Set{Seed: 1, Count: 1, Level: 1, Kinds: []Kind{Stop}}, NewBench(1))
	require.NoError(t, err)
	defer s.Close()
	s.Step()
	s.Answer(GoOn, Answer{Code: StopNow})
	s.Answer(GoOn, Answer{Code: Continue})
	a, ok := s.Given(GoOn)
	assert.True(t, ok)
	assert.Equal(t, Continue, a.Code)
	s.Answer(GoOn, a)
	_, ok = s.Given(GoOn)
	assert.False(t, ok)
}

func TestCountsAreKept(t *testing.T) {
	var c Counts
	c.Add(Walk, 2, &Judged{Points: 0.5})
	c.Add(Walk, 2, &Judged{Points: 1})
	c.Add(Stop, 1, &Judged{Failed: true})
	c.Add(Stop, Levels, &Judged{Points: 1})
	once, err := c.AddTo(nil)
	require.NoError(t, err)
	assert.NotContains(t, string(once), string(SeeToEyes), "what was not met")
	twice, err := c.AddTo(once)
	require.NoError(t, err)
	var read Counts
	require.NoError(t, json.Unmarshal(twice, &read))
	assert.Equal(t, Count{Cases: 4, Points: 3, Missed: 2}, read.Of(Walk, 2))
	assert.Equal(t, Count{Cases: 2, Missed: 2}, read.Of(Stop, 1))
	assert.Equal(t, Count{Cases: 2, Points: 2}, read.Of(Stop, Levels))
	assert.Equal(t, Count{}, read.Of(Stop, 2))
	assert.Equal(t, Count{}, read.Of(Stop, 9))
	assert.Equal(t, 8, read.Met())
	assert.Zero(t, new(Counts).Met())
}

func TestBrokenCountsAreRefused(t *testing.T) {
	for _, text := range []string{
		`{`, `[]`, `{"format": 2, "counts": {}}`, `{"format": 1, "counts": {}, "name": "Ann"}`,
		`{"format": 1, "counts": {"walks": []}}`,
		`{"format": 1, "counts": {"walk": [{"cases": -1, "points": 0, "missed": 0}]}}`,
		`{"format": 1, "counts": {"walk": [{"cases": 1, "points": 2, "missed": 0}]}}`,
		`{"format": 1, "counts": {"walk": [{"cases": 1, "points": 1, "missed": 2}]}}`,
	} {
		_, err := (&Counts{}).AddTo([]byte(text))
		assert.Error(t, err, text)
	}
}
