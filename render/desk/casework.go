package desk

import (
	"encoding/json"
	"slices"
	"strconv"

	"twincord/render/display"
	"twincord/render/sheet/casebook"
	"twincord/render/ui"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/cases"
	"twincord/sim"
)

// casework is the page of cases: somebody chooses what to practise, works through a set
// case by case, and sees how it went. Of all that only points by kind and level are kept.
type casework struct {
	d     *Desk
	write *casebook.Writer
	ready bool // what is chosen has its first values

	level  int
	kinds  []cases.Kind // that are chosen
	number uint64       // of the set, from 1
	bench  *cases.Bench // of the next set: it is searched while somebody chooses

	sitting  *cases.Sitting // nil: one is chosen
	of       *cases.Case    // that the page is made for
	page     casebook.Page
	checking bool // as soon as it is known what is right
	letter   string
	sights   []cases.Sight // once it is judged
	shown    []*sight
	why      string

	kept   cases.Counts  // on this computer
	erased *cases.Counts // until the page is closed

	left, right    column
	foot           []*ui.Button
	picture, above display.Rect
}

// openCases opens the page where it was left.
func (d *Desk) openCases() {
	c := &d.casework
	c.d = d
	c.load()
	if !c.ready {
		c.ready, c.level, c.kinds = true, 1, cases.Kinds()
		c.number = c.nextNumber()
	}
	d.open(c)
	c.focus()
}

// load reads what is kept of earlier cases. What cannot be read is set aside.
func (c *casework) load() {
	if c.d.store == nil {
		return
	}
	var read cases.Counts
	aside, err := c.d.store.Counts(func(kept []byte) error { return json.Unmarshal(kept, &read) })
	c.tell(aside, err)
	c.kept = read
}

// tell says what became of a file of counts that could not be read or written.
func (c *casework) tell(aside string, err error) {
	switch {
	case err != nil:
		c.d.Warn(err.Error())
	case aside != "":
		c.d.Warn(c.d.say.Filled(words.CasesAside, "Path", aside))
	}
}

// count adds to what is kept.
func (c *casework) count(more *cases.Counts) {
	if c.d.store == nil {
		c.kept.Merge(more)
		return
	}
	c.tell(c.d.store.Count(func(kept []byte) ([]byte, error) {
		all, err := more.AddTo(kept)
		if err == nil {
			c.kept = cases.Counts{}
			err = json.Unmarshal(all, &c.kept)
		}
		return all, err
	}))
}

// erase removes what is kept, and once more brings it back.
func (c *casework) erase() {
	if c.erased != nil {
		c.count(c.erased)
		c.erased = nil
		return
	}
	if c.d.store != nil {
		if err := c.d.store.EraseCounts(); err != nil {
			c.d.Warn(err.Error())
			return
		}
	}
	was := c.kept
	c.erased, c.kept = &was, cases.Counts{}
}

// nextNumber is that of a set of which nothing was met, as far as is known: a set for
// every ten cases that are counted.
func (c *casework) nextNumber() uint64 {
	return uint64((c.kept.Met()+cases.SetSize-1)/cases.SetSize) + 1
}

// set is what is chosen.
func (c *casework) set() cases.Set {
	return cases.Set{Seed: c.number, Count: cases.SetSize, Level: c.level, Kinds: c.kinds}
}

// ahead is the bench of the next set.
func (c *casework) ahead() *cases.Bench {
	if c.bench == nil || !c.bench.Serves(c.number) {
		c.bench = cases.NewBench(c.number)
	}
	return c.bench
}

// choosing says whether a set is chosen, and ended whether one is worked through.
func (c *casework) choosing() bool { return c.sitting == nil }
func (c *casework) ended() bool    { return c.sitting != nil && c.sitting.Done() }

// judged is what the case came to, or nil.
func (c *casework) judged() *cases.Judged {
	if c.sitting == nil {
		return nil
	}
	return c.sitting.Judged()
}

// begin begins the set that is chosen.
func (c *casework) begin() {
	set := c.set()
	sitting, err := cases.Sit(&set, c.ahead())
	if err != nil {
		c.d.Warn(err.Error())
		return
	}
	c.leave()
	c.sitting, c.bench = sitting, nil
	c.turn()
}

// leave ends the sitting, if there is one.
func (c *casework) leave() {
	if c.sitting != nil {
		c.sitting.Close()
	}
	c.sitting, c.checking = nil, false
}

// more begins another set of the same kind.
func (c *casework) more() {
	c.number = max(c.number+1, c.nextNumber())
	c.begin()
}

