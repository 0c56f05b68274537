package document

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unsafe"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"twincord/scenes"
	"twincord/sim"
)

// begun is the scene that tests begin with.
func begun(t require.TestingT) *scenes.Scene {
	sc, _, err := scenes.Open(scenes.DefaultName)
	require.NoError(t, err)
	return sc
}

func titled(title string) func(*scenes.Scene) {
	return func(sc *scenes.Scene) { sc.Title = title }
}

// printed is all that a scene holds.
func printed(sc *scenes.Scene) string {
	return fmt.Sprintf("%q %q %q %+v", sc.Head, sc.Title, sc.Note, sc.Setup)
}

// changes draws a change of a scene, which may leave it as it is.
func changes(t *rapid.T) func(*scenes.Scene) {
	n := rapid.IntRange(0, 3).Draw(t, "n")
	return [...]func(*scenes.Scene){
		func(sc *scenes.Scene) { sc.Setup.Posture.Deviation = sim.Prism(n) },
		func(sc *scenes.Scene) { sc.Title = strings.Repeat("t", n) },
		func(sc *scenes.Scene) { sc.Note = strings.Repeat("n", n) },
		func(sc *scenes.Scene) { sc.Head = slices.Repeat([]string{"#"}, n) },
		func(sc *scenes.Scene) { sc.Head = append(sc.Head, "# more") },
		func(sc *scenes.Scene) { sc.Setup.Cover = sim.Left },
		func(sc *scenes.Scene) { sc.Setup.Beads = sc.Setup.Beads[:min(n, len(sc.Setup.Beads))] },
		func(sc *scenes.Scene) { sc.Setup.Beads = append(sc.Setup.Beads, sim.Bead{Name: "new", At: float64(n)}) },
		func(sc *scenes.Scene) {
			for i := range sc.Setup.Beads {
				sc.Setup.Beads[i].At += float64(n)
			}
		},
		func(sc *scenes.Scene) { sc.Setup.Patient.Amplitude = sim.Some(sim.Dioptres(n)) },
		func(sc *scenes.Scene) {},
	}[rapid.IntRange(0, 10).Draw(t, "change")]
}

// timeline is a history written another way: every state since the beginning in
// a row, and which of them is the present one.
type timeline struct {
	states []string
	at     int
	open   string // the state of the open step, if it has one
	step   string
	saved  string
}

func (l *timeline) now() string {
	if l.open != "" {
		return l.open
	}
	return l.states[l.at]
}

func (l *timeline) done() {
	if l.open != "" && l.open != l.states[l.at] {
		l.states = append(l.states[:l.at+1], l.open)
		l.at++
	}
	l.open, l.step = "", ""
}

func (l *timeline) walk(by int) bool {
	l.done()
	if l.at+by < 0 || l.at+by >= len(l.states) {
		return false
	}
	l.at += by
	return true
}

// Whatever is done, the document is where the timeline is, and no scene that it
// gave away has changed.
func TestHistory(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := New(begun(t), "")
		first := printed(d.Scene())
		line := timeline{states: []string{first}, saved: first}
		given := map[*scenes.Scene]string{d.Scene(): first}
		edit := func(step string, change func(*scenes.Scene)) {
			if step == "" || step != line.step {
				line.done()
			}
			sc := clone(d.Scene())
			change(sc)
			before := line.now()
			if after := printed(sc); after != before {
				line.open, line.step = after, step
			}
			assert.Equal(t, line.now() != before, d.Edit(step, change))
			if step == "" {
				line.done()
			}
		}
		t.Repeat(map[string]func(*rapid.T){
			"edit": func(t *rapid.T) { edit("", changes(t)) },
			"drag": func(t *rapid.T) { edit(rapid.SampledFrom([]string{"a", "b"}).Draw(t, "step"), changes(t)) },
			"done": func(*rapid.T) { d.Done(); line.done() },
			"undo": func(t *rapid.T) {
				can := d.CanUndo()
				assert.Equal(t, can, d.Undo())
				assert.Equal(t, can, line.walk(-1))
			},
			"redo": func(t *rapid.T) {
				can := d.CanRedo()
				assert.Equal(t, can, d.Redo())
				assert.Equal(t, can, line.walk(+1))
			},
			"revert": func(t *rapid.T) {
				changed := line.open != "" && line.open != line.states[line.at]
				line.open, line.step = "", ""
				assert.Equal(t, changed, d.Revert())
			},
			"reload": func(t *rapid.T) {
				sc := begun(t)
				changes(t)(sc)
				text := printed(sc)
				if text == line.saved {
					assert.False(t, d.Reloaded(sc))
					return
				}
				line.done()
				changed := text != line.now()
				if line.saved = text; changed {
					line.open = text
					line.done()
				}
				assert.Equal(t, changed, d.Reloaded(sc))
				sc.Title = "the caller's own"
			},
			"": func(t *rapid.T) {
				require.Equal(t, line.now(), printed(d.Scene()))
				assert.Equal(t, line.now() != line.saved, d.Dirty())
				assert.Equal(t, Snapshot{Scene: d.Scene(), Saved: d.saved, Dirty: d.Dirty()}, d.Snapshot())
				given[d.Scene()] = line.now()
			},
		})
		for d.Undo() {
		}
		assert.Equal(t, first, printed(d.Scene()))
		for d.Redo() {
		}
		line.walk(len(line.states) - 1 - line.at)
		assert.Equal(t, line.now(), printed(d.Scene()))
		for sc, text := range given {
			assert.Equal(t, text, printed(sc))
		}
	})
}

