// Package document is a scene as its user has it: open, with a history, saved whole or
// not at all, and kept safe while it changes. It is also where scenes lie, which were
// used last, and what of them was not saved when the program ended; on a disk or in what
// a browser keeps for a page. It draws nothing and says nothing in words: its errors are
// codes to those who do.
package document

import (
	"errors"
	"fmt"
	"io/fs"
	"reflect"
	"slices"

	"twincord/scenes"
	"twincord/sim"
)

// The history forgets its oldest steps beyond either of these.
const (
	maxSteps = 10_000
	maxBytes = 8 << 20
)

// ErrNoPath says that a document has no file yet to be saved in.
var ErrNoPath = errors.New("the scene has no file yet; save it under a name")

// ErrChanged says that the file of a document holds something else than what was opened
// or saved last: another program has changed it.
var ErrChanged = errors.New("another program has changed the file since it was opened or saved here")

// Document is the open scene with its history. It is for one goroutine; the
// scenes that it gives away never change again, and any goroutine may read them.
//
// The history holds whole scenes, not differences: text and beads that a step
// leaves as they were are shared, so that a step takes less than a kilobyte and
// nothing can go wrong in putting a scene together again.
type Document struct {
	files   Files
	path    string
	from    scenes.Identity // what it was begun from
	now     *scenes.Scene
	saved   *scenes.Scene // what the file holds, or nil where nobody knows
	undo    []past        // oldest first
	redo    []past        // farthest first
	held    int           // bytes in undo and redo
	before  *scenes.Scene // what the open step began from, or nil where none is open
	step    string        // what the open step is called
	changes int
}

// past is a scene of the history, with the bytes that its step takes.
type past struct {
	scene *scenes.Scene
	bytes int
}

// New is a document that has a copy of a scene, as it stands in the file at path on the
// disk; path is empty for a scene that is built in or has not been saved.
func New(sc *scenes.Scene, path string) *Document { return begin(disk{}, sc, path) }

func begin(files Files, sc *scenes.Scene, path string) *Document {
	sc = clone(sc)
	return &Document{files: files, path: path, now: sc, saved: sc}
}

// Scene gives the scene as it stands, which the caller must not change.
func (d *Document) Scene() *scenes.Scene { return d.now }

// Path gives the file of the document, or nothing where it has none.
func (d *Document) Path() string { return d.path }

// From says which scene the document was begun from, and gives the document.
func (d *Document) From(id scenes.Identity) *Document {
	d.from = id
	return d
}

// Identity says which scene it is: its file, else what it was begun from.
func (d *Document) Identity() scenes.Identity { return identity(d.path, d.from) }

func identity(path string, from scenes.Identity) scenes.Identity {
	if path != "" {
		return scenes.Identity{Origin: scenes.File, Name: path}
	}
	return from
}

// Changes is a number that grows with every change of the scene.
func (d *Document) Changes() int { return d.changes }

// Dirty says whether the scene differs from what was last opened or saved.
func (d *Document) Dirty() bool { return !equal(d.now, d.saved) }

// Snapshot is a document at one moment, for Autosave.
type Snapshot struct {
	Path  string
	From  scenes.Identity // what it was begun from
	Scene *scenes.Scene   // never changed again
	Saved *scenes.Scene   // what the file holds, or nil where nobody knows
	Dirty bool
}

// Snapshot gives the document as it stands.
func (d *Document) Snapshot() Snapshot { return Snapshot{d.path, d.from, d.now, d.saved, d.Dirty()} }

// Edit changes the scene by changing a copy of it, and says whether anything did
// change. Edits that follow each other with the same step, which is not empty,
// are one step of the history until Done; with an empty one each is a step.
func (d *Document) Edit(step string, change func(*scenes.Scene)) (changed bool) {
	if step == "" || step != d.step {
		d.Done()
	}
	next := clone(d.now)
	change(next)
	if equal(next, d.now) {
		return false
	}
	if d.before == nil {
		d.before, d.step = d.now, step
	}
	share(next, d.now)
	d.become(next)
	if step == "" {
		d.Done()
	}
	return true
}

