package film

import "image"

// planes420 are the pixels of a picture as films have them: brightness, then blue and red
// difference of each 2 × 2 pixels, in the colours of HDTV (ITU-R BT.709, 16 to 235 and 16
// to 240). The sides of the picture are even.
func planes420(img *image.RGBA) []byte {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	n := w * h
	planes := make([]byte, n+n/2)
	luma, blue, red := planes[:n], planes[n:n+n/4], planes[n+n/4:]
	for y := 0; y < h; y += 2 {
		upper, lower := img.Pix[y*img.Stride:][:4*w], img.Pix[(y+1)*img.Stride:][:4*w]
		upperLuma, lowerLuma := luma[y*w:][:w], luma[(y+1)*w:][:w]
		at := y / 2 * (w / 2)
		blueRow, redRow := blue[at:][:w/2], red[at:][:w/2]
		for c := range blueRow {
			x := 2 * c
			above, below := upper[4*x:][:8], lower[4*x:][:8]
			bright, brightBelow := upperLuma[x:][:2], lowerLuma[x:][:2]
			if c > 0 && [8]byte(above) == [8]byte(upper[4*x-8:]) && [8]byte(below) == [8]byte(lower[4*x-8:]) {
				// As the four before, which most are where colours do not change.
				copy(bright, upperLuma[x-2:])
				copy(brightBelow, lowerLuma[x-2:])
				blueRow[c], redRow[c] = blueRow[c-1], redRow[c-1]
				continue
			}
			for i := range 2 {
				bright[i] = brightness(above[4*i:])
				brightBelow[i] = brightness(below[4*i:])
			}
			sum := func(i int) int32 { return int32(above[i]) + int32(above[i+4]) + int32(below[i]) + int32(below[i+4]) }
			r, g, b := sum(0), sum(1), sum(2)
			blueRow[c] = byte((blueRed*r + blueGreen*g - (blueRed+blueGreen)*b + 128<<18 + 1<<17) >> 18)
			redRow[c] = byte((-(redGreen+redBlue)*r + redGreen*g + redBlue*b + 128<<18 + 1<<17) >> 18)
		}
	}
	return planes
}

// brightness is that of a pixel.
func brightness(p []byte) byte {
	_ = p[2]
	return byte((lumaRed*int32(p[0]) + lumaGreen*int32(p[1]) + lumaBlue*int32(p[2]) + 16<<16 + 1<<15) >> 16)
}

// The shares of red, green and blue, in 1/65536: Kr 0.2126 and Kb 0.0722, with 219 steps
// of brightness and 224 of difference for 255. Those of a difference add up to nothing, so
// that grey is grey.
const (
	lumaRed   = 11966 // 0.2126 · 219/255
	lumaGreen = 40254
	lumaBlue  = 4064
	blueRed   = -6596  // −Kr/(2(1−Kb)) · 224/255
	blueGreen = -22189 // −Kg/(2(1−Kb)) · 224/255
	redGreen  = -26145 // −Kg/(2(1−Kr)) · 224/255
	redBlue   = -2639  // −Kb/(2(1−Kr)) · 224/255
)
