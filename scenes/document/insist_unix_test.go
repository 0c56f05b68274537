//go:build unix

package document

import (
	"os"
	"syscall"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// While somebody else has a file to himself it is tried again, but not for ever.
func TestInsist(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		tries := 0
		held := func() error { tries++; return &os.PathError{Op: "rename", Err: syscall.EBUSY} }
		began := time.Now()
		assert.ErrorIs(t, insist(held), syscall.EBUSY)
		assert.InDelta(t, 1, time.Since(began).Seconds(), 0.1)
		assert.Equal(t, 67, tries, "pauses of 1, 2, 4, 8, then 16 ms")

		tries = 0
		require.NoError(t, insist(func() error {
			if tries < 3 {
				return held()
			}
			return nil
		}))
		assert.Equal(t, 3, tries)
		tries = 0
		gone := func() error { tries++; return os.ErrNotExist }
		assert.ErrorIs(t, insist(gone), os.ErrNotExist)
		assert.Equal(t, 1, tries, "what will not change is not tried again")
	})
}
