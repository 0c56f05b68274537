package cases

import (
	"encoding/binary"
	"errors"
	"math"
	"math/rand/v2"
	"slices"

	"twincord/sim"
	"twincord/sim/answers"
)

// maker draws a case by lot: c has its kind, level, seed and string.
type maker func(c *Case, lot *rand.Rand, b *Bench)

var makers = map[Kind]maker{
	SeeToEyes: makeSeeToEyes, EyesToSee: makeEyesToSee, WhichEye: makeWhichEye, NextQuestion: makeNextQuestion,
	WhichGlass: makeWhichGlass, Walk: makeWalk, DoesItFit: makeDoesItFit, Stop: makeStop,
}

// Make makes a case. The bench must serve its seed.
func Make(id ID, b *Bench) (*Case, error) {
	if err := errors.Join(CheckKind(id.Kind), CheckLevel(id.Level), b.check(id.Seed)); err != nil {
		return nil, err
	}
	c := begun(id)
	makers[id.Kind](c, c.lot(), b)
	return c, nil
}

// begun is a case of which nothing is drawn yet but its string.
func begun(id ID) *Case {
	c := &Case{ID: id, scene: StringOf(id.Seed)}
	c.hidden = c.scene
	return c
}

// lot is what the case is drawn by.
func (c *Case) lot() *rand.Rand {
	return lotOf(c.Seed, uint64(slices.Index(Kinds(), c.Kind)*Levels+c.Level))
}

// lotOf draws by two numbers. Numbers next to each other are as unlike as any: those of
// a generator that is not seeded with all of its state are not.
func lotOf(seed, which uint64) *rand.Rand {
	var key [32]byte
	binary.LittleEndian.PutUint64(key[:], seed)
	binary.LittleEndian.PutUint64(key[8:], which)
	return rand.New(rand.NewChaCha8(key))
}

// between draws a whole number.
func between(lot *rand.Rand, least, most int) int { return least + lot.IntN(most-least+1) }

// either draws one of several.
func either[T any](lot *rand.Rand, all ...T) T { return all[lot.IntN(len(all))] }

// deviationOf draws a deviation of a level, eso or exo: against Panum's limit of 10′,
// which is 0.29 Δ. At level 3 it is large enough for the crossing to leave the bead.
func deviationOf(level int, lot *rand.Rand) sim.Prism {
	sign := either(lot, 1, -1)
	bounds := [...][2]int{{150, 800}, {40, 140}, {20, 27}}[level-1]
	e := between(lot, bounds[0], bounds[1])
	if level < 3 {
		e = e / 10 * 10 // in tenths
	}
	return sim.Prism(sign*e) / 100
}

// leaveOut leaves something of one eye's picture out: the whole, half of the string, or
// the middle. Mostly it is that of the level, by turns another, or nobody would have to
// look which.
func leaveOut(s *sim.Setup, level int, lot *rand.Rand) {
	p := &s.Suppression
	p.Eye = either(lot, sim.Right, sim.Left)
	whole, half, middle := sim.ZoneAll, either(lot, sim.ZoneNearer, sim.ZoneBeyond), sim.ZoneCentral
	p.Zone = [...]sim.Zone{
		either(lot, whole, whole, half), either(lot, half, half, whole), either(lot, middle, middle, half, whole),
	}[level-1]
	if p.Zone == middle {
		p.Centre, p.Radius = sim.CentreTarget, either[sim.Degrees](lot, 2, 5)
	}
}

// look is what is seen of a set-up, and what would be said of it.
func look(s *sim.Setup) (*sim.View, answers.Told) {
	v := new(sim.View)
	v.Look(s)
	return v, answers.Tell(v)
}

// exactly is how well a place can be read off a picture, and how well it is meant where
// somebody says it in whole centimetres, mm.
const exactly = 10

// plainly is how far from the bead a crossing is for a place to be told of it, mm;
// nearer by it is only told on which side it is.
const plainly = 15

// say takes what the hidden set-up says to some items for what was given. The place of
// the crossing is said in whole centimetres, unless a bead hides it.
func (c *Case) say(t *answers.Told, items ...answers.Item) {
	a := &c.Given.Answers
	for _, i := range items {
		if i != answers.MeetAt {
			a.Code[i] = t.Code[i]
		} else if t.Place.OK && !t.Hidden && math.Abs(t.Place.Value-c.scene.Beads[asked].At) > plainly {
			a.Place = placed(t.Place.Value)
		}
	}
}

