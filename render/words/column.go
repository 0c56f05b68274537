package words

// The column beside the picture: its pages, the groups of the set-up, sizes by age.
const (
	PageViews         Label = "page-views"
	PageSetup         Label = "page-setup"
	PageNumbers       Label = "page-numbers"
	HintPages         Label = "hint-pages"
	HintViews         Label = "hint-views"
	HintSetup         Label = "hint-set-up"
	HintFold          Label = "hint-fold"
	GroupBeads        Label = "group-beads"
	GroupString       Label = "group-string"
	GroupModel        Label = "group-model"
	GroupScene        Label = "group-scene"
	SettingSize       Label = "setting-size"
	HintSize          Label = "hint-size"
	SizeOther         Label = "size-other"
	SettingLetters    Label = "setting-letters"
	SettingLettersOn  Label = "setting-letters-on"
	SettingLettersOff Label = "setting-letters-off"
	HintLetters       Label = "hint-letters"
	NoteShows         Label = "note-shows"
	NoteShowed        Label = "note-showed"
	NoteAsk           Label = "note-ask"
	ButtonControls    Label = "button-controls"
	ButtonColumn      Label = "button-column"
	HintColumn        Label = "hint-column"
)

// The menu and what it does: saving, picture, sheet, film.
const (
	ButtonMenu     Label = "button-menu"
	HintMenu       Label = "hint-menu"
	ButtonFilm     Label = "button-film"
	HintFilm       Label = "hint-film"
	FilmTitle      Label = "film-title"
	FilmSize       Label = "film-size"
	FilmKind       Label = "film-kind"
	FilmMake       Label = "film-make"
	HintFilmMake   Label = "hint-film-make"
	FilmStopped    Label = "film-stopped"
	OpenFile       Label = "open-file"
	HintOpenFile   Label = "hint-open-file"
	OpenFolder     Label = "open-folder"
	HintOpenFolder Label = "hint-open-folder"
	HintNewsClose  Label = "hint-news-close"
	SaveName       Label = "save-name"
	ButtonCancel   Label = "button-cancel"
	HintCancel     Label = "hint-cancel"
	Unsaved        Label = "unsaved"
	ReadMore       Label = "read-more"
	HintReadMore   Label = "hint-read-more"
)

// The gallery.
const (
	HeadYours    Label = "head-yours"
	HeadRecent   Label = "head-recent"
	HeadUnsaved  Label = "head-unsaved"
	HeadRoutines Label = "head-routines"
	HeadExamples Label = "head-examples"
	FindScene    Label = "find-scene"
	HintFind     Label = "hint-find"
	FindNothing  Label = "find-nothing"
	ThrowAway    Label = "throw-away"
	OpenNow      Label = "open-now"
)

// The numbers.
const (
	FactsEyes          Label = "facts-eyes"
	FactsSeen          Label = "facts-seen"
	FactsHolding       Label = "facts-holding"
	FactsCriteria      Label = "facts-criteria"
	FactCyclo          Label = "fact-cyclo"
	FactCrossingBehind Label = "fact-crossing-behind"
	FactCrossingBefore Label = "fact-crossing-before"
	FactStringsBefore  Label = "fact-strings-before"
	FactStringsBehind  Label = "fact-strings-behind"
	FactState          Label = "fact-state"
	FactHolds          Label = "fact-holds"
	FactBroken         Label = "fact-broken"
	FactPhoria         Label = "fact-phoria"
	FactUnfused        Label = "fact-unfused"
	FactNeed           Label = "fact-need"
	FactLoad           Label = "fact-load"
	FactOut            Label = "fact-out"
	FactIn             Label = "fact-in"
	FactLeft           Label = "fact-left"
	FactPassed         Label = "fact-passed"
	FactACA            Label = "fact-aca"
	FactBreaks         Label = "fact-breaks"
	FactBack           Label = "fact-back"
	FactNone           Label = "fact-none"
	CriterionMet       Label = "criterion-met"
	SheardFar          Label = "sheard-far"
	SheardNear         Label = "sheard-near"
	PercivalFar        Label = "percival-far"
	PercivalNear       Label = "percival-near"
	OneToOneFar        Label = "one-to-one-far"
	OneToOneNear       Label = "one-to-one-near"
	UnitCrossed        Label = "unit-crossed"
	UnitUncrossed      Label = "unit-uncrossed"
	UnitRightHigher    Label = "unit-right-higher"
	UnitLeftHigher     Label = "unit-left-higher"
	UnitConvergence    Label = "unit-converging"
	UnitDivergence     Label = "unit-diverging"
)

// Pulling in the pictures, the bar's ticks, true size, following, routines.
const (
	HintIris         Label = "hint-iris"
	HintBeadSeen     Label = "hint-bead-seen"
	HintTargetSeen   Label = "hint-target-seen"
	HintMeetSeen     Label = "hint-meet-seen"
	HintSeenFindings Label = "hint-seen-findings"
	TickBreak        Label = "tick-break"
	TickBack         Label = "tick-back"
	CloseWindow      Label = "close-window"
	HintFollowing    Label = "hint-following"
	PracticeEnd      Label = "practice-end"
	PracticeAgain    Label = "practice-again"
	HintAgain        Label = "hint-again"
	PracticeSaid     Label = "practice-said"
	PracticeIdeal    Label = "practice-ideal"
)

// What Size says.
const (
	sizeChild Label = "size-child"
	sizeTeen  Label = "size-teen"
	sizeWoman Label = "size-woman"
	sizeMan   Label = "size-man"
)

// Size says a size by age, by its name and the age in years.
func (w *Words) Size(name string, age float64) string {
	id := sizeChild
	switch name {
	case "teen-14":
		id = sizeTeen
	case "adult-woman":
		id = sizeWoman
	case "adult-man":
		id = sizeMan
	}
	return w.say(string(id), with{"Age": w.Number(age, 0)})
}

// UnsavedAt says from when an unsaved state is: a clock's time, and the day where it is
// not today.
func (w *Words) UnsavedAt(when string) string { return w.say("unsaved-at", with{"Time": when}) }

// TrueOff says by how much a picture at true size is too large, in percent.
func (w *Words) TrueOff(percent float64) string {
	return w.say("true-off", with{"Percent": w.Number(percent, 0)})
}

// FilmGoesOn says how far the making of a film is.
func (w *Words) FilmGoesOn(done, of int) string {
	return w.say("film-goes-on", with{"Done": w.Number(float64(done), 0), "Of": w.Number(float64(of), 0)})
}