// Neither the scene it is made of nor one that an edit kept is the document's.
func TestScenesAreCopies(t *testing.T) {
	sc := begun(t)
	d := New(sc, "")
	first := printed(d.Scene())
	sc.Setup.Beads[0].At++
	assert.Equal(t, first, printed(d.Scene()))

	d.Edit("drag", func(sc *scenes.Scene) { sc.Setup.Beads[0].At++ })
	assert.True(t, d.Revert())
	assert.False(t, d.Revert())
	assert.Equal(t, first, printed(d.Scene()))
	assert.False(t, d.CanUndo())
}

// What is dragged away and back costs neither a step nor what can be redone.
func TestThereAndBack(t *testing.T) {
	d := New(begun(t), "")
	d.Edit("", titled("one"))
	require.True(t, d.Undo())
	d.Edit("drag", titled("away"))
	assert.False(t, d.CanRedo())
	d.Edit("drag", titled(begun(t).Title))
	assert.False(t, d.CanUndo())
	assert.True(t, d.CanRedo())
	d.Done()
	assert.False(t, d.Undo())
	require.True(t, d.Redo())
	assert.Equal(t, "one", d.Scene().Title)
}

func TestChangesGrow(t *testing.T) {
	d := New(begun(t), "")
	last := d.Changes()
	for i, change := range []func() bool{
		func() bool { return d.Edit("drag", titled("a")) },
		func() bool { return d.Edit("drag", titled("b")) },
		d.Undo, d.Redo,
		func() bool { return d.Edit("drag", titled("c")) && d.Revert() },
		func() bool { return d.Reloaded(&scenes.Scene{Title: "d"}) },
	} {
		require.True(t, change())
		assert.Greater(t, d.Changes(), last, i)
		last = d.Changes()
	}
	assert.False(t, d.Edit("", titled("d")))
	assert.Equal(t, last, d.Changes())
}

// An edit that panics leaves the document as it was.
func TestEditPanics(t *testing.T) {
	d := New(begun(t), "")
	first := printed(d.Scene())
	assert.Panics(t, func() {
		d.Edit("", func(sc *scenes.Scene) { sc.Setup.Beads[0].At++; panic("edit") })
	})
	assert.Equal(t, first, printed(d.Scene()))
	assert.False(t, d.CanUndo())
}

func undone(d *Document) (steps int) {
	for d.Undo() {
		steps++
	}
	return steps
}

// Ten thousand steps are kept, or as many as 8 MB hold; the oldest go first.
func TestHistorySteps(t *testing.T) {
	d := New(begun(t), "")
	const more = 7
	for i := range maxSteps + more {
		d.Edit("", titled(fmt.Sprint(i)))
	}
	assert.LessOrEqual(t, d.held, maxBytes)
	if room := d.held+weight(begun(t), d.Scene()) <= maxBytes; room {
		assert.Len(t, d.undo, maxSteps)
	}
	steps := undone(d)
	assert.LessOrEqual(t, steps, maxSteps)
	assert.Greater(t, steps, maxSteps/2)
	assert.Equal(t, fmt.Sprint(maxSteps+more-1-steps), d.Scene().Title)
	for d.Redo() {
	}
	assert.Equal(t, fmt.Sprint(maxSteps+more-1), d.Scene().Title)
}