// Done closes the open step, if there is one. What came back to where it began is
// no step.
func (d *Document) Done() {
	before := d.before
	d.before, d.step = nil, ""
	if before == nil {
		return
	}
	if equal(before, d.now) {
		d.now = before
		return
	}
	for _, p := range d.redo {
		d.held -= p.bytes
	}
	clear(d.redo)
	d.redo = d.redo[:0]
	p := past{before, weight(before, d.now)}
	d.undo = append(d.undo, p)
	d.held += p.bytes
	for len(d.undo) > maxSteps || d.held > maxBytes && len(d.undo) > 0 {
		d.held -= d.undo[0].bytes
		d.undo[0] = past{}
		d.undo = d.undo[1:]
	}
}

// Revert goes back to where the open step began, as if it had never been, and
// says whether that changed anything.
func (d *Document) Revert() (changed bool) {
	before := d.before
	d.before, d.step = nil, ""
	if before == nil || equal(before, d.now) {
		return false
	}
	d.become(before)
	return true
}

// Undo closes the open step and takes the last step back. It says whether there
// was one.
func (d *Document) Undo() bool {
	d.Done()
	return d.move(&d.undo, &d.redo)
}

// Redo does again what Undo took back last, unless a step was made since.
func (d *Document) Redo() bool {
	d.Done()
	return d.move(&d.redo, &d.undo)
}

// CanUndo says whether Undo would do anything.
func (d *Document) CanUndo() bool { return len(d.undo) > 0 || d.opened() }

// CanRedo says whether Redo would do anything.
func (d *Document) CanRedo() bool { return len(d.redo) > 0 && !d.opened() }

// opened says whether there is an open step that changes something.
func (d *Document) opened() bool { return d.before != nil && !equal(d.before, d.now) }

// move takes the last scene of one side of the history and leaves the present one
// on the other.
func (d *Document) move(from, to *[]past) bool {
	last := len(*from) - 1
	if last < 0 {
		return false
	}
	p := (*from)[last]
	(*from)[last] = past{}
	*from = (*from)[:last]
	*to = append(*to, past{d.now, p.bytes})
	d.become(p.scene)
	return true
}

// become makes a scene the present one.
func (d *Document) become(sc *scenes.Scene) {
	d.now = sc
	d.changes++
}

// Save writes the scene to its file, all or nothing, with the comment at its top.
// The error is ErrNoPath where there is no file, and ErrChanged where that holds
// something which would be lost: SaveOver does it nevertheless. It has scenes.Faults
// where no file may hold the scene.
func (d *Document) Save() error {
	if d.path == "" {
		return ErrNoPath
	}
	if sc, there, err := load(d.files, d.path); there && (err != nil || d.news(sc)) {
		return fmt.Errorf("%s: %w", d.path, ErrChanged)
	}
	return d.SaveOver()
}

// SaveOver writes the scene to its file, whatever that now holds.
func (d *Document) SaveOver() error {
	if d.path == "" {
		return ErrNoPath
	}
	return d.SaveAs(d.path)
}

// SaveAs writes the scene to a file, whatever that held, and makes it the
// document's. On an error the document is as it was.
func (d *Document) SaveAs(path string) error {
	d.Done()
	if err := d.files.Write(path, d.now.Write); err != nil {
		return err
	}
	d.path, d.saved = path, d.now
	return nil
}

// Reload reads the file again where it was changed by another program. What is
// there becomes one step of the history; it says whether the scene changed. Where
// something is not saved here, nothing is taken over and the error is ErrChanged: Theirs
// does so nevertheless. Where the file cannot be read or is no good scene, the document
// is as it was.
func (d *Document) Reload() (changed bool, err error) {
	sc, err := d.file()
	if err != nil {
		return false, err
	}
	if d.Dirty() && d.news(sc) {
		return false, fmt.Errorf("%s: %w", d.path, ErrChanged)
	}
	return d.Reloaded(sc), nil
}

