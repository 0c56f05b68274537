package scenes

import (
	"encoding/json"
	"io"

	"twincord/sim"
)

// object is a JSON object; encoding/json sorts its keys.
type object = map[string]any

// WriteSchema writes the JSON Schema (draft 2020-12) of scene files. Beside the
// standard keywords each key has x-unit, x-source, the published rows behind it, and
// x-source-words, where those are from; and the whole has x-sizes, average sizes by age.
// What a schema cannot say, such as that beads must not overlap, only Parse checks.
//
// Editors check TOML by older drafts: items holds for every item there, and not for those
// after prefixItems.
func WriteSchema(w io.Writer) error {
	root := tableSchema("")
	in := root["properties"].(object)
	required := root["required"].([]string)
	for _, name := range tables {
		s := tableSchema(name)
		if name == beads {
			in["beads"] = object{"type": "array", "maxItems": sim.MaxBeads, "items": s}
			continue
		}
		in[name] = s
		if s["required"] != nil || s["oneOf"] != nil {
			required = append(required, name)
		}
	}
	root["required"] = required
	root["not"] = object{"required": []string{"posture", findings}}
	root["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	root["$id"] = "urn:twincord:scene:1"
	root["title"] = "A twincord scene"
	root["x-sizes"] = sizesByAge()
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(root)
}

// sizesByAge are the average sizes that may be filled in, by the keys that they fill:
// of the near end its place ahead and above.
func sizesByAge() object {
	all := object{}
	for _, z := range sim.Sizes() {
		all[z.Name] = object{"patient.age_years": z.Age, "patient.pd_mm": z.PD, "string.near_end_mm": []float64{0, z.Ahead, z.Above}}
	}
	return all
}

// tableSchema gives the schema of a table and its keys.
func tableSchema(table string) object {
	in := object{}
	s := object{"type": "object", "additionalProperties": false, "properties": in}
	var required []string
	var oneOf []object
	for i := range keys {
		k := &keys[i]
		if k.Table != table {
			continue
		}
		in[k.Name] = k.schema()
		if k.Required {
			required = append(required, k.Name)
		}
		if k.Or != "" {
			oneOf = append(oneOf, object{"required": []string{k.Name}})
		}
	}
	if required != nil {
		s["required"] = required
	}
	if oneOf != nil {
		s["oneOf"] = oneOf
	}
	return s
}

// schema gives the schema of a key.
func (k *Key) schema() object {
	s := object{"description": k.Doc}
	switch k.Kind {
	case Number:
		s["type"] = "number"
		if k.Whole {
			s["type"] = "integer"
		}
		if len(k.Ranges) == 1 {
			limit(s, k.Ranges[0], "minimum", "maximum")
			break
		}
		var anyOf []object
		for _, r := range k.Ranges {
			within := object{}
			limit(within, r, "minimum", "maximum")
			anyOf = append(anyOf, within)
		}
		s["anyOf"] = anyOf
	case Point:
		var axes []object
		widest := k.Ranges[0]
		for _, r := range k.Ranges {
			axis := object{"type": "number"}
			limit(axis, r, "minimum", "maximum")
			axes = append(axes, axis)
			widest.Min, widest.Max = min(widest.Min, r.Min), max(widest.Max, r.Max)
		}
		every := object{"type": "number"}
		limit(every, widest, "minimum", "maximum")
		s["type"], s["prefixItems"], s["items"] = "array", axes, every
		s["minItems"], s["maxItems"] = len(axes), len(axes)
	case Names:
		s["type"], s["items"], s["minItems"] = "array", object{"type": "string"}, 2
	case Choice:
		s["enum"] = k.Choices
	default:
		s["type"] = "string"
		if k.Ranges != nil {
			limit(s, k.Ranges[0], "minLength", "maxLength")
		}
		if p, ok := patterns[k.Kind]; ok {
			s["pattern"] = p
		}
	}
	if k.Default != nil {
		s["default"] = k.Default
	}
	if k.Unit != "" {
		s["x-unit"] = k.Unit
	}
	if k.Source != "" {
		s["x-source"], s["x-source-words"] = k.Source, sourceWords(k.Source)
	}
	return s
}

// limit puts a range into a schema, by the keywords of its ends.
func limit(s object, r Range, least, most string) { s[least], s[most] = r.Min, r.Max }

// patterns are what a text of some kind must match.
var patterns = map[Kind]string{
	Colour: "^#[0-9A-Fa-f]{6}$",
	Text:   `^[^\u0000-\u001f\u007f-\u009f]*$`,
	Prose:  `^[^\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]*$`,
}
