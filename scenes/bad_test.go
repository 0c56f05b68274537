package scenes

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// badFiles holds scenes with faults, and in faults.txt every fault of every one.
const badFiles = "../testdata/scenes/bad"

func TestBadFiles(t *testing.T) {
	list, err := os.ReadFile(filepath.Join(badFiles, "faults.txt"))
	require.NoError(t, err)
	want := map[string][]string{}
	for line := range strings.Lines(string(list)) {
		file, _, _ := strings.Cut(line, ":")
		want[file] = append(want[file], strings.TrimSuffix(line, "\n"))
	}
	files, err := filepath.Glob(filepath.Join(badFiles, "*.toml"))
	require.NoError(t, err)
	require.Len(t, files, len(want))
	for _, path := range files {
		file := filepath.Base(path)
		t.Run(file, func(t *testing.T) {
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			sc, err := Parse(file, data)
			assert.Nil(t, sc)
			var faults Faults
			require.ErrorAs(t, err, &faults)
			assert.Equal(t, want[file], strings.Split(err.Error(), "\n"))
			_, err = Load(path)
			require.ErrorAs(t, err, &faults)
			assert.Equal(t, path, faults[0].File)
		})
	}
}

// Files too large or too dull to keep.
func TestBadFilesMade(t *testing.T) {
	const good = "format = 1\nstring.length_mm = 500\nlook.at_mm = 100\n"
	deep := func(open, inside, shut string, n int) string {
		return strings.Repeat(open, n) + inside + strings.Repeat(shut, n)
	}
	tests := []struct{ name, data, want string }{
		{"10 MB", good + strings.Repeat("# more\n", 10<<20/7), "f:1:1: larger than 1 MiB; allowed is a scene file of at most 1 MiB"},
		{"1 MiB and 1", good + strings.Repeat("#", MaxSize+1-len(good)), "f:1:1: larger than 1 MiB; allowed is a scene file of at most 1 MiB"},
		{"a control character at once", good + "title = \"\\u0007bell\"", "f:4:9: title: has the control character U+0007; allowed is text of one line without control characters"},
		{"arrays 5000 deep", good + "title = " + deep("[", "", "]", 5000), "f:4:9: title: is an array; allowed is text of one line without control characters"},
		{"tables 5000 deep", good + "cover = " + deep("{eye=", "1", "}", 5000), "f:4:14: cover.eye: is a table; allowed is \"none\", \"right\" or \"left\""},
		{"arrays without end", good + "title = " + strings.Repeat("[", 500000),
			"f:4:10009: not TOML: arrays and inline tables are nested more than the maximum of 10000 levels deep"},
		{"dots 5000 deep", good + "a" + strings.Repeat(".a", 4999) + " = 1", "f:4:1: a key of 5000 parts; allowed are two, as in patient.pd_mm"},
		{"header 5000 deep", good + "[a" + strings.Repeat(".a", 4999) + "]\nb = 1", "f:4:2: a key of 5000 parts; allowed are two, as in patient.pd_mm"},
		{"wide and deep", good + "titel = " + deep("[", strings.Repeat("{},", 300000), "]", 9000), "f:4:1: titel: is unknown; did you mean title?"},
		{"wide and deep in tables", good + "titel = " + deep("{a=", "{"+strings.Repeat("a={},", 150000)+"}", "}", 9000), "f:4:1: titel: is unknown; did you mean title?\nf:4:27015: titel.a.a"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := Parse("f", []byte(test.data))
			require.Error(t, err)
			got := err.Error()
			require.Equal(t, test.want, got[:min(len(got), len(test.want))])
		})
	}
	_, err := Parse("f", []byte(good+strings.Repeat("#", MaxSize-len(good))))
	assert.NoError(t, err, "1 MiB is allowed")
	_, err = Parse("f", []byte(good+"beads = [{}, {}]\n"))
	assert.ErrorContains(t, err, "f:4:14: beads[2].at_mm: is missing", "the second, after an empty one")
}

