package scenes

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

const (
	oneBead = "format = 1\nstring.length_mm = 1200\nbeads = [{name = \"sky\", at_mm = 560}]\nlook.bead = \"sky\"\n"
	three   = "format = 1\nstring.length_mm = 1200\nlook.bead = \"b\"\nbeads = [" +
		"{name = \"a\", at_mm = 250}, {name = \"b\", at_mm = 550}, {name = \"c\", at_mm = 850}]\n"
)

// An end on the very spot that is allowed is allowed, however it is reckoned.
func TestWalkToTheLastPlace(t *testing.T) {
	_, err := Parse("f", []byte(oneBead+"[routine]\nstep_mm = 55.2\n")) // 560 − 10·55.2 is not quite 8
	assert.NoError(t, err)
}

// The order of the jumps is written as it was read.
func TestOrderIsWritten(t *testing.T) {
	sc := parse(t, three+"[routine]\nkind = \"jumps\"\norder = [\"b\", \"a\", \"c\"]\n")
	assert.Equal(t, sc, parse(t, written(t, sc)))
}
