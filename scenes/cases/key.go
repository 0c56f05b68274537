package cases

import (
	"math"
	"slices"

	"twincord/sim"
	"twincord/sim/answers"
)

// Entry is what is right of one item: all that agrees with some set-up that fits what
// was given, and CannotTell where those set-ups differ in it.
type Entry struct {
	Item  Item
	Best  Answer   // what the key says
	Codes []string // that are right
	Half  []string // that are worth half a point
	// Agree are how many families agree with what is said, and Left how many of them
	// whatever is answered to the best question: of Ask.
	Agree, Left int
	Spans       []Span // of numbers that are right
	// Beside is the place on whose one side a place is worth half a point: that of the
	// bead, or the near point of the findings.
	Beside float64
}

// Span is a stretch of numbers, from the smaller to the larger.
type Span struct{ From, To float64 }

// Told says whether it can be told.
func (r *Entry) Told() bool { return !slices.Contains(r.Codes, CannotTell) }

// Key gives what is right of every item that is asked.
func (c *Case) Key(b *Bench) []Entry {
	switch c.Kind {
	case SeeToEyes, WhichEye:
		return c.keyOfEyes(b)
	case EyesToSee:
		return c.keyOfView()
	case NextQuestion:
		return c.keyOfNext(b)
	case WhichGlass:
		return c.keyOfGlass()
	case Walk:
		return c.keyOfWalk()
	case DoesItFit:
		return c.keyOfFit(b)
	}
	code := Continue
	if c.Given.Story.Stops() {
		code = StopNow
	}
	return []Entry{{Item: GoOn, Best: Answer{Code: code}, Codes: []string{code}}}
}

// fitting are the families that fit what was given: those that M18 lists, but for
// another place looked at where a finger is on the bead, for a string held otherwise,
// which whoever asks would see, and for those that would give another picture: with
// other beads seen by other eyes, or with a gap in the other string.
func (c *Case) fitting(b *Bench) []answers.Match {
	r := b.explain(&c.Given.Answers)
	sees := c.sees(&c.hidden)
	return slices.DeleteFunc(slices.Clone(r.Families), func(m answers.Match) bool {
		return m.Kind == answers.Strings || m.Kind == answers.AnotherSpot && c.Given.Finger ||
			c.Given.Picture == PatientView && (c.sees(&m.Example) != sees || m.Example.Suppression.Eye != c.hidden.Suppression.Eye)
	})
}

// onBead is the largest deviation with which eyes are on the bead for a case, Δ: as
// finely as M18 finds the ends of stretches, twice.
const onBead = 0.1

// keyOfEyes asks the families that fit.
func (c *Case) keyOfEyes(b *Bench) []Entry {
	fits := c.fitting(b)
	var key []Entry
	for _, i := range c.Asked {
		r := Entry{Item: i}
		for n := range fits {
			m := &fits[n]
			if i == Deviation {
				r.Spans = append(r.Spans, deviations(m)...)
			} else {
				r.also(codesOf(i, m)...)
			}
		}
		if i == Deviation {
			r.decideNumber(float64(c.hidden.Posture.Deviation))
		} else {
			r.decide()
		}
		key = append(key, r)
	}
	return key
}

// also adds codes that are right.
func (r *Entry) also(codes ...string) {
	for _, code := range codes {
		if !slices.Contains(r.Codes, code) {
			r.Codes = append(r.Codes, code)
		}
	}
}

// decide makes CannotTell right, and the best, where several codes are.
func (r *Entry) decide() {
	if len(r.Codes) > 1 {
		r.also(CannotTell)
		r.Best = Answer{Code: CannotTell}
	} else if len(r.Codes) == 1 {
		r.Best = Answer{Code: r.Codes[0]}
	}
}

// decideNumber makes CannotTell right where no one number is right enough for all that
// fit; else the best is the true one.
func (r *Entry) decideNumber(truth float64) {
	from, to := math.Inf(1), math.Inf(-1)
	for _, s := range r.Spans {
		from, to = min(from, s.From), max(to, s.To)
	}
	if middle := (from + to) / 2; to-middle > near(middle) || from < -onBead && to > onBead {
		r.also(CannotTell)
		r.Best = Answer{Code: CannotTell}
		return
	}
	r.Best = Answer{Number: truth}
}

// deviations are the horizontal deviations with which a family fits.
func deviations(m *answers.Match) (all []Span) {
	for _, r := range m.Ranges {
		if r.Key == answers.KeyDeviation {
			all = append(all, Span{r.From, r.To})
		}
	}
	if all == nil {
		all = []Span{{}}
	}
	return all
}

