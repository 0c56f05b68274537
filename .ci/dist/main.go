// Command dist makes what is handed out: for each system an archive with both programs,
// and beside them their sums.
//
//	go run ./.ci/dist -version VERSION -committed SECONDS [-o FOLDER] [-tools FOLDER]
//
// The same commit gives the same bytes, in any folder and at any time: nothing that goes in
// knows where or when it was made, all files are as old as the commit, and they stand in the
// archives in the order of their names. It reads the repository that it is called in.
package main

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"text/template"
	"time"
)

// The programs.
const (
	commands = "twincord"
	window   = "twincord-window"
)

// linked is how programs are linked: without symbols, and without what differs by where.
const linked = "-s -w -buildid="

// system is what an archive is for.
type system struct {
	name         string // as people know it
	goos, goarch string
	archive      func(files []file, at time.Time) ([]byte, error)
	ending       string
	programs     string // folder for them
	files        func(*release) ([]file, error)
}

var systems = []system{
	{"windows-amd64", "windows", "amd64", zipped, ".zip", "", nil},
	{"macos-arm64", "darwin", "arm64", zipped, ".zip", "Twincord.app/Contents/MacOS/", (*release).app},
	{"macos-amd64", "darwin", "amd64", zipped, ".zip", "Twincord.app/Contents/MacOS/", (*release).app},
	{"linux-amd64", "linux", "amd64", tarred, ".tar.gz", "bin/", (*release).share},
	{"linux-arm64", "linux", "arm64", tarred, ".tar.gz", "bin/", (*release).share},
}

// release is one version of what is handed out.
type release struct {
	Version string
	at      time.Time
	tools   string // folder of the tools
	work    string // a folder of its own, for the time
	icon    *icon
	notices []byte
}

// Number is the version where a system wants numbers: the day of the commit.
func (r *release) Number() string {
	return fmt.Sprintf("%d.%d.%d", r.at.Year(), r.at.Month(), r.at.Day())
}

//go:embed files
var sources embed.FS

func main() {
	version := flag.String("version", "", "which version it is")
	committed := flag.Int64("committed", 0, "when it was committed, seconds since 1970")
	out := flag.String("o", filepath.Join("out", "dist"), "folder for the archives")
	tools := flag.String("tools", "bin", "folder of the tools")
	flag.Parse()
	if *version == "" || *committed == 0 || flag.NArg() > 0 {
		fmt.Fprintln(os.Stderr, "dist: needs -version and -committed, and nothing else than flags")
		os.Exit(2)
	}
	r := &release{Version: *version, at: time.Unix(*committed, 0).UTC(), tools: *tools}
	if err := r.make(*out); err != nil {
		fmt.Fprintln(os.Stderr, "dist:", err)
		os.Exit(1)
	}
}

// make writes the archives and their sums into a folder, which holds nothing else then.
func (r *release) make(out string) (err error) {
	if r.work, err = os.MkdirTemp("", "dist"); err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(r.work)) }()
	if r.icon, err = drawIcon(); err != nil {
		return err
	}
	if r.notices, err = r.collectNotices(); err != nil {
		return err
	}
	if err := errors.Join(os.RemoveAll(out), os.MkdirAll(out, 0o755)); err != nil {
		return err
	}
	var sums bytes.Buffer
	for _, s := range systems {
		files, err := r.filesFor(&s)
		if err != nil {
			return fmt.Errorf("%s: %w", s.name, err)
		}
		top := commands + "-" + r.Version
		for i := range files {
			files[i].name = top + "/" + files[i].name
		}
		slices.SortFunc(files, func(a, b file) int { return strings.Compare(a.name, b.name) })
		data, err := s.archive(files, r.at)
		if err != nil {
			return fmt.Errorf("%s: %w", s.name, err)
		}
		name := top + "-" + s.name + s.ending
		if err := os.WriteFile(filepath.Join(out, name), data, 0o644); err != nil {
			return err
		}
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(data), name)
		fmt.Printf("%s: %.1f MB\n", filepath.Join(out, name), float64(len(data))/1e6)
	}
	return os.WriteFile(filepath.Join(out, "SHA256SUMS"), sums.Bytes(), 0o644)
}

// filesFor are the files of a system's archive.
func (r *release) filesFor(s *system) ([]file, error) {
	readme, err := r.filled("README." + s.goos + ".txt")
	if err != nil {
		return nil, err
	}
	files := []file{readme.as("README.txt"), {name: "NOTICES.txt", data: r.notices}}
	if s.files != nil {
		more, err := s.files(r)
		if err != nil {
			return nil, err
		}
		files = append(files, more...)
	}
	for _, name := range []string{commands, window} {
		path, err := r.build(s, name)
		if err != nil {
			return nil, err
		}
		if err := allNoticed(path, r.notices); err != nil {
			return nil, err
		}
		program, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		parts, err := r.billOf(path)
		if err != nil {
			return nil, err
		}
		files = append(files, file{s.programs + filepath.Base(path), true, program}, file{name + ".cdx.json", false, parts})
	}
	return files, nil
}

