package scenes

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"twincord/sim"
)

// Parse reads a scene. file is what the faults call it. The error, if any, is
// Faults: everything wrong with the scene, or its first fault of syntax alone.
func Parse(file string, data []byte) (*Scene, error) {
	data, unreadable := textOf(data)
	if unreadable != nil {
		return nil, place(file, data, []found{*unreadable})
	}
	l := loader{tree: grow(data), good: map[string]*node{}, bad: map[string]bool{}}
	if l.root != nil {
		l.load()
	}
	if len(l.found) > 0 {
		return nil, place(file, data, l.found)
	}
	l.scene.Head = head(data)
	return l.scene, nil
}

// textOf takes the byte order mark off and says why data is no text that could
// be a scene.
func textOf(data []byte) ([]byte, *found) {
	if len(data) > MaxSize {
		return nil, &found{problem: "larger than 1 MiB; allowed is a scene file of at most 1 MiB"}
	}
	if utf16(data) {
		return nil, &found{problem: "is UTF-16; allowed is UTF-8"}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	if bytes.IndexByte(data, 0) >= 0 {
		return nil, &found{problem: "is a binary file; allowed is text in UTF-8"}
	}
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return data, &found{at: i, problem: fmt.Sprintf("the byte 0x%02X is not UTF-8; allowed is text in UTF-8", data[i])}
		}
		i += n
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return nil, &found{problem: "the file is empty; allowed is a scene, beginning with format = 1"}
	}
	return data, nil
}

// utf16 tells UTF-16 by its byte order mark, or without one by the zero byte
// beside the first character.
func utf16(data []byte) bool {
	if len(data) < 2 {
		return false
	}
	a, b := data[0], data[1]
	return a == 0xFF && b == 0xFE || a == 0xFE && b == 0xFF ||
		a == 0 && b != 0 && b < utf8.RuneSelf || b == 0 && a != 0 && a < utf8.RuneSelf
}

// head gives the comments before the first key.
func head(data []byte) []string {
	var lines []string
	for line := range bytes.Lines(data) {
		line = bytes.TrimSpace(line)
		if len(line) > 0 && line[0] != '#' {
			break
		}
		if len(line) > 0 || len(lines) > 0 {
			lines = append(lines, string(line))
		}
	}
	for len(lines) > 0 && lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	return lines
}

// loader turns the tree into a scene.
type loader struct {
	*tree
	scene *Scene
	good  map[string]*node // the values that were taken, by key
	bad   map[string]bool  // the keys of those that were not
}

func (l *loader) load() {
	l.scene = &Scene{Setup: sim.Default()}
	if l.root.children[findings] != nil {
		l.scene.Setup.Findings = sim.Some(sim.DefaultFindings())
	}
	if l.root.children[routine] != nil {
		l.scene.Routine = sim.Some(DefaultRoutine)
	}
	o := owner{Scene: l.scene}
	l.keys(l.root, "", o)
	for _, name := range tables {
		n, ok := l.root.children[name]
		switch {
		case name == beads:
			l.beads()
		case !ok: // as if it were empty, at the top of the file
			l.keys(newTable(name, 0, 0, onTheWay), name, o)
		case n.kind != isTable:
			l.refuse(n, name, fmt.Sprintf("is %v; allowed is a table, [%s]", n.kind, name))
		default:
			l.keys(n, name, o)
		}
	}
	l.look()
	l.findings()
	l.contradictions()
	l.routine()
}

// refuse reports a value.
func (l *loader) refuse(n *node, path, problem string) {
	l.bad[path] = true
	l.fault(n.at, path, problem)
}

// keys reads the keys of a table.
func (l *loader) keys(n *node, table string, o owner) {
	l.unknown(n, table)
	for i := range keys {
		k := &keys[i]
		if k.Table != table {
			continue
		}
		path := dotted(n.path, k.Name)
		if v, ok := n.children[k.Name]; ok {
			l.value(v, k, path, o)
		} else if k.Required {
			l.bad[path] = true
			l.fault(n.at, path, "is missing; required is "+k.allowed())
		}
	}
}

