package cases

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
)

// Count is how many cases there were, their points together, and how many were missed.
type Count struct {
	Cases  int     `json:"cases"`
	Points float64 `json:"points"`
	Missed int     `json:"missed"`
}

// Counts are counts by kind and level: all that is ever kept of what somebody answered.
type Counts struct {
	by map[Kind]*[Levels]Count
}

// Add counts a case.
func (c *Counts) Add(k Kind, level int, j *Judged) {
	n := c.at(k, level)
	n.Cases++
	n.Points += j.Points
	if j.Missed() {
		n.Missed++
	}
}

// at is the count of a kind at a level, to be changed.
func (c *Counts) at(k Kind, level int) *Count {
	if c.by == nil {
		c.by = map[Kind]*[Levels]Count{}
	}
	if c.by[k] == nil {
		c.by[k] = new([Levels]Count)
	}
	return &c.by[k][level-1]
}

// Merge adds other counts.
func (c *Counts) Merge(o *Counts) {
	for _, k := range Kinds() {
		for level := 1; level <= Levels; level++ {
			if more := o.Of(k, level); more.Cases > 0 {
				n := c.at(k, level)
				n.Cases, n.Points, n.Missed = n.Cases+more.Cases, n.Points+more.Points, n.Missed+more.Missed
			}
		}
	}
}

// Of gives the count of a kind at a level.
func (c *Counts) Of(k Kind, level int) Count {
	if n := c.by[k]; n != nil && level >= 1 && level <= Levels {
		return n[level-1]
	}
	return Count{}
}

// Met is how many cases there were.
func (c *Counts) Met() (n int) {
	for _, levels := range c.by {
		for _, l := range levels {
			n += l.Cases
		}
	}
	return n
}

// Weakest is the kind and level with the smallest share of the points, of those that
// were met: what to practise next.
func (c *Counts) Weakest() (k Kind, level int, ok bool) {
	least := 2.
	for _, kind := range Kinds() {
		for l := 1; l <= Levels; l++ {
			if n := c.Of(kind, l); n.Cases > 0 && n.Points/float64(n.Cases) < least {
				least, k, level, ok = n.Points/float64(n.Cases), kind, l, true
			}
		}
	}
	return k, level, ok
}

// kept is how counts are written.
type kept struct {
	Format int                    `json:"format"`
	Counts map[Kind][Levels]Count `json:"counts"`
}

// format is the number of the form in which counts are kept.
const format = 1

// MarshalJSON writes the counts, kinds in the order of their names.
func (c Counts) MarshalJSON() ([]byte, error) {
	k := kept{format, map[Kind][Levels]Count{}}
	for kind, n := range c.by {
		k.Counts[kind] = *n
	}
	return json.Marshal(k)
}

// UnmarshalJSON reads counts that were written. What no counting makes is refused.
func (c *Counts) UnmarshalJSON(data []byte) error {
	var k kept
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&k); err != nil {
		return err
	}
	if k.Format != format {
		return fmt.Errorf("format %d; allowed is %d", k.Format, format)
	}
	read := Counts{by: map[Kind]*[Levels]Count{}}
	for kind, levels := range k.Counts {
		if !slices.Contains(Kinds(), kind) {
			return fmt.Errorf("%q is no kind of case", kind)
		}
		for _, n := range levels {
			if n.Cases < 0 || n.Missed < 0 || n.Missed > n.Cases || !(n.Points >= 0 && n.Points <= float64(n.Cases)+1e-9) {
				return fmt.Errorf("%s: %d cases with %v points, %d missed: no counts", kind, n.Cases, n.Points, n.Missed)
			}
		}
		read.by[kind] = &levels
	}
	*c = read
	return nil
}

// AddTo is what is to be kept when these counts come to those that are: nil where none
// are yet.
func (c *Counts) AddTo(kept []byte) ([]byte, error) {
	var all Counts
	if len(kept) > 0 {
		if err := json.Unmarshal(kept, &all); err != nil {
			return nil, err
		}
	}
	all.Merge(c)
	data, err := json.MarshalIndent(all, "", "\t")
	return append(data, '\n'), err
}
