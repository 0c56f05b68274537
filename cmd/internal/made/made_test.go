package made

import (
	"bytes"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/cmd/internal/call"
	"twincord/render/words"
	"twincord/scenes"
)

// A sheet says which version of the program made it.
func TestSheetSaysItsVersion(t *testing.T) {
	say, err := words.For("es")
	require.NoError(t, err)
	sc, id, err := scenes.Open("walk-of-ten")
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, Sheet(sc, id, say).WriteHTML(&b))
	assert.Contains(t, b.String(), `<footer class="small">`+call.Version()+"</footer>")
}

// Sheets made at once are those that are made one after the other, in words that they
// share.
func TestManyAtOnce(t *testing.T) {
	say, err := words.For("en")
	require.NoError(t, err)
	var routines []*scenes.Entry
	for _, e := range scenes.Library() {
		if e.Scene.Routine.OK && len(routines) < 4 {
			routines = append(routines, &e)
		}
	}
	write := func(i int) string {
		var b bytes.Buffer
		e := routines[i]
		assert.NoError(t, Sheet(e.Scene, scenes.Identify(e.Name), say).WritePDF(&b), e.Name)
		return b.String()
	}
	at := make([]string, len(routines))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	Many(len(at), func(i int) { at[i] = write(i) })
	for i := range at {
		assert.True(t, at[i] == write(i), routines[i].Name)
	}
	Many(0, func(int) { t.Error("of nothing there is nothing to do") })
}
