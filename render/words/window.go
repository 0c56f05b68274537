package words

import "strings"

// The buttons and hints of the window.
const (
	ButtonCompare Label = "button-compare"
	ButtonWider   Label = "button-wider"
	ButtonCloser  Label = "button-closer"

	Infinity Label = "label-infinity"

	HintTarget    Label = "hint-target"
	HintMeet      Label = "hint-meet"
	HintDeviation Label = "hint-deviation"
	HintCompare   Label = "hint-compare"
	HintWider     Label = "hint-wider"
	HintCloser    Label = "hint-closer"
	HintAny       Label = "hint-any"
	HintKeyed     Label = "hint-keyed"
)

// Tabs, buttons and settings of the window, with what to say of each.
const (
	TabEyes                Label = "tab-eyes"
	TabLeftOut             Label = "tab-left-out"
	TabGlasses             Label = "tab-glasses"
	TabString              Label = "tab-string"
	TabPatient             Label = "tab-patient"
	TabWindow              Label = "tab-window"
	HintTabs               Label = "hint-tabs"
	ButtonMarks            Label = "button-marks"
	HintMarks              Label = "hint-marks"
	ButtonFamily           Label = "button-family"
	HintFamily             Label = "hint-family"
	ButtonPlay             Label = "button-play"
	ButtonPause            Label = "button-pause"
	HintPlay               Label = "hint-play"
	ButtonUndo             Label = "button-undo"
	HintUndo               Label = "hint-undo"
	ButtonRedo             Label = "button-redo"
	HintRedo               Label = "hint-redo"
	ButtonMore             Label = "button-more"
	ButtonLess             Label = "button-less"
	HintMore               Label = "hint-more"
	ButtonEarlier          Label = "button-earlier"
	ButtonLater            Label = "button-later"
	ButtonNumbers          Label = "button-numbers"
	HintNumbers            Label = "hint-numbers"
	ButtonCopy             Label = "button-copy"
	HintCopy               Label = "hint-copy"
	ButtonCoverRight       Label = "button-cover-right"
	ButtonCoverLeft        Label = "button-cover-left"
	HintCoverRight         Label = "hint-cover-right"
	HintCoverLeft          Label = "hint-cover-left"
	SettingLook            Label = "setting-look"
	SettingLookLight       Label = "setting-look-light"
	SettingLookDim         Label = "setting-look-dim"
	HintLook               Label = "hint-look"
	SettingType            Label = "setting-type"
	SettingTypeUsual       Label = "setting-type-usual"
	SettingTypeLarge       Label = "setting-type-large"
	HintType               Label = "hint-type"
	SettingMotion          Label = "setting-motion"
	SettingMotionFull      Label = "setting-motion-full"
	SettingMotionReduced   Label = "setting-motion-reduced"
	HintMotion             Label = "hint-motion"
	SettingLength          Label = "setting-length"
	SettingLengthCm        Label = "setting-length-cm"
	SettingLengthIn        Label = "setting-length-in"
	HintLength             Label = "hint-length"
	SettingLanguage        Label = "setting-language"
	HintLanguage           Label = "hint-language"
	SettingPosture         Label = "setting-posture"
	SettingPostureTyped    Label = "setting-posture-typed"
	SettingPostureFindings Label = "setting-posture-findings"
	HintPosture            Label = "hint-posture"
	SettingBead            Label = "setting-bead"
	HintBeadChosen         Label = "hint-bead-chosen"
	ButtonAddBead          Label = "button-add-bead"
	HintAddBead            Label = "hint-add-bead"
	ButtonRemoveBead       Label = "button-remove-bead"
	HintRemoveBead         Label = "hint-remove-bead"
	BeadNew                Label = "bead-new"
	HintMeetFindings       Label = "hint-meet-findings"
	HintAnchor             Label = "hint-anchor"
	HintPd                 Label = "hint-pd"
	HintPicture            Label = "hint-picture"
	AllowedNot             Label = "allowed-not"
	AllowedName            Label = "allowed-name"
	AllowedColour          Label = "allowed-colour"
	LabelFront             Label = "label-front"
	LabelNumbers           Label = "label-numbers"
	LabelComputed          Label = "label-computed"
	LabelNone              Label = "label-none"
	Close                  Label = "close"
	HintClose              Label = "hint-close"
)

