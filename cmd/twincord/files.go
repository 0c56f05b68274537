package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"syscall"

	"twincord/cmd/internal/call"
	"twincord/scenes/document"
)

// untilStopped does something about a file that leaves nothing half-done behind when its
// context ends, which it does when somebody wants the program to end. Whoever wants that
// twice does not wait for it.
func untilStopped(path string, do func(context.Context) error) error {
	ctx, stop := signal.NotifyContext(context.Background(), call.Stopping()...)
	defer stop()
	context.AfterFunc(ctx, stop)
	err := do(ctx)
	if errors.Is(err, context.Canceled) {
		return fmt.Errorf("%s: stopped, nothing left half-written", path)
	}
	return err
}

// replace gives a file new contents, all or nothing.
func replace(path string, write func(io.Writer) error) error {
	return untilStopped(path, func(ctx context.Context) error { return replaceIn(ctx, path, write) })
}

// replaceIn is replace as long as a context lasts. A path that cannot be written to is
// bad input, whatever goes wrong later is not.
func replaceIn(ctx context.Context, path string, write func(io.Writer) error) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return call.Bad("%s: is a folder or a device, not a file", path)
	}
	err := document.Replace(path, func(w io.Writer) error {
		if err := write(lasting{ctx, w}); err != nil {
			return err
		}
		return ctx.Err()
	})
	if errors.Is(err, fs.ErrNotExist) {
		return call.Bad("%w; allowed is a file in a folder that is there", err)
	}
	for _, unwritable := range []error{fs.ErrPermission, syscall.ENOTDIR, syscall.EROFS, syscall.ENAMETOOLONG} {
		if errors.Is(err, unwritable) {
			return call.AsBad(err)
		}
	}
	return err
}

// contents writes what is made already.
func contents(b []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(b)
		return err
	}
}

// makeFolder makes a folder for files, if it is not there.
func makeFolder(path string) error {
	if err := os.MkdirAll(path, 0o755); err != nil {
		return call.Bad("%s: cannot be made: %w; allowed is a folder, which may be new", path, bare(err))
	}
	return nil
}

// bare is the reason of an error of a path, without the path.
func bare(err error) error {
	var path *os.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	return err
}

// lasting is a writer as long as a context lasts.
type lasting struct {
	ctx context.Context
	to  io.Writer
}

func (l lasting) Write(b []byte) (int, error) {
	if err := l.ctx.Err(); err != nil {
		return 0, err
	}
	return l.to.Write(b)
}

// notItself refuses to write what is made of a scene over the scene.
func notItself(scene, output string) error {
	in, err := os.Stat(scene)
	if err != nil {
		return nil // built in, or what opening it says
	}
	if out, err := os.Stat(output); err == nil && os.SameFile(in, out) {
		return call.Bad("%s: is the scene itself; allowed is another file", output)
	}
	return nil
}
