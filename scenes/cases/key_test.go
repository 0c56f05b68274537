package cases

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/sim"
	"twincord/sim/answers"
)

// What a family that fits has to say to each item: of every deviation that it reaches, of
// the eye that it leaves out, and of what would go behind a cover.
func TestWhatFamiliesSay(t *testing.T) {
	all := []string{Both, Right, Left}
	family := func(k answers.Kind, eye sim.Side, zone sim.Zone) answers.Family {
		return answers.Family{Kind: k, Eye: eye, Zone: zone}
	}
	eso, none := family(answers.Eso, "", ""), answers.Open
	for _, tt := range []struct {
		name     string
		family   answers.Family
		from, to float64
		covered  answers.Code // what goes with the right eye
		sign     []string
		missing  string
		where    string
		fixing   []string
		doubling []string
		whose    []string
	}{
		{"eso", eso, 1, 3, answers.Right, []string{Eso}, Nobody, Nothing, all, []string{Uncrossed}, []string{Right}},
		{"exo", family(answers.Exo, "", ""), -3, -1, answers.Left, []string{Exo}, Nobody, Nothing, all, []string{Crossed}, []string{Left}},
		{"eso or exo", family(answers.Vertical, "", ""), -1, 1, answers.Right, []string{Eso, Exo, Straight}, Nobody, Nothing, all,
			[]string{Crossed, Uncrossed}, []string{Left, Right}},
		{"a bead over the other", family(answers.Vertical, "", ""), 1, 3, answers.Upper, []string{Eso}, Nobody, Nothing, all,
			[]string{Upright}, []string{Left, Right}},
		{"under it", family(answers.Vertical, "", ""), 1, 3, answers.Lower, []string{Eso}, Nobody, Nothing, all,
			[]string{Upright}, []string{Left, Right}},
		{"hardly off", eso, 0.05, onBead, answers.Right, []string{Straight}, Nobody, Nothing, all, []string{Uncrossed}, []string{Right}},
		{"hardly off to the other side", eso, -onBead, 0, answers.Left, []string{Straight}, Nobody, Nothing, all, []string{Crossed}, []string{Left}},
		{"hardly off and more", eso, onBead, 0.2, answers.Right, []string{Eso, Straight}, Nobody, Nothing, all, []string{Uncrossed}, []string{Right}},
		{"hardly exo and more", eso, -0.2, -onBead, answers.Left, []string{Exo, Straight}, Nobody, Nothing, all, []string{Crossed}, []string{Left}},
		{"plainly off", eso, 0.15, 0.2, none, []string{Eso}, Nobody, Nothing, all, []string{NotDoubled}, nil},
		{"on the bead", family(answers.OnBead, "", ""), 0, 0, answers.None, []string{Straight}, Nobody, Nothing, []string{Both}, []string{NotDoubled}, nil},
		{"elsewhere", family(answers.AnotherSpot, "", ""), 0, 0, answers.None, []string{Elsewhere}, Nobody, Nothing, []string{Both}, []string{NotDoubled}, nil},
		{"tilted", family(answers.Torsion, "", ""), 0, 0, none, []string{Straight}, Nobody, Nothing, []string{Both}, []string{NotDoubled}, nil},
		{"matched, the left eye fixing", family(answers.Anomaly, sim.Left, ""), 1, 3, none, []string{Eso}, Nobody, Nothing, []string{Left}, []string{NotDoubled}, nil},
		{"the right eye's left out", family(answers.LeftOut, sim.Right, sim.ZoneAll), 1, 3, none, []string{Eso}, Right, All, []string{Left}, []string{NotDoubled}, nil},
		{"the left eye's", family(answers.LeftOut, sim.Left, sim.ZoneAll), 1, 3, none, []string{Eso}, Left, All, []string{Right}, []string{NotDoubled}, nil},
		{"in front", family(answers.LeftOutPart, sim.Left, sim.ZoneNearer), 1, 3, none, []string{Eso}, Left, InFront, all, []string{NotDoubled}, nil},
		{"behind", family(answers.LeftOutPart, sim.Right, sim.ZoneBeyond), 1, 3, none, []string{Eso}, Right, Behind, all, []string{NotDoubled}, nil},
		{"the middle", family(answers.LeftOutPart, sim.Right, sim.ZoneCentral), 1, 3, none, []string{Eso}, Right, Centre, all, []string{NotDoubled}, nil},
		{"fainter, and so not left out", family(answers.LeftOutPart, sim.Right, sim.ZoneAll), 1, 3, none, []string{Eso}, Nobody, Nothing, all, []string{NotDoubled}, nil},
	} {
		m := answers.Match{Family: tt.family}
		if tt.from != 0 || tt.to != 0 {
			m.Ranges = []answers.Range{{Key: "posture.vertical_prism", From: -9, To: 9}, {Key: "posture.deviation_prism", From: tt.from, To: tt.to}}
		}
		m.Says.Code[answers.RightCoverBead] = tt.covered
		for item, want := range map[Item][]string{
			Sign: tt.sign, Missing: {tt.missing}, Where: {tt.where}, Fixing: tt.fixing, Doubling: tt.doubling, Whose: tt.whose,
		} {
			assert.Equal(t, want, codesOf(item, &m), "%s: %s", tt.name, item)
		}
	}
}
