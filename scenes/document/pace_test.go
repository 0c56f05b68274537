package document

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
)

// onDisk is the title of the state that a kill would now leave, or nothing.
func onDisk(t *testing.T, s *Store) string {
	t.Helper()
	found, bad, err := s.autosaves.all()
	require.NoError(t, err)
	require.Empty(t, bad)
	if len(found) == 0 {
		return ""
	}
	require.Len(t, found, 1)
	sc, err := scenes.Parse("", found[0].data)
	require.NoError(t, err)
	return sc.Title
}

// However long somebody pulls at something, what is older than a second is on the disk;
// and half a second after the last change everything is. The clock is not the real one.
func TestPace(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := storeIn(temp(t))
		saver := s.NewSaver()
		d := New(begun(t), "")
		began := time.Now()
		at := func() string { return time.Since(began).String() }
		kept := time.Duration(-1)
		for time.Since(began) < 20*time.Second {
			now := time.Since(began)
			d.Edit("pull", titled(at()))
			saver.Offer(d.Snapshot())
			time.Sleep(16 * time.Millisecond)
			synctest.Wait()
			if title := onDisk(t, s); title != "" {
				var err error
				kept, err = time.ParseDuration(title)
				require.NoError(t, err)
			}
			if now > time.Second {
				require.LessOrEqual(t, now-kept, time.Second, "at %v", now)
			}
		}
		last := d.Scene().Title
		time.Sleep(500*time.Millisecond - 16*time.Millisecond)
		synctest.Wait()
		assert.Equal(t, last, onDisk(t, s))

		d.Edit("", titled("and once more"))
		saver.Offer(d.Snapshot())
		time.Sleep(100 * time.Millisecond)
		synctest.Wait()
		assert.Equal(t, last, onDisk(t, s), "not with every change")
		require.NoError(t, saver.Flush())
		assert.Equal(t, "and once more", onDisk(t, s), "when told to, at once")
		require.NoError(t, saver.Close())
	})
}

// What could not be kept is said once it is tried, tried again, and said when it is
// kept after all.
func TestTriesAgain(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		root := temp(t)
		blocked := filepath.Join(root, "state")
		require.NoError(t, os.WriteFile(blocked, nil, 0o600)) // where the folder should be
		s := storeIn(root)
		saver := s.NewSaver()
		d := New(begun(t), "")
		d.Edit("", titled("kept at last"))
		saver.Offer(d.Snapshot())
		<-saver.News()
		assert.Error(t, saver.Err())
		time.Sleep(tryAgain)
		<-saver.News()
		assert.Error(t, saver.Err(), "tried again")

		require.NoError(t, os.Remove(blocked))
		<-saver.News()
		assert.NoError(t, saver.Err())
		assert.Equal(t, "kept at last", onDisk(t, s))
		require.NoError(t, saver.Close())
	})
}

// slow is a folder that takes its time, as those do that are copied to elsewhere.
type slow struct{ folder }

func (s slow) begin() (slot, error) {
	at, err := s.folder.begin()
	return slowSlot{at}, err
}

type slowSlot struct{ slot }

func (s slowSlot) write(write func(io.Writer) error) error {
	time.Sleep(3 * time.Second)
	return s.slot.write(write)
}

// A slow disk keeps nobody waiting who edits, and has the last state in the end.
func TestSlowDisk(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := storeIn(temp(t))
		s.autosaves = slow{folder(s.autosaveFolder())}
		saver := s.NewSaver()
		d := s.New(begun(t), "")
		began := time.Now()
		for i := range 100 {
			d.Edit("pull", titled(time.Duration(i).String()))
			saver.Offer(d.Snapshot())
			time.Sleep(50 * time.Millisecond)
		}
		assert.Equal(t, 5*time.Second, time.Since(began), "no offer waits")
		require.NoError(t, saver.Flush())
		assert.Equal(t, d.Scene().Title, onDisk(t, s))
		require.NoError(t, saver.Close())
	})
}

// failing is a folder on a disk that fails as often as fails says.
type failing struct {
	folder
	fails  *atomic.Int64
	writes *int
}

func (f failing) begin() (slot, error) {
	at, err := f.folder.begin()
	return failingSlot{at, f}, err
}

type failingSlot struct {
	slot
	failing
}

func (s failingSlot) fail() error {
	if s.fails.Load() == 0 {
		return nil
	}
	s.fails.Add(-1)
	return errors.New("the disk fails")
}

func (s failingSlot) write(write func(io.Writer) error) error {
	*s.writes++
	if err := s.fail(); err != nil {
		return err
	}
	return s.slot.write(write)
}

func (s failingSlot) remove() error {
	if err := s.fail(); err != nil {
		return err
	}
	return s.slot.remove()
}

// What a disk fails to take is no more counted as kept than what was never offered: it
// is tried again, and until then the state before it stays. What is kept is written once.
func TestADiskThatFails(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := storeIn(temp(t))
		var fails atomic.Int64
		writes := 0
		s.autosaves = failing{folder(s.autosaveFolder()), &fails, &writes}
		saver := s.NewSaver()
		d := s.New(begun(t), "")
		d.Edit("", titled("good"))
		offer(t, saver, d)
		offer(t, saver, d)
		assert.Equal(t, 1, writes, "nothing is written twice")

		d.Edit("", titled("later"))
		fails.Store(2)
		saver.Offer(d.Snapshot())
		for range 2 {
			<-saver.News()
			assert.Error(t, saver.Err())
			assert.Equal(t, "good", onDisk(t, s))
		}
		<-saver.News()
		assert.NoError(t, saver.Err())
		assert.Equal(t, "later", onDisk(t, s))

		require.NoError(t, s.Save(d, "a", false))
		fails.Store(100) // the offer of what is saved tries at once, and so does Flush
		saver.Offer(d.Snapshot())
		assert.Error(t, saver.Flush(), "it cannot be removed")
		assert.Equal(t, "later", onDisk(t, s))
		fails.Store(0)
		time.Sleep(tryAgain)
		synctest.Wait()
		assert.NoError(t, saver.Err())
		assert.Empty(t, onDisk(t, s))
		require.NoError(t, saver.Close())
	})
}
