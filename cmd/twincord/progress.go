package main

import (
	"fmt"
	"io"
	"strings"
)

// A progressBar shows on the last line of a terminal how much of a whole is done.
type progressBar struct {
	to    io.Writer
	whole int
	shown string
}

// barWidth is the width of a progressBar between its brackets, in letters.
const barWidth = 30

// show shows that so much of the whole is done, where that looks different from before.
func (b *progressBar) show(done int) {
	full := barWidth * done / b.whole
	line := fmt.Sprintf("[%s%s] %d/%d", strings.Repeat("=", full), strings.Repeat(" ", barWidth-full), done, b.whole)
	if line == b.shown {
		return
	}
	b.shown = line
	fmt.Fprint(b.to, "\r", line)
}

// clear takes the bar away, for what is said next; every terminal understands blanks.
func (b *progressBar) clear() {
	if b.shown != "" {
		fmt.Fprint(b.to, "\r", strings.Repeat(" ", len(b.shown)), "\r")
		b.shown = ""
	}
}
