package words

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
)

// A claim is a sentence of the clinical caption and when it is due, which is told from
// the view alone; what it says in its groups must be so.
type claim struct {
	says  *regexp.Regexp
	due   func(v *sim.View) bool
	holds func(v *sim.View, part []string) bool
}

// typed says whether the posture of a view is as it was typed.
func typed(v *sim.View) bool { return !v.Holding.OK && !v.Now.Look.From.OK && v.Now.Hold.SD == 0 }

// readsAs says whether a number is one told as a text: to a tenth, or whole from ten on.
func readsAs(x float64, text string) bool {
	n, err := strconv.ParseFloat(strings.Replace(text, "−", "-", 1), 64)
	off := 0.0501
	if n >= 10 {
		off = 0.501
	}
	return err == nil && math.Abs(math.Abs(x)-math.Abs(n)) <= off
}

// sideOf is the word for the sign of what was worked out, "" where it is told as nothing.
func sideOf(p sim.Prism, positive, negative string) string {
	switch {
	case math.Abs(float64(p)) < 0.05:
		return ""
	case p > 0:
		return positive
	}
	return negative
}

// ofFindings says whether a view is of a set-up with findings.
func ofFindings(v *sim.View) bool { return v.Holding.OK }

// relief is that a criterion is met, or the prism that would meet it.
const relief = `(?:met|([\d.]+) Δ (base-in|base-out))`

// relieves says whether what a criterion asks for is told: nothing, or the number and the base
// of the prism that would meet it.
func relieves(r sim.Relief, part []string) bool {
	if math.Abs(float64(r.Prism)) < 0.05 {
		return part[0] == ""
	}
	return readsAs(float64(r.Prism), part[0]) && part[1] == sideOf(r.Prism, "base-out", "base-in")
}

var eyeOf = map[string]sim.Side{"right": sim.Right, "Right": sim.Right, "left": sim.Left, "Left": sim.Left, "both": sim.Both}

// sighted is the bead that is looked at.
func sighted(v *sim.View) *sim.BeadView { return fixated(v) }

// ofSingle are the amounts of the disparity of a bead that is looked at and single, arcmin.
func ofSingle(v *sim.View) (horizontal, vertical float64, single bool) {
	if v.Account.LookedAt == "" || v.Account.Fixated != sim.SeenOne {
		return 0, 0, false
	}
	d := &sighted(v).Disparity.Value
	return math.Abs(float64(d.H.Arcmin())), math.Abs(float64(d.V.Arcmin())), true
}

// least is the smallest error of posture that is told.
func least(v *sim.View) float64 {
	if typed(v) {
		return 0.005
	}
	return 0.05
}

// pointed says whether the eyes are on the target, or on their way.
func pointed(v *sim.View) bool { return v.Jump() != sim.JumpWaiting }

// zones are the words for where an eye is suppressed, and whereOf their code.
const zones = ` within [\d.]+° of (?:its fovea|the target's image|its fovea, of the target's image and of what lies between)` +
	`| on the nasal half of its retina| on the temporal half of its retina| in front of the target| behind the target`

func whereOf(zone string) sim.Where {
	switch {
	case zone == "":
		return sim.WhereAll
	case strings.Contains(zone, "nasal"):
		return sim.WhereNasal
	case strings.Contains(zone, "temporal"):
		return sim.WhereTemporal
	case strings.Contains(zone, "in front"):
		return sim.WhereNearer
	case strings.Contains(zone, "behind"):
		return sim.WhereBeyond
	}
	return sim.WhereCentre
}

// lensTold and prismTold are the claims of what stands before an eye.
func lensTold(eye string, glass func(v *sim.View) sim.Glass) claim {
	return claim{regexp.MustCompile(`Lens of ([+−])([\d.]+) D before the ` + eye + ` eye\.`),
		func(v *sim.View) bool { return math.Abs(float64(glass(v).Lens)) >= 0.005 },
		func(v *sim.View, part []string) bool {
			x := float64(glass(v).Lens)
			return (part[1] == "+") == (x > 0) && readsAs(x, part[2])
		}}
}

func prismTold(plus, minus, eye string, of func(v *sim.View) sim.Prism) claim {
	return claim{regexp.MustCompile(`([\d.]+) Δ base-(` + plus + `|` + minus + `) before the ` + eye + ` eye\.`),
		func(v *sim.View) bool { return math.Abs(float64(of(v))) >= 0.005 },
		func(v *sim.View, part []string) bool {
			return (part[2] == plus) == (of(v) > 0) && readsAs(float64(of(v)), part[1])
		}}
}

