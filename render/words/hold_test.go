package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/sim"
)

// What makes the eyes let go of a place that they would hold is told by what it is: prisms
// ask for more than they can, lenses have them focus more or less.
func TestWhatAsksForMoreThanTheEyesCan(t *testing.T) {
	f := sim.DefaultFindings()
	for _, r := range []*sim.Reserves{&f.Far, &f.Near} { // little, so that focus alone can ask for more
		r.BaseOutBlur, r.BaseOutBreak, r.BaseOutRecovery = 5, 6, 4
	}
	for suffix, glass := range map[string]func(x float64) sim.Glass{
		"-glass": func(x float64) sim.Glass { return sim.Glass{BaseOut: sim.Prism(x)} },
		"-focus": func(x float64) sim.Glass { return sim.Glass{Lens: sim.Dioptres(x / 4)} },
	} {
		for _, side := range []float64{1, -1} {
			told := map[string]bool{}
			for x := 1.; x <= 40; x++ {
				s := sim.Default()
				s.Beads = []sim.Bead{{Name: "sky", At: 480, Diameter: 16}}
				s.Look.Bead = 0
				s.Findings = sim.Some(f)
				s.Right, s.Left = glass(side*x), glass(side*x)
				v := look(&s)
				if h := &v.Holding.Value; h.State == sim.StateBroken && limits(h).breaks >= 0 && !v.Account.Fuses {
					told[holdID(v, h)] = true
				}
			}
			assert.NotEmpty(t, told, "%v %s", side, suffix)
			for id := range told {
				assert.True(t, strings.HasSuffix(id, suffix), "%v %s: %s", side, suffix, id)
			}
		}
	}
}

// What was worked out is told to a tenth as long as a tenth is more than the last of two
// digits, and whole from where it would be told as ten.
func TestPrismsAreWholeFromTen(t *testing.T) {
	w := english(t)
	for p, want := range map[sim.Prism]string{
		WholePrisms - 0.01: "9.9 Δ", WholePrisms: "10 Δ", 12.4: "12 Δ", -WholePrisms: "−10 Δ", 0.04: "0 Δ",
	} {
		assert.Equal(t, want, w.Signed(p))
	}
}
