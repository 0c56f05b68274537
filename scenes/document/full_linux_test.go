//go:build long

package document

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
)

// On a full disk everything says so, what was there stays, and what is in memory
// can be saved once there is room.
func TestFullDisk(t *testing.T) {
	disk := temp(t)
	if err := syscall.Mount("none", disk, "tmpfs", 0, "size=64k"); err != nil {
		t.Fatalf("the check of a full disk did not run: a small tmpfs cannot be mounted: %v", err)
	}
	t.Cleanup(func() { assert.NoError(t, syscall.Unmount(disk, 0)) })
	s := storeIn(disk)
	d := New(begun(t), "")
	d.Edit("", titled("before"))
	saver := s.NewSaver()
	offer(t, saver, d)
	require.NoError(t, s.Save(d, "a", false))
	require.NoError(t, s.Set("language", "en"))

	ballast := filepath.Join(disk, "ballast")
	f, err := os.Create(ballast)
	require.NoError(t, err)
	for err == nil {
		_, err = f.Write(make([]byte, 4096))
	}
	require.ErrorIs(t, err, syscall.ENOSPC)
	require.NoError(t, f.Close())

	d.Edit("", func(sc *scenes.Scene) { sc.Title, sc.Note = "after", strings.Repeat("n", 5000) })
	saver.Offer(d.Snapshot())
	full := ": cannot be written: no space left on device"
	assert.EqualError(t, saver.Flush(), saver.slot.(*session).autosave()+full)
	assert.EqualError(t, d.Save(), d.Path()+full)
	assert.ErrorIs(t, d.Save(), syscall.ENOSPC)
	assert.EqualError(t, s.Set("language", "es"), s.stateFile("settings.json")+full)
	other := s.NewSaver()
	other.Offer(d.Snapshot())
	assert.ErrorIs(t, other.Flush(), syscall.ENOSPC)
	require.ErrorIs(t, other.Close(), syscall.ENOSPC)

	assert.True(t, d.Dirty())
	assert.Equal(t, "after", d.Scene().Title)
	sc, err := scenes.Load(d.Path())
	require.NoError(t, err)
	assert.Equal(t, "before", sc.Title)
	var language string
	_, err = s.Setting("language", &language)
	require.NoError(t, err)
	assert.Equal(t, "en", language)

	require.NoError(t, os.Remove(ballast))
	offer(t, saver, d)
	require.NoError(t, saver.Close())
	rs := recovered(t, s)
	require.Len(t, rs, 1)
	assert.Equal(t, d.Scene(), rs[0].Scene)
	require.NoError(t, d.Save())
	assert.Empty(t, recovered(t, s))
}