// clinical are the claims of the caption.
var clinical = []claim{
	{regexp.MustCompile(`No manifest deviation\.`), func(v *sim.View) bool {
		p := &v.Now.Posture
		return pointed(v) && math.Abs(float64(p.Deviation)) < least(v) && math.Abs(float64(p.Vertical)) < least(v) && math.Abs(float64(p.Cyclo)) < 0.05
	}, nil},
	{regexp.MustCompile(`([\d.]+) Δ (eso|exo), (shared by both eyes|(right|left) eye fixing)\.`), func(v *sim.View) bool {
		return pointed(v) && math.Abs(float64(v.Now.Posture.Deviation)) >= least(v)
	}, func(v *sim.View, part []string) bool {
		e, fixes := v.Now.Posture.Deviation, sim.Both
		if part[4] != "" {
			fixes = eyeOf[part[4]]
		}
		_, decimals, _ := strings.Cut(part[1], ".")
		return (part[2] == "eso") == (e > 0) && readsAs(float64(e), part[1]) && v.Account.Fixes == fixes &&
			(typed(v) || len(decimals) <= 1) // what was worked out is not told to a hundredth
	}},
	{regexp.MustCompile(`(Right|Left) hyperdeviation ([\d.]+) Δ\.`), func(v *sim.View) bool {
		return pointed(v) && math.Abs(float64(v.Now.Posture.Vertical)) >= least(v)
	}, func(v *sim.View, part []string) bool {
		h := v.Now.Posture.Vertical
		return (part[1] == "Right") == (h > 0) && readsAs(float64(h), part[2])
	}},
	{regexp.MustCompile(`(Ex|In)cyclodeviation ([\d.]+)°, (shared by both eyes|(right|left) eye)\.`), func(v *sim.View) bool {
		return pointed(v) && math.Abs(float64(v.Now.Posture.Cyclo)) >= 0.05
	}, func(v *sim.View, part []string) bool {
		c := v.Now.Posture.Cyclo
		carries := map[string]sim.Side{"": sim.Both, "right": sim.Left, "left": sim.Right}[part[4]] // whose fellow fixes
		return (part[1] == "Ex") == (c > 0) && readsAs(float64(c), part[2]) && v.Account.Fixes == carries
	}},
	{regexp.MustCompile(`The visual axes part\.`), func(v *sim.View) bool { return v.Account.Eyes == sim.AimApart }, nil},
	{regexp.MustCompile(`(Right|Left) eye (?:takes up|has taken up) fixation(?: \((\w+)ward, ([\d.]+) Δ\))?\.`),
		func(v *sim.View) bool { return v.Account.TookUp },
		func(v *sim.View, part []string) bool {
			p := &v.Now.Posture
			up := -p.Vertical // the eye that was lower moves up
			if part[1] == "Left" {
				up = p.Vertical
			}
			way := map[string]bool{"out": p.Deviation > 0, "in": p.Deviation < 0, "up": up > 0, "down": up < 0, "": true}[part[2]]
			return v.Account.Fixes == eyeOf[part[1]] && way
		}},
	{regexp.MustCompile(`Hardly any eyes turn in so far\.`), func(v *sim.View) bool {
		return v.Account.Eyes == sim.AimOnTarget && !v.Holding.OK && v.Target.FromEyes < sim.SpectaclePlane+sim.DefaultFindings().NPCBreak
	}, nil},
	{regexp.MustCompile(`nomalous retinal correspondence: .*S = H − A = ([\d.]+) Δ( eso| exo)?\.`), func(v *sim.View) bool {
		return v.Now.Posture.Anomaly != 0
	}, func(v *sim.View, part []string) bool {
		s := v.Now.Posture.Deviation.Angle() - v.Now.Posture.Anomaly.Angle()
		return readsAs(float64(s.Prism()), part[1]) && strings.TrimSpace(part[2]) == sideOf(s.Prism(), "eso", "exo")
	}},
	{regexp.MustCompile(`Asked for the [^,]*, looking at the (bare string|.* bead|bead “)`), func(v *sim.View) bool {
		return v.Account.Asked != v.Account.LookedAt
	}, func(v *sim.View, part []string) bool { return (part[1] == "bare string") == (v.Account.LookedAt == "") }},
	{regexp.MustCompile(`The strings cross [^.]*(?:\.\d)? (?:cm|in) from the nose, (?:in the bead|at the place)`), func(v *sim.View) bool {
		return v.Account.Meet == sim.MeetAt && v.Account.Fixated != sim.SeenTwo && !inOneLine(v)
	}, nil},
	{regexp.MustCompile(`from the nose, close to the two images of the bead`), func(v *sim.View) bool {
		return v.Account.Meet == sim.MeetAt && v.Account.Fixated == sim.SeenTwo && !inOneLine(v)
	}, nil},
	{regexp.MustCompile(`The crossing is hidden behind the bead|hides one of the strings`), func(v *sim.View) bool { return v.Account.HiddenBy != "" && !inOneLine(v) }, nil},
	{regexp.MustCompile(`The strings cross .* in front of the (?:bead|place looked at)\.`), func(v *sim.View) bool { return v.Account.Meet == sim.MeetNearer && !inOneLine(v) }, nil},
	{regexp.MustCompile(`The strings cross .* behind the (?:bead|place looked at)\.`), func(v *sim.View) bool { return v.Account.Meet == sim.MeetBeyond && !inOneLine(v) }, nil},
	{regexp.MustCompile(`No horizontal disparity ([\d.]+) cm from the nose, (?:at|[\d.]+ cm (in front of|behind)) the target\.`), inOneLine,
		func(v *sim.View, part []string) bool {
			told, err := strconv.ParseFloat(part[1], 64)
			side := map[sim.Meet]string{sim.MeetAt: "", sim.MeetNearer: "in front of", sim.MeetBeyond: "behind"}[v.Account.Meet]
			return err == nil && math.Abs(10*told-v.Crossing.At.Value) <= 5 && side == part[2]
		}},
	{regexp.MustCompile(`from the nose, is not seen\.`), func(v *sim.View) bool { return v.Account.Meet == sim.MeetUnseen }, nil},
	{regexp.MustCompile(`No crossing on the string\.`), func(v *sim.View) bool { return v.Account.Meet == sim.MeetNowhere }, nil},
	{regexp.MustCompile(`do not cross: where they have no horizontal disparity, ([\d.]+) cm from the nose, one lies above the other\.`),
		func(v *sim.View) bool { return v.Account.Meet == sim.MeetPasses },
		func(v *sim.View, part []string) bool {
			told, err := strconv.ParseFloat(part[1], 64)
			return err == nil && math.Abs(10*told-v.Crossing.At.Value) <= 5
		}},
	{regexp.MustCompile(`cross off to one side`), func(v *sim.View) bool { return v.Account.Meet == sim.MeetAside }, nil},
	{regexp.MustCompile(`Bead (?:kept )?single, (?:without (?:horizontal )?disparity|(crossed|uncrossed) disparity ([\d.]+) arcmin)`), func(v *sim.View) bool {
		return v.Account.LookedAt != "" && v.Account.Fixated == sim.SeenOne
	}, func(v *sim.View, part []string) bool {
		h := sighted(v).Disparity.Value.H.Arcmin()
		return part[1] == "" && math.Abs(float64(h)) < 0.05 || part[1] != "" && (part[1] == "crossed") == (h > 0) && readsAs(float64(h), part[2])
	}},
	{regexp.MustCompile(`single, without disparity`), func(v *sim.View) bool {
		horizontal, vertical, single := ofSingle(v)
		return single && horizontal < 0.05 && vertical < 0.5
	}, nil},
	{regexp.MustCompile(`Vertical disparity ([\d.]+) arcmin, within Panum's limit of ([\d.]+)`), func(v *sim.View) bool {
		_, vertical, single := ofSingle(v)
		return single && vertical >= 0.5
	},
		func(v *sim.View, part []string) bool {
			d := &sighted(v).Disparity.Value
			return readsAs(float64(d.V.Arcmin()), part[1]) && readsAs(float64(d.LimitV.Arcmin()), part[2]) && math.Abs(float64(d.V)) <= float64(d.LimitV)
		}},
	{regexp.MustCompile(`Bead double, (\w+) diplopia`), func(v *sim.View) bool { return v.Account.Fixated == sim.SeenTwo },
		func(v *sim.View, part []string) bool { return string(sighted(v).Diplopia) == part[1] }},
	{regexp.MustCompile(`(Right|Left) image higher by`), func(v *sim.View) bool {
		return v.Account.Fixated == sim.SeenTwo && v.Account.Higher != sim.Neither
	}, func(v *sim.View, part []string) bool { return v.Account.Higher == eyeOf[part[1]] }},
	{regexp.MustCompile(`Bead seen by the (right|left) eye alone\.`), func(v *sim.View) bool {
		return v.Account.LookedAt != "" && (v.Account.Fixated == sim.SeenRight || v.Account.Fixated == sim.SeenLeft)
	}, func(v *sim.View, part []string) bool { return string(v.Account.Fixated) == part[1] }},
	{regexp.MustCompile(`in front(?: of the target)? (\d), behind(?: it)? (\d)\.`), func(*sim.View) bool { return true },
		func(v *sim.View, part []string) bool {
			return strconv.Itoa(v.Account.Near) == part[1] && strconv.Itoa(v.Account.Far) == part[2]
		}},
	{regexp.MustCompile(`(?:(In front of|Behind) the target t|T)he two strands lie along one line`), func(v *sim.View) bool {
		return v.Strings.NearOverlaid || v.Strings.FarOverlaid
	}, func(v *sim.View, part []string) bool {
		return v.Strings.NearOverlaid == (part[1] != "Behind") && v.Strings.FarOverlaid == (part[1] != "In front of")
	}},
	{regexp.MustCompile(`Target (a little soft|blurred)`), func(v *sim.View) bool {
		return !v.Account.Uneven && (v.Account.Clarity == sim.ClaritySoft || v.Account.Clarity == sim.ClarityBlurred)
	}, func(v *sim.View, part []string) bool {
		return (part[1] == "blurred") == (v.Account.Clarity == sim.ClarityBlurred)
	}},
	{regexp.MustCompile(`Clarity unequal`), func(v *sim.View) bool { return v.Account.Uneven }, nil},
	{regexp.MustCompile(`(Right|Left) eye occluded\.`), func(v *sim.View) bool { return v.Now.Cover != sim.Neither },
		func(v *sim.View, part []string) bool { return v.Now.Cover == eyeOf[part[1]] }},
	{regexp.MustCompile(`(Right|Left) eye suppressed(|` + zones + `)\.(?: |$)`), func(v *sim.View) bool {
		return v.Now.Cover == sim.Neither && v.Account.Missing != sim.Neither
	}, func(v *sim.View, part []string) bool {
		return v.Account.Missing == eyeOf[part[1]] && v.Account.MissingWhere == whereOf(part[2])
	}},
	{regexp.MustCompile(`(Right|Left) eye suppressed(?: in part|` + zones + `), depth ([\d.]+): `), func(v *sim.View) bool {
		return v.Now.Cover == sim.Neither && v.Account.Fainter != sim.Neither
	}, func(v *sim.View, part []string) bool {
		return v.Account.Fainter == eyeOf[part[1]] && readsAs(v.Now.Suppression.Depth, part[2])
	}},
	lensTold("right", func(v *sim.View) sim.Glass { return v.Now.Right }),
	lensTold("left", func(v *sim.View) sim.Glass { return v.Now.Left }),
	prismTold("out", "in", "right", func(v *sim.View) sim.Prism { return v.Now.Right.BaseOut }),
	prismTold("up", "down", "right", func(v *sim.View) sim.Prism { return v.Now.Right.BaseUp }),
	prismTold("out", "in", "left", func(v *sim.View) sim.Prism { return v.Now.Left.BaseOut }),
	prismTold("up", "down", "left", func(v *sim.View) sim.Prism { return v.Now.Left.BaseUp }),
	{regexp.MustCompile(`Prism fused: (\d+) %`), func(v *sim.View) bool { return unanswered(&v.Now) },
		func(v *sim.View, part []string) bool {
			return strconv.Itoa(int(math.RoundToEven(100*v.Now.Posture.PrismMet))) == part[1]
		}},
	{regexp.MustCompile(`Bead in lustre`), func(v *sim.View) bool {
		n := v.Now.FixatedBead()
		if n == sim.NoBead || v.Account.Fixated != sim.SeenOne {
			return false
		}
		r, l, c := v.Now.Right.Filter, v.Now.Left.Filter, v.Now.Beads[n].Colour
		black := r.Blackens(c) && l.Blackens(c)
		return r.Through(c) != l.Through(c) && !black
	}, nil},
	{regexp.MustCompile(`Unsteady vergence`), func(v *sim.View) bool { return v.Now.Hold.SD > 0 }, nil},
	{regexp.MustCompile(`Jump: still aimed at`), func(v *sim.View) bool { return v.Jump() == sim.JumpWaiting }, nil},
	{regexp.MustCompile(`Jump from `), func(v *sim.View) bool { return v.Jump() == sim.JumpMoving }, nil},

	// What findings make of the place.
	{regexp.MustCompile(`(Phoria|Deviation without fusion) at this place ([\d.]+) Δ( eso| exo)?( \(extrapolated: [^)]*\))?\.`),
		func(v *sim.View) bool { return v.Holding.OK },
		func(v *sim.View, part []string) bool {
			h := &v.Holding.Value
			return (part[1] == "Phoria") == (h.State == sim.StateHolding) && (part[4] != "") == h.Extrapolated &&
				readsAs(float64(h.Phoria), part[2]) && strings.TrimSpace(part[3]) == sideOf(h.Phoria, "eso", "exo")
		}},
	{regexp.MustCompile(`Prism and lens effect ([\d.]+) Δ (base-out|base-in), already in it\.`),
		func(v *sim.View) bool { return v.Holding.OK && math.Abs(float64(v.Holding.Value.Load)) >= 0.05 },
		func(v *sim.View, part []string) bool {
			load := v.Holding.Value.Load
			return readsAs(float64(load), part[1]) && part[2] == sideOf(load, "base-out", "base-in")
		}},
	{regexp.MustCompile(`Vertical fusional demand ([\d.]+) Δ, (right|left) eye higher`), func(v *sim.View) bool {
		return v.Holding.OK && v.Holding.Value.Vertical != 0
	}, func(v *sim.View, part []string) bool { return (part[2] == "right") == (v.Holding.Value.Vertical > 0) }},
	{regexp.MustCompile(`Holding: ([\d.]+) Δ left to the base-(out|in) break\.`), func(v *sim.View) bool {
		return v.Holding.OK && v.Holding.Value.State == sim.StateHolding
	}, func(v *sim.View, part []string) bool {
		h := &v.Holding.Value
		out, in := h.BaseOutBreak-h.Judged, h.BaseInBreak+h.Judged
		return readsAs(float64(min(out, in)), part[1]) && (part[2] == "out") == (out <= in)
	}},
	{regexp.MustCompile(`Broken: base-(out|in) break passed by ([\d.]+) Δ\.`), func(v *sim.View) bool {
		h := &v.Holding.Value
		return v.Holding.OK && (h.Why == sim.WhyConverge || h.Why == sim.WhyDiverge) && (h.Judged > h.BaseOutBreak || h.Judged < -h.BaseInBreak)
	}, func(v *sim.View, part []string) bool {
		h := &v.Holding.Value
		by := map[string]sim.Prism{"out": h.Judged - h.BaseOutBreak, "in": -h.Judged - h.BaseInBreak}[part[1]]
		return by >= 0 && readsAs(float64(by), part[2])
	}},
	{regexp.MustCompile(`Broken before, not yet recovered: ([\d.]+) Δ past the base-(out|in) recovery\.`), func(v *sim.View) bool {
		h := &v.Holding.Value
		return v.Holding.OK && (h.Why == sim.WhyConverge || h.Why == sim.WhyDiverge) && h.Judged <= h.BaseOutBreak && h.Judged >= -h.BaseInBreak
	}, func(v *sim.View, part []string) bool {
		h := &v.Holding.Value
		by := map[string]sim.Prism{"out": h.Judged - h.BaseOutRecovery, "in": -h.Judged - h.BaseInRecovery}[part[2]]
		return by >= 0 && readsAs(float64(by), part[1])
	}},
	{regexp.MustCompile(`Broken: vertical break passed`), func(v *sim.View) bool { return v.Holding.OK && v.Holding.Value.Why == sim.WhyVertical }, nil},
	{regexp.MustCompile(`Fusion broken by the cover`), func(v *sim.View) bool { return v.Holding.OK && v.Holding.Value.Why == sim.WhyCovered }, nil},
	{regexp.MustCompile(`Fusion broken by suppression`), func(v *sim.View) bool { return v.Holding.OK && v.Holding.Value.Why == sim.WhySuppressed }, nil},
	{regexp.MustCompile(`Δ/D, calculated, standing in`), func(v *sim.View) bool { return v.Holding.OK && v.Holding.Value.ACAStandsIn }, nil},
	{regexp.MustCompile(`Sheard: far ` + relief + `, near ` + relief + `\.`), ofFindings,
		func(v *sim.View, part []string) bool {
			f := &v.Now.Findings.Value
			return relieves(f.Far.Sheard(f.FarPhoria), part[1:3]) && relieves(f.Near.Sheard(f.NearPhoria), part[3:5])
		}},
	{regexp.MustCompile(`Percival: far ` + relief + `, near ` + relief + `\.`), ofFindings,
		func(v *sim.View, part []string) bool {
			f := &v.Now.Findings.Value
			return relieves(f.Far.Percival(), part[1:3]) && relieves(f.Near.Percival(), part[3:5])
		}},
	{regexp.MustCompile(`1:1 rule:( far ` + relief + `)?,?( near ` + relief + `)?\.`), func(v *sim.View) bool {
		f := &v.Now.Findings.Value
		return v.Holding.OK && (f.FarPhoria > 0 || f.NearPhoria > 0)
	}, func(v *sim.View, part []string) bool { // a rule for eso alone
		f := &v.Now.Findings.Value
		is := func(phoria sim.Prism, of *sim.Reserves, part []string) bool {
			r := of.OneToOne(phoria)
			return r.OK == (part[0] != "") && (!r.OK || relieves(r.Value, part[1:3]))
		}
		return is(f.FarPhoria, &f.Far, part[1:4]) && is(f.NearPhoria, &f.Near, part[4:7])
	}},
	{regexp.MustCompile(`arithmetic, no verdict:`), func(v *sim.View) bool { return v.Holding.OK }, nil},
}

