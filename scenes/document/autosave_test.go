package document

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
)

// childOf is what tells the test binary to be the other process of a test.
const childOf = "TWINCORD_DOCUMENT_CHILD"

// children are the other processes: they get the folder of a store, and what they
// print is read by the test.
var children = map[string]func(s *Store) error{
	"edit": editForEver,
	"hold": holdOne,
}

func TestMain(m *testing.M) {
	name, folder, ok := strings.Cut(os.Getenv(childOf), " ")
	if !ok {
		os.Exit(m.Run())
	}
	if err := children[name](storeIn(folder)); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// child is this binary as another process; its output is read line by line.
type child struct {
	*exec.Cmd
	out *bufio.Scanner
}

func start(t *testing.T, name, folder string) child {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childOf+"="+name+" "+folder)
	cmd.Stderr = os.Stderr
	_, err := cmd.StdinPipe() // which closes when this process ends, and the child with it
	require.NoError(t, err)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	return child{cmd, bufio.NewScanner(out)}
}

func (c child) line(t *testing.T) string {
	require.True(t, c.out.Scan(), "the child has no more to say: %v", c.out.Err())
	return c.out.Text()
}

// kill ends the child as nothing could prevent, and gives what else it printed.
func (c child) kill(t *testing.T) (lines []string) {
	require.NoError(t, c.Process.Kill())
	for c.out.Scan() {
		lines = append(lines, c.out.Text())
	}
	require.Error(t, c.Wait())
	return lines
}

// editForEver counts in the title, and prints what is on the disk for certain, with
// a full stop that shows that the line is whole.
func editForEver(s *Store) error {
	saver := s.NewSaver()
	d := New(scenes.Library()[0].Scene, "")
	for i := 0; ; i++ {
		d.Edit("", titled(strconv.Itoa(i)))
		saver.Offer(d.Snapshot())
		if err := saver.Flush(); err != nil {
			return err
		}
		if _, err := fmt.Printf("%d.\n", i); err != nil {
			return err
		}
	}
}

// holdOne has one unsaved scene until its input ends.
func holdOne(s *Store) error {
	saver := s.NewSaver()
	d := New(scenes.Library()[0].Scene, "")
	d.Edit("", titled("held"))
	saver.Offer(d.Snapshot())
	if err := saver.Flush(); err != nil {
		return err
	}
	fmt.Println("held")
	_, err := io.Copy(io.Discard, os.Stdin)
	return err
}

func offer(t *testing.T, saver *Saver, d *Document) {
	t.Helper()
	saver.Offer(d.Snapshot())
	require.NoError(t, saver.Flush())
}

func recovered(t *testing.T, s *Store) []Recovered {
	t.Helper()
	rs, err := s.Recover()
	require.NoError(t, err)
	return rs
}

func TestRecover(t *testing.T) {
	folder := temp(t)
	name := "the \"file\"\xff.toml"
	if runtime.GOOS == "windows" { // which has no such names
		name = "the 'file' ä.toml"
	}
	path := filepath.Join(folder, name)
	s := storeIn(folder)
	d := New(begun(t), "")
	require.NoError(t, d.SaveAs(path))
	saver := s.NewSaver()
	offer(t, saver, d)
	_, err := os.Stat(s.autosaveFolder())
	require.ErrorIs(t, err, os.ErrNotExist, "nothing unsaved, nothing written")

	d.Edit("", func(sc *scenes.Scene) { sc.Head, sc.Title = []string{"# Kept."}, "unsaved" })
	offer(t, saver, d)
	assert.Empty(t, recovered(t, s), "its saver is there")
	require.NoError(t, saver.Close())

	rs := recovered(t, s)
	require.Len(t, rs, 1)
	assert.Equal(t, path, rs[0].Path)
	assert.Equal(t, d.Scene(), rs[0].Scene)
	assert.False(t, rs[0].Kept.IsZero())
	again := rs[0].Document()
	assert.True(t, again.Dirty())
	assert.Equal(t, path, again.Path())
	require.True(t, again.Undo(), "back to the file")
	assert.Equal(t, begun(t).Title, again.Scene().Title)
	assert.False(t, again.Dirty())

	again.Redo()
	next := s.NewSaver()
	offer(t, next, again)
	require.NoError(t, rs[0].Discard())
	require.NoError(t, rs[0].Discard(), "once or twice")
	assert.Empty(t, recovered(t, s))
	require.NoError(t, again.Save())
	offer(t, next, again)
	require.NoError(t, next.Close())
	assert.Empty(t, recovered(t, s))
	holds(t, s.autosaveFolder(), map[string]string{})
}

