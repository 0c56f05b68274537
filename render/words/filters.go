package words

import "twincord/sim"

// before is the filter through which an eye has a picture: none before an eye that
// is covered or whose whole picture is left out.
func before(v *sim.View, eye sim.Side) sim.Filter {
	if a := &v.Account; a.Missing == eye && a.MissingWhere == sim.WhereAll {
		return sim.FilterNone
	}
	return v.Now.Glass(eye).Filter
}

// filterID names what colours the eyes see in, "" where there are no filters.
func filterID(v *sim.View) string {
	right, left := before(v, sim.Right), before(v, sim.Left)
	if right == sim.FilterNone && left == sim.FilterNone {
		return ""
	}
	return "filter-" + string(right) + "-" + string(left)
}

// blackTo is the eyes that have a bead, black through their filters.
func blackTo(v *sim.View, b *sim.BeadView) sim.Side {
	right := (b.Black == sim.Right || b.Black == sim.Both) && before(v, sim.Right) != sim.FilterNone
	left := (b.Black == sim.Left || b.Black == sim.Both) && before(v, sim.Left) != sim.FilterNone
	switch {
	case right && left:
		return sim.Both
	case right:
		return sim.Right
	case left:
		return sim.Left
	}
	return sim.Neither
}

// blackID names which bead goes black through a filter, or that several do; "" where
// none does.
func blackID(v *sim.View) (id, bead string) {
	n := 0
	for _, b := range v.Beads {
		if eye := blackTo(v, &b); eye != sim.Neither {
			id, bead = "filter-black-"+string(eye), b.Name
			n++
		}
	}
	if n > 1 {
		return "filter-black-several", ""
	}
	return id, bead
}

// lustrous says whether the eyes have the bead looked at in two colours, so that it
// shimmers where it is single.
func lustrous(v *sim.View) bool {
	n := v.Now.FixatedBead()
	if n == sim.NoBead || v.Beads[n].Black == sim.Both {
		return false
	}
	colour := v.Now.Beads[n].Colour
	return v.Now.Right.Filter.Through(colour) != v.Now.Left.Filter.Through(colour)
}

// clinicFilters says what filters stand before the eyes, and which beads go black.
func (w *Words) clinicFilters(v *sim.View, add adder) {
	for _, eye := range []sim.Side{sim.Right, sim.Left} {
		if f := v.Now.Glass(eye).Filter; f != sim.FilterNone {
			add("clinic-filter-"+string(eye)+"-"+string(f), nil)
		}
	}
	if v.Account.Fixated == sim.SeenOne && lustrous(v) {
		add("clinic-lustre", nil)
	}
	for _, b := range v.Beads {
		if b.Black != sim.Neither {
			add("clinic-black-"+string(b.Black), with{"Bead": w.theBead(b.Name)})
		}
	}
}
