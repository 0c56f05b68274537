package film

import (
	"context"
	"encoding/binary"
	"image"
	"maps"
	"math"
	"slices"
	"sync/atomic"
)

// A palette is the colours of a GIF, 0xBBGGRR, and where they lie in Oklab.
type palette struct {
	colours []uint32
	places  []oklab
	// known has a byte for each colour there is, four in a word: the entry nearest to
	// it plus one, or 0 where nobody has looked yet.
	known []atomic.Uint32
}

// filmPalette chooses the colours that a film needs from some of its frames.
func filmPalette(ctx context.Context, f *Film) (*palette, error) {
	var shots []shot
	for _, i := range spread(f.Frames, paletteFrames) {
		shots = append(shots, shot{i, 1})
	}
	sum := map[uint32]int{}
	err := run(ctx, f, shots, func() func(_, now *image.RGBA) map[uint32]int {
		return func(_, now *image.RGBA) map[uint32]int { return colourCounts(now) }
	}, func(_ int, counts map[uint32]int) error {
		for c, n := range counts {
			sum[c] += n
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return choose(sum), nil
}

const (
	paletteFrames = 8
	// Every third pixel of every third row is counted: dithered grounds repeat after 8, so
	// each place of their pattern is met.
	paletteStep = 3
)

func colourCounts(img *image.RGBA) map[uint32]int {
	counts := map[uint32]int{}
	for y := 0; y < img.Rect.Dy(); y += paletteStep {
		for x := 0; x < img.Rect.Dx(); x += paletteStep {
			counts[binary.LittleEndian.Uint32(img.Pix[y*img.Stride+4*x:])&0xffffff]++
		}
	}
	return counts
}

// A tint is a colour of the film and how much it counts: how often it is seen, raised to
// a power below 1, so that the ground leaves colours to what is on it. With 0.8 the
// ground is half as far off as with 0.5, and what is on it no more so.
type tint struct {
	at     oklab
	weight float64
}

// choose picks at most clearIndex colours: the group of colours that varies most is
// parted at its mean, across the way in which it varies most, again and again; then
// each colour goes to the nearest mean, a few times over.
func choose(counts map[uint32]int) *palette {
	var tints []tint
	for _, c := range slices.Sorted(maps.Keys(counts)) {
		tints = append(tints, tint{oklabOf(c), math.Pow(float64(counts[c]), 0.8)})
	}
	groups := []group{newGroup(tints)}
	for len(groups) < clearIndex {
		most := 0
		for i := range groups {
			if groups[i].spread > groups[most].spread {
				most = i
			}
		}
		g := &groups[most]
		low, high := g.part()
		if len(low) == 0 || len(high) == 0 {
			break
		}
		*g = newGroup(low)
		groups = append(groups, newGroup(high))
	}
	p := &palette{known: make([]atomic.Uint32, 1<<22)}
	for _, g := range groups {
		p.places = append(p.places, g.mean)
	}
	const rounds = 4
	for range rounds {
		sums := make([]oklab, len(p.places))
		weights := make([]float64, len(p.places))
		for _, t := range tints {
			i := p.nearest(t.at)
			weights[i] += t.weight
			for k := range t.at {
				sums[i][k] += t.weight * t.at[k]
			}
		}
		for i, w := range weights {
			for k := range sums[i] {
				if w > 0 {
					p.places[i][k] = sums[i][k] / w
				}
			}
		}
	}
	for i, at := range p.places {
		c := at.colour()
		p.colours = append(p.colours, c)
		p.places[i] = oklabOf(c)
	}
	return p
}

// A group is some colours, their mean, and their spread: the weighted sum of squares
// of the distances to it along axis, the widest of the three.
type group struct {
	tints  []tint
	mean   oklab
	spread float64
	axis   int
}

func newGroup(tints []tint) group {
	g := group{tints: tints}
	var weight float64
	var squares oklab
	for _, t := range tints {
		weight += t.weight
		for k, v := range t.at {
			g.mean[k] += t.weight * v
		}
	}
	for k := range g.mean {
		g.mean[k] /= weight
	}
	for _, t := range tints {
		for k, v := range t.at {
			squares[k] += t.weight * (v - g.mean[k]) * (v - g.mean[k])
		}
	}
	for k, s := range squares {
		if s > g.spread {
			g.spread, g.axis = s, k
		}
	}
	return g
}

// part moves the colours below the mean to the front.
func (g *group) part() (low, high []tint) {
	n := 0
	for i, t := range g.tints {
		if t.at[g.axis] < g.mean[g.axis] {
			g.tints[n], g.tints[i] = g.tints[i], g.tints[n]
			n++
		}
	}
	return g.tints[:n], g.tints[n:]
}

func (p *palette) nearest(at oklab) int {
	best, least := 0, math.Inf(1)
	for i := range p.places {
		q := &p.places[i]
		x, y, z := q[0]-at[0], q[1]-at[1], q[2]-at[2]
		if d := x*x + y*y + z*z; d < least {
			best, least = i, d
		}
	}
	return best
}

// index is the entry for an opaque pixel.
func (p *palette) index(c uint32) byte {
	// Every worker that finds an entry finds the same one, so none need wait.
	word, shift := &p.known[c&0xffffff>>2], c&3*8
	i := byte(word.Load() >> shift)
	if i == 0 {
		i = byte(p.nearest(oklabOf(c)) + 1)
		word.Or(uint32(i) << shift)
	}
	return i - 1
}

// oklab is a colour in Oklab, where equal distances look about equal (B. Ottosson 2020,
// https://bottosson.github.io/posts/oklab, whose matrices these are).
type oklab [3]float64

var linear = func() (l [256]float64) {
	for i := range l {
		if v := float64(i) / 255; v <= 0.04045 {
			l[i] = v / 12.92
		} else {
			l[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return l
}()

func oklabOf(c uint32) oklab {
	r, g, b := linear[c&0xff], linear[c>>8&0xff], linear[c>>16&0xff]
	l := math.Cbrt(0.4122214708*r + 0.5363325363*g + 0.0514459929*b)
	m := math.Cbrt(0.2119034982*r + 0.6806995451*g + 0.1073969566*b)
	s := math.Cbrt(0.0883024619*r + 0.2817188376*g + 0.6299787005*b)
	return oklab{
		0.2104542553*l + 0.7936177850*m - 0.0040720468*s,
		1.9779984951*l - 2.4285922050*m + 0.4505937099*s,
		0.0259040371*l + 0.7827717662*m - 0.8086757660*s,
	}
}

func (o oklab) colour() uint32 {
	cube := func(v float64) float64 { return v * v * v }
	l := cube(o[0] + 0.3963377774*o[1] + 0.2158037573*o[2])
	m := cube(o[0] - 0.1055613458*o[1] - 0.0638541728*o[2])
	s := cube(o[0] - 0.0894841775*o[1] - 1.2914855480*o[2])
	step := func(v float64) uint32 {
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		return uint32(math.Round(255 * min(max(v, 0), 1)))
	}
	return step(4.0767416621*l-3.3077115913*m+0.2309699292*s) |
		step(-1.2684380046*l+2.6097574011*m-0.3413193965*s)<<8 |
		step(-0.0041960863*l-0.7034186147*m+1.7076147010*s)<<16
}
