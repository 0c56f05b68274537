// Package film writes frames: one as a PNG, many as an animated PNG, a GIF, a WebP or an
// MP4. A Script says what the frames show of a scene or a routine; its Reel draws them.
package film

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"image"
	"io"
	"math"
	"reflect"
	"runtime"
	"sync"

	"twincord/render/display"
	"twincord/render/raster"
)

// A Film is a moving picture before it is drawn.
type Film struct {
	W, H   int // pixels
	Rate   int // frames a second
	Frames int // frame n is shown from n/Rate to (n+1)/Rate seconds
	Plays  int // how often it is played; 0: for ever
	// Drawer makes what draws: a function that resets a list to W × H and fills it
	// with a frame, numbered from 0. Frames are drawn on all cores: each worker asks
	// for its own function, which may keep state of its own but must draw a frame
	// alike in whatever order they are asked for, and share nothing that changes
	// with the others.
	Drawer func() func(frame int, l *display.List)

	known []shot // by Expect, for Write
}

// Format is a kind of file.
type Format uint8

// The formats.
const (
	APNG Format = iota // animated PNG: every pixel as it is drawn
	GIF                // 255 colours, chosen for the film
	WebP               // a small file that browsers and most telephones play
	MP4                // the smallest, which every telephone plays: made by FFmpeg
)

// String is the name of the format.
func (as Format) String() string { return [...]string{"APNG", "GIF", "WebP", "MP4"}[as] }

// endings are how the files of each format end, in the order in which they are offered:
// what plays on every telephone first.
var endings = [...]struct {
	ending string
	as     Format
}{{".mp4", MP4}, {".webp", WebP}, {".gif", GIF}, {".png", APNG}}

// Endings are how the files of films end, what plays on every telephone first.
func Endings() (all []string) {
	for _, e := range endings {
		all = append(all, e.ending)
	}
	return all
}

// Of is the format of the films whose files end so, with a dot and in small letters.
func Of(ending string) (as Format, ok bool) {
	for _, e := range endings {
		if e.ending == ending {
			return e.as, true
		}
	}
	return APNG, ending == ".apng"
}

// UsualRate is how many frames a second a film has where nobody says how many: fewer in a
// WebP, where each takes long to compress and to show.
func (as Format) UsualRate() int {
	if as == WebP {
		return 8
	}
	return 15
}

// Ready says what is missing on this computer to write a format.
func (as Format) Ready() error {
	if as == MP4 {
		_, err := findFFmpeg()
		return err
	}
	return nil
}

// The bounds of a film, within what each format can hold (WebP 16383 pixels each way).
// Viewers slow a GIF down whose frames last less than 2/100 s (common practice, no
// source).
const (
	MostSide    = 8192 // pixels
	MostSeconds = 600
	MostRate    = 60
	MostRateGIF = 50
)

// Validate says what of a film cannot be written in a format.
func (f *Film) Validate(as Format) error {
	mostRate := MostRate
	if as == GIF {
		mostRate = MostRateGIF
	}
	switch {
	case min(f.W, f.H) < 1 || max(f.W, f.H) > MostSide:
		return fmt.Errorf("film: a size of %d × %d pixels, allowed are 1 × 1 to %d × %d", f.W, f.H, MostSide, MostSide)
	case as == MP4 && (f.W%2 != 0 || f.H%2 != 0):
		return fmt.Errorf("film: a size of %d × %d pixels, in an MP4 allowed are even numbers, such as %d × %d", f.W, f.H, f.W+f.W%2, f.H+f.H%2)
	case as == MP4 && f.Frames == 1:
		return fmt.Errorf("film: one frame, an MP4 needs something that moves; allowed are the other formats")
	case f.Rate < 1 || f.Rate > mostRate:
		return fmt.Errorf("film: %d frames a second, allowed are 1 to %d", f.Rate, mostRate)
	case f.Frames < 1 || f.Frames > MostSeconds*f.Rate:
		return fmt.Errorf("film: %d frames, allowed are 1 to %d (%d s)", f.Frames, MostSeconds*f.Rate, MostSeconds)
	case f.Plays < 0 || f.Plays > mostPlays:
		return fmt.Errorf("film: played %d times, allowed are 0 (for ever) to %d", f.Plays, mostPlays)
	}
	return nil
}

const mostPlays = 65535 // what a GIF can count to