// again begins with the cases that were missed.
func (c *casework) again() {
	c.sitting.Again()
	c.turn()
}

// choose goes back to choosing.
func (c *casework) choose() {
	c.leave()
	c.number = max(c.number+1, c.nextNumber())
	c.turn()
}

// weakest is what to practise next, where it is not gone well yet.
func (c *casework) weakest() (k cases.Kind, level int, ok bool) {
	k, level, ok = c.kept.Weakest()
	n := c.kept.Of(k, level)
	return k, level, ok && n.Points < cases.Passes*float64(n.Cases)
}

// practise begins a set of one kind at one level.
func (c *casework) practise(k cases.Kind, level int) {
	c.kinds, c.level = []cases.Kind{k}, level
	c.more()
}

// toggle takes a kind in or leaves it out; one stays.
func (c *casework) toggle(k cases.Kind) {
	if i := slices.Index(c.kinds, k); i < 0 {
		c.kinds = append(c.kinds, k)
	} else if len(c.kinds) > 1 {
		c.kinds = slices.Delete(c.kinds, i, i+1)
	}
}

// turn makes the page anew for what is so now.
func (c *casework) turn() {
	c.of, c.letter = nil, ""
	if c.sitting != nil {
		c.of = c.sitting.Case()
	}
	c.left.scroll, c.right.scroll = nil, nil
	c.d.kit.Release()
	c.d.buildOverlay()
	c.focus()
	c.d.dirty = true
}

// check judges the case, or as soon as it is known what is right.
func (c *casework) check() {
	if c.sitting == nil || c.sitting.Case() == nil || c.judged() != nil {
		return
	}
	if c.checking = !c.sitting.Ready(); c.checking {
		return
	}
	now := c.sitting.Case()
	var one cases.Counts
	one.Add(now.Kind, now.Level, c.sitting.Judge())
	c.count(&one)
	c.turn()
}

// next goes on to the next case.
func (c *casework) next() {
	c.sitting.Next()
	c.turn()
}

// openScene makes what the case was made from the scene, in one step of the history. The
// sitting waits.
func (c *casework) openScene() {
	d := c.d
	i := slices.IndexFunc(c.sights, func(s cases.Sight) bool { return s.Role == cases.TheTruth || s.Role == cases.OneOfThem })
	if i < 0 {
		i = len(c.sights) - 1
	}
	truth := c.write.Told(&c.sights[i].Setup)
	title, why := c.page.Title, c.why
	d.closeOverlay()
	d.doc.Done()
	d.doc.Edit("", func(sc *scenes.Scene) {
		sc.Setup, sc.Title, sc.Note = truth.Clone(), title, why
		sc.Routine = sim.Maybe[scenes.Routine]{}
	})
	d.doc.Done()
	d.Tell(d.say.Label(words.CasesOpened))
}

// caseSteps is how many slices of work an update does, of about 2 ms each; more where
// nothing else is to be seen yet.
const (
	caseSteps    = 2
	waitingSteps = 8
)

// tick does what is due of the work, so that nobody waits for it later.
func (c *casework) tick(*Desk) (changed bool) {
	if c.sitting == nil || c.ended() {
		for range caseSteps {
			if !c.ahead().Step() {
				break
			}
		}
		return false
	}
	before := c.percent()
	steps := caseSteps
	if c.waits() {
		steps = waitingSteps
	}
	for range steps {
		if !c.sitting.Step() {
			break
		}
	}
	if c.of != c.sitting.Case() {
		c.turn()
	}
	if c.checking && c.sitting.Ready() {
		c.check()
		return true
	}
	return c.waits() && c.percent() != before
}

// waits says whether somebody waits for the work.
func (c *casework) waits() bool {
	return c.sitting != nil && !c.ended() && (c.sitting.Case() == nil || c.checking)
}

// percent is how far the search is.
func (c *casework) percent() int { return int(100 * c.sitting.Progress()) }

func (c *casework) runs() bool {
	if c.sitting == nil || c.ended() {
		return c.ahead().Progress() < 1
	}
	return c.sitting.Works()
}

func (c *casework) closed(*Desk) { c.erased = nil }

// columns are those that scroll.
func (c *casework) columns() []*column { return []*column{&c.left, &c.right} }

func (c *casework) title(d *Desk) string {
	if c.of == nil {
		return d.say.Label(words.ButtonCases)
	}
	at, of := c.sitting.Place()
	return d.say.Filled(words.CasesOf, "Number", strconv.Itoa(at), "Of", strconv.Itoa(of), "Kind", c.page.Title)
}
