# make run           open the window (with no display: pictures into out/); SCENE=… picks
#                    what to open
# make lint          what the linter finds
# make test          the tests
# make test-pages    what a browser, a reader of PDF and a player of films make of it
# make dist          what is handed out, for every system, into out/dist
# make test-dist     that it is the same wherever it is made, and runs
# make test-mutants  how many small faults the tests notice, of a sample; takes an hour
# make test-long     random input for hours

SHELL := /bin/bash
VERSION := $(shell git describe --always --dirty 2>/dev/null || echo unknown)
COMMITTED := $(shell git log -1 --format=%ct 2>/dev/null || echo 1)

# One configuration for all tests, so that nothing is built twice. Pixels of
# goldens are those of plain amd64, without fused multiply-adds.
export GOAMD64 = v1
GOTEST = go test -race -vet=all -shuffle=on -timeout 30m

# Tests with random input are the same every time, and print what they began with;
# RAPID_SEED=0 begins anew. So many inputs each, a few more than test-mutants has; test-long
# has many.
export RAPID_SEED ?= 1
export RAPID_CHECKS ?= 30
export MONKEY ?= 1

# Programs of other makers, each of one version.
LINTER = github.com/golangci/golangci-lint/v2/cmd/golangci-lint@v2.15.0
PARTS = github.com/CycloneDX/cyclonedx-gomod/cmd/cyclonedx-gomod@v1.10.0
LICENCES = go.elastic.co/go-licence-detector@v0.11.1
RESOURCES = github.com/tc-hib/go-winres@v0.3.3
MUTATOR = github.com/go-gremlins/gremlins/cmd/gremlins@v0.6.0

# What no pattern of packages holds: ./... leaves them out.
ASIDE = ./testdata/published ./.ci/mutants ./.ci/dist ./.ci/dist/compare

# Fuzzers, as package:target:runs. Runs are counted: before Go 1.27 a fuzzer that is stopped
# by its clock can fail of nothing but that (go.dev/issue/75804).
FUZZERS = ./scenes:FuzzParse:2000x ./sim:FuzzLook:2000x ./render/raster:FuzzPaint:40x
FUZZED = $(sort $(foreach f,$(FUZZERS),$(firstword $(subst :, ,$f))))
FUZZTIME = 10m

# What makes a family page live: the simulator for a browser. It is in no repository, and
# built before the program that holds it.
ENGINE = render/browser/engine/engine.wasm.gz
ENGINE_SOURCES := $(shell find cmd/engine sim scenes render go.mod go.sum -not -name '*_test.go' \( -name '*.go' -o -name '*.toml' -o -name 'go.*' \) \
	-not -path 'render/desk/*' -not -path 'render/window/*' -not -path 'render/ui/*' -not -path 'render/film/*' -not -path 'render/pdf/*' -not -path 'scenes/document/*')

.PHONY: run build dist lint test test-pages test-dist test-mutants test-long fuzz fuzz-covered picture clean

$(ENGINE): $(ENGINE_SOURCES)
	@GOOS=wasip1 GOARCH=wasm go build -buildmode=c-shared -trimpath -buildvcs=false -ldflags '-s -w' -o $(@:.gz=) ./cmd/engine
	@gzip -9nf $(@:.gz=)

build: $(ENGINE)
	@mkdir -p bin
	@CGO_ENABLED=0 go build -ldflags '-X twincord/cmd/internal/call.version=$(VERSION)' -o bin/ ./cmd/twincord ./cmd/twincord-window

# Every file of the archives is as old as the commit, and built the same in any folder. Nothing
# is handed out whose parts or licences are not all listed.
dist: $(ENGINE)
	@.ci/tool "what is handed out" cyclonedx-gomod $(PARTS)
	@.ci/tool "what is handed out" go-licence-detector $(LICENCES)
	@.ci/tool "what is handed out" go-winres $(RESOURCES)
	@go run ./.ci/dist -version $(VERSION) -committed $(COMMITTED)

run: build
	@if [ "$$(uname)" = Linux ] && [ -z "$$DISPLAY$$WAYLAND_DISPLAY" ]; then \
		echo "No display here to open a window on. Drawing the built-in scenes into out/ instead:"; \
		bin/twincord scenes draw out; \
	else \
		bin/twincord $(SCENE); \
	fi

lint: $(ENGINE)
	@.ci/tool "the linter" golangci-lint $(LINTER)
	bin/golangci-lint run ./... $(ASIDE)

# The fuzzers first, so that the closing lines are those of the tests.
test: fuzz $(ENGINE)
	@go vet -race $(ASIDE)
	@need() { .ci/need "the window under Xvfb" Xvfb:xvfb xauth:xauth xdotool:xdotool xprop:x11-utils; }; \
	if need 2>/dev/null; then $(GOTEST) -tags window ./... ./.ci/dist/...; else $(GOTEST) ./... ./.ci/dist/... || exit 1; need; fi

