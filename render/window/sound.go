package window

import (
	"bytes"
	"encoding/binary"
	"math"

	"github.com/hajimehoshi/ebiten/v2/audio"
)

// sound is the soft tick of a count. Nothing of it is begun before it is asked for,
// and a computer without a sound device stays silent.
type sound struct {
	context *audio.Context
	wave    []byte
}

const (
	soundRate = 44100 // samples a second
	tickTone  = 660   // Hz
	tickTime  = 0.07  // s
	tickLoud  = 0.12  // of what could be
)

// tick plays one tick.
func (s *sound) tick() {
	if s.context == nil {
		s.context = audio.NewContext(soundRate)
		s.wave = tickWave()
	}
	if p, err := s.context.NewPlayerF32(bytes.NewReader(s.wave)); err == nil {
		p.Play()
	}
}

// tickWave is a tone that dies away, as stereo samples.
func tickWave() []byte {
	var b []byte
	for i := range int(soundRate * tickTime) {
		t := float64(i) / soundRate
		v := float32(tickLoud * math.Sin(2*math.Pi*tickTone*t) * math.Exp(-t/0.018) * math.Min(1, t/0.002))
		for range 2 {
			b = binary.LittleEndian.AppendUint32(b, math.Float32bits(v))
		}
	}
	return b
}
