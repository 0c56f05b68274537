package browser

import "io"

// WriteWith writes a page with another engine than the one that is built in.
func WriteWith(w io.Writer, p *Page, engine []byte) error { return p.write(w, engine) }

// Packed is how bytes stand in a page.
func Packed(b []byte) string { return packed(b) }