// What the numbers panel gives.
const (
	FactDeviation     Label = "fact-deviation"
	FactVertical      Label = "fact-vertical"
	FactTarget        Label = "fact-target"
	FactDemand        Label = "fact-demand"
	FactVergence      Label = "fact-vergence"
	FactMeet          Label = "fact-meet"
	FactGap           Label = "fact-gap"
	FactCrossing      Label = "fact-crossing"
	FactCrossingOff   Label = "fact-crossing-off"
	FactDisparity     Label = "fact-disparity"
	FactLimit         Label = "fact-limit"
	FactApart         Label = "fact-apart"
	FactFused         Label = "fact-fused"
	FactFusedTo       Label = "fact-fused-to"
	FactStrings       Label = "fact-strings"
	FactPattern       Label = "fact-pattern"
	FactAccommodation Label = "fact-accommodation"
	FactField         Label = "fact-field"
)

// The units that Quantity writes.
const (
	UnitMm       Label = "unit-mm"
	UnitIn       Label = "unit-in"
	UnitPlain    Label = "unit-plain"
	UnitPercent  Label = "unit-percent"
	UnitArcmin   Label = "unit-arcmin"
	UnitDioptres Label = "unit-dioptres"
	UnitYears    Label = "unit-years"
	UnitSeconds  Label = "unit-seconds"
	UnitRatio    Label = "unit-ratio"
	UnitSlope    Label = "unit-slope"
	UnitBaseOut  Label = "unit-base-out"
	UnitFactOut  Label = "unit-fact-out"
	UnitFactIn   Label = "unit-fact-in"
	UnitBaseIn   Label = "unit-base-in"
	UnitBaseUp   Label = "unit-base-up"
	UnitBaseDown Label = "unit-base-down"
	UnitExcyclo  Label = "unit-excyclo"
	UnitIncyclo  Label = "unit-incyclo"
	UnitCm       Label = "unit-cm"
	UnitPrism    Label = "unit-prism"
	UnitEso      Label = "unit-eso"
	UnitExo      Label = "unit-exo"
	UnitDegrees  Label = "unit-degrees"
)

// Aimed says what is looked at, a bead by its name or else a bare place, and how far
// along the string it is from the nose, mm: "looking at: blue, 48 cm".
func (w *Words) Aimed(bead string, mm float64) string {
	if bead == "" {
		return w.say("aimed-bare", with{"Length": w.Length(mm)})
	}
	return w.say("aimed", with{"Bead": bead, "Length": w.Length(mm)})
}

// Meeting says how far along the string from the nose the eyes meet, mm, or that
// they do not.
func (w *Words) Meeting(mm float64, part bool) string {
	if part {
		return w.say("meeting-part", nil)
	}
	return w.say("meeting", with{"Length": w.Length(mm)})
}

// WallAt says how far along the string from the nose the wall is, mm.
func (w *Words) WallAt(mm float64) string { return w.say("wall-at", with{"Length": w.Length(mm)}) }

// BeadHint says what can be done with a bead.
func (w *Words) BeadHint(name string) string {
	return w.say("hint-bead", with{"Bead": w.BeadName(name)})
}

// Stopped says which bead another one is stopped by, and what to do; looked says that it is the
// one looked at.
func (w *Words) Stopped(by string, looked bool) string {
	if looked {
		return w.say("hint-stopped-looked", with{"By": w.theBead(by)})
	}
	return w.say("hint-stopped", with{"By": w.theBead(by)})
}

// Key says what the control of a key of scene files is called, by the key's path
// such as "patient.pd_mm"; KeyHint what it means.
func (w *Words) Key(path string) string { return w.say("key-"+plain(path), nil) }

// KeyHint says what a key means, see Key.
func (w *Words) KeyHint(path string) string { return w.say("about-"+plain(path), nil) }

// Choice says one of what a key takes, by the key's name without its table.
func (w *Words) Choice(name, choice string) string {
	return w.say("choice-"+plain(name)+"-"+plain(choice), nil)
}