// Long texts are counted: of steps that hold 100 kB each, 8 MB are enough for
// about 80.
func TestHistoryBytes(t *testing.T) {
	d := New(begun(t), "")
	d.Edit("", func(sc *scenes.Scene) { sc.Note = strings.Repeat("x", 100_000) })
	for i := range 200 {
		d.Edit("", func(sc *scenes.Scene) { sc.Note = fmt.Sprint(i) + sc.Note[3:] })
		require.LessOrEqual(t, d.held, maxBytes)
	}
	steps := len(d.undo)
	assert.InDelta(t, 8<<20/100_000, steps, 2)
	require.True(t, d.Undo())
	require.True(t, d.Undo())
	d.Edit("", titled("so nothing is to be redone"))
	assert.False(t, d.CanRedo())
	sum := 0
	for _, p := range d.undo {
		sum += p.bytes
	}
	assert.Equal(t, sum, d.held)
	assert.Equal(t, steps-1, undone(d))
}

// A step weighs a scene, and of what it changes all that is no longer shared: of the
// larger scene, whichever way it goes.
func TestWeight(t *testing.T) {
	plain := begun(t)
	scene := weight(plain, plain)
	name, bead := 16, int(unsafe.Sizeof(sim.Bead{}))
	for _, tt := range []struct {
		what   string
		change func(*scenes.Scene)
		more   int
	}{
		{"nothing", func(*scenes.Scene) {}, 0},
		{"a number", func(sc *scenes.Scene) { sc.Setup.Patient.PD++ }, 0},
		{"a title", titled(strings.Repeat("t", 500)), 500},
		{"a note", func(sc *scenes.Scene) { sc.Note = strings.Repeat("n", 5000) }, 5000},
		{"a comment", func(sc *scenes.Scene) { sc.Head = []string{"# one", "# of two"} }, 2*name + 5 + 8},
		{"beads", func(sc *scenes.Scene) { sc.Setup.Beads = []sim.Bead{{Name: "b"}, {Name: "be"}, {}, {}, {}, {}} }, 6*bead + 3},
	} {
		sc := clone(plain)
		tt.change(sc)
		assert.Equal(t, tt.more, weight(plain, sc)-scene, tt.what)
		assert.Equal(t, tt.more, weight(sc, plain)-scene, tt.what)
	}
	assert.Greater(t, scene, 100)
}

// What a step leaves alone is not held twice.
func TestStepsShare(t *testing.T) {
	d := New(begun(t), "")
	d.Edit("", func(sc *scenes.Scene) { sc.Head = []string{"# Mine."} })
	before := d.Scene()
	d.Edit("", titled("new"))
	assert.Same(t, &before.Setup.Beads[0], &d.Scene().Setup.Beads[0])
	assert.Same(t, &before.Head[0], &d.Scene().Head[0])
}

func TestSave(t *testing.T) {
	path := filepath.Join(temp(t), "a.toml")
	d := New(begun(t), "")
	require.ErrorIs(t, d.Save(), ErrNoPath)
	_, err := d.Reload()
	require.ErrorIs(t, err, ErrNoPath)

	d.Edit("drag", func(sc *scenes.Scene) { sc.Head, sc.Title = []string{"# Mine.", "", "# Kept."}, "Mine" })
	require.NoError(t, d.SaveAs(path))
	assert.Equal(t, path, d.Path())
	assert.False(t, d.Dirty())
	sc, err := scenes.Load(path)
	require.NoError(t, err)
	assert.Equal(t, d.Scene(), sc)

	d.Edit("drag", titled("Mine again"))
	assert.True(t, d.Dirty())
	require.True(t, d.Undo(), "what was saved ends the step")
	assert.Equal(t, "Mine", d.Scene().Title)
	assert.False(t, d.Dirty())
	require.True(t, d.Redo())
	require.NoError(t, d.Save())
	sc, err = scenes.Load(path)
	require.NoError(t, err)
	assert.Equal(t, "Mine again", sc.Title)
}

// A save that fails changes neither the file nor the document.
func TestSaveFails(t *testing.T) {
	folder := temp(t)
	path := filepath.Join(folder, "a.toml")
	d := New(begun(t), "")
	require.NoError(t, d.SaveAs(path))
	old, err := os.ReadFile(path)
	require.NoError(t, err)

	d.Edit("", func(sc *scenes.Scene) { sc.Setup.Patient.PD = 1000 })
	var faults scenes.Faults
	require.ErrorAs(t, d.Save(), &faults)
	assert.Equal(t, "patient.pd_mm", faults[0].Key)
	require.Error(t, d.SaveAs(filepath.Join(folder, "missing", "b.toml")))
	assert.Equal(t, path, d.Path())
	assert.True(t, d.Dirty())
	assert.Equal(t, 1000.0, d.Scene().Setup.Patient.PD)
	holds(t, folder, map[string]string{"a.toml": string(old)})
}

