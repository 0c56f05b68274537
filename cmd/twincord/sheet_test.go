package main

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render/pdf"
	"twincord/render/sheet"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
	"twincord/sim"
)

// Every built-in routine makes a sheet in every language, whose answers are those that
// measure gives for each step.
func TestSheetsOfTheLibrary(t *testing.T) {
	kinds := map[routine.Kind]bool{}
	for _, e := range scenes.Library() {
		if !e.Scene.Routine.OK {
			continue
		}
		id := scenes.Identify(e.Name)
		for _, language := range words.Languages() {
			say, err := words.For(language)
			require.NoError(t, err)
			made := sheetOf(e.Scene, id, say)
			kinds[made.Kind] = true
			steps := routine.Steps(told(e.Scene, id, say))
			require.Len(t, made.Steps, len(steps), e.Name)
			for i, step := range steps {
				assert.Equal(t, step.Expected, made.Steps[i].View.Account, "%s, step %d", e.Name, i)
				if step.Setup.Look.From.OK || step.Setup.Hold.SD > 0 {
					continue // measure has it on its way, or wavering
				}
				var v sim.View
				sim.NewCourse(&step.Setup).Look(&v, 0)
				assert.Equal(t, say.Family(&v), say.Family(made.Steps[i].View), "%s, step %d", e.Name, i)
			}
			for _, paper := range []pdf.Paper{pdf.A4, pdf.Letter} {
				made.Paper = paper
				var b bytes.Buffer
				require.NoError(t, made.WritePDF(&b), e.Name)
			}
			var b bytes.Buffer
			require.NoError(t, made.WriteHTML(&b), e.Name)
			assert.LessOrEqual(t, b.Len(), sheet.MostHTML, e.Name)
		}
	}
	assert.Len(t, kinds, 3)
}
