package answers

import (
	"cmp"
	"math"
	"slices"

	"twincord/sim"
)

// Result is what the answers come to.
type Result struct {
	Families []Match // those that would give the answers, the plainest first
	// Nearest are, where no family gives the answers, those with the fewest
	// contradicted items.
	Nearest []Match
	// Conflict are two answers that no set-up of any family gives together; it exists
	// where there are two such.
	Conflict    sim.Maybe[[2]Item]
	Inseparable []Inseparable
	Ask         sim.Maybe[Item] // the next question, where one would tell families apart
}

// Match is a family with those of its members that give the answers.
type Match struct {
	Family
	Ranges  []Range
	Example sim.Setup // the smallest error of them that tells
	Says    Told      // what the example says to every item
	Against []Item    // the answers that it contradicts: of Result.Nearest alone
}

// Range is a stretch of a number of scene files, from the smaller to the larger.
type Range struct {
	Key      string  // KeyDeviation or KeyVertical, Δ; KeyCyclo, °; KeyPlace, mm
	From, To float64 // eso +, right eye higher +, excyclo +; places from the nose
}

// Inseparable names two explanations that these answers cannot tell apart.
type Inseparable string

// What cannot be told apart (M18).
const (
	PlaceOrEso         Inseparable = "place_or_eso"
	WhichEye           Inseparable = "which_eye"
	WhoFixes           Inseparable = "who_fixes"
	AnomalyOrStraight  Inseparable = "anomaly_or_straight"
	LeftOutOrUnnoticed Inseparable = "left_out_or_unnoticed"
	LimitOrError       Inseparable = "limit_or_error"
)

// Explaining picks the set-ups that agree with some answers, family by family.
type Explaining struct {
	search  *Search
	answers Answers
	done    int
	found   []finding
	pairs   [items]set // of each answered item, those that some member agrees with together with it
}

// finding is what a family has to the answers.
type finding struct {
	family *family
	best   set // the fewest answers that members contradict
	runs   []run
}

// run is a stretch of members next to each other that contradict the same answers.
type run struct {
	row      *row
	scale    float64
	from, to float64
	members  []heard
}

// Explain begins to pick the set-ups that agree with the answers. It goes through the
// families as far as they are searched, while the search goes on.
func (x *Search) Explain(a Answers) *Explaining { return &Explaining{search: x, answers: a} }

// Waits says whether the next family is not searched yet.
func (e *Explaining) Waits() bool { return e.done == e.search.done }

// Step goes through one family that is searched, at most about 4 ms of work, and says
// whether there are more families.
func (e *Explaining) Step() (more bool) {
	if !e.Waits() {
		f := &e.search.families[e.done]
		if said := e.answers.Code[Fainter]; !f.fainter || said == Left || said == Right {
			e.found = append(e.found, e.examine(f, e.search.traces[e.done]))
		}
		e.done++
	}
	return e.done < len(e.search.families)
}

// Latest is the family gone through last, where it gives the answers.
func (e *Explaining) Latest() (m Match, ok bool) {
	if len(e.found) == 0 {
		return m, false
	}
	f := &e.found[len(e.found)-1]
	if f.family != &e.search.families[e.done-1] || f.best != 0 {
		return m, false
	}
	return e.match(f), true
}

// Result searches and goes through what is left, and gives the result.
func (e *Explaining) Result() Result {
	e.search.Run()
	for e.Step() {
	}
	var r Result
	fewest := int(items)
	for _, f := range e.found {
		fewest = min(fewest, f.best.size())
	}
	for _, f := range e.found {
		if f.best.size() != fewest {
			continue
		}
		m := e.match(&f)
		if fewest == 0 {
			r.Families = append(r.Families, m)
		} else {
			r.Nearest = append(r.Nearest, m)
		}
	}
	if fewest > 0 {
		r.Conflict = e.conflict()
		return r
	}
	r.Inseparable = e.inseparable(r.Families)
	r.Ask = next(r.Families, &e.answers)
	return r
}

// examine finds the members of a family that contradict the fewest answers.
func (e *Explaining) examine(f *family, traces []trace) finding {
	best := finding{family: f, best: 1<<items - 1}
	var rims []heard
	for n, t := range traces {
		r, scale := &f.rows[n/len(Scales)], Scales[n%len(Scales)]
		if e.answers.Place.OK {
			if n%len(Scales) == 0 {
				rims = e.search.rims(f, r.y, t, e.answers.Place.Value)
			}
			t = t.merged(rims)
		}
		var said, last set // against what t[i] says, but for the place; against all that t[i-1] says
		begin := 0
		for i := range t {
			if i == 0 || !t[i].same(&t[i-1].Told) {
				said = t[i].againstSaid(&e.answers)
			}
			against := said | t[i].againstPlace(&e.answers)
			if i == 0 || against != last {
				e.note(against)
			}
			if i > 0 && (against != last || f.discrete) {
				best.take(last, run{r, scale, t[begin].x, t[i-1].x, t[begin:i]})
				begin = i
			}
			last = against
		}
		best.take(last, run{r, scale, t[begin].x, t[len(t)-1].x, t[begin:]})
	}
	if f.varySecond != nil {
		e.between(&best)
	}
	return best
}

