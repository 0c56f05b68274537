package scenes

import (
	"bytes"
	"io"
)

// Write writes the scene as a file that Parse turns into the same scene: its
// comment first, then the keys that are not at their defaults. A scene that no
// file may hold is refused as Check refuses it, and nothing is written.
func (sc *Scene) Write(w io.Writer) error {
	data := sc.encode()
	if _, err := Parse("scene", data); err != nil {
		return err
	}
	_, err := w.Write(data)
	return err
}

// Check says why no file may hold the scene, if so: Faults, with the positions
// they would have in the file.
func (sc *Scene) Check() error { return sc.Write(io.Discard) }

// encode gives the file of the scene, good or bad.
func (sc *Scene) encode() []byte {
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
	return b.Bytes()
}

// section writes a table, if there is anything to write in it; findings and a
// routine that are all at their defaults are something.
func section(b *bytes.Buffer, table string, o owner) {
	header := "\n[" + table + "]\n"
	if table == beads {
		header = "\n[[beads]]\n"
	}
	if table == findings && o.Setup.Findings.OK || table == routine && o.Routine.OK {
		b.WriteString(header)
		header = ""
	}
	for _, k := range keys {
		if k.Table != table {
			continue
		}
		v, ok := k.get(o)
		if !ok || v == k.Default {
			continue
		}
		if table != "" {
			b.WriteString(header)
			header = ""
		}
		b.WriteString(k.Name + " = " + k.literal(v) + "\n")
	}
}
