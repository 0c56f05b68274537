package made

import (
	"bytes"
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
