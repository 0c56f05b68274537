package main

import (
	"bytes"
	"strings"

	"golang.org/x/sys/windows"

	"twincord/cmd/internal/call"
)

// heard are streams of which somebody sees what is said there. A program with a window that
// was opened by a double click has none; what it would say there, a box says at its end.
func heard(s *call.Streams) (seen *call.Streams, told func()) {
	out, err := windows.GetStdHandle(windows.STD_ERROR_HANDLE)
	if err == nil && out != 0 {
		if kind, err := windows.GetFileType(out); err == nil && kind != windows.FILE_TYPE_UNKNOWN {
			return s, func() {}
		}
	}
	var said bytes.Buffer
	return &call.Streams{In: s.In, Out: &said, Err: &said}, func() {
		// A text with a zero in it has no end on Windows, and is none of this program's.
		text, err := windows.UTF16PtrFromString(strings.TrimSpace(said.String()))
		title, _ := windows.UTF16PtrFromString("twincord")
		if err == nil && said.Len() > 0 {
			_, _ = windows.MessageBox(0, text, title, windows.MB_OK|windows.MB_ICONINFORMATION) // else nobody is there
		}
	}
}
