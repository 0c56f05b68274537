package main

import (
	"bytes"
	"debug/buildinfo"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// module is a module as the toolchain lists it.
type module struct {
	Path, Version, Dir string
	Main               bool
}

// collectNotices collects the licence of every module that a program links on any system,
// of the language and of the fonts.
func (r *release) collectNotices() ([]byte, error) {
	linked := map[string]module{}
	for _, s := range systems {
		if err := linkedOn(&s, linked); err != nil {
			return nil, err
		}
	}
	modules := slices.Sorted(maps.Keys(linked))
	list, err := exec.Command("go", append([]string{"list", "-m", "-json"}, modules...)...).Output()
	if err != nil {
		return nil, err
	}
	notices := filepath.Join(r.work, "notices.txt")
	c := exec.Command(filepath.Join(r.tools, "go-licence-detector"), "-includeIndirect",
		"-noticeTemplate", filepath.Join(".ci", "dist", "files", "notices.tmpl"), "-noticeOut", notices)
	c.Stdin = bytes.NewReader(list)
	if err := said(c); err != nil {
		return nil, err
	}
	all, err := os.ReadFile(notices)
	if err != nil {
		return nil, err
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, err
	}
	for _, of := range []struct{ what, file string }{
		{"The Go programming language, its library and runtime", filepath.Join(strings.TrimSpace(string(root)), "LICENSE")},
		{"The Go fonts", filepath.Join(linked["golang.org/x/image"].Dir, "font", "gofont", "ttfs", "README")},
	} {
		text, err := os.ReadFile(of.file)
		if err != nil {
			return nil, err
		}
		all = fmt.Appendf(all, "%s\n%s\n\n%s\n", strings.Repeat("-", 80), of.what, text)
	}
	return all, nil
}

// linkedOn adds the modules that the programs link on a system.
func linkedOn(s *system, linked map[string]module) error {
	c := exec.Command("go", "list", "-deps", "-json=Module", "./cmd/"+commands, "./cmd/"+window)
	c.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+s.goos, "GOARCH="+s.goarch)
	out, err := c.Output()
	if err != nil {
		return err
	}
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct{ Module *module }
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return nil
		} else if err != nil {
			return err
		}
		if p.Module != nil && !p.Module.Main {
			linked[p.Module.Path] = *p.Module
		}
	}
}

// noticeOf is how the notice of a module begins.
func noticeOf(path, version string) string { return "\n" + path + " " + version + "\n" }

// allNoticed refuses a program that holds a module without a notice. What it holds it says
// itself.
func allNoticed(program string, notices []byte) error {
	info, err := buildinfo.ReadFile(program)
	if err != nil {
		return err
	}
	for _, m := range info.Deps {
		_, after, ok := bytes.Cut(notices, []byte(noticeOf(m.Path, m.Version)))
		text, _, _ := bytes.Cut(after, []byte(strings.Repeat("-", 80)))
		if !ok || !bytes.Contains(text, []byte("opyright")) {
			return fmt.Errorf("%s holds %s %s, which has no notice", filepath.Base(program), m.Path, m.Version)
		}
	}
	return nil
}

// billOf lists what a program is made of, as CycloneDX, and refuses a list without a module
// that the program says it holds.
func (r *release) billOf(program string) ([]byte, error) {
	path := program + ".cdx.json"
	c := exec.Command(filepath.Join(r.tools, "cyclonedx-gomod"), "bin", "-json", "-std", "-licenses", "-noserial", "-notimestamp",
		"-version", r.Version, "-output", path, program)
	if err := said(c); err != nil {
		return nil, err
	}
	list, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	return list, allListed(program, list)
}

// allListed refuses a list of parts without a module that the program says it holds.
func allListed(program string, list []byte) error {
	var parts struct {
		Components []struct{ Name, Version string }
	}
	if err := json.Unmarshal(list, &parts); err != nil {
		return err
	}
	listed := map[[2]string]bool{}
	for _, c := range parts.Components {
		listed[[2]string{c.Name, c.Version}] = true
	}
	info, err := buildinfo.ReadFile(program)
	if err != nil {
		return err
	}
	for _, m := range info.Deps {
		if !listed[[2]string{m.Path, m.Version}] {
			return fmt.Errorf("%s holds %s %s, which its list of parts has not", filepath.Base(program), m.Path, m.Version)
		}
	}
	return nil
}