// beads reads the tables of the beads.
func (l *loader) beads() {
	n, ok := l.root.children["beads"]
	if !ok {
		return
	}
	if n.kind != isArray {
		l.refuse(n, "beads", fmt.Sprintf("is %v; allowed is an array of tables, each [[beads]]", n.kind))
		return
	}
	items := n.items
	if len(items) > sim.MaxBeads {
		l.fault(items[sim.MaxBeads].at, itemPath("beads", sim.MaxBeads), fmt.Sprintf("is one of %d beads; allowed are at most %d", len(items), sim.MaxBeads))
		items = items[:sim.MaxBeads]
	}
	for range items {
		l.scene.Setup.Beads = append(l.scene.Setup.Beads, defaultBead)
	}
	for i, item := range items {
		if item.kind != isTable {
			l.refuse(item, itemPath("beads", i), fmt.Sprintf("is %v; allowed is a table, [[beads]]", item.kind))
			l.bad[beadKey(i, "name")], l.bad[beadKey(i, "at_mm")] = true, true
			continue
		}
		l.keys(item, beads, owner{l.scene, &l.scene.Setup.Beads[i]})
	}
}

// beadKey is what faults call a key of a bead.
func beadKey(i int, name string) string { return dotted(itemPath("beads", i), name) }

// value checks one value and puts it in its place.
func (l *loader) value(n *node, k *Key, path string, o owner) {
	length := lengths.Max
	if n := l.good["string.length_mm"]; n != nil {
		length = n.number
	}
	before := len(l.found)
	if v, ok := l.check(n, k, path, length); ok {
		k.set(o, v) // a bad one too, so that one fault does not bring about others
	}
	if len(l.found) > before {
		l.bad[path] = true
	} else {
		l.good[path] = n
	}
}

// check checks a value against what its key alone allows, on a string of that
// length, and gives it if it is of the key's kind.
func (l *loader) check(n *node, k *Key, path string, length float64) (v any, ok bool) {
	v, ok = k.plain(n)
	if !ok {
		l.refuse(n, path, fmt.Sprintf("is %v; allowed is %s", n.kind, k.allowed()))
		return nil, false
	}
	switch v := v.(type) {
	case float64:
		allowed := k.Ranges
		if k.along {
			allowed = []Range{{Min: k.Ranges[0].Min, Max: length}}
		}
		l.number(n, path, k, allowed)
	case [3]float64:
		for i, item := range n.items {
			l.number(item, itemPath(path, i), k, k.Ranges[i:i+1])
		}
	case string:
		l.text(n, path, k, v)
	}
	return v, true
}

// number checks a number of a key against the ranges that it may be in.
func (l *loader) number(n *node, path string, k *Key, allowed []Range) {
	in := within(allowed, k.Unit)
	switch {
	case n.kind != isNumber:
		l.refuse(n, path, fmt.Sprintf("is %v; allowed is a number, %s", n.kind, in))
	case math.IsNaN(n.number) || math.IsInf(n.number, 0):
		l.refuse(n, path, cut(n.text)+" is not finite; allowed is "+in)
	case k.Name == "format" && !allowed[0].Holds(n.number):
		l.refuse(n, path, cut(n.text)+" is not known here; allowed is "+in)
	case !slices.ContainsFunc(allowed, func(r Range) bool { return r.Holds(n.number) }):
		l.refuse(n, path, measured(cut(n.text), k.Unit)+" is out of range; allowed is "+in)
	case k.Whole && n.number != math.Trunc(n.number):
		l.refuse(n, path, measured(cut(n.text), k.Unit)+" is no whole number; allowed is "+k.allowed())
	}
}

