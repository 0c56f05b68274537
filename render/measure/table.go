package measure

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"twincord/sim"
)

// absent stands in the table for what does not exist.
const absent = "–"

// table gathers lines: headings, and rows of a label, a value and a unit.
type table struct{ lines *[]line }

// line is a heading where value is empty.
type line struct{ label, value, unit string }

func (t table) heading(s string) { *t.lines = append(*t.lines, line{label: s}) }

func (t table) row(label, value, unit string) {
	if value == absent {
		unit = ""
	}
	*t.lines = append(*t.lines, line{label, value, unit})
}

// write aligns the values under each other and puts the units behind them.
func (t table) write(w io.Writer) error {
	wide := 0
	for _, l := range *t.lines {
		if l.value != "" {
			wide = max(wide, utf8.RuneCountInString(l.label))
		}
	}
	for _, l := range *t.lines {
		s := l.label
		if l.value != "" {
			s = "  " + l.label + strings.Repeat(" ", wide-utf8.RuneCountInString(l.label)) + "  " + l.value
		}
		if l.unit != "" {
			s += " " + l.unit
		}
		if _, err := fmt.Fprintln(w, s); err != nil {
			return err
		}
	}
	return nil
}

func (t table) num(label string, x float64, decimals int, unit string) {
	t.row(label, fixed(x, decimals), unit)
}

func (t table) maybe(label string, n *number, decimals int, unit string) {
	if n == nil {
		t.row(label, absent, "")
		return
	}
	t.num(label, float64(*n), decimals, unit)
}

func (t table) code(label string, s *string) {
	if s == nil {
		t.row(label, absent, "")
		return
	}
	t.row(label, *s, "")
}

