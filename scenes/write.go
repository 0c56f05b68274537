package scenes

import (
	"bytes"
	"io"
)

// Write writes the scene as a file that Parse turns into the same scene: its
// comment first, then the keys that are not at their defaults. A scene that no
// file may hold is refused with its Faults, as positions in the file it would
// have been, and nothing is written.
func (sc *Scene) Write(w io.Writer) error {
	var b bytes.Buffer
	for _, line := range sc.Head {
		b.WriteString(line)
		b.WriteByte('\n')
	}
	if len(sc.Head) > 0 {
		b.WriteByte('\n')
	}
	section(&b, "", owner{Scene: sc})
	for _, name := range tables {
		if name != beads {
			section(&b, name, owner{Scene: sc})
			continue
		}
		for i := range sc.Setup.Beads {
			section(&b, name, owner{sc, &sc.Setup.Beads[i]})
		}
	}
	if _, err := Parse("scene", b.Bytes()); err != nil {
		return err
	}
	_, err := w.Write(b.Bytes())
	return err
}

// section writes a table, if there is anything to write in it.
func section(b *bytes.Buffer, table string, o owner) {
	header := map[bool]string{false: "[" + table + "]", true: "[[beads]]"}[table == beads]
	for _, k := range keys {
		if k.Table != table || k.Later {
			continue
		}
		v, ok := k.get(o)
		if !ok || v == k.Default {
			continue
		}
		if table != "" && header != "" {
			b.WriteString("\n" + header + "\n")
			header = ""
		}
		b.WriteString(k.Name + " = " + literal(v) + "\n")
	}
}
