package scenes

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// Fault is one thing wrong with a scene file. Lines and columns count from 1 in
// characters; Key is empty where the fault is the whole file's or one of TOML. A
// value that comes from no file has no place: File is empty, Line and Column are 0.
type Fault struct {
	File         string
	Line, Column int
	Key          string
	Problem      string // what is wrong, what is allowed
}

// Error gives "file:line:column: key: what is wrong, what is allowed", without the
// place where there is none.
func (f Fault) Error() string {
	if f.Line == 0 {
		return f.Key + ": " + f.Problem
	}
	if f.Key == "" {
		return fmt.Sprintf("%s:%d:%d: %s", f.File, f.Line, f.Column, f.Problem)
	}
	return fmt.Sprintf("%s:%d:%d: %s: %s", f.File, f.Line, f.Column, f.Key, f.Problem)
}

// Faults is everything wrong with a scene file, by position.
type Faults []Fault

// Error gives one line for each fault.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// found is a fault before its place in bytes is turned into line and column.
type found struct {
	at           int
	key, problem string
}

// mostFaults is how many faults of a file are listed.
const mostFaults = 100

// place sorts what was found in a file and gives it lines and columns, in one
// pass over the text however many there are. After the first of very many it says at
// the next how many more there are.
func place(file string, data []byte, fs []found) Faults {
	slices.SortStableFunc(fs, func(a, b found) int {
		return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.key, b.key), cmp.Compare(a.problem, b.problem))
	})
	if more := len(fs) - mostFaults; more > 1 {
		fs[mostFaults] = found{at: fs[mostFaults].at, problem: fmt.Sprintf("here begin %d more faults; the first %d are listed", more, mostFaults)}
		fs = fs[:mostFaults+1]
	}
	faults := make(Faults, len(fs))
	line, column, seen := 1, 1, 0
	for i, f := range fs {
		passed := data[seen:f.at]
		if n := bytes.Count(passed, []byte("\n")); n > 0 {
			line += n
			column = 1
			passed = passed[bytes.LastIndexByte(passed, '\n')+1:]
		}
		column += utf8.RuneCount(passed)
		seen = f.at
		faults[i] = Fault{File: file, Line: line, Column: column, Key: f.key, Problem: f.problem}
	}
	return faults
}
