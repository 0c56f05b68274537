package scenes

import (
	"fmt"
	"strings"
)

// What the window does with single keys of a scene in memory.

// Get gives the key's value in a scene, as Key.Default has it; ok is false where
// the scene has none. For a key of the beads, bead is the bead's index; for others
// it means nothing.
func (k *Key) Get(sc *Scene, bead int) (value any, ok bool) {
	o, ok := k.owner(sc, bead)
	if !ok {
		return nil, false
	}
	if value, ok = k.get(o); !ok {
		return nil, false
	}
	return value, true
}

// Set puts a value of the key's kind into a scene. What the loader would refuse at
// the key it refuses with a Fault that has no place, and changes nothing; whether
// the value agrees with other keys only Check tells. Setting look.bead or
// look.at_mm unsets the other; setting a key of findings brings the findings.
func (k *Key) Set(sc *Scene, bead int, value any) error {
	path := k.Path()
	if k.Table == beads {
		path = beadKey(bead, k.Name)
	}
	o, ok := k.owner(sc, bead)
	if !ok {
		return Fault{Key: path, Problem: fmt.Sprintf("there is no such bead; there are %d", len(sc.Setup.Beads))}
	}
	n, ok := k.nodeOf(value)
	if !ok {
		return Fault{Key: path, Problem: fmt.Sprintf("is a %T; allowed is %s", value, k.allowed())}
	}
	l := loader{tree: new(tree), scene: sc, bad: map[string]bool{}}
	v, _ := l.check(n, k, path, sc.Setup.String.Length)
	if len(l.found) > 0 {
		return Fault{Key: l.found[0].key, Problem: l.found[0].problem}
	}
	k.set(o, v)
	return nil
}

// Clear takes a key out of a scene: it is then as a file has it that leaves it out.
// A key that has to be there, and one that is not, stay as they are.
func (k *Key) Clear(sc *Scene, bead int) {
	o, ok := k.owner(sc, bead)
	if !ok {
		return
	}
	if k.Optional() {
		k.clear(o)
	} else if _, there := k.get(o); there && k.Default != nil {
		k.set(o, k.Default)
	}
}

// owner is what the key's value belongs to; ok is false where there is no such bead.
func (k *Key) owner(sc *Scene, bead int) (o owner, ok bool) {
	if k.Table != beads {
		return owner{Scene: sc}, true
	}
	if bead < 0 || bead >= len(sc.Setup.Beads) {
		return owner{}, false
	}
	return owner{sc, &sc.Setup.Beads[bead]}, true
}

// nodeOf is a value of the key as a file would have it.
func (k *Key) nodeOf(value any) (n *node, ok bool) {
	switch v := value.(type) {
	case float64:
		return &node{kind: isNumber, number: v + 0, text: decimals(v)}, true
	case [3]float64:
		n = &node{kind: isArray}
		for _, c := range v {
			n.items = append(n.items, &node{kind: isNumber, number: c + 0, text: decimals(c)})
		}
		return n, true
	case string:
		if k.Kind == Names {
			n = &node{kind: isArray}
			for name := range strings.SplitSeq(v, "\n") {
				n.items = append(n.items, &node{kind: isText, text: name})
			}
			return n, true
		}
		return &node{kind: isText, text: v}, true
	}
	return nil, false
}
