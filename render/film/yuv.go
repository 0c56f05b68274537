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
		for x := 0; x < w; x += 2 {
			var r, g, b int32 // sums of four
			for i := range 4 {
				at := (y+i/2)*w + x + i%2
				p := img.Pix[(y+i/2)*img.Stride+4*(x+i%2):][:3:3]
				pr, pg, pb := int32(p[0]), int32(p[1]), int32(p[2])
				luma[at] = byte((lumaRed*pr + lumaGreen*pg + lumaBlue*pb + 16<<16 + 1<<15) >> 16)
				r, g, b = r+pr, g+pg, b+pb
			}
			c := y/2*(w/2) + x/2
			blue[c] = byte((blueRed*r + blueGreen*g - (blueRed+blueGreen)*b + 128<<18 + 1<<17) >> 18)
			red[c] = byte((-(redGreen+redBlue)*r + redGreen*g + redBlue*b + 128<<18 + 1<<17) >> 18)
		}
	}
	return planes
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