// plain makes a path the tail of an id.
func plain(path string) string { return dashes.Replace(path) }

var dashes = strings.NewReplacer("[]", "", ".", "-", "_", "-")

// Quantity writes a number, as Number gives it, with its unit.
func (w *Words) Quantity(unit Label, number string) string {
	return w.say(string(unit), with{"Number": number})
}

// Allowed says which numbers are allowed, from one to the other.
func (w *Words) Allowed(from, to string) string {
	return w.say("allowed", with{"From": from, "To": to})
}

// Scenes and files, the pages over the page, true size.
const (
	ButtonScenes     Label = "button-scenes"
	HintScenes       Label = "hint-scenes"
	GalleryOpen      Label = "gallery-open"
	HintGallery      Label = "hint-gallery"
	LabelPath        Label = "label-path"
	HintPath         Label = "hint-path"
	AllowedPath      Label = "allowed-path"
	ButtonSave       Label = "button-save"
	HintSave         Label = "hint-save"
	ButtonSaveAs     Label = "button-save-as"
	HintSaveAs       Label = "hint-save-as"
	SaveTitle        Label = "save-title"
	HintSaveName     Label = "hint-save-name"
	AllowedFileName  Label = "allowed-file-name"
	ButtonSaveIt     Label = "button-save-it"
	HintSaveIt       Label = "hint-save-it"
	ButtonReplace    Label = "button-replace"
	HintReplace      Label = "hint-replace"
	ButtonTheirs     Label = "button-theirs"
	HintTheirs       Label = "hint-theirs"
	SaveExists       Label = "save-exists"
	NoFolder         Label = "no-folder"
	Reloaded         Label = "reloaded"
	ButtonExport     Label = "button-export"
	HintExport       Label = "hint-export"
	ButtonKeys       Label = "button-keys"
	HintKeys         Label = "hint-keys"
	KeysTitle        Label = "keys-title"
	HintScroll       Label = "hint-scroll"
	HintScrollColumn Label = "hint-scroll-column"
	ButtonAbout      Label = "button-about"
	HintAbout        Label = "hint-about"
	AboutLead        Label = "about-lead"
	KeyTabName       Label = "key-name-tab"
	KeyTabDoes       Label = "key-does-tab"
	KeyArrows        Label = "key-name-arrows"
	KeyArrowsDo      Label = "key-does-arrows"
	KeyPages         Label = "key-name-pages"
	KeyPagesDo       Label = "key-does-pages"
	KeyHomeName      Label = "key-name-home"
	KeyHomeDoes      Label = "key-does-home"
	KeyEnterName     Label = "key-name-enter"
	KeyEnterDoes     Label = "key-does-enter"
	KeyEscName       Label = "key-name-esc"
	KeyEscDoes       Label = "key-does-esc"
	KeyRightCover    Label = "key-name-right-cover"
	KeyLeftCover     Label = "key-name-left-cover"
	ButtonTrue       Label = "button-true"
	HintTrue         Label = "hint-true"
	TrueTooSmall     Label = "true-too-small"
	ButtonMeasure    Label = "button-measure"
	HintMeasure      Label = "hint-measure"
	CardTitle        Label = "card-title"
	CardHow          Label = "card-how"
	HintCard         Label = "hint-card"
	CardDistance     Label = "card-distance"
	HintCardDistance Label = "hint-card-distance"
	ButtonCard       Label = "button-card"
	HintCardUse      Label = "hint-card-use"
	RecoveredScene   Label = "recovered-scene"
)

// Of the panel that asks who prescribed an exercise.
const (
	PrescribedTitle     Label = "prescribed-title"
	PrescribedEmpty     Label = "prescribed-empty"
	HintPrescribed      Label = "hint-prescribed"
	PrescribedWrite     Label = "prescribed-write"
	HintPrescribedWrite Label = "hint-prescribed-write"
)

// SavedAs says where something was saved.
func (w *Words) SavedAs(path string) string { return w.say("saved-as", with{"File": path}) }

// SaveInto says into which folder scenes are saved.
func (w *Words) SaveInto(folder string) string { return w.say("save-into", with{"Folder": folder}) }
