//go:build !unix && !windows

package scenes

import "os"

func openAtOnce(path string) (*os.File, error) { return os.Open(path) }