// take keeps a run if no other contradicts fewer answers, or as few but others that are
// asked earlier.
func (f *finding) take(against set, r run) {
	switch c := cmp.Compare(against.size(), f.best.size()); {
	case c < 0, c == 0 && against > f.best:
		f.best, f.runs = against, []run{r}
	case against == f.best:
		f.runs = append(f.runs, r)
	}
}

// note keeps which answers go together.
func (e *Explaining) note(against set) {
	agreed := ^against
	for i := range items {
		if agreed.has(i) {
			e.pairs[i] |= agreed
		}
	}
}

// conflict are the first two answers that no member of any family gives together.
func (e *Explaining) conflict() sim.Maybe[[2]Item] {
	for i := range items {
		for j := i + 1; j < items; j++ {
			if e.answers.Answered(i) && e.answers.Answered(j) && !e.pairs[i].has(j) {
				return sim.Some([2]Item{i, j})
			}
		}
	}
	return sim.Maybe[[2]Item]{}
}

// between looks for members of a family of two numbers between the rows, where one row
// has some that match and the next has none: the ends of the second number.
func (e *Explaining) between(f *finding) {
	if f.best != 0 {
		return
	}
	rows := f.family.rows
	has := func(r *row) *run {
		for i := range f.runs {
			if f.runs[i].row == r {
				return &f.runs[i]
			}
		}
		return nil
	}
	for i := 1; i < len(rows); i++ {
		a, b := has(&rows[i-1]), has(&rows[i])
		switch {
		case a != nil && b == nil:
			e.reach(f, *a, rows[i].y)
		case a == nil && b != nil:
			e.reach(f, *b, rows[i-1].y)
		}
	}
}

// reach follows a run from its row toward the second number out, at which nothing
// matches, as far as one of its members or of those beside it does.
func (e *Explaining) reach(f *finding, in run, out float64) {
	began := in.row
	if began.y*out < 0 {
		return // on the other side of zero is another error
	}
	for math.Abs(out-in.row.y) > f.family.fineSecond {
		middle := (in.row.y + out) / 2
		found := false
		wide := max(in.to-in.from, f.family.fine)
		for _, share := range [...]float64{0.5, 0, 1, 0.25, 0.75, -0.5, 1.5} {
			x := max(f.family.least(), min(in.from+share*wide, f.family.most()))
			h := e.search.hear(f.family, x, middle, in.scale)
			if found = h.against(&e.answers) == 0; found {
				in = run{&row{y: middle}, in.scale, h.x, h.x, []heard{h}}
				break
			}
		}
		if !found {
			out = middle
		}
	}
	if in.row != began {
		f.runs = append(f.runs, in)
	}
}

// match is a finding as it is told.
func (e *Explaining) match(f *finding) Match {
	m := Match{Family: f.family.Family, Against: f.best.items()}
	if f.family.key != "" {
		m.Ranges = f.ranges(f.family.key, f.family.fine, func(r *run) (from, to float64) { return r.from, r.to })
	}
	if f.family.second != "" {
		m.Ranges = append(m.Ranges, f.ranges(f.family.second, f.family.fineSecond,
			func(r *run) (from, to float64) { return r.row.y, r.row.y })...)
	}
	m.Example, m.Says = e.example(f)
	return m
}

// ranges are the stretches of a number over all runs. Rows that are neighbours are one
// stretch.
func (f *finding) ranges(key string, fine float64, of func(*run) (from, to float64)) []Range {
	var all []Range
	for i := range f.runs {
		from, to := of(&f.runs[i])
		all = append(all, Range{key, from, to})
	}
	slices.SortFunc(all, func(a, b Range) int { return cmp.Compare(a.From, b.From) })
	joined := all[:1]
	for _, r := range all[1:] {
		last := &joined[len(joined)-1]
		if r.From <= last.To+1.5*fine || key == f.family.second && f.neighbours(last.To, r.From) {
			last.To = max(last.To, r.To)
		} else {
			joined = append(joined, r)
		}
	}
	for i := range joined {
		joined[i].From, joined[i].To = round(joined[i].From, fine), round(joined[i].To, fine)
	}
	return joined
}

// neighbours says whether no row lies between two values of the second number.
func (f *finding) neighbours(a, b float64) bool {
	if a*b < 0 {
		return false
	}
	for _, r := range f.family.rows {
		if a < r.y && r.y < b {
			return false
		}
	}
	return true
}

// telling is how far within a stretch its example is, in the steps by which ends are found
// (3 Δ, 6°, 6 cm): what is seen there differs plainly from what is seen past the end.
// Modelling choice.
const telling = 60

