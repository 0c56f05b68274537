package words

// The take-home sheet: what it says that has no numbers in it.
const (
	SheetName     Label = "sheet-name"
	SheetPrepared Label = "sheet-prepared"
	SheetDate     Label = "sheet-date"
	SheetInvented Label = "sheet-invented"

	SheetReady   Label = "sheet-ready"
	SheetAlong   Label = "sheet-along"
	SheetHow     Label = "sheet-how"
	SheetBack    Label = "sheet-back"
	SheetOthers  Label = "sheet-others"
	SheetLetters Label = "sheet-letters"

	SheetAsk Label = "sheet-ask"

	SheetSee      Label = "sheet-see"
	SheetSeeLead  Label = "sheet-see-lead"
	SheetArrow    Label = "sheet-arrow"
	SheetSome     Label = "sheet-some"
	SheetBackSame Label = "sheet-back-same"

	SheetElse Label = "sheet-else"

	SheetTry Label = "sheet-try"

	SheetBoxes Label = "sheet-boxes"

	SheetLog      Label = "sheet-log"
	SheetLogCount Label = "sheet-log-count"
	SheetLogSeen  Label = "sheet-log-seen"

	SheetFilm     Label = "sheet-film"
	SheetFilmNote Label = "sheet-film-note"
	SheetStill    Label = "sheet-still"
)

// What it says otherwise for each kind of routine.
const (
	SheetWalkTitle Label = "sheet-walk-title"
	SheetWalkLead  Label = "sheet-walk-lead"
	SheetWalkStop  Label = "sheet-walk-stop"
	SheetWalkLog   Label = "sheet-walk-log"

	SheetJumpsTitle Label = "sheet-jumps-title"
	SheetJumpsLead  Label = "sheet-jumps-lead"
	SheetJumpsStop  Label = "sheet-jumps-stop"
	SheetJumpsLog   Label = "sheet-jumps-log"

	SheetBareTitle Label = "sheet-bare-title"
	SheetBareLead  Label = "sheet-bare-lead"
	SheetBareStop  Label = "sheet-bare-stop"
	SheetBareLog   Label = "sheet-bare-log"
)

// The sentences of the sheet with something in braces, for Filled.
const (
	SheetScene        Label = "sheet-scene"         // Title
	SheetString       Label = "sheet-string"        // Length
	SheetStringHigher Label = "sheet-string-higher" // Length, Off
	SheetStringLower  Label = "sheet-string-lower"  // Length, Off
	SheetStringRight  Label = "sheet-string-right"  // Off
	SheetStringLeft   Label = "sheet-string-left"   // Off
	SheetBead         Label = "sheet-bead"          // Bead, Surface, At
	SheetBeads        Label = "sheet-beads"         // Beads
	SheetWalkBegin    Label = "sheet-walk-begin"    // From
	SheetWalkStep     Label = "sheet-walk-step"     // Step, To
	SheetWalkBreak    Label = "sheet-walk-break"    // At
	SheetHold         Label = "sheet-hold"          // Count
	SheetBareHold     Label = "sheet-bare-hold"     // Count
	SheetJumpsOrder   Label = "sheet-jumps-order"   // Order
	SheetBareBegin    Label = "sheet-bare-begin"    // From
	SheetBareStep     Label = "sheet-bare-step"     // Step, To
	SheetBareBreak    Label = "sheet-bare-break"    // At
	SheetRounds       Label = "sheet-rounds"        // Number
	SheetPlace        Label = "sheet-place"         // Bead, At
	SheetPlaceBack    Label = "sheet-place-back"    // At
	SheetAt           Label = "sheet-at"            // At, Sentence
	SheetFromTo       Label = "sheet-from-to"       // From, To, Sentence
	SheetBackAt       Label = "sheet-back-at"       // At, Sentence
	SheetBackFromTo   Label = "sheet-back-from-to"  // From, To, Sentence
	SheetPage         Label = "sheet-page"          // Page, Pages
)

// Filled says a sentence with what stands in its braces: pairs of a name there and
// its text.
func (w *Words) Filled(l Label, pairs ...string) string {
	data := with{}
	for i := 0; i+1 < len(pairs); i += 2 {
		data[pairs[i]] = pairs[i+1]
	}
	return w.say(string(l), data)
}

// What to ask in a routine, what else may be answered and what to try are codes of
// scenes/routine. Here are their words.

// Ask says a question.
func (w *Words) Ask(question string) string { return w.say("sheet-ask-"+question, nil) }

// Try says what to try.
func (w *Words) Try(what string) string { return w.say("sheet-try-"+what, nil) }

// OtherAnswer says another answer than the one hoped for, and what it means.
func (w *Words) OtherAnswer(answer string) (heard, means string) {
	return w.say("sheet-"+answer, nil), w.say("sheet-"+answer+"-says", nil)
}
