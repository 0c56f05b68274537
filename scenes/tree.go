package scenes

import (
	"bytes"
	"errors"
	"math"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// kind is what a node of the tree is.
type kind int

const (
	isTable kind = iota
	isArray
	isText
	isNumber
	isBoolean
	isDate
)

func (k kind) String() string {
	return [...]string{"a table", "an array", "text", "a number", "true or false", "a date or time"}[k]
}

// node is a value of a TOML file, with its place as offsets in bytes.
type node struct {
	kind     kind
	key      int // where its key stands
	at       int // where the value stands, or the header of a table
	text     string
	number   float64
	items    []*node          // of an array
	children map[string]*node // of a table
	path     string           // what a table is called in faults
	made     made
}

// made says how a table came to be, which decides how it may go on (TOML 1.0).
type made int

const (
	whole    made = iota // inline or as an array: complete where it stands
	byHeader             // [table] or [[tables]]
	byDots               // as part of a dotted key
	onTheWay             // as part of a longer header
)

// maxParts is the length of the longest dotted key that is followed; a scene
// needs two.
const maxParts = 8

// tree is a TOML file while it is read.
type tree struct {
	data  []byte
	root  *node
	found []found
}

// grow reads TOML. It stops at the first fault of syntax, which then is the only
// one; keys and tables that are given twice are found all.
func grow(data []byte) *tree {
	t := &tree{data: data, root: newTable("", 0, 0, byHeader)}
	var p unstable.Parser
	p.Reset(data)
	current := t.root
	for p.NextExpression() {
		switch e := p.Expression(); e.Kind {
		case unstable.KeyValue:
			t.keyValue(current, e)
		default:
			current = t.header(e)
		}
	}
	if err := p.Error(); err != nil {
		at := 0
		var pe *unstable.ParserError
		if errors.As(err, &pe) {
			at = int(p.Range(pe.Highlight).Offset)
		}
		t.found = []found{{at: at, problem: "not TOML: " + err.Error()}}
		t.root = nil
	}
	return t
}

func newTable(path string, key, at int, m made) *node {
	return &node{kind: isTable, path: path, key: key, at: at, made: m, children: map[string]*node{}}
}

// maxPath is the length at which the name of a thing stops growing with its
// depth, so that what is nested thousands deep does not fill the memory.
const maxPath = 64

// itemPath is what an item of an array is called; they count from 1.
func itemPath(array string, i int) string {
	if len(array) > maxPath {
		return array
	}
	return array + "[" + strconv.Itoa(i+1) + "]"
}

// part is one part of a dotted key.
type part struct {
	name    string
	at, end int
}

// parts gives the parts of a key, or nothing where there are too many to be any
// key of a scene, which is a fault.
func (t *tree) parts(e *unstable.Node) []part {
	var ps []part
	for it := e.Key(); it.Next(); {
		n := it.Node()
		at := int(n.Raw.Offset)
		ps = append(ps, part{string(n.Data), at, at + int(n.Raw.Length)})
	}
	if len(ps) > maxParts {
		t.fault(ps[0].at, "", "a key of "+strconv.Itoa(len(ps))+" parts; allowed are two, as in patient.pd_mm")
		return nil
	}
	return ps
}

func (t *tree) fault(at int, key, problem string) {
	t.found = append(t.found, found{at, key, problem})
}

// twice reports a key that was given before.
func (t *tree) twice(in *node, p part) {
	t.fault(p.at, dotted(in.path, shown(p.name)), "given a second time; allowed is once")
}

// shown is a part of a key as TOML writes it, cut where it is very long.
func shown(name string) string {
	bare := name != "" && strings.Trim(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_") == ""
	if bare {
		return cut(name)
	}
	return strconv.Quote(cut(name))
}

// keyValue adds what stands at key = value to a table.
func (t *tree) keyValue(in *node, e *unstable.Node) {
	ps := t.parts(e)
	if ps == nil {
		return
	}
	last := ps[len(ps)-1]
	for _, p := range ps[:len(ps)-1] {
		next, ok := in.children[p.name]
		if !ok {
			next = newTable(dotted(in.path, shown(p.name)), p.at, p.at, byDots)
			in.children[p.name] = next
		} else if next.kind != isTable || next.made != byDots {
			t.twice(in, p)
			return
		}
		in = next
	}
	if _, ok := in.children[last.name]; ok {
		t.twice(in, last)
		return
	}
	v, _ := t.value(e.Value(), t.skip(last.end), dotted(in.path, shown(last.name)))
	v.key = last.at
	in.children[last.name] = v
}

// header gives the table that [table] or [[tables]] opens.
func (t *tree) header(e *unstable.Node) *node {
	ps := t.parts(e)
	if ps == nil {
		return newTable("", 0, 0, byHeader) // read, and looked at no more
	}
	last := ps[len(ps)-1]
	at := bytes.LastIndexByte(t.data[:last.at], '\n') + 1
	at += bytes.IndexByte(t.data[at:], '[')
	in := t.root
	for _, p := range ps[:len(ps)-1] {
		next, ok := in.children[p.name]
		switch {
		case !ok:
			next = newTable(dotted(in.path, shown(p.name)), p.at, at, onTheWay)
			in.children[p.name] = next
		case next.kind == isArray && next.made == byHeader:
			next = next.items[len(next.items)-1]
		case next.kind != isTable || next.made == whole:
			t.twice(in, p)
			return newTable(dotted(in.path, shown(p.name)), p.at, at, byHeader)
		}
		in = next
	}
	path := dotted(in.path, shown(last.name))
	old, ok := in.children[last.name]
	if e.Kind == unstable.ArrayTable {
		if !ok {
			old = &node{kind: isArray, key: last.at, at: at, made: byHeader}
			in.children[last.name] = old
		}
		opened := newTable(itemPath(path, len(old.items)), last.at, at, byHeader)
		if old.kind == isArray && old.made == byHeader {
			old.items = append(old.items, opened)
		} else {
			t.twice(in, last)
		}
		return opened
	}
	opened := newTable(path, last.at, at, byHeader)
	switch {
	case !ok:
		in.children[last.name] = opened
	case old.kind == isTable && old.made == onTheWay:
		old.key, old.at, old.made = last.at, at, byHeader
		return old
	default:
		t.twice(in, last)
		if old.kind == isTable {
			return old
		}
	}
	return opened
}

// value turns a value that begins at an offset into a node, and says where it
// ends. The parser gives no place for arrays; hence the counting along.
func (t *tree) value(v *unstable.Node, at int, path string) (n *node, end int) {
	n = &node{at: at}
	end = at + int(v.Raw.Length)
	switch v.Kind {
	case unstable.Array:
		n.kind = isArray
		end = at + 1
		for it := v.Children(); it.Next(); {
			var item *node
			item, end = t.value(it.Node(), t.skip(end), itemPath(path, len(n.items)))
			n.items = append(n.items, item)
		}
		end = t.skip(end) + 1
	case unstable.InlineTable:
		*n = *newTable(path, at, at, whole)
		end = at + 1
		for it := v.Children(); it.Next(); {
			e := it.Node()
			t.keyValue(n, e)
			end = int(e.Raw.Offset + e.Raw.Length)
		}
		end = t.skip(end) + 1
	case unstable.String:
		n.kind, n.text = isText, string(v.Data)
	case unstable.Integer, unstable.Float:
		n.kind, n.text = isNumber, string(v.Data)
		n.number = decimal(n.text)
	case unstable.Bool:
		n.kind, n.text = isBoolean, string(v.Data)
	default:
		n.kind, n.text = isDate, string(v.Data)
	}
	return n, end
}

// skip passes over what may stand between two values, or a key and its value.
func (t *tree) skip(at int) int {
	for at < len(t.data) {
		switch t.data[at] {
		case ' ', '\t', '\r', '\n', ',', '=':
			at++
		case '#':
			n := bytes.IndexByte(t.data[at:], '\n')
			if n < 0 {
				return len(t.data)
			}
			at += n
		default:
			return at
		}
	}
	return at
}

// decimal gives the value of a TOML number whose form the parser has checked;
// what is too large for a float64 is infinite, or the largest of them where it is
// no decimal. A negative zero becomes zero.
func decimal(text string) float64 {
	if strings.HasSuffix(text, "nan") { // ParseFloat takes no sign before it
		return math.NaN()
	}
	if len(text) > 1 && text[0] == '0' && strings.ContainsRune("xob", rune(text[1])) {
		n, err := strconv.ParseUint(text, 0, 64)
		if err != nil {
			return math.MaxFloat64
		}
		return float64(n)
	}
	f, _ := strconv.ParseFloat(strings.ReplaceAll(text, "_", ""), 64)
	return f + 0
}
