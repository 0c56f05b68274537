package film

import (
	"context"
	"image"
)

// Flashes is the greatest number of general flashes that a film shows within any second
// (WCAG 2.3.1, row G3: at most 3). A flash is a rise and a fall of the relative
// luminance, or a fall and a rise, of at least 0.1 each with the darker side below 0.80;
// it counts where a quarter of some field of 10° flashes as often in the same second.
// The film is taken to go round, and to fill a screen of 3 × 3 such fields: the 341 × 256
// pixels of 1024 × 768 that WCAG names. Luminances are means over cells of about 1/48
// of the film's width. Saturated red, for which WCAG has a rule of its own, is not
// looked at.
func (f *Film) Flashes(ctx context.Context) (int, error) {
	shots, err := f.shots(ctx, APNG)
	if err != nil {
		return 0, err
	}
	across := min(f.W, 48)
	down := max(1, min(f.H, across*f.H/f.W))
	var frames [][]float64 // luminance by cell
	err = run(ctx, f, shots, func() func(_, now *image.RGBA) []float64 {
		return func(_, now *image.RGBA) []float64 { return cells(now, across, down) }
	}, func(i int, luminances []float64) error {
		for range shots[i].count {
			frames = append(frames, luminances)
		}
		return nil
	})
	if err != nil {
		return 0, err
	}
	changes := make([][]int, across*down)
	for c := range changes {
		changes[c] = changesOf(f.Frames+f.Rate, func(i int) float64 { return frames[i%f.Frames][c] })
	}
	most := 0
	flashes := make([]int, len(changes))
	for from := range f.Frames {
		for c, at := range changes {
			n := 0
			for _, i := range at {
				if i >= from && i < from+f.Rate {
					n++
				}
			}
			flashes[c] = n / 2
		}
		for widespread(flashes, across, down, most+1) {
			most++
		}
	}
	return most, nil
}

const (
	flashStep   = 0.1
	flashDarker = 0.80
)

// changesOf are the frames at which luminances have risen or fallen enough, by turns, in
// n frames.
func changesOf(n int, at func(int) float64) (changes []int) {
	low, high := at(0), at(0) // since the last change
	way := 0                  // of that: 1 up, −1 down
	for i := range n {
		v := at(i)
		low, high = min(low, v), max(high, v)
		switch {
		case way != 1 && v-low >= flashStep && low < flashDarker:
			way = 1
		case way != -1 && high-v >= flashStep && v < flashDarker:
			way = -1
		default:
			continue
		}
		low, high = v, v
		changes = append(changes, i)
	}
	return changes
}

// widespread says whether a quarter of some field of a third of the picture each way has
// counts of at least n.
func widespread(counts []int, across, down, n int) bool {
	w, h := max(1, across/3), max(1, down/3)
	all := 0
	for _, c := range counts {
		if c >= n {
			all++
		}
	}
	if 4*all < w*h {
		return false // as nearly always
	}
	for y0 := range down - h + 1 {
		for x0 := range across - w + 1 {
			has := 0
			for y := y0; y < y0+h; y++ {
				for _, c := range counts[y*across+x0:][:w] {
					if c >= n {
						has++
					}
				}
			}
			if 4*has >= w*h {
				return true
			}
		}
	}
	return false
}

// cells is the mean relative luminance of each cell of a picture.
func cells(img *image.RGBA, across, down int) []float64 {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	sums := make([]float64, across*down)
	sizes := make([]float64, across*down)
	for y := range h {
		for x := range w {
			p := img.Pix[y*img.Stride+4*x:]
			c := y*down/h*across + x*across/w
			sums[c] += 0.2126*linear[p[0]] + 0.7152*linear[p[1]] + 0.0722*linear[p[2]]
			sizes[c]++
		}
	}
	for c := range sums {
		sums[c] /= sizes[c]
	}
	return sums
}
