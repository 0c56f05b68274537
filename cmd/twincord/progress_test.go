package main

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/cmd/internal/call"
)

func TestProgressBar(t *testing.T) {
	var out bytes.Buffer
	bar := progressBar{to: &out, whole: 60}
	bar.clear()
	assert.Empty(t, out.String(), "nothing is taken away that was not shown")

	for _, c := range []struct {
		done int
		line string
	}{
		{0, "[                              ] 0/60"},
		{1, "[                              ] 1/60"},
		{30, "[===============               ] 30/60"},
		{59, "[============================= ] 59/60"},
		{60, "[==============================] 60/60"},
	} {
		out.Reset()
		bar.show(c.done)
		assert.Equal(t, "\r"+c.line, out.String())
		out.Reset()
		bar.show(c.done)
		assert.Empty(t, out.String(), "the same is not written again")
	}

	bar.clear()
	assert.Equal(t, "\r                                      \r", out.String())
	out.Reset()
	bar.clear()
	assert.Empty(t, out.String())
}

// Only who sits before a terminal is shown a bar.
func TestProgressForWhoWatches(t *testing.T) {
	var out bytes.Buffer
	s := &call.Streams{Err: &out}
	progress, done := new(filmCommand).progress(s, 60)
	assert.Nil(t, progress)
	done()
	assert.Empty(t, out.String())

	s.Watched = true
	progress, done = new(filmCommand).progress(s, 60)
	progress(30)
	assert.Contains(t, out.String(), "30/60")
	done()
}