// example is the plainest member: with the patient's own limits, or where there is none
// with the first scale that has one, and with the second number that tells, the smallest
// of the widest run that tells. Its number is a round one if that one, too, gives the
// answers.
func (e *Explaining) example(f *finding) (sim.Setup, Told) {
	widest := slices.MinFunc(f.runs, func(a, b run) int {
		off := func(r *run) float64 { return math.Abs(math.Abs(r.row.y) - telling*f.family.fineSecond) }
		return cmp.Or(
			cmp.Compare(slices.Index(Scales[:], a.scale), slices.Index(Scales[:], b.scale)),
			cmp.Compare(off(&a), off(&b)),
			cmp.Compare(b.to-b.from, a.to-a.from))
	})
	plain := widest.smallest(f.family)
	nearest := widest.members[0]
	for _, h := range widest.members {
		if math.Abs(h.x-plain) < math.Abs(nearest.x-plain) {
			nearest = h
		}
	}
	for _, x := range []float64{round(plain, f.family.fine*10), round(plain, f.family.fine), plain, nearest.x} {
		if f.family.discrete {
			x = nearest.x
		}
		if x < widest.from || widest.to < x {
			continue
		}
		h := e.search.hear(f.family, x, widest.row.y, widest.scale)
		if h.against(&e.answers) == f.best {
			return e.search.now, h.Told
		}
	}
	h := e.search.hear(f.family, nearest.x, widest.row.y, widest.scale)
	return e.search.now, h.Told
}

// smallest is the number of a run that is nearest to that of no error, but far enough
// within the run to tell, or in its middle.
func (r *run) smallest(f *family) float64 {
	none := 0.
	if f.key == KeyPlace {
		none = f.base.LookPlace()
	}
	within := min(telling*f.fine, (r.to-r.from)/2)
	return min(max(none, r.from+within), r.to-within)
}

// round rounds to a multiple of step, as the decimal that it is.
func round(x, step float64) float64 {
	if step == 0 {
		return x
	}
	return math.Round(math.Round(x/step)*step*1e6) / 1e6
}

// inseparable are the explanations that survive together and that these answers do not
// tell apart.
func (e *Explaining) inseparable(m []Match) []Inseparable {
	has := func(kinds ...Kind) bool {
		return slices.ContainsFunc(m, func(m Match) bool { return slices.Contains(kinds, m.Kind) })
	}
	covers := false
	for _, i := range []Item{RightCoverString, LeftCoverString, RightCoverBead, LeftCoverBead} {
		covers = covers || e.answers.Answered(i)
	}
	var all []Inseparable
	add := func(what Inseparable, so bool) {
		if so {
			all = append(all, what)
		}
	}
	add(PlaceOrEso, has(AnotherSpot) && has(Eso, Exo))
	add(WhichEye, !covers && eitherEye(m))
	add(WhoFixes, has(Eso, Exo))
	add(AnomalyOrStraight, has(Anomaly) && has(OnBead))
	add(LeftOutOrUnnoticed, has(LeftOut, LeftOutPart) && has(OnBead, AnotherSpot, Eso, Exo, Vertical, Torsion))
	add(LimitOrError, e.byLimits())
	return all
}

// eitherEye says whether the same of either eye's picture may be left out.
func eitherEye(m []Match) bool {
	for i := range m {
		for j := range i {
			a, b := m[i].Family, m[j].Family
			if a.Kind == LeftOut || a.Kind == LeftOutPart {
				twins := a.Eye != b.Eye
				a.Eye = b.Eye
				if twins && a == b {
					return true
				}
			}
		}
	}
	return false
}

// byLimits says whether an error of the eyes fits with one size of Panum's area that
// does not with another.
func (e *Explaining) byLimits() bool {
	for i := range e.found {
		f := &e.found[i]
		if f.best != 0 || f.family.Kind != Eso && f.family.Kind != Exo {
			continue
		}
		var reach [len(Scales)][2]float64 // the whole stretch at each scale
		var fits [len(Scales)]bool
		for _, r := range f.runs {
			n := slices.Index(Scales[:], r.scale)
			if !fits[n] {
				reach[n] = [2]float64{r.from, r.to}
			}
			fits[n] = true
			reach[n] = [2]float64{min(reach[n][0], r.from), max(reach[n][1], r.to)}
		}
		for n := range Scales {
			if fits[n] != fits[0] || math.Abs(reach[n][0]-reach[0][0]) > 2*finePrism || math.Abs(reach[n][1]-reach[0][1]) > 2*finePrism {
				return true
			}
		}
	}
	return false
}

// next is the open item for which the largest group of families that give one same
// answer is smallest (Undivided), the earlier one of equals; none where no item tells
// families apart.
func next(m []Match, a *Answers) sim.Maybe[Item] {
	best, ask := len(m), sim.Maybe[Item]{}
	for i := range items {
		if a.Answered(i) || i == MeetAt {
			continue
		}
		if left := Undivided(m, i); left < best {
			best, ask = left, sim.Some(i)
		}
	}
	return ask
}

// Undivided is how many families are left after the least telling answer to an item:
// the largest group of them that give one same answer. The next question is the open
// item with the smallest. A family whose view decides nothing belongs to every group.
func Undivided(m []Match, i Item) (largest int) {
	for _, c := range i.Codes() {
		group := 0
		for j := range m {
			if says := m[j].Says.Code[i]; says == c || says == Open {
				group++
			}
		}
		largest = max(largest, group)
	}
	return largest
}