// Write draws the film and writes it, on all cores and in bounded memory. progress,
// unless nil, is told after each step how many frames are done. It ends early with
// the error of w or of ctx; what w has got then is no film.
func (f *Film) Write(ctx context.Context, w io.Writer, as Format, progress func(done int)) error {
	shots, err := f.shots(ctx, as)
	if err != nil {
		return err
	}
	if as == MP4 {
		return f.writeMP4(ctx, w, shots, progress)
	}
	buffered := bufio.NewWriterSize(w, 1<<16)
	out := io.Writer(buffered)
	var held bytes.Buffer // of a format that begins with how long it is
	if as == WebP {
		out = &held
	}
	e, err := f.encoder(ctx, as, out)
	if err != nil {
		return err
	}
	if err := e.head(len(shots)); err != nil {
		return err
	}
	if err := run(ctx, f, shots, e.packer, telling(shots, progress, e.frame)); err != nil {
		return err
	}
	if err := e.tail(); err != nil {
		return err
	}
	if as == WebP {
		buffered.Write(riffHead(held.Len()))
		if _, err := held.WriteTo(buffered); err != nil {
			return err
		}
	}
	return buffered.Flush() // with the first error
}

// telling takes frames as take does, and tells after each how many are done.
func telling[T any](shots []shot, progress func(done int), take func(s shot, t T) error) func(i int, t T) error {
	return func(i int, t T) error {
		if err := take(shots[i], t); err != nil {
			return err
		}
		if progress != nil {
			progress(shots[i].frame + shots[i].count)
		}
		return nil
	}
}

// samples is how many frames the size of a film is guessed from.
const samples = 10

// Expect is about how many bytes Write will write: exactly that for a film with few
// different frames, else from the first one and some others. Write then need not find
// out again which frames differ; the film must not be changed in between. Of an MP4 it
// is not known: 0.
func (f *Film) Expect(ctx context.Context, as Format) (int64, error) {
	shots, err := f.shots(ctx, as)
	if err != nil {
		return 0, err
	}
	f.known = shots
	if as == MP4 {
		return 0, nil
	}
	var total, sampled count
	e, err := f.encoder(ctx, as, &total)
	if err != nil {
		return 0, err
	}
	if err := e.head(len(shots)); err != nil {
		return 0, err
	}
	// A frame is as large as what it changes in the one before, so that one is drawn too.
	drawn := shots[:1:1]
	later := spread(len(shots)-1, samples)
	for _, i := range later {
		drawn = append(drawn, shots[i], shots[i+1])
	}
	err = run(ctx, f, drawn, e.packer, func(i int, p packed) error {
		before := total
		err := e.frame(drawn[i], p)
		switch {
		case i == 0:
			return err
		case i%2 == 0:
			sampled += total - before
		}
		total = before
		return err
	})
	if err != nil {
		return 0, err
	}
	if err := e.tail(); err != nil {
		return 0, err
	}
	if n := count(len(later)); n > 0 {
		total += sampled * count(len(shots)-1) / n
	}
	if as == WebP {
		total += count(len(riffHead(0)))
	}
	return int64(total), nil
}

// spread is at most most of the numbers below n, in order: one from each of as many
// stretches, at a place that differs from one to the next, so that nothing that repeats
// is met in the same phase each time.
func spread(n, most int) []int {
	most = min(n, most)
	s := make([]int, most)
	for i := range s {
		const golden = 0.6180339887 // of a stretch: never the same place again
		_, within := math.Modf(golden * float64(i))
		s[i] = int((float64(i) + within) * float64(n) / float64(most))
	}
	return s
}

// count is a writer that counts bytes.
type count int64

func (c *count) Write(b []byte) (int, error) { *c += count(len(b)); return len(b), nil }

// A shot is a frame and how many frames long it is shown.
type shot struct{ frame, count int }

// shots lists the frames that differ from the one before. Making a list takes little
// against painting it, so the frames of a hold are painted once.
func (f *Film) shots(ctx context.Context, as Format) ([]shot, error) {
	if err := f.Validate(as); err != nil {
		return nil, err
	}
	if f.known != nil {
		return f.known, nil
	}
	draw := f.Drawer()
	var shots []shot
	before, now := new(display.List), new(display.List)
	for i := range f.Frames {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		draw(i, now)
		if i > 0 && reflect.DeepEqual(before, now) {
			shots[len(shots)-1].count++
			continue
		}
		shots = append(shots, shot{i, 1})
		before, now = now, before
	}
	return shots, nil
}

// An encoder writes a file of one format.
type encoder interface {
	head(frames int) error
	// packer makes, for one worker, what turns the step from one frame to the next
	// into the bytes of a file; the first frame has none before it.
	packer() func(before, now *image.RGBA) packed
	frame(s shot, p packed) error
	tail() error
}