// placed is a place in whole centimetres.
func placed(at float64) sim.Maybe[answers.Place] {
	return sim.Some(answers.Place{At: math.Round(at/10) * 10, Within: exactly})
}

// show gives the patient's view. What can be read off it: the strands run from the nose,
// the right eye's from its left side and the left eye's from its right side, so that
// whose a string or another bead is can be seen too (sees), as covering an eye would
// show.
func (c *Case) show(t *answers.Told) {
	c.Given.Picture, c.Given.Finger = PatientView, true
	c.say(t, answers.Bead, answers.Higher, answers.Near, answers.Far, answers.Meet,
		answers.NearerBeads, answers.FartherBeads, answers.RightCoverString, answers.LeftCoverString)
}

// shows says whether a picture shows where the strings cross: with eyes off the bead only
// where the bead is plainly two (M8). Of one bead no picture shows it.
func shows(v *sim.View) bool {
	b := &v.Beads[asked]
	return v.Now.Posture.Deviation == 0 || b.Seen == sim.SeenTwo && b.Overlap.OK && b.Overlap.Value <= sim.DoubledEdge
}

// sees says which eyes see each of the other beads: what a picture shows of whose they
// are.
func (c *Case) sees(s *sim.Setup) (seen [len(layouts[0]) - 1]sim.Seen) {
	v, _ := look(s)
	for i := range seen {
		if i != asked {
			seen[i] = v.Beads[i].Seen
		}
	}
	return seen
}

// makeSeeToEyes asks how far off the eyes are only where it is told in words where the
// strings cross, which nobody can tell behind a bead, and only at the first level: nobody
// reads it off a picture to 1 Δ, and of small errors any small number would be right.
func makeSeeToEyes(c *Case, lot *rand.Rand, _ *Bench) {
	n := lot.IntN(8)
	switch {
	case n == 0 && c.Level == 1: // the eyes are on the bead, for once
	case n <= 2:
		leaveOut(&c.hidden, c.Level, lot)
	default:
		c.hidden.Posture.Deviation = deviationOf(c.Level, lot)
	}
	c.Asked = []Item{Sign, Missing, Where}
	if n <= 3 { // mostly it can be told only where something is missing
		c.Asked = append(c.Asked, Fixing)
	}
	v, t := look(&c.hidden)
	if lot.IntN(3) > 0 && shows(v) {
		c.show(&t)
		return
	}
	if c.Level == 1 && !t.Hidden {
		c.Asked = slices.Insert(c.Asked, 1, Deviation)
	}
	c.say(&t, answers.Bead, answers.Near, answers.Far, answers.Meet, answers.MeetAt)
	switch lot.IntN(3) {
	case 0: // nothing more
	case 1:
		c.say(&t, either(lot, answers.RightCoverString, answers.LeftCoverString))
	default:
		c.say(&t, answers.RightCoverBead, answers.LeftCoverBead)
	}
	c.Given.Finger = lot.IntN(4) != 0 || !c.amongBeads()
}

// amongBeads says whether the strings are not said to cross before the first bead or
// after the last one: looked at there, the string would be too short on one side for
// what is said, which nobody who is asked about the bead thinks of.
func (c *Case) amongBeads() bool {
	p, beads := c.Given.Answers.Place, c.scene.Beads
	return !p.OK || beads[0].At <= p.Value.At && p.Value.At <= beads[len(beads)-1].At
}

// makeEyesToSee asks where the strings cross only where that would be seen.
func makeEyesToSee(c *Case, lot *rand.Rand, _ *Bench) {
	c.Asked = []Item{CrossAt, Beads, Front, Back}
	c.hidden.Posture.Deviation = deviationOf(c.Level, lot)
	if lot.IntN(4) == 0 { // the whole of one eye's picture
		c.hidden.Suppression.Eye, c.hidden.Suppression.Zone = either(lot, sim.Right, sim.Left), sim.ZoneAll
	}
	c.Given.Finger = true
	// What is left out stands in no picture from above, nor would a small error be seen.
	// Where an error is near the limits that people have, it must be told, or nobody
	// knows how many beads are seen.
	c.Given.Shown = c.Level > 1 || c.hidden.Suppression.Eye != sim.Neither || lot.IntN(2) == 0
	c.Given.Limit = c.Given.Shown && (c.Level == 1 || lot.IntN(5) < c.Level+1)
	if !c.Given.Shown {
		c.Given.Picture = FromAbove
	}
	if c.Level == 3 && c.Given.Limit && lot.IntN(3) == 0 { // of a patient with smaller limits
		p := &c.hidden.Patient
		p.FusionH, p.FusionV = p.FusionH/2, p.FusionV/2
	}
	if _, t := look(&c.hidden); t.Hidden {
		c.Asked = c.Asked[1:]
	}
}

