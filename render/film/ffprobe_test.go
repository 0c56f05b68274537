//go:build pages

package film_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/render"
	"twincord/render/film"
	"twincord/render/words"
	"twincord/scenes"
	"twincord/scenes/routine"
)

// patience is how long another program has, on a machine that is busy with other things.
const patience = 15 * time.Minute

// What another program reads back: how many frames, how long, and the pixels of the
// last one.
func TestFilmsInFFmpeg(t *testing.T) {
	ctx, cancel := context.WithTimeout(t.Context(), patience)
	defer cancel()
	f := wavering("too-far-doubled", 320, 180, 15, 30)
	want := drawn(f)
	for _, c := range []struct {
		as     film.Format
		reader string
		off    float64 // in steps of 1/255, on average
	}{{film.APNG, "apng", 0}, {film.GIF, "gif", 1}} {
		path := filepath.Join(t.TempDir(), "film")
		require.NoError(t, os.WriteFile(path, written(t, f, c.as), 0o600))
		out, err := exec.CommandContext(ctx, "ffprobe", "-v", "error", "-f", c.reader, "-count_frames", "-of", "json",
			"-show_entries", "stream=nb_read_frames,width,height:packet=pts_time,duration_time", path).Output()
		require.NoError(t, err)
		var probe struct {
			Streams []struct {
				Frames        string `json:"nb_read_frames"`
				Width, Height int
			}
			Packets []struct {
				Pts      string `json:"pts_time"`
				Duration string `json:"duration_time"`
			}
		}
		require.NoError(t, json.Unmarshal(out, &probe), "%s", out)
		require.Equal(t, "30", probe.Streams[0].Frames)
		require.Equal(t, image.Pt(320, 180), image.Pt(probe.Streams[0].Width, probe.Streams[0].Height))
		last := probe.Packets[len(probe.Packets)-1]
		begins, err := strconv.ParseFloat(last.Pts, 64)
		require.NoError(t, err)
		require.InDelta(t, 29./15, begins, 0.0051, "the last frame of the %s", c.as)

		raw, err := exec.CommandContext(ctx, "ffmpeg", "-v", "error", "-f", c.reader, "-i", path, "-fps_mode", "passthrough",
			"-f", "rawvideo", "-pix_fmt", "rgba", "-").Output()
		require.NoError(t, err)
		size := 4 * 320 * 180
		require.Len(t, raw, 30*size)
		for i, img := range want {
			sum := 0
			for k, v := range raw[i*size : (i+1)*size] {
				sum += max(int(v)-int(img.Pix[k]), int(img.Pix[k])-int(v))
			}
			require.LessOrEqual(t, float64(sum)/float64(size), c.off, "frame %d of the %s", i, c.as)
		}
	}
}

// How often a GIF is played. FFmpeg (5.1) plays it as often as the number in the file
// says; image/gif, whose way the film follows, once more. FFmpeg is not asked about
// animated PNGs: short ones kept it busy for ever, so those rest on readAPNG alone.
func TestGIFsGoRoundInFFmpeg(t *testing.T) {
	f := wavering("too-far-doubled", 160, 90, 15, 30)
	ctx, cancel := context.WithTimeout(t.Context(), patience)
	defer cancel()
	for plays, rounds := range map[int]int{1: 1, 3: 2, 0: 4} { // at most 4 are looked at
		f.Plays = plays
		path := filepath.Join(t.TempDir(), "film")
		require.NoError(t, os.WriteFile(path, written(t, f, film.GIF), 0o600))
		out, err := exec.CommandContext(ctx, "ffmpeg", "-v", "error", "-f", "gif", "-ignore_loop", "0", "-i", path,
			"-fps_mode", "passthrough", "-frames:v", "120", "-f", "rawvideo", "-pix_fmt", "gray", "-").Output()
		require.NoError(t, err)
		require.Equal(t, 30*rounds, len(out)/(160*90), "plays %d", plays)
	}
}

// An MP4 as telephones want it: H.264 in 4:2:0 with the colours that it says, the list of
// what is in it first; every frame, each for its time, close to what is drawn.
func TestMP4sInFFmpeg(t *testing.T) {
	ctx, cancel := context.WithTimeout(t.Context(), patience)
	defer cancel()
	f := wavering("too-far-doubled", 320, 180, 15, 30)
	b := written(t, f, film.MP4)
	require.Less(t, bytes.Index(b, []byte("moov")), bytes.Index(b, []byte("mdat")))
	require.True(t, bytes.Equal(b, written(t, f, film.MP4)), "the same film is the same file")
	path := filepath.Join(t.TempDir(), "film.mp4")
	require.NoError(t, os.WriteFile(path, b, 0o600))
	out, err := exec.CommandContext(ctx, "ffprobe", "-v", "error", "-count_frames", "-of", "json", "-show_entries",
		"stream=codec_name,profile,pix_fmt,color_space,color_range,nb_read_frames,width,height,avg_frame_rate,duration", path).Output()
	require.NoError(t, err)
	var probe struct{ Streams []map[string]any }
	require.NoError(t, json.Unmarshal(out, &probe), "%s", out)
	require.Equal(t, []map[string]any{{
		"codec_name": "h264", "profile": "High", "pix_fmt": "yuv420p", "color_space": "bt709", "color_range": "tv",
		"nb_read_frames": "30", "width": 320., "height": 180., "avg_frame_rate": "15/1", "duration": "2.000000",
	}}, probe.Streams)
	raw, err := exec.CommandContext(ctx, "ffmpeg", "-v", "error", "-i", path, "-fps_mode", "passthrough",
		"-f", "rawvideo", "-pix_fmt", "rgba", "-").Output()
	require.NoError(t, err)
	size := 4 * 320 * 180
	require.Len(t, raw, 30*size)
	for i, want := range drawn(f) {
		mean, far := difference(want, &image.RGBA{Pix: raw[i*size : (i+1)*size]})
		assert.Less(t, mean, 2., "frame %d", i)
		assert.Less(t, far, 0.005, "frame %d", i)
	}
}

// The film of the walk of ten beads, as anybody gets it, is at most 1 MB as an MP4 and as
// a WebP, and the MP4 plays to its end.
func TestTheWalkIsSmall(t *testing.T) {
	assert.Less(t, len(written(t, walkOfTen(t, film.WebP.UsualRate()).Film(), film.WebP)), 1_000_000)
	f := walkOfTen(t, film.MP4.UsualRate()).Film()
	b := written(t, f, film.MP4)
	assert.Less(t, len(b), 1_000_000)
	path := filepath.Join(t.TempDir(), "walk.mp4")
	require.NoError(t, os.WriteFile(path, b, 0o600))
	out, err := exec.Command("ffprobe", "-v", "error", "-count_frames", "-of", "csv=p=0", "-show_entries", "stream=nb_read_frames,duration", path).Output()
	require.NoError(t, err)
	require.Equal(t, fmt.Sprintf("%.6f,%d\n", float64(f.Frames)/float64(f.Rate), f.Frames), string(out))
}

func walkOfTen(t *testing.T, rate int) *film.Reel {
	say, err := words.For("en")
	require.NoError(t, err)
	for _, e := range scenes.Library() {
		if e.Name == "walk-of-ten" {
			r, err := film.Script{
				Name: e.Name, Steps: routine.Steps(e.Scene), W: 960, H: 720, Rate: rate, Caption: true,
				Picture: render.Picture{Kind: render.OfPatient, Say: say},
			}.Reel()
			require.NoError(t, err)
			return r
		}
	}
	require.Fail(t, "no walk of ten")
	return nil
}
