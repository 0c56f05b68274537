package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Gremlins runs all tests of a package for every fault. Here it finds this program in the
// place of the go command, which runs those alone that come by the line of the fault, the
// quick ones first: no other can notice. It says, too, which fault is none since it does
// not compile.

// What the program in the place of the go command is told, in its environment.
const (
	realGo    = "MUTANTS_GO"    // the go command itself
	testsFile = "MUTANTS_TESTS" // where it is written which tests come by which line
	pristine  = "MUTANTS_FROM"  // the folder without the fault
)

// A test is one of a package, with the lines that it comes by, by file.
type test struct {
	Name  string
	Takes time.Duration
	Lines map[string]map[int]bool
}

// What go test ends with when tests fail, and what gremlins takes for a fault that does
// not compile.
const (
	testsFail = 1
	noProgram = 2
)

// quick is how long the tests may take, all in all, that are tried first.
const quick = time.Second

// testsOf runs each test of a folder of the copy alone, and says by which lines it comes.
func testsOf(home, folder string) ([]test, error) {
	binary := filepath.Join(home, "covered.test")
	if out, err := command(home, "go", "test", "-c", "-cover", "-vet=off", "-o", binary, "./"+folder).CombinedOutput(); err != nil {
		return nil, fmt.Errorf("compiling the tests of %s: %w: %s", folder, err, out)
	}
	inside := filepath.Join(home, folder)
	listed, err := command(inside, binary, "-test.list", ".").Output()
	if err != nil {
		return nil, fmt.Errorf("listing the tests of %s: %w", folder, err)
	}
	var all []test
	for name := range strings.FieldsSeq(string(listed)) {
		if strings.HasPrefix(name, "Benchmark") {
			continue
		}
		profile := filepath.Join(home, "profile")
		began := time.Now()
		if out, err := command(inside, binary, "-test.run", "^"+name+"$", "-test.coverprofile", profile).CombinedOutput(); err != nil {
			return nil, fmt.Errorf("%s alone: %w: %s", name, err, out)
		}
		took := time.Since(began)
		lines, err := covered(profile, folder)
		if err != nil {
			return nil, err
		}
		all = append(all, test{name, took, lines})
	}
	slices.SortFunc(all, func(a, b test) int { return int(a.Takes - b.Takes) })
	return all, nil
}

func command(dir, name string, args ...string) *exec.Cmd {
	c := exec.Command(name, args...)
	c.Dir = dir
	return c
}

// covered reads a profile of coverage: the lines of a folder's own files that were run.
func covered(profile, folder string) (map[string]map[int]bool, error) {
	f, err := os.Open(profile)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }() // it was only read
	lines := map[string]map[int]bool{}
	for scan := bufio.NewScanner(f); scan.Scan(); {
		// package/file.go:line.column,line.column statements times
		at, counts, ok := strings.Cut(scan.Text(), " ")
		where, span, _ := strings.Cut(at, ".go:")
		file := filepath.Base(where) + ".go"
		if !ok || strings.HasSuffix(counts, " 0") || !strings.HasSuffix(filepath.Dir(where), folder) {
			continue
		}
		from, to, _ := strings.Cut(span, ",")
		for n := lineOf(from); n > 0 && n <= lineOf(to); n++ {
			if lines[file] == nil {
				lines[file] = map[int]bool{}
			}
			lines[file][n] = true
		}
	}
	return lines, nil
}

// lineOf is the line of a place as line.column, 0 where it is none.
func lineOf(place string) int {
	line, _, _ := strings.Cut(place, ".")
	n, _ := strconv.Atoi(line)
	return n
}

// inPlaceOfGo does what the go command is asked for, with the tests that matter alone.
func inPlaceOfGo(args []string) int {
	if args[0] != "test" || slices.Contains(args, "-cover") {
		return done(exec.Command(os.Getenv(realGo), args...))
	}
	binary := filepath.Join(os.Getenv("GOTMPDIR"), fmt.Sprintf("faulty-%d.test", os.Getpid()))
	defer func() { _ = os.Remove(binary) }() // a file left behind is removed with its folder
	if done(exec.Command(os.Getenv(realGo), "test", "-c", "-vet=off", "-ldflags=-s -w", "-o", binary, ".")) != 0 {
		return noProgram
	}
	first, then, err := chosen()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return noProgram
	}
	for _, names := range [][]string{first, then} {
		if len(names) > 0 && done(exec.Command(binary, "-test.failfast", "-test.run", "^("+strings.Join(names, "|")+")$")) != 0 {
			return testsFail
		}
	}
	return 0
}

// done runs a command and gives what it ends with.
func done(c *exec.Cmd) int {
	c.Stdout, c.Stderr = os.Stdout, os.Stderr
	if err := c.Run(); err != nil {
		return max(c.ProcessState.ExitCode(), testsFail)
	}
	return 0
}

// chosen are the tests that come by the fault in this folder, the quick ones and the others.
func chosen() (first, then []string, err error) {
	data, err := os.ReadFile(os.Getenv(testsFile))
	if err != nil {
		return nil, nil, err
	}
	var all []test
	if err := json.Unmarshal(data, &all); err != nil {
		return nil, nil, err
	}
	file, line, err := fault(os.Getenv(pristine))
	if err != nil {
		return nil, nil, err
	}
	var total time.Duration
	for _, t := range all {
		if !t.Lines[file][line] {
			continue
		}
		if total += t.Takes; total < quick {
			first = append(first, t.Name)
		} else {
			then = append(then, t.Name)
		}
	}
	return first, then, nil
}

// fault is where the files of this folder are not those of another. Gremlins writes a file
// with other blanks.
func fault(from string) (file string, line int, err error) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		return "", 0, err
	}
	for _, file := range files {
		here, err := os.ReadFile(file)
		if err != nil {
			return "", 0, err
		}
		there, err := os.ReadFile(filepath.Join(from, file))
		if err != nil {
			return "", 0, err
		}
		was := strings.Split(string(there), "\n")
		for i, now := range strings.Split(string(here), "\n") {
			if i < len(was) && strings.Join(strings.Fields(now), "") != strings.Join(strings.Fields(was[i]), "") {
				return file, i + 1, nil
			}
		}
	}
	return "", 0, fmt.Errorf("no fault in %s", from)
}