func makeWhichEye(c *Case, lot *rand.Rand, _ *Bench) {
	c.Given.Finger = true
	if lot.IntN(3) == 0 {
		c.Asked = []Item{Whose, Doubling}
		c.hidden.Posture.Deviation = deviationOf(min(c.Level, 2), lot)
		_, t := look(&c.hidden)
		c.say(&t, answers.Bead, answers.Near, answers.Far)
		// At level 3 where they cross tells it, or nothing does.
		switch {
		case c.Level < 3:
			c.say(&t, either(lot, answers.RightCoverBead, answers.LeftCoverBead))
		case lot.IntN(2) == 0:
			c.say(&t, answers.Meet)
		}
		return
	}
	c.Asked = []Item{Missing, Where}
	if lot.IntN(6) > 0 { // else nothing is missing, for once
		leaveOut(&c.hidden, c.Level, lot)
	}
	_, t := look(&c.hidden)
	if c.Level < 3 && lot.IntN(2) == 0 {
		c.show(&t)
		return
	}
	c.say(&t, answers.Bead, answers.Near, answers.Far, answers.Meet)
	cover := [...]answers.Item{answers.RightCoverString, answers.LeftCoverString}
	if c.Level == 3 {
		cover = [...]answers.Item{answers.RightCoverBead, answers.LeftCoverBead}
	}
	if lot.IntN(3) != 0 {
		c.say(&t, either(lot, cover[:]...))
	}
}

// makeNextQuestion draws until few questions are best, and plainly better than the
// others; now and then until there is none that would tell more.
func makeNextQuestion(c *Case, lot *rand.Rand, b *Bench) {
	const few, tries = 3, 60
	c.Asked = []Item{Ask}
	none := lot.IntN(6) == 0
	for range tries {
		c.Given, c.hidden = Given{}, c.scene
		c.drawReport(none, lot)
		r := c.keyOfNext(b)[0]
		if none != r.Told() && len(r.Codes) <= few && c.plainlyBest(b, &r) {
			return
		}
	}
}

// plainlyBest says whether every question that is not right leaves plainly more set-ups
// than the best: a third more. Of a report after which none tells more, that is so.
func (c *Case) plainlyBest(b *Bench, r *Entry) bool {
	if !r.Told() {
		return true
	}
	left := r.Agree // by those that tell nothing
	families := b.explain(&c.Given.Answers).Families
	for _, code := range r.Half {
		if i, err := answers.ParseItem(code); err == nil {
			left = min(left, answers.Undivided(families, i))
		}
	}
	return 3*left >= 4*r.Left
}

// drawReport draws some of the answers to some set-up; to one that leaves something out
// where nothing is to be left to ask.
func (c *Case) drawReport(none bool, lot *rand.Rand) {
	if none || lot.IntN(2) == 0 {
		leaveOut(&c.hidden, c.Level, lot)
	} else {
		c.hidden.Posture.Deviation = deviationOf(c.Level, lot)
	}
	_, t := look(&c.hidden)
	pool := []answers.Item{
		answers.Bead, answers.Near, answers.Far, answers.Meet, answers.NearerBeads, answers.FartherBeads,
		answers.RightCoverString, answers.LeftCoverString,
	}
	lot.Shuffle(len(pool), func(i, j int) { pool[i], pool[j] = pool[j], pool[i] })
	c.say(&t, pool[:[...]int{3, between(lot, 2, 3), between(lot, 4, 5)}[c.Level-1]]...)
}

