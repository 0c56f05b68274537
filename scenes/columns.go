package scenes

import "strings"

// page is how wide lines of a list are at most, characters.
const page = 78

// InColumns lists names in as many columns as there is room for, read from the top down,
// each line after a line's end. Names are ASCII.
func InColumns(names []string) string {
	for columns := len(names); columns > 0; columns-- {
		rows := (len(names) + columns - 1) / columns
		wide := make([]int, (len(names)+rows-1)/rows)
		whole := 0
		for c := range wide {
			for _, name := range names[c*rows : min((c+1)*rows, len(names))] {
				wide[c] = max(wide[c], len(name))
			}
			whole += 2 + wide[c]
		}
		if whole > page && columns > 1 {
			continue
		}
		var b strings.Builder
		for r := range rows {
			line := ""
			for c := range wide {
				if i := c*rows + r; i < len(names) {
					line += "  " + names[i] + strings.Repeat(" ", wide[c]-len(names[i]))
				}
			}
			b.WriteString("\n" + strings.TrimRight(line, " "))
		}
		return b.String()
	}
	return ""
}