// codesOf are the codes of an item that are so in some set-up of a family that fits.
func codesOf(i Item, m *answers.Match) []string {
	switch i {
	case Sign:
		return signs(m)
	case Missing:
		if leavesOut(m) {
			return []string{string(m.Eye)}
		}
		return []string{Nobody}
	case Where:
		if leavesOut(m) {
			return []string{map[sim.Zone]string{
				sim.ZoneAll: All, sim.ZoneNearer: InFront, sim.ZoneBeyond: Behind, sim.ZoneCentral: Centre,
			}[m.Zone]}
		}
		return []string{Nothing}
	case Fixing:
		return fixing(m)
	case Doubling:
		return doubling(m)
	case Whose:
		return whose(m)
	}
	return nil
}

func leavesOut(m *answers.Match) bool {
	return m.Kind == answers.LeftOut || m.Kind == answers.LeftOutPart && m.Zone != sim.ZoneAll
}

func signs(m *answers.Match) (codes []string) {
	if m.Kind == answers.AnotherSpot {
		return []string{Elsewhere}
	}
	for _, s := range deviations(m) {
		if s.To > onBead {
			codes = append(codes, Eso)
		}
		if s.From < -onBead {
			codes = append(codes, Exo)
		}
		if s.From <= onBead && s.To >= -onBead {
			codes = append(codes, Straight)
		}
	}
	return codes
}

// fixing: an eye whose picture is left out whole does not fix (M4). Else only eyes on
// the bead are both on it: of an error no string tells which eye carries it.
func fixing(m *answers.Match) []string {
	switch m.Kind {
	case answers.LeftOut:
		return []string{string(m.Eye.Other())}
	case answers.Anomaly:
		return []string{string(m.Eye)}
	case answers.OnBead, answers.AnotherSpot, answers.Torsion:
		return []string{Both}
	}
	return []string{Both, Right, Left}
}

// doubling: exo doubles the bead crossed, eso uncrossed (row D5).
func doubling(m *answers.Match) (codes []string) {
	said := m.Says.Code[answers.RightCoverBead]
	switch said {
	case answers.Upper, answers.Lower:
		return []string{Upright}
	case answers.Left, answers.Right:
	default:
		return []string{NotDoubled}
	}
	signs := signs(m)
	if slices.Contains(signs, Exo) || said == answers.Left {
		codes = append(codes, Crossed)
	}
	if slices.Contains(signs, Eso) || said == answers.Right {
		codes = append(codes, Uncrossed)
	}
	return codes
}

// whose: of uncrossed beads the right one is the right eye's, of crossed ones the left
// eye's; of one above the other either may be.
func whose(m *answers.Match) (codes []string) {
	for _, d := range doubling(m) {
		codes = append(codes, map[string][]string{Crossed: {Left}, Uncrossed: {Right}, Upright: {Left, Right}}[d]...)
	}
	return codes
}

// keyOfView looks at the set-up that was given. Where Panum's limit was not told, how
// many are seen must hold for every limit.
func (c *Case) keyOfView() []Entry {
	key := make([]Entry, len(c.Asked))
	for i := range key {
		key[i].Item = c.Asked[i]
	}
	for n, scale := range answers.Scales {
		if n > 0 && c.Given.Limit {
			break
		}
		s := c.hidden
		s.Patient = s.Patient.WithPanum(scale)
		v, t := look(&s)
		for i := range key {
			r := &key[i]
			switch r.Item {
			case CrossAt:
				if n == 0 {
					c.keyOfCrossing(r, v)
				}
			case Beads:
				r.also(counted(t.Code[answers.Bead]))
			case Front:
				r.also(counted(t.Code[answers.Near]))
			case Back:
				r.also(counted(t.Code[answers.Far]))
			}
		}
	}
	for i := range key {
		if key[i].Item != CrossAt {
			key[i].decide()
		}
	}
	return key
}

// keyOfCrossing: anywhere in the stretch that is seen as one round the crossing.
func (c *Case) keyOfCrossing(r *Entry, v *sim.View) {
	if !v.Account.Meet.OnString() {
		r.Codes, r.Best = []string{Never}, Answer{Code: Never}
		return
	}
	at := v.Crossing.At.Value
	r.Best, r.Spans, r.Beside = Answer{Number: at}, []Span{{at, at}}, c.scene.Beads[asked].At
	if f := &v.Strings; f.FusedFrom.OK {
		r.Spans = []Span{{min(f.FusedFrom.Value, at), max(f.FusedTo.Value, at)}}
	}
}