// Without its file, or where that is no longer good, the unsaved state is whole.
func TestRecoverWithoutFile(t *testing.T) {
	folder := temp(t)
	s := storeIn(folder)
	for _, path := range []string{"", filepath.Join(folder, "gone.toml")} {
		saver := s.NewSaver()
		saver.Offer(Snapshot{Path: path, Scene: begun(t), Dirty: true})
		require.NoError(t, saver.Close())
		rs := recovered(t, s)
		require.Len(t, rs, 1)
		d := rs[0].Document()
		assert.True(t, d.Dirty())
		assert.False(t, d.CanUndo())
		assert.Equal(t, path, d.Path())
		assert.Equal(t, begun(t), d.Scene())
		require.NoError(t, rs[0].Discard())
	}
}

// A kill between a save and the removal of the autosave leaves nothing to ask.
func TestRecoverWhatIsSaved(t *testing.T) {
	s := storeIn(temp(t))
	d := New(begun(t), "")
	require.NoError(t, s.Save(d, "a", false))
	saver := s.NewSaver()
	saver.Offer(Snapshot{Path: d.Path(), Scene: d.Scene(), Dirty: true})
	require.NoError(t, saver.Close())
	assert.Empty(t, recovered(t, s))
	holds(t, s.autosaveFolder(), map[string]string{})
}

// What is no autosave is named once, set aside, and keeps nothing else from coming back.
func TestRecoverBad(t *testing.T) {
	s := storeIn(temp(t))
	saver := s.NewSaver()
	saver.Offer(Snapshot{Scene: begun(t), Dirty: true})
	require.NoError(t, saver.Close())
	bad := map[string]string{
		"1-a": "format = 1\n", "1-b": "# unsaved: oops\n", "1-c": "# unsaved: \"\"\nformat = 2\n", "1-d": "",
		"1-e": "# unsaved: \"\"\n# number: x\n", "1-f": "# unsaved: \"\"\n# number: 1 yesterday \"\"\n",
		"1-g": "# unsaved: \"\"\n" + strings.Repeat("#", mostAutosave),
	}
	for name, text := range bad {
		require.NoError(t, os.WriteFile(filepath.Join(s.autosaveFolder(), name+".toml"), []byte(text), 0o600))
	}
	makePipe(t, filepath.Join(s.autosaveFolder(), "1-h.toml"))
	rs, err := s.Recover()
	assert.Len(t, rs, 1)
	for _, problem := range []string{
		`0-1-a.toml: cannot be read: its first line does not begin with "# unsaved: "`,
		`0-1-b.toml: cannot be read: its first line gives no quoted path`,
		`1-c.toml:1:10: format: `,
		`0-1-d.toml: cannot be read: its first line does not begin with "# unsaved: "`,
		`0-1-e.toml: cannot be read: its second line does not give a number, a time and a fingerprint`,
		`0-1-f.toml: cannot be read: its second line gives no time`,
		`0-1-g.toml: cannot be read: it is larger than any autosave`,
		`0-1-h.toml: cannot be read: `,
	} {
		assert.ErrorContains(t, err, problem)
	}
	assert.ErrorAs(t, err, new(scenes.Faults))
	var aside Unreadable
	require.ErrorAs(t, err, &aside)
	assert.Len(t, aside, len(bad)+1)
	for _, a := range aside {
		assert.FileExists(t, a.File)
	}
	assert.Len(t, recovered(t, s), 1, "and no word of the others")
}

