package words

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"twincord/sim"
	"twincord/sim/answers"
)

// Each family of set-ups reads as what it is, with the stretches in which it gives the
// answers; one that gives them with every deviation tried says so.
func TestExplanationsRead(t *testing.T) {
	w := english(t)
	deviation := func(from, to float64) answers.Range {
		return answers.Range{Key: "posture.deviation_prism", From: from, To: to}
	}
	vertical := answers.Range{Key: "posture.vertical_prism", From: 1, To: 2}
	every := deviation(-answers.MostDeviation, answers.MostDeviation)
	some := deviation(-answers.MostDeviation, answers.MostDeviation-0.1)
	part := func(zone sim.Zone, centre sim.Centre) answers.Family {
		return answers.Family{Kind: answers.LeftOutPart, Eye: sim.Left, Zone: zone, Centre: centre, Radius: 2}
	}
	for _, c := range []struct {
		family answers.Family
		ranges []answers.Range
		want   string
	}{
		{answers.Family{Kind: answers.OnBead}, nil, "Both eyes are aimed at the bead."},
		{answers.Family{Kind: answers.AnotherSpot}, []answers.Range{{Key: "look.at_mm", From: 300, To: 380}},
			"The eyes are on another place, without any error: 30 cm to 38 cm from the nose."},
		{answers.Family{Kind: answers.Eso}, []answers.Range{deviation(2.65, 5.86)}, "The eyes meet too near: 2.7 to 5.9 Δ eso."},
		{answers.Family{Kind: answers.Eso}, []answers.Range{deviation(1, 2), deviation(3, 4)}, "The eyes meet too near: 1 to 2 Δ eso, or 3 to 4 Δ eso."},
		{answers.Family{Kind: answers.Exo}, []answers.Range{deviation(-2, -1), deviation(-4, -3), deviation(-6, -5), deviation(-8, -7)},
			"The eyes meet too far away: 1 to 2 Δ exo, 3 to 4 Δ exo, 5 to 6 Δ exo, or 7 to 8 Δ exo."},
		{answers.Family{Kind: answers.LeftOut, Eye: sim.Right}, []answers.Range{every}, "The right eye's picture is left out, whatever the deviation."},
		{answers.Family{Kind: answers.LeftOut, Eye: sim.Left}, []answers.Range{some}, "The left eye's picture is left out: 40 Δ exo to 40 Δ eso."},
		{part(sim.ZoneAll, ""), []answers.Range{every}, "The left eye's picture is fainter: 40 Δ exo to 40 Δ eso."},
		{part(sim.ZoneNearer, ""), []answers.Range{deviation(0, 3)}, "The left eye's picture is left out in front of the bead: up to 3 Δ eso."},
		{part(sim.ZoneCentral, sim.CentreTarget), []answers.Range{deviation(-3, 3)}, "The left eye's picture is left out within 2° of the bead: 3 Δ exo to 3 Δ eso."},
		{part(sim.ZoneCentral, sim.CentreFovea), []answers.Range{deviation(-3, 3)},
			"The middle of the left eye's picture, 2° round the fovea, is left out: 3 Δ exo to 3 Δ eso."},
		{answers.Family{Kind: answers.Vertical}, []answers.Range{vertical, deviation(1, 2)},
			"One eye points higher: 1 to 2 Δ of right hyperdeviation, together with 1 to 2 Δ eso."},
		{answers.Family{Kind: answers.Vertical}, []answers.Range{vertical, every},
			"One eye points higher: 1 to 2 Δ of right hyperdeviation, whatever the horizontal deviation."},
		{answers.Family{Kind: answers.Vertical}, []answers.Range{{Key: "posture.vertical_prism", From: -50, To: 50}, deviation(1, 2)},
			"One eye points higher: 50 Δ of left hyperdeviation to 50 Δ of right hyperdeviation, together with 1 to 2 Δ eso."},
		{answers.Family{Kind: answers.Torsion}, []answers.Range{{Key: "posture.cyclo_deg", From: 3, To: 5}}, "The eyes are tilted about their axes: 3 to 5° excyclo."},
		{answers.Family{Kind: answers.Strings, Held: answers.HeldSlack}, nil, "The string hangs slack."},
		{answers.Family{Kind: answers.Anomaly, Eye: sim.Right}, []answers.Range{deviation(10, 20)},
			"The left eye is turned, the right one fixes, and the pictures are matched to that (harmonious anomaly): 10 to 20 Δ eso."},
	} {
		assert.Equal(t, c.want, w.Explanation(&answers.Match{Family: c.family, Ranges: c.ranges}))
	}

	bare := answers.Match{Family: answers.Family{Kind: answers.OnBead}, Example: sim.Default()}
	assert.Equal(t, "Both eyes are aimed at the place asked for.", w.Explanation(&bare))
	out := answers.Match{Family: answers.Family{Kind: answers.LeftOut, Eye: sim.Left}, Ranges: []answers.Range{every}}
	assert.Equal(t, "One eye's picture, the right or the left, is left out, whatever the deviation.", w.ExplanationEither(&out))
}

