package document

import (
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Neither a folder nor a file is written to without leave.
func TestReplaceUnwritable(t *testing.T) {
	parent := temp(t)
	require.NoError(t, os.Chmod(filepath.Dir(parent), 0o755))
	closed, open := filepath.Join(parent, "closed"), filepath.Join(parent, "open")
	locked := filepath.Join(open, "locked")
	require.NoError(t, os.Mkdir(closed, 0o755))
	require.NoError(t, os.Mkdir(open, 0o755))
	require.NoError(t, os.WriteFile(locked, []byte("old"), 0o444))
	require.NoError(t, os.Chmod(closed, 0o555))
	require.NoError(t, os.Chmod(open, 0o777))

	var inClosed, onLocked error
	done := make(chan struct{})
	go func() {
		defer close(done)
		runtime.LockOSThread() // and never unlocked: the thread ends here, so nothing need be undone
		if os.Getuid() == 0 {  // to whom nothing is forbidden
			const nobody = 65534
			if inClosed = syscall.Setfsuid(nobody); inClosed != nil {
				return
			}
		}
		inClosed = Replace(filepath.Join(closed, "a"), text("x"))
		onLocked = Replace(locked, text("x"))
	}()
	<-done
	assert.EqualError(t, inClosed, filepath.Join(closed, "a")+": cannot be written: permission denied")
	assert.EqualError(t, onLocked, locked+": cannot be written: permission denied")
	holds(t, closed, map[string]string{})
	holds(t, open, map[string]string{"locked": "old"})
}