// build builds a program for a system and says where it is.
func (r *release) build(s *system, name string) (path string, err error) {
	path = filepath.Join(r.work, s.name, name)
	flags := linked + " -X twincord/cmd/internal/call.version=" + r.Version
	args := []string{"build", "-trimpath", "-buildvcs=false"}
	if s.goos == "windows" {
		path += ".exe"
		if name == window {
			flags += " -H windowsgui"
		}
		remove, err := r.resources(s, name)
		if err != nil {
			return "", err
		}
		defer func() { err = errors.Join(err, remove()) }()
	}
	c := exec.Command("go", append(args, "-ldflags", flags, "-o", path, "./cmd/"+name)...)
	c.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+s.goos, "GOARCH="+s.goarch, "GOAMD64=v1", "GOARM64=v8.0", "GOFLAGS=")
	return path, said(c)
}

// resources puts what Windows shows of a program, its icon and which version it is, beside
// its source, where the toolchain looks for it, until it is removed. Git ignores it.
func (r *release) resources(s *system, name string) (remove func() error, err error) {
	folder := filepath.Join(r.work, "resources", name)
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, err
	}
	for _, side := range windowsSides {
		if err := os.WriteFile(filepath.Join(folder, fmt.Sprintf("%d.png", side)), r.icon.png[side], 0o644); err != nil {
			return nil, err
		}
	}
	wanted, err := json.Marshal(r.windowsResources(name))
	if err != nil {
		return nil, err
	}
	if err := os.WriteFile(filepath.Join(folder, "winres.json"), wanted, 0o644); err != nil {
		return nil, err
	}
	winres, err := filepath.Abs(filepath.Join(r.tools, "go-winres"))
	if err != nil {
		return nil, err
	}
	object, err := filepath.Abs(filepath.Join("cmd", name, "rsrc"))
	if err != nil {
		return nil, err
	}
	c := exec.Command(winres, "make", "--in", "winres.json", "--arch", s.goarch, "--out", object)
	c.Dir = folder
	if err := said(c); err != nil {
		return nil, err
	}
	return func() error { return os.Remove(object + "_windows_" + s.goarch + ".syso") }, nil
}

// windowsResources are the resources of a program as go-winres reads them.
func (r *release) windowsResources(name string) map[string]any {
	const us = "0409"
	neutral := func(what any) map[string]any { return map[string]any{"0000": what} }
	var pictures []string
	for _, side := range windowsSides {
		pictures = append(pictures, fmt.Sprintf("%d.png", side))
	}
	manifest := map[string]any{
		"description":            "What a patient sees along a Brock string",
		"minimum-os":             "win7",
		"execution-level":        "as invoker",
		"dpi-awareness":          "per monitor v2",
		"long-path-aware":        true,
		"use-common-controls-v6": false,
	}
	version := map[string]any{
		"fixed": map[string]any{"file_version": r.Number(), "product_version": r.Number()},
		"info": map[string]any{us: map[string]string{
			"FileDescription": name, "ProductName": commands, "ProductVersion": r.Version,
			"OriginalFilename": name + ".exe", "InternalName": name,
		}},
	}
	return map[string]any{
		"RT_GROUP_ICON": map[string]any{"APP": neutral(pictures)},
		"RT_MANIFEST":   map[string]any{"#1": map[string]any{us: manifest}},
		"RT_VERSION":    map[string]any{"#1": neutral(version)},
	}
}

// app are the files of a Mac's application beside its programs.
func (r *release) app() ([]file, error) {
	about, err := r.filled("Info.plist")
	if err != nil {
		return nil, err
	}
	return []file{
		about.as("Twincord.app/Contents/Info.plist"),
		{name: "Twincord.app/Contents/Resources/twincord.icns", data: r.icon.icns()},
	}, nil
}

// share are the files by which a desktop of Linux knows the program and its files.
func (r *release) share() ([]file, error) {
	var files []file
	for from, to := range map[string]string{
		"twincord.desktop": "share/applications/", "twincord.xml": "share/mime/packages/",
	} {
		f, err := r.filled(from)
		if err != nil {
			return nil, err
		}
		files = append(files, f.as(to+from))
	}
	const icons = "share/icons/hicolor/"
	files = append(files, file{name: icons + "scalable/apps/twincord.svg", data: r.icon.svg})
	for _, side := range linuxSides {
		files = append(files, file{name: fmt.Sprintf("%s%dx%d/apps/twincord.png", icons, side, side), data: r.icon.png[side]})
	}
	return files, nil
}

// filled is one of the files that are handed out, filled with what the release is.
func (r *release) filled(name string) (file, error) {
	t, err := template.ParseFS(sources, "files/"+name)
	if err != nil {
		return file{}, err
	}
	var b bytes.Buffer
	err = t.Execute(&b, r)
	return file{name: name, data: b.Bytes()}, err
}

// said runs a program, and gives what it said should it fail.
func said(c *exec.Cmd) error {
	out, err := c.CombinedOutput()
	if err != nil {
		return fmt.Errorf("%s: %w\n%s", strings.Join(c.Args, " "), err, out)
	}
	return nil
}
