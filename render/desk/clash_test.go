package desk

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/scenes"
	"twincord/sim"
)

// Where another program has changed the file, each of the three ways out does what it
// says, and none of them anything else.
func TestSavingWhereTheDiskHasChanged(t *testing.T) {
	const mine, its = 3, 7 // Δ
	for way, c := range map[string]struct {
		here, file sim.Prism
		name       string
	}{
		"replace": {mine, mine, "Shared"},
		"theirs":  {its, its, "Shared"},
		"save it": {mine, its, "Other"},
	} {
		t.Run(way, func(t *testing.T) {
			p, store := shelved(t, nil)
			d := p.desk
			require.NoError(t, store.Save(d.doc, "Shared", false))
			path := d.doc.Path()
			deviate := func(by sim.Prism) func(*sim.Setup) {
				return func(s *sim.Setup) { s.Posture.Deviation = by }
			}
			other, err := store.Open(path)
			require.NoError(t, err)
			other.Edit("", func(sc *scenes.Scene) { deviate(its)(&sc.Setup) })
			require.NoError(t, other.Save())
			d.edit("", deviate(mine))
			p.update()

			p.ctrl('s', false)
			require.NotNil(t, d.over)
			assert.True(t, d.doc.Dirty())
			onDisk, err := scenes.Load(path)
			require.NoError(t, err)
			assert.Equal(t, sim.Prism(its), onDisk.Setup.Posture.Deviation, "nothing is written unasked")
			if way == "save it" {
				p.write("Other")
			}
			p.click(middle(p.widget(way).Self().Area))
			require.Nil(t, d.over)
			assert.Equal(t, c.here, p.setup().Posture.Deviation)
			assert.False(t, d.doc.Dirty())
			onDisk, err = scenes.Load(path)
			require.NoError(t, err)
			assert.Equal(t, c.file, onDisk.Setup.Posture.Deviation)
			named, err := store.File(c.name)
			require.NoError(t, err)
			assert.Equal(t, named, d.doc.Path())
			if way == "theirs" {
				p.ctrl('z', false)
				assert.Equal(t, sim.Prism(mine), p.setup().Posture.Deviation, "undo gives back what was here")
			}
		})
	}
}

// A file outside the folder of scenes, under a name that is not its title, is replaced
// where it is.
func TestReplacingIsOfTheFileItself(t *testing.T) {
	p, store := shelved(t, nil)
	d := p.desk
	path := t.TempDir() + "/elsewhere.toml"
	require.NoError(t, d.doc.SaveAs(path))
	require.NoError(t, os.WriteFile(path, []byte("format = 9\n"), 0o644))
	d.edit("", func(s *sim.Setup) { s.Posture.Deviation = 2 })
	p.update()
	p.ctrl('s', false)
	p.click(middle(p.widget("replace").Self().Area))
	require.Nil(t, d.over)
	assert.Equal(t, path, d.doc.Path())
	saved, err := scenes.Load(path)
	require.NoError(t, err)
	assert.Equal(t, sim.Prism(2), saved.Setup.Posture.Deviation)
	items, err := store.Scenes()
	require.NoError(t, err)
	assert.Empty(t, items)
}
