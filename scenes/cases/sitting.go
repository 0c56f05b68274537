package cases

import "maps"

// Sitting is somebody working through a set: one case after the other, each answered
// item by item, judged, and at the end those that were missed once more. It makes a case
// when it comes to it.
type Sitting struct {
	bench  *Bench
	ids    []ID
	at     int
	now    *Case
	given  map[Item]Answer
	judged *Judged
	missed []ID
	counts Counts
}

// Sit begins a set.
func Sit(s *Set) (*Sitting, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	t := &Sitting{bench: NewBench(s.Seed), ids: s.IDs()}
	return t, t.begin()
}

func (t *Sitting) begin() (err error) {
	t.given, t.judged, t.now = map[Item]Answer{}, nil, nil
	if !t.Done() {
		t.now, err = Make(t.ids[t.at], t.bench)
	}
	return err
}

// Step does about 2 ms of the work that judging needs, and says whether there is more:
// for a window to do between its frames. Whoever judges before does what is left then.
func (t *Sitting) Step() (more bool) { return t.bench.Step() }

// Case is the one that is worked on; nil where the sitting is done.
func (t *Sitting) Case() *Case { return t.now }

// Place is which case it is, from 1, and how many there are.
func (t *Sitting) Place() (at, of int) { return min(t.at+1, len(t.ids)), len(t.ids) }

// Done says whether all cases have been met.
func (t *Sitting) Done() bool { return t.at >= len(t.ids) }

// Answer answers an item of the case; the same answer again takes it back. What is
// judged is answered no more.
func (t *Sitting) Answer(i Item, a Answer) {
	if t.now == nil || t.judged != nil {
		return
	}
	if t.given[i] == a {
		if _, ok := t.given[i]; ok {
			delete(t.given, i)
			return
		}
	}
	t.given[i] = a
}

// Given is what is answered so far to an item.
func (t *Sitting) Given(i Item) (a Answer, ok bool) {
	a, ok = t.given[i]
	return a, ok
}

// Judge judges the case, once, and counts it.
func (t *Sitting) Judge() *Judged {
	if t.now == nil || t.judged != nil {
		return t.judged
	}
	j := t.now.Judge(t.bench, maps.Clone(t.given))
	t.judged = &j
	t.counts.Add(t.now.Kind, t.now.Level, &j)
	if j.Missed() {
		t.missed = append(t.missed, t.ids[t.at])
	}
	return t.judged
}

// Judged is what the case came to; nil before it is judged.
func (t *Sitting) Judged() *Judged { return t.judged }

// Next goes on to the next case; one that is not judged counts as missed.
func (t *Sitting) Next() error {
	if t.Done() {
		return nil
	}
	if t.judged == nil {
		t.missed = append(t.missed, t.ids[t.at])
	}
	t.at++
	return t.begin()
}

// Counts are the points of this sitting.
func (t *Sitting) Counts() *Counts { return &t.counts }

// Missed are the cases that were missed.
func (t *Sitting) Missed() []ID { return t.missed }

// Again begins once more with the cases that were missed; where none was, it stays done.
func (t *Sitting) Again() error {
	if len(t.missed) == 0 {
		return nil
	}
	t.ids, t.at, t.missed, t.counts = t.missed, 0, nil, Counts{}
	return t.begin()
}
