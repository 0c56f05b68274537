package scenes

import (
	"strconv"
	"strings"
)

// plain gives what a node holds as the key's kind of value; ok says whether it
// is of that kind, but for the items of a Point.
func (k *Key) plain(n *node) (v any, ok bool) {
	switch k.Kind {
	case Number:
		return n.number, n.kind == isNumber
	case Point:
		var p [3]float64
		if n.kind != isArray || len(n.items) != len(p) {
			return p, false
		}
		for i, item := range n.items {
			p[i] = item.number
		}
		return p, true
	case Names:
		if n.kind != isArray {
			return "", false
		}
		names := make([]string, len(n.items))
		for i, item := range n.items {
			if item.kind != isText {
				return "", false
			}
			names[i] = item.text
		}
		return strings.Join(names, "\n"), true
	default:
		return n.text, n.kind == isText
	}
}

// literal writes a key's value as TOML.
func (k *Key) literal(v any) string {
	if k.Kind == Names {
		names := strings.Split(v.(string), "\n")
		for i := range names {
			names[i] = quote(names[i])
		}
		return "[" + strings.Join(names, ", ") + "]"
	}
	switch v := v.(type) {
	case float64:
		return decimals(v + 0) // no negative zero
	case [3]float64:
		return "[" + decimals(v[0]+0) + ", " + decimals(v[1]+0) + ", " + decimals(v[2]+0) + "]"
	case string:
		return quote(v)
	default:
		panic("scenes: a key has a value of no known kind")
	}
}

// quote writes a basic string of TOML.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < ' ' || r == 0x7F:
			b.WriteString(`\u00`)
			b.WriteString(strconv.FormatInt(int64(r)+0x100, 16)[1:])
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