// A file that another program changed is taken over, and can be undone.
func TestReload(t *testing.T) {
	path := filepath.Join(temp(t), "a.toml")
	d := New(begun(t), "")
	require.NoError(t, d.SaveAs(path))
	changed, err := d.Reload()
	require.NoError(t, err)
	assert.False(t, changed, "what it saved itself")

	write := func(title string) {
		other := New(begun(t), path)
		other.Edit("", titled(title))
		require.NoError(t, other.SaveOver())
	}
	write("theirs")
	changed, err = d.Reload()
	require.NoError(t, err)
	assert.True(t, changed)
	assert.Equal(t, "theirs", d.Scene().Title)
	assert.False(t, d.Dirty())
	require.True(t, d.Undo())
	assert.Equal(t, begun(t).Title, d.Scene().Title)
	assert.True(t, d.Dirty())

	require.NoError(t, os.WriteFile(path, []byte("format = 2\n"), 0o600))
	_, err = d.Reload()
	assert.True(t, errors.As(err, new(scenes.Faults)))
	assert.Equal(t, Unfit, TroubleOf(err))
	require.NoError(t, os.Remove(path))
	_, err = d.Reload()
	assert.ErrorIs(t, err, os.ErrNotExist)
	assert.Equal(t, Missing, TroubleOf(err))
	assert.Equal(t, begun(t).Title, d.Scene().Title)
}

// Where something is not saved, what another program has put into the file is neither
// taken over nor written over before somebody says so.
func TestChangedOutside(t *testing.T) {
	path := filepath.Join(temp(t), "a.toml")
	d := New(begun(t), "")
	require.NoError(t, d.SaveAs(path))
	other := New(d.Scene(), path)
	d.Edit("", titled("mine"))
	mine := d.Snapshot()
	title := func() string {
		sc, err := scenes.Load(path)
		require.NoError(t, err)
		return sc.Title
	}
	changed, err := d.Reload()
	require.NoError(t, err)
	assert.False(t, changed, "nobody has changed it")

	other.Edit("", titled("theirs"))
	require.NoError(t, other.Save())
	_, err = d.Reload()
	require.ErrorIs(t, err, ErrChanged)
	assert.Equal(t, Changed, TroubleOf(err))
	assert.Equal(t, mine, d.Snapshot(), "so that its autosave stays too")
	assert.ErrorIs(t, d.Save(), ErrChanged)
	assert.Equal(t, "theirs", title())
	assert.Equal(t, mine, d.Snapshot())

	require.NoError(t, os.WriteFile(path, []byte("format = 2\n"), 0o600))
	assert.ErrorIs(t, d.Save(), ErrChanged, "also what is no scene is somebody's")
	require.NoError(t, d.SaveOver())
	assert.Equal(t, "mine", title())
	assert.False(t, d.Dirty())

	d.Edit("", titled("mine, later"))
	other.Edit("", titled("mine, later"))
	require.NoError(t, other.SaveOver())
	require.NoError(t, d.Save(), "both want the same")
	assert.False(t, d.Dirty())

	d.Edit("", titled("mine, again"))
	other.Edit("", titled("theirs, again"))
	require.NoError(t, other.SaveOver())
	changed, err = d.Theirs()
	require.NoError(t, err)
	assert.True(t, changed)
	assert.Equal(t, "theirs, again", d.Scene().Title)
	require.True(t, d.Undo())
	assert.Equal(t, "mine, again", d.Scene().Title)

	require.NoError(t, os.Remove(path))
	require.NoError(t, d.Save(), "a file that was taken away is written anew")
	assert.Equal(t, "mine, again", title())
}

func BenchmarkEditInDrag(b *testing.B) {
	d := New(begun(b), "")
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		d.Edit("drag", func(sc *scenes.Scene) { sc.Setup.Beads[0].At = float64(i) })
	}
}

func BenchmarkStep(b *testing.B) {
	d := New(begun(b), "")
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		d.Edit("drag", func(sc *scenes.Scene) { sc.Setup.Beads[0].At = float64(i) })
		d.Done()
	}
}

func BenchmarkUndoRedo(b *testing.B) {
	d := New(begun(b), "")
	d.Edit("", titled("new"))
	b.ReportAllocs()
	for b.Loop() {
		d.Undo()
		d.Redo()
	}
}
