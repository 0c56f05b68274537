// Command mutants says how many faults the tests notice: it has gremlins put a sample of
// small faults into packages, one at a time, and run the tests of the package with each.
// Gremlins tries every fault there is, or those in changed lines alone; so the sample is
// drawn by changing lines, in a copy, by a blank at their ends. For each fault those tests
// are run that come by its line.
//
//	go run ./.ci/mutants [flags] FOLDER...
//
// What is looked at is what is committed.
package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// What gremlins says of a fault.
const (
	runnable = "RUNNABLE" // tests come by; only said where it is asked what there is
	killed   = "KILLED"
	lived    = "LIVED"
	timedOut = "TIMED OUT"
	notFound = "NOT COVERED"
)

// A mutant is one fault.
type mutant struct {
	state, kind, file string
	line, column      int
}

func (m mutant) place() string { return m.file + ":" + strconv.Itoa(m.line) }

// mutantLine is a fault as gremlins prints it.
var mutantLine = regexp.MustCompile(`^\s*(RUNNABLE|KILLED|LIVED|TIMED OUT|NOT COVERED|NOT VIABLE) (\S+) at (\S+):(\d+):(\d+)`)

// gremlins are the flags for every run: what it inverts of negatives it does as arithmetic,
// too. A slow machine is not a fault noticed.
var gremlins = []string{"unleash", "--invert-logical", "--invert-negatives=false", "--timeout-coefficient", "12", "--workers", "2", "-E", `_(windows|darwin|js)\.go$`}

func main() {
	if filepath.Base(os.Args[0]) == "go" {
		os.Exit(inPlaceOfGo(os.Args[1:]))
	}
	sample := flag.Int("n", 50, "faults to try in each folder")
	seed := flag.Uint64("seed", 1, "what the sample depends on")
	most := flag.Duration("most", 10*time.Minute, "the longest that a folder may take")
	flag.Parse()
	fmt.Printf("Faults in a sample of seed %d, %d in each folder, each folder for %v at most.\n", *seed, *sample, *most)
	if err := run(flag.Args(), *sample, *seed, *most); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(folders []string, sample int, seed uint64, most time.Duration) error {
	home, err := os.MkdirTemp("", "mutants-")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(home) }() // a folder left behind is no reason to fail
	if out, err := exec.Command("git", "clone", "--quiet", ".", home).CombinedOutput(); err != nil {
		return fmt.Errorf("copying: %w: %s", err, out)
	}
	// Gremlins names files from the folder it works in, and so has git to.
	if out, err := exec.Command("git", "-C", home, "config", "diff.relative", "true").CombinedOutput(); err != nil {
		return fmt.Errorf("setting up the copy: %w: %s", err, out)
	}
	if err := standIn(home); err != nil {
		return err
	}
	table := []string{heading()}
	var faults []error
	for _, folder := range folders {
		count, err := try(home, folder, sample, seed, most)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		table = append(table, row(folder, count))
		fmt.Println(table[len(table)-1])
	}
	fmt.Printf("\n%s\n", strings.Join(table, "\n"))
	return errors.Join(faults...)
}

// standIn puts this program in the place of the go command, for those that are run from
// here on.
func standIn(home string) error {
	itself, err := os.Executable()
	if err != nil {
		return err
	}
	command, err := exec.LookPath("go")
	if err != nil {
		return err
	}
	bin := filepath.Join(home, ".ci", "bin")
	return errors.Join(
		os.MkdirAll(bin, 0o700),
		os.Symlink(itself, filepath.Join(bin, "go")),
		os.Setenv(realGo, command),
		os.Setenv(testsFile, filepath.Join(home, "tests.json")),
		os.Setenv("PATH", bin+string(os.PathListSeparator)+os.Getenv("PATH")),
	)
}

// try tries a sample of the faults of a folder, prints those that nobody notices, and
// counts them all.
func try(home, folder string, sample int, seed uint64, most time.Duration) (map[string]int, error) {
	defer func() {
		if out, err := exec.Command("git", "-C", home, "checkout", "--quiet", ".").CombinedOutput(); err != nil {
			panic(fmt.Sprintf("putting back: %v: %s", err, out))
		}
	}()
	tests, err := testsOf(home, folder)
	if err != nil {
		return nil, err
	}
	known, err := json.Marshal(tests)
	if err != nil {
		return nil, err
	}
	if err := errors.Join(os.WriteFile(os.Getenv(testsFile), known, 0o600), os.Setenv(pristine, filepath.Join(home, folder))); err != nil {
		return nil, err
	}
	all, err := released(context.Background(), home, folder, "--dry-run")
	if err != nil {
		return nil, err
	}
	// What lies in a folder inside this one is asked for by its own name.
	all = slices.DeleteFunc(all, func(m mutant) bool { return filepath.Dir(m.file) != "." })
	count := map[string]int{"all": len(all)}
	for _, m := range all {
		if m.state == notFound {
			count[notFound]++
		}
	}
	if err := draw(home, folder, all, sample, rand.New(rand.NewPCG(seed, 0))); err != nil {
		return nil, err
	}
	ctx, cancel := context.WithTimeout(context.Background(), most)
	defer cancel()
	tried, err := released(ctx, home, folder, "--diff", "HEAD")
	if err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return nil, err
	}
	fmt.Printf("\n%s: survivors\n", folder)
	for _, m := range tried {
		if m.state != notFound {
			count[m.state]++
		}
		if m.state == lived {
			fmt.Printf("  %s:%d %-24s %s\n", filepath.Join(folder, m.place()), m.column, m.kind, textOf(home, folder, m))
		}
	}
	return count, nil
}

