package sim

import "math"

// What is seen, as codes: the Account of a view.

// The bounds of the account's codes, all modelling choices.
const (
	OnTarget    = 0.25 // error of posture that counts as none, Δ
	BareRadius  = 10   // how far off a bare place the crossing may lie and be in it, mm
	DoubledEdge = 0.75 // overlap of a bead's images above which two look like one with a doubled edge (M8)
)

func (k *lookState) account(s *Setup, v *View, bead int) Account {
	a := Account{
		Near: v.Strings.Near, Far: v.Strings.Far, Pattern: v.Strings.Pattern,
		Higher: Neither, Missing: Neither,
	}
	if bead != NoBead {
		a.LookedAt = s.Beads[bead].Name
		a.Asked = a.LookedAt
		a.Fixated = v.Beads[bead].Seen
		a.Fuses = a.Fixated == SeenOne
	}
	if s.Look.Asked != NoBead {
		a.Asked = s.Beads[s.Look.Asked].Name
	}
	a.Meet = k.meet(&v.Crossing)
	if a.Meet.OnString() {
		if hider := k.hider(s, &v.Crossing, a.Meet); hider != NoBead {
			a.HiddenBy = s.Beads[hider].Name
		}
	}

	images, has, seen := k.sights(v.Target.Point, k.fixated)
	if has[RightEye] && has[LeftEye] {
		d := k.before.widen(s.memoryOf(bead), k.fusion.compare(&images[RightEye], &images[LeftEye]))
		a.Apart = Some(d.Separation)
		how := seenAs(seen, d.Single())
		if bead == NoBead {
			a.Fuses = how == SeenOne
		}
		if how == SeenTwo && abs(d.V) > d.LimitV {
			a.Higher = Left
			if d.V > 0 {
				a.Higher = Right
			}
		}
	}
	a.Gap = k.gap(has, seen)
	a.Missing, a.MissingWhere = s.missing()
	a.Fainter = s.fainter()
	a.Fixes = s.Posture.Fixing
	a.Clarity, a.Uneven = k.clarity(v.Target.Point, seen)
	a.Eyes = aim(s.Posture.Deviation, v.Axes.Gap.OK)
	return a
}

// gap is the eye whose string has a gap at the fixated place: not seen there, though
// in the field, but long enough nearer and beyond, while the other eye sees the place.
func (k *lookState) gap(has, seen [2]bool) Side {
	for i := range Eyes {
		if !has[i] || seen[i] || !seen[1-i] {
			continue
		}
		near, far := k.sections(k.fixated)
		if k.run(near, what(i)) && k.run(far, what(i)) {
			return i.Side()
		}
	}
	return Neither
}

func (k *lookState) meet(c *Crossing) Meet {
	at := float64(BareRadius)
	if k.hasBead {
		at = k.beadRadius
	}
	switch {
	case !c.At.OK:
		return MeetNowhere
	case !c.Seen:
		return MeetUnseen
	}
	if off := k.offTheString(c); off != "" {
		return off
	}
	switch {
	case math.Abs(c.Offset.Value) <= at:
		return MeetAt
	case c.Offset.Value < 0:
		return MeetNearer
	}
	return MeetBeyond
}

func aim(deviation Prism, meet bool) Aim {
	if !meet {
		return AimApart
	}
	return deviation.Aim()
}

// missing says which eye's image is left out, and where, from the set-up of a moment
// alone; a cover wins.
func (s *Setup) missing() (Side, Where) {
	if s.Cover == Right || s.Cover == Left {
		return s.Cover, WhereAll
	}
	if e := s.Suppression.Eye; (e == Right || e == Left) && s.Suppression.Depth > seenUpTo {
		return e, s.Suppression.Zone.where()
	}
	return Neither, WhereNot
}

// fainter is the eye whose image is left out in part only, from the set-up of a
// moment alone.
func (s *Setup) fainter() Side {
	e, depth := s.Suppression.Eye, s.Suppression.Depth
	if (e == Right || e == Left) && e != s.Cover && depth > fainterFrom && depth <= seenUpTo {
		return e
	}
	return Neither
}

// where is the part of an image that a zone takes.
func (z Zone) where() Where {
	switch z {
	case ZoneCentral:
		return WhereCentre
	case ZoneNasal:
		return WhereNasal
	case ZoneTemporal:
		return WhereTemporal
	case ZoneNearer:
		return WhereNearer
	case ZoneBeyond:
		return WhereBeyond
	}
	return WhereAll
}