// counted is a code of the answers as that of a count.
func counted(c answers.Code) string {
	switch c {
	case answers.One, answers.Single:
		return One
	case answers.Two, answers.Double:
		return Two
	}
	return Zero
}

// keyOfNext: the open items that M18 would ask, and those that tell as many families
// apart; half a point for one that tells some apart.
func (c *Case) keyOfNext(b *Bench) []Entry {
	result := b.explain(&c.Given.Answers)
	r := Entry{Item: Ask, Agree: len(result.Families), Left: len(result.Families)}
	if !result.Ask.OK {
		r.Codes, r.Best = []string{CannotTell}, Answer{Code: CannotTell}
		return []Entry{r}
	}
	best := answers.Undivided(result.Families, result.Ask.Value)
	r.Left = best
	r.Best = Answer{Code: result.Ask.Value.String()}
	for _, code := range c.Choices(Ask) {
		i, err := answers.ParseItem(code)
		if err != nil {
			continue // it is CannotTell
		}
		switch left := answers.Undivided(result.Families, i); {
		case left == best:
			r.Codes = append(r.Codes, code)
		case left < len(result.Families):
			r.Half = append(r.Half, code)
		}
	}
	return []Entry{r}
}

// keyOfGlass: the prism, half before each eye, with which the images of the bead come
// together. Its effect at the bead is less than its power (row P6).
func (c *Case) keyOfGlass() []Entry {
	p := Glass(&c.hidden)
	base := Out
	if p < 0 {
		base = In
	}
	amount := math.Abs(p)
	return []Entry{
		{Item: Base, Best: Answer{Code: base}, Codes: []string{base}},
		{Item: Power, Best: Answer{Number: amount}, Spans: []Span{{amount, amount}}},
	}
}

// Glass is the prism in all, base-out +, Δ, half of it before each eye and instead of
// any horizontal one that is there, with which the strings cross in the bead looked at:
// the disparity of that is zero. It is looked for from 40 Δ base-in to 40 base-out.
func Glass(s *sim.Setup) float64 {
	in, out := -40., 40.
	v := new(sim.View)
	with := *s
	for out-in > 1e-4 {
		p := (in + out) / 2
		with.Right.BaseOut, with.Left.BaseOut = sim.Prism(p/2), sim.Prism(p/2)
		v.Look(&with)
		// Eso sees the bead uncrossed (δ < 0), and base-out moves it to crossed.
		if d := v.Beads[s.Look.Bead].Disparity; d.OK && d.Value.H < 0 {
			in = p
		} else {
			out = p
		}
	}
	return (in + out) / 2
}

// keyOfWalk: where the model's walk turns (M14).
func (c *Case) keyOfWalk() []Entry {
	breaks, returns := c.hidden.Turning()
	unloaded := c.hidden
	unloaded.Right, unloaded.Left = sim.Default().Right, sim.Default().Left
	nearBreaks, nearReturns := unloaded.Turning()
	place := func(i Item, at, near sim.Maybe[float64]) Entry {
		if !at.OK {
			return Entry{Item: i, Best: Answer{Code: Never}, Codes: []string{Never}}
		}
		r := Entry{Item: i, Best: Answer{Number: at.Value}, Spans: []Span{{at.Value, at.Value}}, Beside: at.Value}
		if near.OK {
			r.Beside = near.Value
		}
		return r
	}
	return []Entry{place(Breaks, breaks, nearBreaks), place(Returns, returns, nearReturns)}
}

// keyOfFit: where some family gives all that was said, they fit. Else any two that no
// family gives together are right, and half a point is for a pair with one of the
// two that M18 names first.
func (c *Case) keyOfFit(b *Bench) []Entry {
	r := Entry{Item: Fits}
	result := b.explain(&c.Given.Answers)
	if len(result.Families) > 0 {
		r.Codes, r.Best = []string{TheyFit}, Answer{Code: TheyFit}
		return []Entry{r}
	}
	first := result.Conflict.Value
	r.Best = Answer{Code: PairCode(first[0], first[1])}
	told := c.Told()
	for n, i := range told {
		for _, j := range told[n+1:] {
			var pair answers.Answers
			for _, k := range []answers.Item{i, j} {
				pair.Code[k] = c.Given.Answers.Code[k]
			}
			switch {
			case len(b.explain(&pair).Families) == 0:
				r.Codes = append(r.Codes, PairCode(i, j))
			case slices.Contains(first[:], i) || slices.Contains(first[:], j):
				r.Half = append(r.Half, PairCode(i, j))
			}
		}
	}
	return []Entry{r}
}
