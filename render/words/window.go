package words

// The buttons and hints of the window.
const (
	ButtonCompare Label = "button-compare"
	ButtonWider   Label = "button-wider"
	ButtonCloser  Label = "button-closer"
	ButtonFull    Label = "button-full"

	Infinity         Label = "label-infinity"
	CmFromEyes       Label = "label-cm-from-eyes"
	DeviationAllowed Label = "deviation-allowed"

	HintTarget    Label = "hint-target"
	HintMeet      Label = "hint-meet"
	HintDeviation Label = "hint-deviation"
	HintCompare   Label = "hint-compare"
	HintWider     Label = "hint-wider"
	HintCloser    Label = "hint-closer"
	HintFull      Label = "hint-full"
	HintAny       Label = "hint-any"

	CautionSuppression Label = "caution-suppression"
)

// Aimed says what is looked at, a bead by its name or else a bare place, and how far
// from the eyes it is, mm: "looking at: sky, 53 cm".
func (w *Words) Aimed(bead string, mm float64) string {
	if bead == "" {
		return w.say("aimed-bare", with{"Length": w.Length(mm)})
	}
	return w.say("aimed", with{"Bead": bead, "Length": w.Length(mm)})
}

// Meeting says how far from the eyes they meet, mm, or that they do not.
func (w *Words) Meeting(mm float64, part bool) string {
	if part {
		return w.say("meeting-part", nil)
	}
	return w.say("meeting", with{"Length": w.Length(mm)})
}

// WallAt says how far from the eyes the wall is, mm.
func (w *Words) WallAt(mm float64) string { return w.say("wall-at", with{"Length": w.Length(mm)}) }

// BeadHint says what can be done with a bead.
func (w *Words) BeadHint(name string) string { return w.say("hint-bead", with{"Bead": name}) }
