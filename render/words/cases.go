package words

// Cases to learn on: what they say that has no codes in it.
const (
	CasesTitle   Label = "case-set-title"
	CasesName    Label = "case-set-name"   // whose sheet it is
	CasesLead    Label = "case-set-lead"   // Length, First, Bead, Second, Third
	CasesHow     Label = "case-set-how"    // how answers are judged
	CasesKey     Label = "case-set-key"    // the heading of the key
	CasesKeyLead Label = "case-set-points" // how many points there are
	CasesSources Label = "case-set-sources"
	CasesCase    Label = "case-set-case"   // Number, Kind
	CasesColumn  Label = "case-set-column" // the heading of the column of answers
	CasesWhy     Label = "case-set-why"
	CasesNumber  Label = "case-set-number"
)

// What is given in a case, with something in the braces.
const (
	CaseSaid      Label = "case-given-said"       // Letter, Question, Answer
	CaseSaidPlace Label = "case-given-said-place" // Letter, Question, At
	CaseFinger    Label = "case-given-finger"     // Bead
	CaseNoFinger  Label = "case-given-no-finger"  // Bead
	CasePicture   Label = "case-given-patient"    // the picture is what the patient sees
	CaseAbove     Label = "case-given-above"      // the picture is from above
	CaseAboveAlt  Label = "case-given-above-alt"  // At
	CaseApartAlt  Label = "case-given-apart-alt"  // the axes meet nowhere on the string
	CaseCrossAlt  Label = "case-given-cross-alt"  // At
	CaseEyes      Label = "case-given-eyes"       // Deviation
	CasePanum     Label = "case-given-panum"      // Limit
	CaseOutRight  Label = "case-given-out-right"  // the right eye's picture is left out
	CaseOutLeft   Label = "case-given-out-left"   //
	CaseIgnores   Label = "case-given-ignores"    // the eyes do not answer a prism
	CaseWorn      Label = "case-given-worn"       // Prism
	CaseNearPoint Label = "case-given-near-point" // Break, Recovery
	CaseReserve   Label = "case-given-reserve"    // Break, Recovery
	CaseNose      Label = "case-given-nose"       // where the nose is against the glasses
	CasePrism     Label = "case-given-prism"      // Prism
	CaseLenses    Label = "case-given-lenses"     // Lens, Ratio
	CaseAlsoRight Label = "case-key-also"         // Answers
	CaseTheyDoNot Label = "case-key-pair"         // First, Second
	CaseWhichTwo  Label = "case-key-which-two"    // introduces the line to write two letters on
	CaseBaseOut   Label = "case-given-base-out"   // Number
	CaseBaseIn    Label = "case-given-base-in"    // Number
	CaseRow       Label = "case-why-row"          // Row
	CaseNoRow     Label = "case-why-no-row"       // common practice without a source
	CaseRefers    Label = "case-why-refers"       // a professional decides
)

// What cases have are codes of scenes/cases. Here are their words.

// CaseKind names a kind of case.
func (w *Words) CaseKind(kind string) string { return w.say("case-kind-"+kind, nil) }

// CaseItem asks an item of a case.
func (w *Words) CaseItem(item string) string { return w.say("case-item-"+item, nil) }

// CaseChoice is a choice of an item that is no number.
func (w *Words) CaseChoice(code string) string { return w.say("case-choice-"+code, nil) }

// CaseStory tells a story.
func (w *Words) CaseStory(story string) string { return w.say("case-story-"+story, nil) }

// CaseWhy says in a sentence why the answer is right.
func (w *Words) CaseWhy(why string) string { return w.say("case-why-"+why, nil) }

// CaseSource is where a row of what is published is from.
func (w *Words) CaseSource(row string) string { return w.say("case-source-"+row, nil) }
