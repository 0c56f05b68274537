package cases

import (
	"iter"
	"maps"

	"twincord/sim"
)

// Sitting is somebody working through a set: one case after the other, each answered
// item by item, judged, and at the end those that were missed once more. Cases are made,
// and what is right of them is found, ahead of whoever answers, a slice of the work at a
// time.
type Sitting struct {
	bench  *Bench
	ids    []ID
	at     int
	made   []prepared              // the first ones
	work   func() (struct{}, bool) // goes on with the preparing for a slice
	stop   func()
	rest   func() bool // of the bench while it goes on
	given  map[Item]Answer
	judged *Judged
	missed []int // places in the set
	counts Counts
}

// prepared is a case with what is right of it; without a key that is not yet known.
type prepared struct {
	*Case
	key   []Entry
	rival sim.Maybe[sim.Setup]
}

// Sit begins a set. The bench must serve its seed.
func Sit(s *Set, b *Bench) (*Sitting, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	if err := b.check(s.Seed); err != nil {
		return nil, err
	}
	t := &Sitting{bench: b}
	t.begin(s.IDs(), nil)
	return t, nil
}

// begin begins with the first of the cases, of which some are made.
func (t *Sitting) begin(ids []ID, made []prepared) {
	t.ids, t.made, t.at, t.missed, t.counts = ids, made, 0, nil, Counts{}
	t.given, t.judged = map[Item]Answer{}, nil
	t.work, t.stop = iter.Pull(t.prepare)
}

// prepare makes the cases and finds what is right of them, with a rest after every slice
// of the work, until a rest says that it is ended.
func (t *Sitting) prepare(yield func(struct{}) bool) {
	ended := false
	t.rest = func() bool {
		ended = ended || !yield(struct{}{})
		return !ended
	}
	for _, id := range t.ids[len(t.made):] {
		c := begun(id)
		makers[id.Kind](c, c.lot(), t.bench)
		if ended {
			return
		}
		t.made = append(t.made, prepared{Case: c})
		if !t.rest() {
			return
		}
		key := c.Key(t.bench)
		rival := c.rival(t.bench, key)
		if ended {
			return
		}
		p := &t.made[len(t.made)-1]
		p.key, p.rival = key, rival
	}
}

// goOn goes on with the preparing for a slice of it.
func (t *Sitting) goOn() (more bool) {
	t.bench.rest = func() bool { return t.rest() }
	_, more = t.work()
	t.bench.rest = nil
	return more
}

// Close ends the work.
func (t *Sitting) Close() { t.stop() }

// known says whether what is right of a case of the set is found.
func (t *Sitting) known(i int) bool { return i < len(t.made) && t.made[i].key != nil }

// Step does a slice of the work that is due, at most about 4 ms, and says whether there
// is more: until what is right of this case and of the next one is known.
func (t *Sitting) Step() (more bool) {
	return t.Works() && t.goOn()
}

// Works says whether there is work that is due.
func (t *Sitting) Works() bool { return !t.known(min(t.at+1, len(t.ids)-1)) }

// Progress is how much of the search through the string is done, from 0 to 1.
func (t *Sitting) Progress() float64 { return t.bench.Progress() }

// Case is the one that is worked on; nil where it is not made yet, or all are done.
func (t *Sitting) Case() *Case {
	if t.at >= len(t.made) {
		return nil
	}
	return t.made[t.at].Case
}

// Ready says whether the case can be judged at once.
func (t *Sitting) Ready() bool { return t.known(t.at) }

// Place is which case it is, from 1, and how many there are.
func (t *Sitting) Place() (at, of int) { return min(t.at+1, len(t.ids)), len(t.ids) }

// Done says whether all cases have been met.
func (t *Sitting) Done() bool { return t.at >= len(t.ids) }

// Answer answers an item of the case; the same answer again takes it back. What is
// judged is answered no more.
func (t *Sitting) Answer(i Item, a Answer) {
	if t.Case() == nil || t.judged != nil {
		return
	}
	if was, ok := t.given[i]; ok && was == a {
		delete(t.given, i)
		return
	}
	t.given[i] = a
}

// Given is what is answered so far to an item.
func (t *Sitting) Given(i Item) (a Answer, ok bool) {
	a, ok = t.given[i]
	return a, ok
}

// Judge judges the case, once, and counts it. Work that is left is done first.
func (t *Sitting) Judge() *Judged {
	if t.Done() || t.judged != nil {
		return t.judged
	}
	for !t.Ready() && t.goOn() {
	}
	if !t.Ready() {
		return nil // it is closed
	}
	now := &t.made[t.at]
	j := judge(now.key, maps.Clone(t.given))
	t.judged = &j
	t.counts.Add(now.Kind, now.Level, &j)
	if j.Missed() {
		t.missed = append(t.missed, t.at)
	}
	return t.judged
}

// Judged is what the case came to; nil before it is judged.
func (t *Sitting) Judged() *Judged { return t.judged }

// Next goes on to the next case; one that is not judged counts as missed.
func (t *Sitting) Next() {
	if t.Done() {
		return
	}
	if t.judged == nil {
		t.missed = append(t.missed, t.at)
	}
	t.at++
	t.given, t.judged = map[Item]Answer{}, nil
}

// Counts are the points of this sitting.
func (t *Sitting) Counts() *Counts { return &t.counts }

// Missed are the cases that were missed.
func (t *Sitting) Missed() (ids []ID) {
	for _, i := range t.missed {
		ids = append(ids, t.ids[i])
	}
	return ids
}

// Again begins once more with the cases that were missed; where none was, it stays done.
func (t *Sitting) Again() {
	if len(t.missed) == 0 {
		return
	}
	t.Close()
	var made []prepared
	for _, i := range t.missed {
		if !t.known(i) {
			break // passed over before it was looked at
		}
		made = append(made, t.made[i])
	}
	t.begin(t.Missed(), made)
}
