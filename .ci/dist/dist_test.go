package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"debug/buildinfo"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"image/png"
	"io"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	someFiles = []file{{"a/run", true, []byte("1")}, {"a/text", false, []byte("22")}}
	someTime  = time.Date(2026, 11, 26, 12, 30, 0, 0, time.UTC)
)

// Archives hold the files with their modes and the one time, and nothing of the moment in
// which, or of the person by whom, they were made.
func TestArchives(t *testing.T) {
	z, err := zipped(someFiles, someTime)
	require.NoError(t, err)
	r, err := zip.NewReader(bytes.NewReader(z), int64(len(z)))
	require.NoError(t, err)
	require.Len(t, r.File, 2)
	for i, f := range r.File {
		assert.Equal(t, someFiles[i].name, f.Name)
		assert.EqualValues(t, someFiles[i].mode(), f.Mode())
		assert.True(t, someTime.Equal(f.Modified), f.Modified)
	}

	g, err := tarred(someFiles, someTime)
	require.NoError(t, err)
	u, err := gzip.NewReader(bytes.NewReader(g))
	require.NoError(t, err)
	assert.Zero(t, u.ModTime)
	for a, i := tar.NewReader(u), 0; ; i++ {
		h, err := a.Next()
		if err == io.EOF {
			assert.Equal(t, len(someFiles), i)
			break
		}
		require.NoError(t, err)
		assert.Equal(t, someFiles[i].name, h.Name)
		assert.Equal(t, someFiles[i].mode(), h.Mode)
		assert.True(t, someTime.Equal(h.ModTime), h.ModTime)
		assert.Zero(t, h.Uid)
		assert.Empty(t, h.Uname)
		data, err := io.ReadAll(a)
		require.NoError(t, err)
		assert.Equal(t, someFiles[i].data, data)
	}
}

// A program is refused as soon as one module in it lacks its notice. The program here is
// this test.
func TestModulesWithoutANotice(t *testing.T) {
	program, err := os.Executable()
	require.NoError(t, err)
	info, err := buildinfo.ReadFile(program)
	require.NoError(t, err)
	require.NotEmpty(t, info.Deps)
	notices := func(of int) (all []byte) {
		for _, m := range info.Deps[:of] {
			all = fmt.Appendf(all, "----%sMIT\n\nCopyright\n", noticeOf(m.Path, m.Version))
		}
		return all
	}
	assert.NoError(t, allNoticed(program, notices(len(info.Deps))))
	last := info.Deps[len(info.Deps)-1]
	assert.ErrorContains(t, allNoticed(program, notices(len(info.Deps)-1)), last.Path+" "+last.Version)
	assert.Error(t, allNoticed(program, bytes.ReplaceAll(notices(len(info.Deps)), []byte("Copyright"), nil)))
}

// A list of parts is refused as soon as it lacks one module of its program, or has another
// version of it.
func TestListsWithoutAModule(t *testing.T) {
	program, err := os.Executable()
	require.NoError(t, err)
	info, err := buildinfo.ReadFile(program)
	require.NoError(t, err)
	type part struct {
		Name    string `json:"name"`
		Version string `json:"version"`
	}
	list := func(change func(*part)) []byte {
		var all struct {
			Components []part `json:"components"`
		}
		for _, m := range info.Deps {
			all.Components = append(all.Components, part{m.Path, m.Version})
		}
		change(&all.Components[len(all.Components)-1])
		data, err := json.Marshal(all)
		require.NoError(t, err)
		return data
	}
	assert.NoError(t, allListed(program, list(func(*part) {})))
	last := info.Deps[len(info.Deps)-1]
	assert.ErrorContains(t, allListed(program, list(func(p *part) { p.Version = "v0.0.1" })), last.Path+" "+last.Version)
	assert.ErrorContains(t, allListed(program, list(func(p *part) { p.Name = "other" })), last.Path+" "+last.Version)
	assert.Error(t, allListed(program, []byte("no list")))
}

// The icon shows its bead in the middle, and what is behind it in its corners; a Mac's holds
// each size as it was drawn.
func TestIcon(t *testing.T) {
	i, err := drawIcon()
	require.NoError(t, err)
	for side, data := range i.png {
		img, err := png.Decode(bytes.NewReader(data))
		require.NoError(t, err)
		require.Equal(t, side, img.Bounds().Dx())
		_, _, _, a := img.At(0, 0).RGBA()
		assert.Zero(t, a, side)
		r, _, b, a := img.At(side*55/100, side*37/100).RGBA()
		assert.EqualValues(t, 0xffff, a, side)
		assert.Greater(t, b, r, side)
	}
	icns := i.icns()
	require.Equal(t, "icns", string(icns[:4]))
	require.EqualValues(t, len(icns), binary.BigEndian.Uint32(icns[4:]))
	rest := icns[8:]
	for _, kind := range appleTypes {
		n := binary.BigEndian.Uint32(rest[4:])
		assert.Equal(t, kind.name, string(rest[:4]))
		assert.Equal(t, i.png[kind.side], rest[8:n])
		rest = rest[n:]
	}
	assert.Empty(t, rest)
}
