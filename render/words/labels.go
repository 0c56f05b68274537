package words

// Label names a label or a hint of a picture or of the window.
type Label string

// The labels of the pictures and of the string bar.
const (
	FromAbove    Label = "label-above"
	RightImage   Label = "label-right-image"
	LeftImage    Label = "label-left-image"
	OnTheBead    Label = "label-on-bead"      // one side of a comparison: the eyes on the bead
	OnThePlace   Label = "label-on-place"     // the same on a bare string
	ThisSetup    Label = "label-this-setup"   // the other side: the set-up as it is
	RightLetter  Label = "label-right-letter" // marks whose image it is
	LeftLetter   Label = "label-left-letter"
	Nose         Label = "label-nose"
	LookingAt    Label = "label-target"
	EyesMeet     Label = "label-meet"
	StringsCross Label = "label-cross"
	MeetCross    Label = "label-meet-cross" // where both are one place
	EyesPart     Label = "label-part"
	Covered      Label = "label-covered"
	LeftOut      Label = "label-left-out"
	Horopter     Label = "label-horopter"
	SeenAsOne    Label = "label-fused"
)

// The page that shows all built-in scenes.
const (
	GalleryTitle Label = "gallery-title"
	GalleryLead  Label = "gallery-lead"

	GalleryContents Label = "gallery-contents"
	PictureBounds   Label = "picture-bounds"
	CautionsTitle   Label = "cautions-title"
)

// Label says a label or a hint.
func (w *Words) Label(l Label) string { return w.say(string(l), nil) }

// Wider says how many times wider than long a picture is: "width ×3".
func (w *Words) Wider(times float64) string {
	return w.say("unit-wider", with{"Number": w.Number(times, 0)})
}
