# make run     open the window (with no display: pictures into out/)
# make test    the tests; SCENE=… of make run picks what to open

SHELL := /bin/bash
VERSION := $(shell git describe --always --dirty 2>/dev/null || echo unknown)

# One configuration for all tests, so that nothing is built twice. Pixels of
# goldens are those of plain amd64, without fused multiply-adds.
export GOAMD64 = v1
GOTEST = go test -race -vet=all -shuffle=on

# Fuzzers, as package:target.
FUZZERS = ./scenes:FuzzParse ./sim:FuzzLook ./render/raster:FuzzPaint
FUZZTIME = 3s

# What makes a family page live: the simulator for a browser. It is in no repository, and
# built before the program that holds it.
ENGINE = render/browser/engine/engine.wasm.gz
ENGINE_SOURCES := $(shell find cmd/engine sim scenes render go.mod go.sum -not -name '*_test.go' \( -name '*.go' -o -name '*.toml' -o -name 'go.*' \) \
	-not -path 'render/desk/*' -not -path 'render/window/*' -not -path 'render/ui/*' -not -path 'render/film/*' -not -path 'render/pdf/*' -not -path 'scenes/document/*')

.PHONY: run build test test-pages test-long fuzz picture clean

$(ENGINE): $(ENGINE_SOURCES)
	@GOOS=wasip1 GOARCH=wasm go build -buildmode=c-shared -trimpath -buildvcs=false -ldflags '-s -w' -o $(@:.gz=) ./cmd/engine
	@gzip -9nf $(@:.gz=)

build: $(ENGINE)
	@mkdir -p bin
	@go build -ldflags '-X main.version=$(VERSION)' -o bin/twincord ./cmd/twincord

run: build
	@if [ "$$(uname)" = Linux ] && [ -z "$$DISPLAY$$WAYLAND_DISPLAY" ]; then \
		echo "No display here to open a window on. Drawing the built-in scenes into out/ instead:"; \
		bin/twincord scenes draw out; \
	else \
		bin/twincord $(SCENE); \
	fi

# The fuzzers first, so that the closing lines are those of the tests.
test: fuzz $(ENGINE)
	@.ci/need "the window under Xvfb" Xvfb:xvfb xauth:xauth xdotool:xdotool xprop:x11-utils import:imagemagick
	$(GOTEST) -tags window ./...

fuzz:
	@for f in $(FUZZERS); do \
		echo "fuzzing $$f for $(FUZZTIME)"; \
		$(GOTEST) -run '^$$' -fuzz "^$${f#*:}\$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 10x -parallel 2 "$${f%%:*}" || exit 1; \
	done

test-pages: $(ENGINE)
	@.ci/need "the pages in a browser, printed pages and films" chromium:chromium rsvg-convert:librsvg2-bin ffprobe:ffmpeg pdftotext:poppler-utils
	go test -vet=all -shuffle=on -tags pages ./render/svg ./render/pdf ./render/sheet ./render/film

test-long:
	@$(MAKE) --no-print-directory fuzz FUZZTIME=60s
	$(GOTEST) -count 20 -run Monkey ./render/desk
	$(GOTEST) -tags long -timeout 20m ./scenes/document ./render/desk

# The picture of the README.
picture: build
	bin/twincord draw too-far-doubled --compare --size 1200x560 -o testdata/readme/compare.png

clean:
	rm -rf bin out $(ENGINE)
