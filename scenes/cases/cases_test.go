package cases

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
	"twincord/sim/answers"
)

// benches are those of every string, each searched once for all tests.
var benches = func() (all [len(strings)]*Bench) {
	for i := range all {
		all[i] = NewBench(uint64(i))
	}
	return all
}()

// drawn makes cases of some seeds of every kind and level; the seeds of a few strings
// come often, so that few are searched. The first that fails is named.
func drawn(t *testing.T, seeds int, test func(t *testing.T, c *Case, b *Bench)) {
	const strung = 2
	for _, k := range Kinds() {
		for level := 1; level <= Levels; level++ {
			for n := range seeds {
				seed := uint64(n/strung*len(strings) + n%strung)
				if long {
					seed = uint64(n)
				}
				id := ID{k, level, seed}
				b := benches[seed%uint64(len(strings))]
				c, err := Make(id, b)
				require.NoError(t, err)
				if test(t, c, b); t.Failed() {
					t.Fatalf("by the case %+v", id)
				}
			}
		}
	}
}

// truth is what the hidden set-up says to an item: written from what it was made of,
// with no look at the families.
func truth(c *Case, i Item) Answer {
	h := &c.hidden
	v, told := look(h)
	code := func(code string) Answer { return Answer{Code: code} }
	switch i {
	case Sign:
		switch e := h.Posture.Deviation; {
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
	_ = told
	return Answer{}
}

// seeds is how many of every kind and level are drawn.
func seeds() int {
	if long {
		return 2000
	}
	return 24
}

func TestKeyAndTruthAreRight(t *testing.T) {
	drawn(t, seeds(), func(t *testing.T, c *Case, b *Bench) {
		key := c.Key(b)
		require.Len(t, key, len(c.Asked))
		best, told := map[Item]Answer{}, map[Item]Answer{}
		for n, r := range key {
			assert.Equal(t, c.Asked[n], r.Item)
			best[r.Item] = r.Best
			told[r.Item] = r.Best
			if a := truth(c, r.Item); a != (Answer{}) || r.Item == Deviation {
				told[r.Item] = a
			}
			if r.Best.Code != "" {
				assert.Contains(t, c.Choices(r.Item), r.Best.Code, "the key is no choice")
			}
		}
		for _, given := range []map[Item]Answer{best, told} {
			j := c.Judge(b, given)
			assert.InDelta(t, 1., j.Points, 1e-9, "%+v for %+v, key %+v", j.Items, given, key)
			assert.False(t, j.Failed)
		}
	})
}

func TestWrongSignGetsNothing(t *testing.T) {
	told := 0
	drawn(t, seeds(), func(t *testing.T, c *Case, b *Bench) {
		for _, r := range c.Key(b) {
			if !r.Told() {
				continue
			}
			switch r.Item {
			case Sign, Base, Doubling:
				for _, code := range c.Choices(r.Item) {
					if code != r.Best.Code {
						assert.LessOrEqual(t, r.Points(Answer{Code: code}), 0., code)
						told++
					}
				}
			case Deviation:
				zero := slices.ContainsFunc(r.Spans, func(s Span) bool { return s.From <= onBead && s.To >= -onBead })
				if !zero {
					assert.Zero(t, r.Points(Answer{Number: -r.Best.Number}), "%+v", r)
					told++
				}
			}
		}
	})
	assert.NotZero(t, told)
}

// CannotTell is right exactly where families that fit differ in what is asked, which
// here is found by looking at the examples of all of them.
func TestCannotTellIsRightWhereFamiliesDiffer(t *testing.T) {
	drawn(t, seeds(), func(t *testing.T, c *Case, b *Bench) {
		if c.Kind != SeeToEyes && c.Kind != WhichEye {
			return
		}
		differ := map[Item]map[Answer]bool{}
		for _, m := range c.fitting(b) {
			as := *c
			as.hidden = m.Example
			for _, i := range []Item{Sign, Missing, Where, Doubling, Whose} {
				if differ[i] == nil {
					differ[i] = map[Answer]bool{}
				}
				if a := truth(&as, i); i != Sign || a.Code == Straight || math.Abs(float64(m.Example.Posture.Deviation)) > onBead {
					differ[i][a] = true
				}
			}
		}
		for _, r := range c.Key(b) {
			if len(differ[r.Item]) > 1 {
				assert.False(t, r.Told(), "%s: %v", r.Item, differ[r.Item])
			}
			if r.Told() && !r.Item.Numeric() && r.Item != Fixing {
				assert.Len(t, differ[r.Item], 1, "%s", r.Item)
			}
		}
	})
}

func TestSpread(t *testing.T) {
	count := map[string]int{}
	drawn(t, seeds(), func(t *testing.T, c *Case, b *Bench) {
		for _, r := range c.Key(b) {
			best := r.Best.Code
			if best == "" {
				best = "number"
			}
			count[fmt.Sprintf("%s/%d/%s/%s", c.Kind, c.Level, r.Item, best)]++
		}
	})
	var all []string
	for k, n := range count {
		all = append(all, fmt.Sprintf("%s %d", k, n))
	}
	slices.Sort(all)
	for _, s := range all {
		t.Log(s)
	}
	_ = answers.Bead
}
