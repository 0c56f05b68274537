package cases

import (
	"errors"
	"fmt"
	"slices"
)

// The cases of a set.
const (
	SetSize  = 10 // unless another number is asked for
	MostSize = 100
)

// Set says which cases a set has.
type Set struct {
	Seed  uint64
	Count int
	Level int
	Kinds []Kind // empty: all
}

// CheckCount says whether there are sets of so many cases.
func CheckCount(count int) error {
	if count < 1 || count > MostSize {
		return fmt.Errorf("%d cases; allowed are 1 to %d", count, MostSize)
	}
	return nil
}

// Check says whether there are such sets.
func (s *Set) Check() error {
	for _, k := range s.Kinds {
		if err := CheckKind(k); err != nil {
			return err
		}
	}
	return errors.Join(CheckCount(s.Count), CheckLevel(s.Level))
}

// ID says which case a case is.
type ID struct {
	Kind  Kind
	Level int
	Seed  uint64
}

// IDs are the cases of the set: every kind as often as the others or once more or less,
// never one twice in a row but where there is one alone. They share a string. No case
// comes twice.
func (s *Set) IDs() []ID {
	lot := lotOf(s.Seed, uint64(len(Kinds())*Levels+s.Level))
	kinds := slices.Clone(s.Kinds)
	if len(kinds) == 0 {
		kinds = Kinds()
	}
	slices.Sort(kinds)
	kinds = slices.Compact(kinds)
	var all []ID
	var stories []Story
	for len(all) < s.Count {
		lot.Shuffle(len(kinds), func(i, j int) { kinds[i], kinds[j] = kinds[j], kinds[i] })
		if n := len(all); n > 0 && len(kinds) > 1 && kinds[0] == all[n-1].Kind {
			kinds[0], kinds[1] = kinds[1], kinds[0]
		}
		for _, k := range kinds[:min(len(kinds), s.Count-len(all))] {
			// Another seed of the same string.
			seed := func() uint64 { return uint64(lot.Uint32())*uint64(len(layouts)) + s.Seed%uint64(len(layouts)) }
			id := ID{k, s.Level, seed()}
			for k == Stop && slices.Contains(stories, storyOf(id)) && len(stories) < storiesAt(s.Level) {
				id.Seed = seed()
			}
			if k == Stop {
				stories = append(stories, storyOf(id))
			}
			all = append(all, id)
		}
	}
	return all
}

// storyOf is the story of a case of Stop.
func storyOf(id ID) Story {
	c := begun(id)
	makeStop(c, c.lot(), nil)
	return c.Given.Story
}

func storiesAt(level int) (n int) {
	for _, s := range stories {
		if s.level == level {
			n++
		}
	}
	return n
}

// Make makes the cases of the set. The bench must serve its seed.
func (s *Set) Make(b *Bench) ([]*Case, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	var all []*Case
	for _, id := range s.IDs() {
		c, err := Make(id, b)
		if err != nil {
			return nil, err
		}
		all = append(all, c)
	}
	return all, nil
}