// An answer is told by what was asked: "nearer" of a crossing is in front, of beads it is
// those beads; a place that was pointed at is told as far as it is sure.
func TestAnswersAreToldByWhatWasAsked(t *testing.T) {
	w := english(t)
	assert.Equal(t, "in front", w.Answer(answers.Meet, answers.Nearer))
	assert.Equal(t, "the nearer ones", w.Answer(answers.Wider, answers.Nearer))
	assert.Equal(t, "farther", w.Answer(answers.Wider, answers.Farther))

	a := answers.Answers{Place: sim.Some(answers.Place{At: 340, Within: 40})}
	a.Code[answers.Bead] = answers.One
	assert.Equal(t, "These two answers do not go together: “How many beads are there, where you look?” one; “Point to where they cross.” 30 cm to 38 cm.",
		w.AnswersConflict(&a, [2]answers.Item{answers.Bead, answers.MeetAt}))
	assert.Equal(t, "Ask next: Is it clear?", w.AnswersNext(sim.Some(answers.Clear)))
	assert.Equal(t, "None of the other questions would tell more.", w.AnswersNext(sim.Maybe[answers.Item]{}))
}

// Bands read from one end to the other, as a row and as a sentence; on a bare string
// nothing is told of a bead, and only the trade's letters stand for a pattern.
func TestBandsRead(t *testing.T) {
	w := english(t)
	b := answers.Band{From: -3, To: 0.02, Bead: answers.One, Near: answers.Double, Far: answers.Single, Meet: answers.At, Pattern: sim.PatternY}
	require.Equal(t, []string{"3 Δ exo to 0 Δ", "one", "two", "one", "in it", "Y"}, w.Band(&b))
	assert.Equal(t, "3 Δ exo to 0 Δ. Beads: one. Strings in front: two, behind: one. Crossing: in it.", w.BandSaid(&b))
	b.Bead, b.Pattern = answers.Open, sim.PatternTwo
	assert.Equal(t, []string{"3 Δ exo to 0 Δ", "–", "two", "one", "in it", "–"}, w.Band(&b))
	assert.Equal(t, "3 Δ exo to 0 Δ. Strings in front: two, behind: one. Crossing: in it.", w.BandSaid(&b))

	// What lies at the bounds goes on, what ends just before them does not.
	b.From, b.To = 5, answers.MostBand
	assert.Contains(t, w.BandSaid(&b), "at least 5 Δ eso.")
	b.To = answers.MostBand - 0.1
	assert.Contains(t, w.BandSaid(&b), "5 to 30 Δ eso.")
	b.From, b.To = -answers.MostBand, -5
	assert.Contains(t, w.BandSaid(&b), "at least 5 Δ exo.")
}
