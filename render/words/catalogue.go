package words

import (
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// texts gives the texts of a catalogue by their dotted keys. The parser alone is enough
// for that: what fills any value of Go weighs, in a browser, as much as the model.
func texts(file string, data []byte) (map[string]string, error) {
	all := map[string]string{}
	add := func(table string, n *unstable.Node) error {
		path := table + dotted(n.Key())
		value := n.Value()
		if value.Kind != unstable.String {
			return fmt.Errorf("%s: %s: must be a text, or the texts one and other", file, path)
		}
		if _, twice := all[path]; twice {
			return fmt.Errorf("%s: %s: is given twice", file, path)
		}
		all[path] = string(value.Data)
		return nil
	}
	var p unstable.Parser
	p.Reset(data)
	table := ""
	for p.NextExpression() {
		switch e := p.Expression(); e.Kind {
		case unstable.Table:
			table = dotted(e.Key()) + "."
		case unstable.KeyValue:
			if value := e.Value(); value.Kind == unstable.InlineTable {
				within := table + dotted(e.Key()) + "."
				for it := value.Children(); it.Next(); {
					if err := add(within, it.Node()); err != nil {
						return nil, err
					}
				}
				continue
			}
			if err := add(table, e); err != nil {
				return nil, err
			}
		}
	}
	if err := p.Error(); err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return all, nil
}

func dotted(key unstable.Iterator) string {
	var parts []string
	for key.Next() {
		parts = append(parts, string(key.Node().Data))
	}
	return strings.Join(parts, ".")
}
