package sheet_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"twincord/render/sheet"
)

// A gallery escapes what it is given, says every picture in words, and asks for
// nothing but its pictures.
func TestGallery(t *testing.T) {
	g := sheet.Gallery{
		Language: "en", Title: "Pictures <of> strings", Lead: "Invented.",
		Pictures: []sheet.GalleryPicture{
			{ID: "a", File: "a.png", Width: 960, Height: 600, Title: "A & B", Note: "Invented.", Sentence: `One "bead".`},
			{ID: "b", File: "b.png", Width: 960, Height: 600, Title: "B", Sentence: "Two beads."},
		},
		ContentsTitle: "The pictures", CautionsTitle: "Please read", Cautions: []string{"No test.", "No diagnosis."},
	}
	var b bytes.Buffer
	require.NoError(t, sheet.WriteGallery(&b, &g))

	d := xml.NewDecoder(strings.NewReader(b.String()))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	var images, items int
	var text strings.Builder
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		switch token := token.(type) {
		case xml.CharData:
			text.Write(token)
		case xml.StartElement:
			attributes := map[string]string{}
			for _, a := range token.Attr {
				attributes[a.Name.Local] = a.Value
			}
			switch token.Name.Local {
			case "html":
				require.Equal(t, "en", attributes["lang"])
			case "img":
				p := g.Pictures[images]
				require.Equal(t, p.File, attributes["src"])
				require.Equal(t, p.Sentence, attributes["alt"])
				require.Equal(t, "960", attributes["width"])
				images++
			case "li":
				items++
			case "script", "link", "iframe":
				t.Fatalf("<%s> in a page that needs none", token.Name.Local)
			}
		}
	}
	require.Equal(t, 2, images)
	require.Equal(t, 2+2+2, items, "contents, pictures, cautions")
	require.Contains(t, b.String(), `<a href="#b">`)
	require.Contains(t, b.String(), `<li id="b">`)
	for _, s := range []string{g.Title, "A & B", `One "bead".`, "No diagnosis."} {
		require.Contains(t, text.String(), s)
	}
	require.NotContains(t, b.String(), "://")
}