// Theirs takes over what the file holds now, whatever is not saved here, as one step of
// the history. It says whether the scene changed.
func (d *Document) Theirs() (changed bool, err error) {
	sc, err := d.file()
	if err != nil {
		return false, err
	}
	return d.Reloaded(sc), nil
}

// file is what the file holds now.
func (d *Document) file() (*scenes.Scene, error) {
	if d.path == "" {
		return nil, ErrNoPath
	}
	sc, _, err := load(d.files, d.path)
	return sc, err
}

// news says whether what the file holds is neither what the document knows it to hold
// nor what would be written there.
func (d *Document) news(sc *scenes.Scene) bool { return !equal(sc, d.saved) && !equal(sc, d.now) }

// load reads a scene file. It says whether there is one that can be read, good or not.
func load(files Files, path string) (sc *scenes.Scene, there bool, err error) {
	data, _, err := files.Read(path, scenes.MaxSize)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, false, fmt.Errorf("%s: %w", path, fs.ErrNotExist)
	case err != nil:
		return nil, false, fmt.Errorf("%s: cannot be read: %w", path, cause(err))
	}
	sc, err = scenes.Parse(path, data)
	return sc, true, err
}

// Reloaded takes over what the file holds now, as one step of the history, and
// says whether the scene changed. What the document itself has saved or opened
// does not come back: nothing is taken over then.
func (d *Document) Reloaded(sc *scenes.Scene) (changed bool) {
	if equal(sc, d.saved) {
		return false
	}
	changed = d.Edit("", func(now *scenes.Scene) { *now = *clone(sc) })
	d.saved = d.now
	return changed
}

// clone is a copy that shares nothing that can be changed.
func clone(sc *scenes.Scene) *scenes.Scene {
	c := *sc
	c.Head = slices.Clone(sc.Head)
	c.Setup = sc.Setup.Clone()
	return &c
}

// equal says whether two scenes are the same; one may be nil. No beads are no
// beads, with or without a slice for them.
func equal(a, b *scenes.Scene) bool {
	if a == b || a == nil || b == nil {
		return a == b
	}
	if !slices.Equal(a.Head, b.Head) || !slices.Equal(a.Setup.Beads, b.Setup.Beads) {
		return false
	}
	x, y := *a, *b
	x.Head, y.Head, x.Setup.Beads, y.Setup.Beads = nil, nil, nil, nil
	return reflect.DeepEqual(&x, &y)
}

// share gives a scene the text and the beads of another where they are the same.
func share(sc, with *scenes.Scene) {
	if sc.Title == with.Title {
		sc.Title = with.Title
	}
	if sc.Note == with.Note {
		sc.Note = with.Note
	}
	if slices.Equal(sc.Head, with.Head) {
		sc.Head = with.Head
	}
	if slices.Equal(sc.Setup.Beads, with.Setup.Beads) {
		sc.Setup.Beads = with.Setup.Beads
	}
}

// weight is about how many bytes a step between two scenes holds: one scene
// itself, and what the two do not share, of the larger.
func weight(a, b *scenes.Scene) int {
	n := int(reflect.TypeFor[scenes.Scene]().Size())
	if a.Title != b.Title {
		n += max(len(a.Title), len(b.Title))
	}
	if a.Note != b.Note {
		n += max(len(a.Note), len(b.Note))
	}
	if !slices.Equal(a.Head, b.Head) {
		n += max(headWeight(a.Head), headWeight(b.Head))
	}
	if !slices.Equal(a.Setup.Beads, b.Setup.Beads) {
		n += max(beadsWeight(a.Setup.Beads), beadsWeight(b.Setup.Beads))
	}
	return n
}

func headWeight(lines []string) int {
	n := len(lines) * int(reflect.TypeFor[string]().Size())
	for _, line := range lines {
		n += len(line)
	}
	return n
}

func beadsWeight(beads []sim.Bead) int {
	n := len(beads) * int(reflect.TypeFor[sim.Bead]().Size())
	for _, b := range beads {
		n += len(b.Name)
	}
	return n
}
