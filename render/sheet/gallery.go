package sheet

import (
	_ "embed"
	"html/template"
	"io"
)

// Gallery is a page that shows pictures, each in a file beside it.
type Gallery struct {
	Language, Title, Lead string
	Pictures              []GalleryPicture
	CautionsTitle         string
	Cautions              []string
}

// GalleryPicture is one picture of a gallery, Width by Height pixels.
type GalleryPicture struct {
	File                  string
	Width, Height         int
	Title, Note, Sentence string
}

//go:embed gallery.html
var gallerySource string

var galleryTemplate = template.Must(template.New("gallery").Parse(gallerySource))

// WriteGallery writes the page. It needs nothing but its pictures, and no script.
func WriteGallery(w io.Writer, g *Gallery) error { return galleryTemplate.Execute(w, g) }