// A bead that is single only because it was so before is told as kept, past Panum's limit at
// where it is seen; any other single one is not.
func TestKeptSingleIsTold(t *testing.T) {
	w := english(t)
	told := map[bool]int{}
	everyMoment(func(v *sim.View) {
		horizontal, _, single := ofSingle(v)
		if !single || horizontal < 0.05 {
			return
		}
		right, left := v.Sight(sim.RightEye, v.Target.At).At, v.Sight(sim.LeftEye, v.Target.At).At
		ecc := math.Atan(math.Hypot((right.X+left.X)/2, (right.Y+left.Y)/2)) * 180 * 60 / math.Pi
		kept := horizontal > float64(v.Now.Patient.FusionH)+v.Now.Patient.FusionHSlope*ecc
		told[kept]++
		assert.Equal(t, kept, strings.Contains(w.Clinician(v), "kept single"), "%v′ of %+v", horizontal, v.Account)
	})
	assert.Positive(t, told[true])
	assert.Positive(t, told[false])
}

// What the clinical caption says is so, and what is due is said, for very many
// set-ups: sides, signs, eyes and numbers above all.
func TestClinicianSaysWhatIsSo(t *testing.T) {
	w := english(t)
	heard := make([]int, len(clinical))
	check := func(v *sim.View, what string) {
		said := w.Clinician(v)
		for i, c := range clinical {
			part := c.says.FindStringSubmatch(said)
			require.Equal(t, c.due(v), part != nil, "%s: %s: %q of %+v", what, c.says, said, v.Account)
			if part != nil {
				heard[i]++
				require.True(t, c.holds == nil || c.holds(v, part), "%s: %q in %q of %+v, %+v, %+v", what, part[0], said, v.Account, v.Now.Posture, v.Holding.Value)
			}
		}
	}
	for seed := range uint64(drawn) {
		s := draw(seed)
		if s.Validate() != nil {
			continue
		}
		if s.Findings.OK && seed%2 == 0 {
			s.Findings.Value.State = sim.StateBroken
		}
		var v sim.View
		course := sim.NewCourse(&s)
		for _, at := range []float64{0, 0.1, 0.3} {
			course.Look(&v, at)
			check(&v, "seed "+strconv.FormatUint(seed, 10)+" at "+strconv.FormatFloat(at, 'g', -1, 64)+" s")
			if !s.Look.From.OK {
				break // nothing moves
			}
		}
	}
	for i, c := range clinical {
		assert.Positive(t, heard[i], "never said: %s", c.says)
	}
}