// Killed at any moment, at most the last edit is lost and no file is half.
func TestKill(t *testing.T) {
	folder := temp(t)
	s := storeIn(folder)
	for round := range 8 {
		c := start(t, "edit", folder)
		certain := ""
		for range 1 + 5*round {
			certain = c.line(t)
		}
		time.Sleep(time.Duration(round) * 300 * time.Microsecond) // into the next write
		for _, line := range c.kill(t) {
			if strings.HasSuffix(line, ".") {
				certain = line
			}
		}

		rs := recovered(t, s)
		require.Len(t, rs, 1)
		least, err := strconv.Atoi(strings.TrimSuffix(certain, "."))
		require.NoError(t, err)
		got, err := strconv.Atoi(rs[0].Scene.Title)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, got, least)
		assert.LessOrEqual(t, got, least+1)
		want := begun(t)
		want.Title = rs[0].Scene.Title
		assert.Equal(t, want, rs[0].Scene)
		require.NoError(t, rs[0].Discard())
	}

	// What the killed left half-done goes with the next beginning.
	part := filepath.Join(s.autosaveFolder(), partPrefix+"1-0.part")
	require.NoError(t, os.WriteFile(part, nil, 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(s.autosaveFolder(), "1-0.lock"), nil, 0o600))
	saver := s.NewSaver()
	saver.Offer(Snapshot{Scene: begun(t), Dirty: true})
	require.NoError(t, saver.Flush())
	saver.Offer(Snapshot{Scene: begun(t)})
	require.NoError(t, saver.Close())
	holds(t, s.autosaveFolder(), map[string]string{})
}

// Two windows have an autosave each; that of the living is nobody else's.
func TestTwoWindows(t *testing.T) {
	folder := temp(t)
	s := storeIn(folder)
	c := start(t, "hold", folder)
	require.Equal(t, "held", c.line(t))

	mine := New(begun(t), "")
	mine.Edit("", titled("mine"))
	saver := s.NewSaver()
	offer(t, saver, mine)
	assert.Empty(t, recovered(t, s), "both are alive")
	offer(t, saver, New(begun(t), "")) // saved: the other's stays
	require.NoError(t, saver.Close())
	assert.Empty(t, recovered(t, s))

	c.kill(t)
	rs := recovered(t, s)
	require.Len(t, rs, 1)
	assert.Equal(t, "held", rs[0].Scene.Title)

	// A saver that begins now takes another name and leaves it alone.
	offer(t, saver, mine)
	require.Len(t, recovered(t, s), 1)
	require.NoError(t, saver.Close())
	require.Len(t, recovered(t, s), 2)
	mine.Edit("", titled("mine, later"))
	offer(t, saver, mine)
	require.NoError(t, saver.Close())
	assert.Len(t, recovered(t, s), 3)
}

// Many savers that begin and end at once, while others look for what is left
// behind, never take each other's for that.
func TestSaversAtOnce(t *testing.T) {
	s := storeIn(temp(t))
	var wg sync.WaitGroup
	for w := range 4 {
		wg.Go(func() {
			for i := range 5 {
				saver := s.NewSaver()
				sc := begun(t)
				sc.Title = fmt.Sprint(w, " ", i)
				saver.Offer(Snapshot{Scene: sc, Dirty: true})
				assert.NoError(t, saver.Flush())
				rs, err := s.Recover()
				assert.NoError(t, err)
				assert.Empty(t, rs)
				saver.Offer(Snapshot{Scene: sc})
				assert.NoError(t, saver.Close())
			}
		})
	}
	wg.Wait()
	holds(t, s.autosaveFolder(), map[string]string{})
}

// Of many offers the last is the one on the disk, and no offer waits.
func TestLatestWins(t *testing.T) {
	s := storeIn(temp(t))
	saver := s.NewSaver()
	d := New(begun(t), "")
	for i := range 1000 {
		d.Edit("drag", titled(fmt.Sprint(i)))
		saver.Offer(d.Snapshot())
	}
	require.NoError(t, saver.Close())
	rs := recovered(t, s)
	require.Len(t, rs, 1)
	assert.Equal(t, "999", rs[0].Scene.Title)
}

// A scene that no file may hold is an error, and the autosave before it stays.
func TestAutosaveFails(t *testing.T) {
	s := storeIn(temp(t))
	saver := s.NewSaver()
	d := New(begun(t), "")
	d.Edit("", titled("good"))
	offer(t, saver, d)
	d.Edit("", func(sc *scenes.Scene) { sc.Setup.Patient.PD = -1 })
	saver.Offer(d.Snapshot())
	assert.ErrorAs(t, saver.Flush(), new(scenes.Faults))
	assert.ErrorAs(t, saver.Err(), new(scenes.Faults))
	d.Undo()
	d.Edit("", titled("better"))
	offer(t, saver, d)
	require.NoError(t, saver.Err())
	require.NoError(t, saver.Close())
	assert.Equal(t, "better", recovered(t, s)[0].Scene.Title)
}
