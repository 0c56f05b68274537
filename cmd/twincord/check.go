package main

import (
	"fmt"

	"twincord/cmd/internal/call"
)

type checkCommand struct {
	File []string `arg:"" name:"file" help:"Scene files or built-in scenes; - is the standard input."`
}

// Run reports every fault of every file.
func (c *checkCommand) Run(s *call.Streams) error {
	var errs []error
	for _, name := range c.File {
		_, id, err := call.Scene(name, s)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		if _, err := fmt.Fprintf(s.Out, "%s: ok\n", call.Printable(id.Name)); err != nil {
			return err
		}
	}
	return call.Joined(errs)
}