# They vary their inputs blind, in the binaries of the tests: to follow what is covered
# takes three minutes of compiling, and tells little in so many runs.
fuzz:
	@go test -race -c -ldflags '-s -w' -o bin/ $(FUZZED)
	@for f in $(FUZZERS); do \
		IFS=: read -r package target runs <<<"$$f"; \
		echo "fuzzing $$package $$target for $$runs"; \
		(cd "$$package" && "$(CURDIR)/bin/$${package##*/}.test" -test.run '^$$' -test.fuzz "^$$target\$$" -test.fuzztime "$$runs" \
			-test.fuzzminimizetime 10x -test.parallel 2 -test.fuzzcachedir "$(CURDIR)/bin/fuzz") || exit 1; \
	done

fuzz-covered:
	@for f in $(FUZZERS); do \
		IFS=: read -r package target runs <<<"$$f"; \
		echo "fuzzing $$package $$target for $(FUZZTIME)"; \
		$(GOTEST) -run '^$$' -fuzz "^$$target\$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 10x -parallel 2 "$$package" || exit 1; \
	done

test-pages: $(ENGINE)
	@.ci/need "the pages in a browser, printed pages and films" chromium:chromium rsvg-convert:librsvg2-bin ffprobe:ffmpeg ffmpeg:ffmpeg pdftotext:poppler-utils mutool:mupdf-tools qpdf:qpdf
	go test -vet=all -shuffle=on -timeout 30m -tags pages -skip 'Axe|CheckerOfHTML|Inkscape' ./render/svg ./render/pdf ./render/sheet ./render/film ./.ci/dist/compare
	@.ci/need "the pages by other makers' checkers" npm:npm java:default-jre-headless
	@checkers=$$(.ci/checkers "$$PWD/bin") || exit; CHECKERS=$$checkers go test -tags pages -run 'Axe|CheckerOfHTML|Taplo' ./render/sheet ./render/browser ./scenes
	@.ci/need "family pages in a browser" node:nodejs npm:npm
	@cd render/browser/checks && npm install --no-package-lock --no-audit --no-fund --silent || { \
		echo "NOT RUN: family pages in a browser. npm cannot install what render/browser/checks/package.json pins." >&2; exit 3; }
	go test -vet=all -shuffle=on -timeout 30m -tags pages -skip 'CheckerOfHTML|Firefox' ./render/browser
	@.ci/need "SVG in Inkscape" inkscape:inkscape
	go test -vet=all -tags pages -run Inkscape ./render/svg
	@.ci/need "family pages in Firefox" firefox-esr:firefox-esr
	go test -timeout 30m -tags pages -run Firefox ./render/browser

test-dist: dist
	@.ci/dist/check $(VERSION) $(COMMITTED)

# No part of make test: it takes its time.
test-mutants: $(ENGINE)
	@.ci/tool "the tests with faults" gremlins $(MUTATOR)
	PATH="$$PWD/bin:$$PATH" RAPID_CHECKS=25 go run ./.ci/mutants sim sim/answers scenes scenes/routine scenes/document render/words render/measure render/sheet render/desk

# Random input for hours: some 2 of a processor without the window's, which takes one more.
# Each says what it did. SETUPS, MINUTES and the seeds that they print change them.
test-long: $(ENGINE) fuzz-covered
	for seed in {2..21}; do MONKEY=$$seed $(GOTEST) -tags long -run 'Monkey$$' ./render/desk || exit 1; done
	RAPID_CHECKS=1000 $(GOTEST) -timeout 4h ./sim ./scenes ./render/...
	$(GOTEST) -tags long -timeout 20m ./scenes/document ./render/desk
	$(GOTEST) -tags long -timeout 60m ./sim ./sim/answers ./render/words ./render/sheet
	$(GOTEST) -tags long -timeout 4h ./scenes/cases
	go test -tags long -timeout 4h -v -run AnySetup ./render/measure
	go test -tags long -timeout 1h -v -run 'Stopped|NobodyReads' ./cmd/twincord
	@.ci/need "the monkey on a real window" Xvfb:xvfb xauth:xauth xdotool:xdotool xprop:x11-utils
	go test -tags 'long window' -timeout 3h -v -run MonkeyOnARealWindow ./cmd/twincord-window

# The pictures of the README.
picture: build
	@.ci/need "the pictures of the README" Xvfb:xvfb xauth:xauth xdotool:xdotool import:imagemagick chromium:chromium
	@.ci/pictures

clean:
	rm -rf bin out $(ENGINE)
