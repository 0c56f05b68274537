//go:build long && unix

package document

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
)

func init() { children["work"] = workForEver }

// workForEver edits, pulls, undoes and saves as a person does at a hurry, and prints what
// it has done and when, in order: the number of the state in the title and milliseconds.
func workForEver(s *Store) error {
	seed, err := strconv.ParseUint(os.Getenv("SEED"), 10, 64)
	if err != nil {
		return err
	}
	r := rand.New(rand.NewPCG(seed, 0))
	saver := s.NewSaver()
	d, err := s.Open(filepath.Join(s.Folder(), "work.toml"))
	if errors.Is(err, fs.ErrNotExist) {
		d = s.New(scenes.Library()[0].Scene, "")
		err = s.Save(d, "work", false)
	}
	if err != nil {
		return err
	}
	goOn, _, err := s.Start(d.Path())
	if err != nil {
		return err
	}
	if goOn != nil {
		d = goOn.Document()
		saver.Offer(d.Snapshot())
		if err := saver.Flush(); err != nil {
			return err
		}
		if err := goOn.Discard(); err != nil {
			return err
		}
	}
	at, _ := strconv.Atoi(d.Scene().Title)
	for {
		at++
		d.Edit([]string{"", "pull"}[r.IntN(2)], func(sc *scenes.Scene) {
			sc.Title, sc.Note = strconv.Itoa(at), strings.Repeat("n", r.IntN(2000))
		})
		saver.Offer(d.Snapshot())
		fmt.Printf("%d %d edited.\n", at, time.Now().UnixMilli())
		if r.IntN(40) == 0 {
			// What is to be saved is kept first: between the two there is nothing older.
			if err := saver.Flush(); err != nil {
				return err
			}
			if err := d.Save(); err != nil {
				return err
			}
			fmt.Printf("%d %d saved.\n", at, time.Now().UnixMilli())
			saver.Offer(d.Snapshot())
		}
		time.Sleep(time.Duration(r.IntN(30)) * time.Millisecond)
		if err := saver.Err(); err != nil {
			return err
		}
	}
}

// Three hundred programs are killed while they edit and save, each going on with what the
// one before left. Nothing older than a second is lost, what was saved is there, and every
// file is whole.
func TestKilledThreeHundredTimes(t *testing.T) {
	const kills = 300
	seed := uint64(20261)
	if s, err := strconv.ParseUint(os.Getenv("KILLS"), 10, 64); err == nil {
		seed = s
	}
	t.Logf("KILLS=%d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	folder := temp(t)
	s := storeIn(folder)
	var lost []time.Duration // how old the first edit that is not there was
	edits, saves, leftovers := 0, 0, 0
	for kill := range kills {
		t.Setenv("SEED", strconv.FormatUint(seed+uint64(kill), 10))
		c := start(t, "work", folder)
		c.line(t) // it has begun
		time.Sleep(time.Duration(r.IntN(1500)) * time.Millisecond)
		killed := time.Now().UnixMilli()
		type done struct {
			at   int
			when int64
		}
		var did []done
		saved := 0
		for _, line := range c.kill(t) {
			if !strings.HasSuffix(line, ".") {
				continue // cut off
			}
			var e done
			var what string
			_, err := fmt.Sscanf(line, "%d %d %s", &e.at, &e.when, &what)
			require.NoError(t, err, line)
			if what == "saved." {
				saved = e.at
				saves++
				continue
			}
			did = append(did, e)
		}
		edits += len(did)

		file, err := scenes.Load(filepath.Join(s.Folder(), "work.toml"))
		require.NoError(t, err, "kill %d: the file is whole", kill)
		inFile, _ := strconv.Atoi(file.Title)
		goOn, waiting, err := s.Start(filepath.Join(s.Folder(), "work.toml"))
		require.NoError(t, err, "kill %d: every autosave is whole", kill)
		require.Zero(t, len(waiting), "kill %d: something older waits", kill)
		kept := inFile
		if goOn != nil {
			kept, err = strconv.Atoi(goOn.Scene.Title)
			require.NoError(t, err)
			assert.Greater(t, kept, inFile, "kill %d: an older state over newer work", kill)
		}
		assert.GreaterOrEqual(t, kept, saved, "kill %d", kill)
		for _, e := range did {
			if e.at > kept {
				lost = append(lost, time.Duration(killed-e.when)*time.Millisecond)
				break
			}
		}
		leftovers = 0
		require.NoError(t, filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
			if strings.HasPrefix(filepath.Base(path), partPrefix) {
				leftovers++
			}
			return err
		}))
	}
	slices.Sort(lost)
	require.NotEmpty(t, lost)
	worst := lost[len(lost)-1]
	t.Logf("%d kills, %d edits, %d saves: %d lost something, half of them at most %v, the worst %v; %d temporary files are left, for the hour",
		kills, edits, saves, len(lost), lost[len(lost)/2], worst, leftovers)
	// TestPace holds the second itself, by a clock of its own; here a machine may be so
	// busy that a write takes several.
	assert.Less(t, worst, 5*time.Second)
}

// Two programs on one scene: neither loses what it has not saved, and the second who saves
// is told that the first did.
func TestTwoProgramsOnOneScene(t *testing.T) {
	folder := temp(t)
	s := storeIn(folder)
	mine := New(begun(t), "")
	require.NoError(t, s.Save(mine, "work", false))
	t.Setenv("SEED", "7")
	c := start(t, "work", folder)
	for !strings.HasSuffix(c.line(t), "saved.") {
	}
	saver := s.NewSaver()
	mine.Edit("", titled("mine"))
	offer(t, saver, mine)
	assert.ErrorIs(t, mine.Save(), ErrChanged)
	_, err := mine.Reload()
	assert.ErrorIs(t, err, ErrChanged)
	c.kill(t)
	require.NoError(t, saver.Close())
	var titles []string
	for _, r := range recovered(t, s) {
		titles = append(titles, r.Scene.Title)
	}
	assert.Contains(t, titles, "mine")
}
