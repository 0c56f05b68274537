//go:build unix

package film_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render/display"
	"twincord/render/film"
)

// pretend puts a script in the place of FFmpeg, and gives the folder for what is temporary.
func pretend(t *testing.T, script string) (temporary string) {
	programs, temporary := t.TempDir(), t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(programs, "ffmpeg"), []byte("#!/bin/sh\n"+script), 0o700))
	t.Setenv("PATH", programs+string(os.PathListSeparator)+os.Getenv("PATH"))
	t.Setenv("TMPDIR", temporary)
	return temporary
}

const listsEncoders = `if [ "$2" = -encoders ]; then echo " V....D libx264 H.264"; exit; fi
for last; do :; done
`

func TestAnFFmpegThatWillNotDo(t *testing.T) {
	pretend(t, "echo ' V....D mpeg4'")
	require.ErrorContains(t, film.MP4.Ready(), "has not got the encoder libx264; allowed are .webp, .gif and .png, or another ffmpeg")
	pretend(t, "exit 1")
	require.ErrorContains(t, film.MP4.Ready(), "cannot be run")
	require.NoError(t, film.WebP.Ready())
}

// What FFmpeg gets are all frames, as long as they are shown; what it makes is the file,
// and nothing is left of it.
func TestFramesForFFmpeg(t *testing.T) {
	temporary := pretend(t, listsEncoders+`cat >"$last"`)
	b := written(t, scripted(40, 30, 7, walk...), film.MP4)
	size := 40 * 30 * 3 / 2
	require.Len(t, b, len(walk)*size)
	frame := func(i int) []byte { return b[i*size : (i+1)*size] }
	for i := range walk {
		for k := range i {
			require.Equal(t, walk[i] == walk[k], bytes.Equal(frame(i), frame(k)), "frames %d and %d", i, k)
		}
	}
	files, err := os.ReadDir(temporary)
	require.NoError(t, err)
	require.Empty(t, files)
}

// An FFmpeg that fails says why, whether it has read everything or nothing; one that
// hangs ends with the film.
func TestAnFFmpegThatFails(t *testing.T) {
	many := wavering("too-far-doubled", 640, 480, 15, 10)
	for _, reads := range []string{"", "cat >/dev/null\n", "head -c 1000 >/dev/null\n"} {
		temporary := pretend(t, listsEncoders+reads+"echo no room >&2; exit 3")
		var b bytes.Buffer
		err := many.Write(context.Background(), &b, film.MP4, nil)
		require.ErrorContains(t, err, "exit status 3: no room", reads)
		require.Zero(t, b.Len())
		files, err := os.ReadDir(temporary)
		require.NoError(t, err)
		require.Empty(t, files)
	}
	temporary := pretend(t, listsEncoders+"exec sleep 1000")
	ctx, cancel := context.WithCancel(context.Background())
	many.Drawer = cancelling(many.Drawer, cancel)
	require.ErrorIs(t, many.Write(ctx, &bytes.Buffer{}, film.MP4, nil), context.Canceled)
	files, err := os.ReadDir(temporary)
	require.NoError(t, err)
	require.Empty(t, files)
}

// cancelling is a drawer that cancels after some frames have been drawn twice: once to be
// compared, once to be painted. The first three are painted whatever becomes of them, on one
// core as well.
func cancelling(drawer func() func(int, *display.List), cancel func()) func() func(int, *display.List) {
	var drawn atomic.Int32
	return func() func(int, *display.List) {
		draw := drawer()
		return func(frame int, l *display.List) {
			if frame == 2 && drawn.Add(1) == 2 {
				cancel()
			}
			draw(frame, l)
		}
	}
}
