package sheet

import (
	"embed"
	"html/template"
	"io"
	"sync"
)

// Gallery is a page that shows pictures, each in a file beside it.
type Gallery struct {
	Language, Title, Lead string
	ContentsTitle         string
	Pictures              []GalleryPicture
	CautionsTitle         string
	Cautions              []string
}

// GalleryPicture is one picture of a gallery, Width by Height pixels.
type GalleryPicture struct {
	ID, File              string
	Width, Height         int
	Title, Note, Sentence string
}

//go:embed *.html
var sources embed.FS

// parsed is a page with the parts that every page has, parsed when it is first asked for:
// most programs that can write it do not.
func parsed(name string) func() *template.Template {
	return sync.OnceValue(func() *template.Template {
		own := template.FuncMap{"colours": colours}
		return template.Must(template.New(name).Funcs(own).ParseFS(sources, name, "cautions.html"))
	})
}

var galleryTemplate = parsed("gallery.html")

// WriteGallery writes the page. It needs nothing but its pictures, and no script.
func WriteGallery(w io.Writer, g *Gallery) error { return galleryTemplate().Execute(w, g) }