// released has gremlins say what becomes of the faults of a folder; what it has said when
// it has to stop counts.
func released(ctx context.Context, home, folder string, more ...string) (all []mutant, err error) {
	c := exec.CommandContext(ctx, "gremlins", slices.Concat(gremlins, more)...)
	c.Dir = filepath.Join(home, folder)
	c.Cancel = func() error { return c.Process.Signal(os.Interrupt) }
	c.WaitDelay = time.Minute
	var complaints strings.Builder
	c.Stderr = &complaints
	out, err := c.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := c.Start(); err != nil {
		return nil, err
	}
	var said strings.Builder
	for lines := bufio.NewScanner(io.TeeReader(out, &said)); lines.Scan(); {
		if ctx.Err() != nil {
			continue // it takes what is stopped for what lived
		}
		if p := mutantLine.FindStringSubmatch(lines.Text()); p != nil {
			line, _ := strconv.Atoi(p[4]) // the pattern has nothing but digits there
			column, _ := strconv.Atoi(p[5])
			all = append(all, mutant{state: p[1], kind: p[2], file: p[3], line: line, column: column})
		}
	}
	err = c.Wait()
	switch {
	case ctx.Err() != nil:
		return all, ctx.Err()
	case err != nil:
		return nil, fmt.Errorf("gremlins in %s: %w: %s%s", folder, err, said.String(), complaints.String())
	case len(all) == 0:
		return nil, fmt.Errorf("gremlins in %s finds nothing: %s%s", folder, said.String(), complaints.String())
	}
	return all, nil
}

// draw changes so many lines that they hold a sample of the faults.
func draw(home, folder string, all []mutant, sample int, r *rand.Rand) error {
	on := map[string]int{}
	var places []mutant
	for _, m := range all {
		if m.state != runnable {
			continue
		}
		if on[m.place()] == 0 {
			places = append(places, m)
		}
		on[m.place()]++
	}
	// Gremlins names them in any order.
	slices.SortFunc(places, func(a, b mutant) int {
		if a.file != b.file {
			return strings.Compare(a.file, b.file)
		}
		return a.line - b.line
	})
	r.Shuffle(len(places), func(i, j int) { places[i], places[j] = places[j], places[i] })
	for _, m := range places {
		if sample <= 0 {
			break
		}
		taken, err := touch(filepath.Join(home, folder, m.file), m.line)
		if err != nil {
			return err
		}
		if taken {
			sample -= on[m.place()]
		}
	}
	return nil
}

// texts is what stands in a line whose faults no test need notice, since they do not compile: strings
// are added up in it. A blank at its end might be one within a text, too.
var texts = regexp.MustCompile("`|\" *\\+|\\+ *\"")

// touch changes a line, unless it deals with texts.
func touch(file string, line int) (bool, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return false, err
	}
	lines := strings.Split(string(data), "\n")
	if texts.MatchString(lines[line-1]) {
		return false, nil
	}
	lines[line-1] += " "
	return true, os.WriteFile(file, []byte(strings.Join(lines, "\n")), 0o600)
}

// textOf is the line of a fault.
func textOf(home, folder string, m mutant) string {
	data, err := os.ReadFile(filepath.Join(home, folder, m.file))
	if err != nil {
		return err.Error()
	}
	return strings.TrimSpace(strings.Split(string(data), "\n")[m.line-1])
}

// heading and row are the table, a row a folder.
func heading() string {
	return fmt.Sprintf("%-18s %6s %8s %6s %6s %9s %8s", "folder", "tried", "noticed", "not", "share", "timed out", "no test")
}

func row(folder string, count map[string]int) string {
	share := "-"
	if n := count[killed] + count[lived]; n > 0 {
		share = fmt.Sprintf("%.0f %%", 100*float64(count[killed])/float64(n))
	}
	return fmt.Sprintf("%-18s %6d %8d %6d %6s %9d %8s", folder, count[killed]+count[lived]+count[timedOut], count[killed], count[lived], share,
		count[timedOut], fmt.Sprintf("%d/%d", count[notFound], count["all"]))
}