// makeWhichGlass: eyes that are off and do not answer a prism (prism_met 0), so that it
// only moves what they see. At level 3 there is one already. It draws until no bead hides
// the crossing, from which the glass is told.
func makeWhichGlass(c *Case, lot *rand.Rand, _ *Bench) {
	c.Asked = []Item{Base, Power}
	c.Given.Finger = true
	eso, exo := [...][2]int{{50, 100}, {20, 50}, {30, 80}}[c.Level-1], [...][2]int{{30, 45}, {20, 40}, {35, 45}}[c.Level-1] // tenths
	tenths, sign := eso, sim.Prism(1)
	if lot.IntN(2) == 0 {
		tenths, sign = exo, -1
	}
	if c.Level == 3 {
		for _, s := range []*sim.Setup{&c.hidden, &c.scene} {
			s.Right.BaseOut, s.Left.BaseOut = sign, sign // too weak, and the right way round
		}
	}
	p := &c.hidden.Posture
	p.PrismMet = 0
	var t answers.Told
	for t.Hidden = true; t.Hidden; _, t = look(&c.hidden) {
		p.Deviation = sign * sim.Prism(between(lot, tenths[0], tenths[1])) / 10
	}
	if lot.IntN(2) == 0 {
		c.show(&t)
		c.say(&t, answers.MeetAt) // nobody reads it off a picture to 1 Δ
		return
	}
	c.say(&t, answers.Bead, answers.Near, answers.Far, answers.MeetAt)
}

// makeWalk: a patient whose near point is known, to whom nothing is done at level 1; at
// level 2 a base-out prism is put on, at level 3 plus lenses too.
func makeWalk(c *Case, lot *rand.Rand, _ *Bench) {
	c.Asked = []Item{Breaks, Returns}
	f := sim.DefaultFindings()
	f.FarPhoria, f.NearPhoria = 0, 0
	f.ACA = sim.Some(4.) // row C7
	f.NPCBreak = float64(10 * between(lot, 6, 14))
	f.NPCRecovery = f.NPCBreak + float64(10*between(lot, 2, 5))
	h := &c.hidden
	h.Findings = sim.Some(f)
	h.Patient.Age = 12 // accommodates far nearer than any of these near points
	h.Beads, h.Look = h.Beads[asked:asked+1:asked+1], sim.Fixation{Asked: sim.NoBead}
	// Enough to move the place by more than anybody errs by, and less than the recovery.
	if c.Level >= 2 {
		h.Right.BaseOut = sim.Prism(between(lot, 3, 4) - 2*(c.Level-2))
		h.Left.BaseOut = h.Right.BaseOut
	}
	if c.Level == 3 {
		h.Right.Lens = sim.Dioptres(either(lot, 2, 3, 4)) / 4
		h.Left.Lens = h.Right.Lens
	}
	c.scene = *h
}

func makeDoesItFit(c *Case, lot *rand.Rand, b *Bench) {
	c.Asked = []Item{Fits}
	if lot.IntN(2) == 0 {
		leaveOut(&c.hidden, c.Level, lot)
	} else {
		c.hidden.Posture.Deviation = deviationOf(c.Level, lot)
	}
	_, t := look(&c.hidden)
	// Each eye is covered once: most of what does not go together is with what goes then.
	covers := either(lot, [2]answers.Item{answers.RightCoverString, answers.LeftCoverString},
		[2]answers.Item{answers.RightCoverBead, answers.LeftCoverBead})
	others := []answers.Item{answers.Bead, answers.Near, answers.Far, answers.Meet}
	if c.Level > 1 {
		others = append(others, answers.NearerBeads, answers.FartherBeads)
	}
	lot.Shuffle(len(others), func(i, j int) { others[i], others[j] = others[j], others[i] })
	c.say(&t, append(others[:min(c.Level, 2)+1], covers[:]...)...)
	if lot.IntN(3) == 0 {
		return
	}
	// One answer becomes another one that somebody gives, but not with some other.
	told := c.Told()
	lot.Shuffle(len(told), func(i, j int) { told[i], told[j] = told[j], told[i] })
	given := c.Given.Answers
	for _, i := range told {
		codes := slices.Clone(i.Codes())
		lot.Shuffle(len(codes), func(i, j int) { codes[i], codes[j] = codes[j], codes[i] })
		for _, code := range codes {
			if code == given.Code[i] || i == answers.Bead && code == answers.None || code == answers.Zero {
				continue // nobody who sees a string says so
			}
			changed, alone := given, answers.Answers{}
			changed.Code[i], alone.Code[i] = code, code
			if r := b.explain(&changed); len(r.Families) == 0 && r.Conflict.OK && len(b.explain(&alone).Families) > 0 {
				c.Given.Answers = changed
				return
			}
		}
	}
}

func makeStop(c *Case, lot *rand.Rand, _ *Bench) {
	c.Asked = []Item{GoOn}
	var at []Story
	for _, s := range stories {
		if s.level == c.Level {
			at = append(at, s.Story)
		}
	}
	c.Given.Story = either(lot, at...)
}
