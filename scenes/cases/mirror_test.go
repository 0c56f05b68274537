package cases

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/sim"
	"twincord/sim/answers"
)

// other is the eye, or the side, on the other side of a mirror.
func other(s string) string {
	return map[string]string{Right: Left, Left: Right}[s]
}

// mirroredItem is what is asked of the other eye.
func mirroredItem(i answers.Item) answers.Item {
	switch i {
	case answers.RightCoverString:
		return answers.LeftCoverString
	case answers.LeftCoverString:
		return answers.RightCoverString
	case answers.RightCoverBead:
		return answers.LeftCoverBead
	case answers.LeftCoverBead:
		return answers.RightCoverBead
	}
	return i
}

// mirrored is a case as it is for a patient with right and left swapped.
func mirrored(c *Case) *Case {
	m := *c
	for _, s := range []*sim.Setup{&m.hidden, &m.scene} {
		if eye := other(string(s.Suppression.Eye)); eye != "" {
			s.Suppression.Eye = sim.Side(eye)
		}
		s.Right, s.Left = s.Left, s.Right
	}
	m.Given.Answers.Code = answers.Answers{}.Code
	for _, i := range answers.Items() {
		code := c.Given.Answers.Code[i]
		switch code {
		case answers.Left:
			code = answers.Right
		case answers.Right:
			code = answers.Left
		}
		m.Given.Answers.Code[mirroredItem(i)] = code
	}
	return &m
}

// mirroredCode is a code of an item for that patient.
func mirroredCode(i Item, code string) string {
	switch i {
	case Missing, Fixing:
		if eye := other(code); eye != "" {
			return eye
		}
	case Ask, Fits:
		var all []string
		for part := range strings.SplitSeq(code, "+") {
			if item, err := answers.ParseItem(part); err == nil {
				part = mirroredItem(item).String()
			}
			all = append(all, part)
		}
		if len(all) == 2 {
			a, _ := answers.ParseItem(all[0])
			b, _ := answers.ParseItem(all[1])
			return PairCode(a, b)
		}
		return all[0]
	}
	return code
}

// What is right for a patient with right and left swapped is the same with right and left
// swapped: crossed stays crossed, the right one of two uncrossed beads the right eye's.
func TestCasesInTheMirror(t *testing.T) {
	swapped := 0
	sampled(t, func(t *testing.T, d *drawing) {
		m := mirrored(d.Case)
		got := m.Key(d.bench)
		for n, e := range d.key {
			want := []string{}
			for _, code := range e.Codes {
				want = append(want, mirroredCode(e.Item, code))
				if want[len(want)-1] != code {
					swapped++
				}
			}
			assert.ElementsMatch(t, want, append([]string{}, got[n].Codes...), "%s", e.Item)
			assert.Len(t, got[n].Spans, len(e.Spans))
			slices.SortFunc(e.Spans, func(a, b Span) int { return sign(a.From - b.From) })
			slices.SortFunc(got[n].Spans, func(a, b Span) int { return sign(a.From - b.From) })
			for i, s := range e.Spans {
				assert.InDelta(t, s.From, got[n].Spans[i].From, onBead, "%s", e.Item)
				assert.InDelta(t, s.To, got[n].Spans[i].To, onBead, "%s", e.Item)
			}
		}
	})
	assert.NotZero(t, swapped)
}

func sign(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}
