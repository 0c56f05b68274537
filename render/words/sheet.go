package words

// The take-home sheet: what it says that has no numbers in it.
const (
	SheetName     Label = "sheet-name"
	SheetDate     Label = "sheet-date"
	SheetInvented Label = "sheet-invented"

	SheetReady  Label = "sheet-ready"
	SheetBack   Label = "sheet-back"
	SheetOthers Label = "sheet-others"

	SheetAsk Label = "sheet-ask"

	SheetSee     Label = "sheet-see"
	SheetSeeLead Label = "sheet-see-lead"
	SheetArrow   Label = "sheet-arrow"

	SheetElse Label = "sheet-else"

	SheetTry Label = "sheet-try"

	SheetBoxes Label = "sheet-boxes"

	SheetLog     Label = "sheet-log"
	SheetLogSeen Label = "sheet-log-seen"
)

// What it says otherwise for each kind of routine.
const (
	SheetWalkTitle Label = "sheet-walk-title"
	SheetWalkLead  Label = "sheet-walk-lead"
	SheetWalkLog   Label = "sheet-walk-log"

	SheetJumpsTitle Label = "sheet-jumps-title"
	SheetJumpsLead  Label = "sheet-jumps-lead"
	SheetJumpsLog   Label = "sheet-jumps-log"

	SheetBareTitle Label = "sheet-bare-title"
	SheetBareLead  Label = "sheet-bare-lead"
	SheetBareLog   Label = "sheet-bare-log"
)

// The sentences of the sheet with something in braces, for Filled.
const (
	SheetScene       Label = "sheet-scene"        // Title
	SheetStringRight Label = "sheet-string-right" // Off
	SheetStringLeft  Label = "sheet-string-left"  // Off
	SheetBead        Label = "sheet-bead"         // Bead, Surface, At
	SheetBeads       Label = "sheet-beads"        // Beads
	SheetWalkBreak   Label = "sheet-walk-break"   // At
	SheetBareBreak   Label = "sheet-bare-break"   // At
	SheetRounds      Label = "sheet-rounds"       // Number
	SheetPlace       Label = "sheet-place"        // Bead, At
	SheetPlaceBack   Label = "sheet-place-back"   // At
	SheetPage        Label = "sheet-page"         // Page, Pages
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

// OtherAnswer is another answer than the one hoped for, as a button has it.
func (w *Words) OtherAnswer(answer string) string { return w.say("sheet-"+answer, nil) }
