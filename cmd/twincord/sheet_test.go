package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/cmd/internal/call"
	"twincord/cmd/internal/made"
	"twincord/render/pdf"
	"twincord/render/sheet"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
)

// Every built-in routine makes a sheet in every language, whose places are those of its
// steps.
func TestSheetsOfTheLibrary(t *testing.T) {
	kinds := map[routine.Kind]bool{}
	for _, e := range scenes.Library() {
		if !e.Scene.Routine.OK {
			continue
		}
		id := scenes.Identify(e.Name)
		for i, language := range words.Languages() {
			say, err := words.For(language)
			require.NoError(t, err)
			made := made.Sheet(e.Scene, id, say)
			kinds[made.Kind] = true
			assert.Equal(t, routine.Steps(told(e.Scene, id, say)), made.Steps, e.Name)
			if i == 1 { // each paper in one language
				made.Paper = pdf.Letter
			}
			var b bytes.Buffer
			require.NoError(t, made.WritePDF(&b), e.Name)
			assert.LessOrEqual(t, b.Len(), sheet.MostPDF, e.Name)
			b.Reset()
			require.NoError(t, made.WriteHTML(&b), e.Name)
			assert.LessOrEqual(t, b.Len(), sheet.MostHTML, e.Name)
		}
	}
	assert.Len(t, kinds, 3)
}

// Many sheets at once are those that are written one by one.
func TestManySheetsAreThoseOfEach(t *testing.T) {
	const many = 3
	from, to := t.TempDir(), t.TempDir()
	walk, _, err := scenes.Open("walk-of-ten")
	require.NoError(t, err)
	for i := range many {
		walk.Title = fmt.Sprintf("Walk %d", i)
		var b strings.Builder
		require.NoError(t, walk.Write(&b))
		require.NoError(t, os.WriteFile(filepath.Join(from, fmt.Sprintf("walk-%02d.toml", i)), []byte(b.String()), 0o600))
	}
	var out, complaints bytes.Buffer
	s := &call.Streams{In: strings.NewReader(""), Out: &out, Err: &complaints}
	require.Equal(t, 0, run([]string{"sheet", "--all", from, "-o", to}, s), complaints.String())
	assert.Equal(t, fmt.Sprintf("%d sheets in %s\n", many, to), out.String())
	for i := range many {
		one := filepath.Join(t.TempDir(), "one.pdf")
		require.Equal(t, 0, run([]string{"sheet", filepath.Join(from, fmt.Sprintf("walk-%02d.toml", i)), "-o", one}, s))
		want, err := os.ReadFile(one)
		require.NoError(t, err)
		got, err := os.ReadFile(filepath.Join(to, fmt.Sprintf("walk-%02d.pdf", i)))
		require.NoError(t, err)
		assert.True(t, bytes.Equal(want, got), i)
	}
}