// UTF-16 is told by its mark, or by a zero beside a first character that is ASCII.
func TestUTF16IsTold(t *testing.T) {
	for data, want := range map[string]bool{
		"": false, "f": false, "fo": false, "\xFF\xFE": true, "\xFE\xFF": true, "\xFE\xFE": false,
		"\x00f": true, "f\x00": true, "\x00\x7F": true, "\x7F\x00": true,
		"\x00\x80": false, "\x80\x00": false, "\x00\x00": false,
	} {
		assert.Equal(t, want, utf16([]byte(data)), "%q", data)
	}
}

// Names stand in as many columns as a line has room for; one that is too long for it has a
// line of its own.
func TestColumns(t *testing.T) {
	long := strings.Repeat("n", page)
	for _, c := range []struct {
		names []string
		want  string
	}{
		{nil, ""},
		{[]string{"a"}, "\n  a"},
		{[]string{"a", "bb", "c"}, "\n  a  bb  c"},
		{[]string{long}, "\n  " + long},
		{[]string{long, "a"}, "\n  " + long + "\n  a"},
		{[]string{long[:36], long[:38]}, "\n  " + long[:36] + "  " + long[:38]},
		{[]string{long[:37], long[:38]}, "\n  " + long[:37] + "\n  " + long[:38]},
	} {
		assert.Equal(t, c.want, InColumns(c.names))
	}
}

// A file of nothing but faults ends in reasonable time: nothing is looked for
// anew from the top of the file for each.
func TestManyFaults(t *testing.T) {
	for _, line := range []string{"a = 1\n", "[[beads]]\n", "patient.x = 1\n"} {
		_, err := Parse("f", bytes.Repeat([]byte(line), MaxSize/len(line)))
		var faults Faults
		require.ErrorAs(t, err, &faults)
		last := faults[len(faults)-1]
		assert.NotZero(t, last.Line)
	}
}

func TestLoadFailures(t *testing.T) {
	folder := t.TempDir()
	_, err := Load(folder)
	assert.EqualError(t, err, folder+": is a folder, not a scene file")

	missing := filepath.Join(folder, "missing.toml")
	_, err = Load(missing)
	require.ErrorIs(t, err, os.ErrNotExist)
	assert.EqualError(t, err, missing+": file does not exist")

	_, id, err := Open("no-such-scene")
	require.ErrorIs(t, err, os.ErrNotExist)
	assert.Equal(t, Identity{File, "no-such-scene"}, id)
	first, list, _ := strings.Cut(err.Error(), "\n")
	assert.Equal(t, "no-such-scene: file does not exist, nor a built-in scene of that name; there are", first)
	lines := strings.Split(list, "\n")
	assert.Less(t, len(lines), len(names)/2, "in columns")
	for _, line := range lines {
		assert.LessOrEqual(t, len(line), 80, line)
	}
	assert.ElementsMatch(t, names, strings.Fields(list))

	_, _, err = Open("middle-of-three.toml")
	assert.EqualError(t, err, "middle-of-three.toml: file does not exist")
}

// Of very many faults the first hundred are listed, and how many more there are.
func TestFaultsAreCounted(t *testing.T) {
	unknown := func(n int) []byte {
		var b bytes.Buffer
		b.WriteString("format = 1\nstring.length_mm = 1000\nlook.at_mm = 500\n")
		for i := range n {
			fmt.Fprintf(&b, "k%d = 1\n", i)
		}
		return b.Bytes()
	}
	for n, last := range map[int]string{
		99:    `f:102:1: k98: is unknown; `,
		100:   `f:103:1: k99: is unknown; `,
		101:   `f:104:1: k100: is unknown`, // rather than that there is one more
		102:   `f:104:1: here begin 2 more faults; the first 100 are listed`,
		3_000: `f:104:1: here begin 2900 more faults; the first 100 are listed`,
	} {
		_, err := Parse("f", unknown(n))
		var fs Faults
		require.ErrorAs(t, err, &fs)
		require.Len(t, fs, min(n, 101))
		assert.Equal(t, `k0`, fs[0].Key)
		assert.Contains(t, fs[len(fs)-1].Error(), last)
	}
}