// fixed writes a number with so many decimals and no sign before zero.
func fixed(x float64, decimals int) string {
	s := fmt.Sprintf("%.*f", decimals, x)
	if zero := fmt.Sprintf("-%.*f", decimals, 0.); s == zero {
		return s[1:]
	}
	return s
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// Table writes the same as JSON, an entry after the other: what is seen in words, then the
// numbers, rounded, aligned and with their units.
func Table(w io.Writer, entries []Entry) error {
	for i := range entries {
		if i > 0 {
			if _, err := fmt.Fprintln(w); err != nil {
				return err
			}
		}
		e := &entries[i]
		o := newObject(e)
		t := table{new([]line)}
		o.table(t)
		if err := t.write(w); err != nil {
			return err
		}
	}
	return nil
}

func (o *object) table(t table) {
	t.heading(title(o.Scene.File, o.Scene.Title))
	t.heading(o.Sentence)
	for _, said := range o.clinical {
		t.heading(said)
	}
	t.heading("")
	if o.Time != 0 {
		t.num("time", float64(o.Time), 3, "s")
	}
	t.heading("target")
	t.num("at, from the nose", float64(o.Target.At), 1, "mm")
	t.num("from the eyes", float64(o.Target.FromEyes), 1, "mm")
	t.num("demand", float64(o.Target.DemandPrism), 2, "Δ")
	t.num("demand, as one angle", float64(o.Target.Demand), 3, "°")
	t.num("metre angles", float64(o.Target.MetreAngles), 3, "")
	t.num("required through the prisms", float64(o.Target.Required), 3, "°")
	t.num("accommodation demand", float64(o.Target.Accommodation), 2, "D")
	o.Posture.table(t)
	if o.Findings != nil {
		o.Findings.table(t)
	}
	for _, e := range []struct {
		name string
		g    *gaze
	}{{"right eye", &o.Eyes.Right}, {"left eye", &o.Eyes.Left}} {
		t.heading(e.name)
		t.num("azimuth, right +", float64(e.g.Azimuth), 3, "°")
		t.num("elevation, up +", float64(e.g.Elevation), 3, "°")
		t.num("torsion, excyclo +", float64(e.g.Torsion), 3, "°")
	}
	t.heading("visual axes")
	t.maybe("gap", o.Axes.Gap, 2, "mm")
	t.row("closest approach", triple(o.Axes.Point), "mm")
	t.heading("crossing")
	t.maybe("at, from the nose", o.Crossing.At, 1, "mm")
	t.maybe("offset, beyond +", o.Crossing.Offset, 1, "mm")
	t.maybe("right eye's strand there", o.Crossing.RightAt, 1, "mm")
	t.maybe("left eye's strand there", o.Crossing.LeftAt, 1, "mm")
	t.row("in the picture", pair(o.Crossing.Picture), "")
	t.row("seen", yes(o.Crossing.Seen), "")
	for i := range o.Beads {
		o.Beads[i].table(t)
	}
	t.heading("strings")
	t.row("in front, behind", fmt.Sprintf("%d, %d", o.Strings.Near, o.Strings.Far), "")
	t.row("on one line, in front, behind", yes(o.Strings.NearOver)+", "+yes(o.Strings.FarOver), "")
	t.row("pattern", string(o.Strings.Pattern), "")
	t.maybe("seen as one from", o.Strings.FusedFrom, 1, "mm")
	t.maybe("seen as one to", o.Strings.FusedTo, 1, "mm")
	t.maybe("disparity gradient", o.Strings.Gradient, 3, "")
	t.heading("account")
	t.code("asked for", o.Account.Asked)
	t.code("looked at", o.Account.LookedAt)
	t.code("fixated", o.Account.Fixated)
	t.row("strings meet", string(o.Account.Meet), "")
	t.code("crossing hidden by", o.Account.HiddenBy)
	t.maybe("images apart", o.Account.Apart, 3, "°")
	t.row("higher image", string(o.Account.Higher), "")
	missing := string(o.Account.Missing)
	if o.Account.Missing != sim.Neither && o.Account.MissingWhere != nil {
		missing += ", " + *o.Account.MissingWhere
	}
	t.row("missing image", missing, "")
	t.row("gap in the string", string(o.Account.Gap), "")
	fixes := string(o.Account.Fixes)
	if o.Account.TookUp {
		fixes += ", which took up fixation"
	}
	t.row("fixes", fixes, "")
	t.row("fainter image", string(o.Account.Fainter), "")
	clarity := o.Account.Clarity
	if clarity != nil && o.Account.Uneven {
		uneven := *clarity + ", uneven"
		clarity = &uneven
	}
	t.code("clarity", clarity)
	t.row("needs care", yes(o.Account.NeedsCare), "")
	t.row("eyes", string(o.Account.Eyes), "")
	t.row("fuses", yes(o.Account.Fuses), "")
}

func (b *bead) table(t table) {
	t.heading("bead " + b.Name)
	t.row("seen", string(b.Seen), "")
	t.row("diplopia", string(b.Diplopia), "")
	t.num("at, from the nose", float64(b.At), 1, "mm")
	t.num("from the eyes", float64(b.FromEyes), 1, "mm")
	t.maybe("disparity, crossed +", b.DisparityH, 2, "arcmin")
	t.maybe("disparity, right higher +", b.DisparityV, 2, "arcmin")
	t.maybe("limit, horizontal", b.LimitH, 2, "arcmin")
	t.maybe("limit, vertical", b.LimitV, 2, "arcmin")
	t.maybe("images apart", b.Separation, 3, "°")
	t.maybe("overlap", b.Overlap, 3, "")
	t.row("right eye's image", b.Right.text(), "")
	t.row("left eye's image", b.Left.text(), "")
	t.num("blur", float64(b.Blur), 2, "arcmin")
	if b.Black != sim.Neither {
		t.row("black through the filter", string(b.Black), "")
	}
}

func (p *xy) text() string {
	if p == nil {
		return absent
	}
	return pair(&[2]number{p.X, p.Y})
}

func pair(p *[2]number) string {
	if p == nil {
		return absent
	}
	return fixed(float64(p[0]), 5) + ", " + fixed(float64(p[1]), 5)
}

func triple(p *[3]number) string {
	if p == nil {
		return absent
	}
	return fixed(float64(p[0]), 1) + ", " + fixed(float64(p[1]), 1) + ", " + fixed(float64(p[2]), 1)
}