func (f *Film) encoder(ctx context.Context, as Format, w io.Writer) (encoder, error) {
	switch as {
	case GIF:
		return newGIF(ctx, f, w)
	case WebP:
		return newWebP(f, w), nil
	default:
		return newAPNG(f, w), nil
	}
}

// packed is the pixels of a part of a frame, compressed.
type packed struct {
	part image.Rectangle
	data []byte
	err  error
}

// A cel is a frame being made.
type cel[T any] struct {
	img    *image.RGBA
	drawn  chan struct{}
	result chan T
}

// A worker makes one frame at a time.
type worker[T any] struct {
	draw    func(frame int, l *display.List)
	list    display.List
	painter raster.Painter
	pack    func(before, now *image.RGBA) T
}

// mostInFlight is about how many bytes the pictures of the frames in the making take, if
// a frame leaves a choice: there are at least three pictures, and one worker.
const mostInFlight = 512 << 20

// picturesOfWorker is how many pictures a worker takes room for: the one that it makes,
// the ground that it keeps, and what it paints aside.
const picturesOfWorker = 4

// workers is how many frames are made at a time: one a core, but in bounded memory.
func (f *Film) workers(frames, cores int) int {
	fit := mostInFlight / (picturesOfWorker * 4 * f.W * f.H)
	return max(1, min(cores, frames, fit))
}

// run draws frames on all cores, packs each with the one before it, and takes the
// results in order. When it returns nothing of it is running.
func run[T any](ctx context.Context, f *Film, shots []shot, packer func() func(before, now *image.RGBA) T, take func(i int, t T) error) error {
	ctx, stop := context.WithCancel(ctx)
	var running sync.WaitGroup
	defer running.Wait()
	defer stop()

	n := f.workers(len(shots), runtime.GOMAXPROCS(0))
	workers := make(chan *worker[T], n)
	for range n {
		workers <- &worker[T]{draw: f.Drawer(), pack: packer()}
	}
	// A cel is needed until the next one is packed. How many pictures there are
	// bounds how far the workers run ahead.
	free := make(chan *image.RGBA, n+2)
	for range cap(free) {
		free <- nil
	}
	cels := make(chan *cel[T], cap(free))
	running.Go(func() {
		defer close(cels)
		before := &cel[T]{drawn: make(chan struct{})}
		close(before.drawn)
		for _, s := range shots {
			now := &cel[T]{drawn: make(chan struct{}), result: make(chan T, 1)}
			var w *worker[T]
			select {
			case <-ctx.Done():
				return
			case now.img = <-free:
			}
			select {
			case <-ctx.Done():
				return
			case w = <-workers:
			}
			if now.img == nil {
				now.img = image.NewRGBA(image.Rect(0, 0, f.W, f.H))
			}
			last := before
			running.Go(func() {
				w.draw(s.frame, &w.list)
				w.painter.Paint(&w.list, now.img)
				close(now.drawn)
				<-last.drawn // begun earlier, so it comes
				now.result <- w.pack(last.img, now.img)
				workers <- w
			})
			before = now
			cels <- now
		}
	})
	var before *cel[T]
	for i := range shots {
		now, ok := <-cels
		if !ok {
			return ctx.Err()
		}
		if err := take(i, <-now.result); err != nil {
			return err
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		if before != nil {
			free <- before.img
		}
		before = now
	}
	return nil
}

// changed is the least rectangle outside which two pictures are equal. It is never
// empty, since no format has an empty frame.
func changed(before, now *image.RGBA) image.Rectangle {
	if before == nil {
		return now.Rect
	}
	width := 4 * now.Rect.Dx()
	rows := func(y int) (a, b []byte) {
		return before.Pix[y*before.Stride:][:width], now.Pix[y*now.Stride:][:width]
	}
	top, bottom := 0, now.Rect.Dy()
	for ; top < bottom && bytes.Equal(rows(top)); top++ {
	}
	if top == bottom {
		return image.Rect(0, 0, 1, 1)
	}
	for ; bytes.Equal(rows(bottom - 1)); bottom-- {
	}
	left, right := width, 0
	for y := top; y < bottom; y++ {
		a, b := rows(y)
		if !bytes.Equal(a[:left], b[:left]) {
			for left = 0; a[left] == b[left]; left++ {
			}
		}
		if !bytes.Equal(a[right:], b[right:]) {
			for right = width; a[right-1] == b[right-1]; right-- {
			}
		}
	}
	return image.Rect(left/4, top, (right+3)/4, bottom)
}
