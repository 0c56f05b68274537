//go:build long

package desk

import (
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
)

// long lays out everything in every size, language and size of letters together.
const long = true

// Five minutes of random input at full speed leave no panic, no scene that a file
// cannot hold, and a heap that has hardly grown since the first minute.
func TestMonkeyForFiveMinutes(t *testing.T) {
	heap := func() float64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return float64(m.HeapAlloc)
	}
	began := time.Now()
	var early float64
	monkey(t, seedOf(t), func(int) bool {
		passed := time.Since(began)
		if early == 0 && passed > time.Minute {
			early = heap()
		}
		return passed < 5*time.Minute
	})
	late := heap()
	t.Logf("heap %.1f MB after a minute, %.1f MB at the end", early/1e6, late/1e6)
	assert.LessOrEqual(t, late, 1.2*early)
}
