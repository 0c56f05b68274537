package cases

import (
	"math"
	"slices"
)

// The points of an item. Where it cannot be told, a confident answer that agrees with
// no set-up that fits costs half a point.
const (
	whole = 1.
	half  = 0.5
	costs = -0.5
)

// near is how far off a number of Δ may be and be right.
func near(prism float64) float64 { return max(1, 0.15*math.Abs(prism)) }

// How far off numbers may be otherwise.
const (
	halfNear  = 0.3  // of Δ, worth half a point
	nearPlace = 0.05 // of a place, from the nose
	leastNear = 10   // of a place, mm: a finger's breadth, as well as anybody points
)

// Points are those of an answer to the item.
func (r *Entry) Points(a Answer) float64 {
	var p float64
	switch {
	case a.Code != "":
		p = r.ofCode(a.Code)
	case r.Item.prism():
		p = r.ofPrism(a.Number)
	case r.Item.Place():
		p = r.ofPlace(a.Number)
	}
	if p == 0 && !r.Told() {
		return costs
	}
	return p
}

func (r *Entry) ofCode(code string) float64 {
	switch {
	case slices.Contains(r.Codes, code):
		return whole
	case slices.Contains(r.Half, code):
		return half
	}
	return 0
}

// off is how far a number is from a stretch; of another sign than the whole stretch it
// is infinitely far.
func (s Span) off(x float64) float64 {
	if x*s.From < 0 && x*s.To < 0 {
		return math.Inf(1)
	}
	return max(0, s.From-x, x-s.To)
}

func (r *Entry) ofPrism(x float64) (points float64) {
	for _, s := range r.Spans {
		end := s.From
		if math.Abs(x-s.To) < math.Abs(x-s.From) {
			end = s.To
		}
		switch off := s.off(x); {
		case off <= near(end):
			return whole
		case off <= halfNear*math.Abs(end):
			points = half
		}
	}
	return points
}

func (r *Entry) ofPlace(x float64) (points float64) {
	for _, s := range r.Spans {
		switch off := max(0, s.From-x, x-s.To); {
		case off <= max(leastNear, nearPlace*x):
			return whole
		case (x-r.Beside)*(s.From-r.Beside) > 0 && (x-r.Beside)*(s.To-r.Beside) > 0:
			points = half
		}
	}
	return points
}

// Judged is what an answered case comes to.
type Judged struct {
	Key    []Entry
	Items  []float64 // points of each item of the key
	Points float64   // of the case: the items' mean, from 0 to 1
	// Failed: a stop was missed, which no point makes up for.
	Failed bool
}

// Passes is the share of the points of a case from which it is not missed.
const Passes = 0.75

// Missed says whether the case should be met again.
func (j *Judged) Missed() bool { return j.Failed || j.Points < Passes }

// judge judges answers by the key of a case. An item without an answer has no points, and
// costs none.
func judge(key []Entry, given map[Item]Answer) Judged {
	j := Judged{Key: key}
	for i := range j.Key {
		r := &j.Key[i]
		points := 0.
		if a, ok := given[r.Item]; ok {
			points = r.Points(a)
		}
		j.Items = append(j.Items, points)
		j.Points += points / float64(len(j.Key))
		if r.Item == GoOn && r.Best.Code == StopNow && points < whole {
			j.Failed = true
		}
	}
	if j.Points = max(0, j.Points); j.Failed {
		j.Points = 0
	}
	return j
}