// text checks a text against what its key allows.
func (l *loader) text(n *node, path string, k *Key, v string) {
	quoted := strconv.Quote(cut(v))
	switch k.Kind {
	case Text, Prose:
		if i := strings.IndexFunc(v, k.forbidden); i >= 0 {
			r, _ := utf8.DecodeRuneInString(v[i:])
			l.refuse(n, path, fmt.Sprintf("has the control character %U; allowed is %s", r, k.allowed()))
		}
		if length := float64(utf8.RuneCountInString(v)); k.Ranges != nil && !k.Ranges[0].Holds(length) {
			l.refuse(n, path, "has "+measured(decimals(length), "characters")+"; allowed is "+k.allowed())
		}
	case Choice:
		if !slices.Contains(k.Choices, v) {
			l.refuse(n, path, "is "+quoted+"; allowed is "+k.allowed())
		}
	case Colour:
		if _, ok := parseColour(v); !ok {
			l.refuse(n, path, "is "+quoted+"; allowed is "+k.allowed())
		}
	case Names:
		names := strings.Split(v, "\n")
		if len(names) < 2 {
			l.refuse(n, path, "names fewer than two beads; allowed is "+k.allowed())
			return
		}
		for i, name := range names {
			at := n
			if n.items != nil {
				at = n.items[i]
			}
			switch {
			case l.scene.BeadNamed(name) == sim.NoBead:
				l.refuse(at, path, "no bead is named "+strconv.Quote(cut(name))+"; "+l.beadNames())
			case i > 0 && name == names[i-1]:
				l.refuse(at, path, strconv.Quote(cut(name))+" stands twice in a row; allowed is another bead after it")
			}
		}
	case Name:
		if l.scene.BeadNamed(v) == sim.NoBead {
			l.refuse(n, path, "no bead is named "+quoted+"; "+l.beadNames())
		}
	}
}

// beadNames says which beads there are.
func (l *loader) beadNames() string {
	var names []string
	for _, b := range l.scene.Setup.Beads {
		if name := strconv.Quote(cut(b.Name)); b.Name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if names == nil {
		return "there are no beads"
	}
	return "allowed is " + list(names)
}

// unknown reports the keys of a table that no scene has. Only those that can be listed
// get a suggestion, which takes a while.
func (l *loader) unknown(n *node, table string) {
	var names []string
	for name := range n.children {
		if find(table, name) == nil && (table != "" || !isTableName(name)) {
			names = append(names, name)
		}
	}
	slices.SortFunc(names, func(a, b string) int { return cmp.Compare(n.children[a].key, n.children[b].key) })
	for i, name := range names {
		problem := "is unknown"
		if i < mostFaults {
			problem += "; " + suggestion(table, name)
		}
		l.fault(n.children[name].key, dotted(n.path, shown(name)), problem)
	}
}

// contradictions reports what the set-up says against itself: at the field at fault,
// or where the file leaves that out, at the first of the others that it gives. Fields
// at which there is a fault already bring about no other.
func (l *loader) contradictions() {
	for _, p := range l.scene.Setup.Contradictions() {
		keys := append([]string{p.Key}, p.With...)
		if slices.ContainsFunc(keys, func(key string) bool { return l.bad[key] }) {
			continue
		}
		for i, key := range keys {
			n := l.good[key]
			if n == nil {
				continue
			}
			what, other := p.What, 1
			if i == 1 && p.Or != "" {
				what, other = p.Or, 0
			}
			if p.Or != "" && l.good[keys[other]] == nil {
				what += "; " + keys[other] + " is left out"
			}
			l.fault(n.at, key, what)
			break
		}
	}
}

// look refuses a look at nothing, or at two things.
func (l *loader) look() {
	n := l.root.children["look"]
	if n == nil {
		n = newTable("look", 0, 0, onTheWay)
	} else if n.kind != isTable {
		return
	}
	bead, at := n.children["bead"], n.children["at_mm"]
	switch {
	case bead == nil && at == nil:
		l.fault(n.at, "look.bead", "is missing; exactly one of look.bead and look.at_mm is required")
	case bead != nil && at != nil:
		l.fault(at.at, "look.at_mm", "stands beside look.bead; exactly one of look.bead and look.at_mm is allowed")
	}
}

// findings refuses findings beside a posture.
func (l *loader) findings() {
	if n := l.root.children[findings]; n != nil && l.root.children["posture"] != nil {
		l.fault(n.at, findings, "stands beside posture; allowed is one of the two")
	}
}
