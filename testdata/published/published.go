// Package published holds the values from outside this project that its tests
// compare with, each with its source and how that was verified: one row a value or
// formula, copied from a table of which rows.csv lists every row. Rows that no test
// can use stand in not-applicable.csv with the reason.
package published

import (
	"embed"
	"encoding/csv"
	"io/fs"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/stretchr/testify/require"
)

// Row is a published value or formula, as it is written in the table.
type Row struct {
	ID, Quantity, Value, Formula, Given, Expect, Tolerance, Source, Verified string
}

// FromMemory is how a row was verified whose source nobody has seen: it never
// decides a test alone.
const FromMemory = "from memory only"

//go:embed *.csv
var files embed.FS

const (
	listed        = "rows.csv"           // id, verified: every row of the table
	notApplicable = "not-applicable.csv" // id, reason
)

// Rows are all rows that tests use, file by file.
func Rows(t require.TestingT) (all []Row) {
	names, err := fs.Glob(files, "*.csv")
	require.NoError(t, err)
	for _, name := range names {
		if name == listed || name == notApplicable {
			continue
		}
		for _, r := range records(t, name, 9) {
			all = append(all, Row{r[0], r[1], r[2], r[3], r[4], r[5], r[6], r[7], r[8]})
		}
	}
	return all
}

// Get is the row of an id.
func Get(t require.TestingT, id string) Row {
	all := Rows(t)
	i := slices.IndexFunc(all, func(r Row) bool { return r.ID == id })
	require.GreaterOrEqual(t, i, 0, "published row %s", id)
	return all[i]
}

// Listed says of every row of the table how it was verified.
func Listed(t require.TestingT) map[string]string { return pairs(t, listed) }

// NotApplicable says of the rows that no test can use why.
func NotApplicable(t require.TestingT) map[string]string { return pairs(t, notApplicable) }

func pairs(t require.TestingT, name string) map[string]string {
	m := map[string]string{}
	for _, r := range records(t, name, 2) {
		require.NotContains(t, m, r[0], name)
		m[r[0]] = r[1]
	}
	return m
}

// records are the lines of a file below its headings.
func records(t require.TestingT, name string, fields int) [][]string {
	f, err := files.Open(name)
	require.NoError(t, err)
	defer func() { require.NoError(t, f.Close()) }()
	in := csv.NewReader(f)
	in.FieldsPerRecord = fields
	lines, err := in.ReadAll()
	require.NoError(t, err, name)
	require.NotEmpty(t, lines, name)
	return lines[1:]
}

// Tolerances are the numbers in the tolerance of a row, in its own units: what it says of
// the geometry that it is for is none. There must be count of them.
func Tolerances(t require.TestingT, id string, count int) []float64 {
	text, _, _ := strings.Cut(Get(t, id).Tolerance, "; reduced geometry")
	return parse(t, decimal, text, count)
}

var (
	decimal = regexp.MustCompile(`\d+(\.\d+)?(e-\d+)?`)
	signed  = regexp.MustCompile(`[-+]?\d+(\.\d+)?`)
)

// Numbers are the numbers in a text, without their signs: a dash between two may
// as well mean "to". There must be count of them.
func Numbers(t require.TestingT, text string, count int) []float64 {
	return parse(t, decimal, text, count)
}

// Signed are the numbers in a text in which every sign is one.
func Signed(t require.TestingT, text string, count int) []float64 {
	return parse(t, signed, text, count)
}

func parse(t require.TestingT, number *regexp.Regexp, text string, count int) (out []float64) {
	for _, s := range number.FindAllString(text, -1) {
		x, err := strconv.ParseFloat(strings.TrimPrefix(s, "+"), 64)
		require.NoError(t, err)
		out = append(out, x)
	}
	require.Len(t, out, count, "numbers in %q", text)
	return out
}
