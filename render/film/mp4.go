package film

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
)

// findFFmpeg finds the program that makes MP4s of frames.
func findFFmpeg() (path string, err error) {
	path, err = exec.LookPath("ffmpeg")
	if err != nil {
		return "", errors.New("an MP4 is made by the program ffmpeg, which is not found on this computer; allowed are .webp, .gif and .png, or installing ffmpeg")
	}
	encoders, err := exec.Command(path, "-hide_banner", "-encoders").Output()
	if err != nil {
		return "", fmt.Errorf("%s: cannot be run: %w", path, err)
	}
	if !bytes.Contains(encoders, []byte("libx264")) {
		return "", fmt.Errorf("%s: has not got the encoder libx264; allowed are .webp, .gif and .png, or another ffmpeg", path)
	}
	return path, nil
}

// writeMP4 has FFmpeg make an MP4: H.264 with a quarter of the colours, which is what
// telephones play, and with the list of what is in it first, so that it plays while it is
// loaded. That list takes a file that FFmpeg can go back in; it is removed in the end.
func (f *Film) writeMP4(ctx context.Context, w io.Writer, shots []shot, progress func(done int)) (err error) {
	program, err := findFFmpeg()
	if err != nil {
		return err
	}
	folder, err := os.MkdirTemp("", "twincord-film-")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	made := filepath.Join(folder, "film.mp4")
	if err := f.encodeMP4(ctx, program, made, shots, progress); err != nil {
		return err
	}
	file, err := os.Open(made)
	if err != nil {
		return err
	}
	defer func() { _ = file.Close() }() // it is but read
	_, err = io.Copy(w, file)
	return err
}

// encodeMP4 gives frame after frame to FFmpeg.
func (f *Film) encodeMP4(ctx context.Context, program, path string, shots []shot, progress func(done int)) error {
	c := exec.CommandContext(ctx, program, f.mp4Options(path)...)
	var said strings.Builder
	c.Stderr = &said
	frames, err := c.StdinPipe()
	if err != nil {
		return err
	}
	if err := c.Start(); err != nil {
		return err
	}
	pixels := func() func(_, now *image.RGBA) []byte {
		return func(_, now *image.RGBA) []byte { return planes420(now) }
	}
	err = run(ctx, f, shots, pixels, telling(shots, progress, func(s shot, planes []byte) error {
		for range s.count {
			if _, err := frames.Write(planes); err != nil {
				return err
			}
		}
		return nil
	}))
	closed := frames.Close()
	ended := c.Wait()
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case ended != nil: // which is why it read no further
		return fmt.Errorf("%s: %w: %s", program, ended, strings.TrimSpace(said.String()))
	}
	return errors.Join(err, closed)
}

// mp4Options are what FFmpeg is told. Colours are those of HDTV (ITU-R BT.709), and said
// to be. The same film is the same file.
//
// Of the walk of ten, the preset "veryfast" made a tenth less in a quarter more time, and
// "superfast" as it is three times as much: what holds is worth more bits, which the tree
// of macroblocks finds out.
func (f *Film) mp4Options(path string) []string {
	return []string{
		"-hide_banner", "-loglevel", "error",
		"-f", "rawvideo", "-pixel_format", "yuv420p", "-video_size", fmt.Sprintf("%dx%d", f.W, f.H),
		"-framerate", strconv.Itoa(f.Rate), "-i", "pipe:0",
		"-colorspace", "bt709", "-color_primaries", "bt709", "-color_trc", "iec61966-2-1", "-color_range", "tv",
		"-c:v", "libx264", "-preset", "superfast", "-crf", "20", "-x264-params", "mbtree=1:rc-lookahead=10:weightp=0",
		"-movflags", "+faststart", "-fflags", "+bitexact", "-flags:v", "+bitexact",
		"-y", path,
	}
}
