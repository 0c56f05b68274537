package words

import (
	"math"
	"strconv"
	"strings"

	"twincord/sim/answers"
)

// Cases to learn on: what they say that has no codes in it.
const (
	CasesTitle   Label = "case-set-title"
	CasesName    Label = "case-set-name"   // whose sheet it is
	CasesLead    Label = "case-set-lead"   // Length, First, Second, Third, Bead, PD, Behind
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
	CasePoints    Label = "case-given-points"     // At
	CaseAbove     Label = "case-given-above"      // the picture is from above
	CaseAboveAlt  Label = "case-given-above-alt"  // At
	CaseApartAlt  Label = "case-given-apart-alt"  // the axes meet nowhere on the string
	CaseGapRight  Label = "case-given-gap-right"  // in which string the gap is
	CaseGapLeft   Label = "case-given-gap-left"
	CaseEyes      Label = "case-given-eyes"       // Deviation
	CasePanum     Label = "case-given-panum"      // Limit
	CaseOutRight  Label = "case-given-out-right"  // the right eye's picture is left out
	CaseOutLeft   Label = "case-given-out-left"   //
	CaseIgnores   Label = "case-given-ignores"    // the eyes do not answer a prism
	CaseWorn      Label = "case-given-worn"       // Prism
	CaseOneBead   Label = "case-given-one-bead"   // Bead
	CaseWalkSum   Label = "case-why-walk-sum"     // Near, Load, Reserve
	CaseAmount    Label = "case-why-amount"       // PD, Crossing, Bead, Off
	CaseViewSum   Label = "case-why-view-sum"     // PD, Bead, Sign, Share, Crossing, At
	CaseViewTwo   Label = "case-why-view-two"     // Deviation, Minutes, Limit
	CaseViewOne   Label = "case-why-view-one"     // Deviation, Minutes, Limit
	CaseGlassSum  Label = "case-why-glass-sum"    // Off, PD, Crossing, Bead, Glass
	CaseGlassWorn Label = "case-why-glass-worn"   // Off, PD, Crossing, Bead, Worn, Glass
	CaseNext      Label = "case-why-next"         // Agree, Left
	CaseNextNone  Label = "case-why-next-none"    // Agree
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

// The window's page of cases.
const (
	ButtonCases      Label = "case-window"
	HintCases        Label = "hint-case-window"
	CasesAbout       Label = "case-window-about"
	CasesEso         Label = "case-window-eso"
	CasesOnBead      Label = "case-window-on-bead"
	CasesExo         Label = "case-window-exo"
	CasesLevel       Label = "case-window-level"
	CasesLevelHead   Label = "case-window-level-head" // Level
	CasesKinds       Label = "case-window-kinds"
	CasesSet         Label = "case-window-set"
	HintCasesSet     Label = "hint-case-set"
	CasesBegin       Label = "case-window-begin"
	HintCasesBegin   Label = "hint-case-begin"
	CasesOf          Label = "case-window-of" // Number, Of, Kind
	CasesCheck       Label = "case-window-check"
	HintCasesCheck   Label = "hint-case-check"
	CasesNext        Label = "case-window-next"
	HintCasesNext    Label = "hint-case-next"
	CasesEnd         Label = "case-window-end" // what follows the last case
	HintCasesEnd     Label = "hint-case-end"
	CasesOpen        Label = "case-window-open"
	HintCasesOpen    Label = "hint-case-open"
	CasesOpened      Label = "case-window-opened"
	CasesTwo         Label = "case-window-two"
	CasesPull        Label = "case-window-pull"
	HintCasesRow     Label = "hint-case-row"
	HintCasesAway    Label = "hint-case-distance"
	HintCasesPlace   Label = "hint-case-place"
	HintCasesAmount  Label = "hint-case-amount"
	CasesNoAnswer    Label = "case-window-no-answer"
	CasesYou         Label = "case-window-you"   // Answer
	CasesIsRight     Label = "case-window-right" // Answer
	CasesFull        Label = "case-window-full"  // what an answer is worth
	CasesHalf        Label = "case-window-half"
	CasesNone        Label = "case-window-none"
	CasesCosts       Label = "case-window-costs"
	CasesCameTo      Label = "case-window-came-to" // Points
	CasesStopMissed  Label = "case-window-stop-missed"
	CasesKept        Label = "case-window-kept"
	CasesKeepNothing Label = "case-window-keep-nothing"
	CasesErase       Label = "case-window-erase"
	CasesUnerase     Label = "case-window-unerase"
	HintCasesErase   Label = "hint-case-erase"
	CasesAside       Label = "case-window-aside" // Path
	CasesLeast       Label = "case-window-least" // Kind, Level
	CasesSuggest     Label = "case-window-suggest"
	HintCasesSuggest Label = "hint-case-suggest"
	CasesPoints      Label = "case-window-points"
	CasesNoneMissed  Label = "case-window-none-missed"
	CasesAgain       Label = "case-window-again"
	HintCasesAgain   Label = "hint-case-again"
	CasesMore        Label = "case-window-more"
	HintCasesMore    Label = "hint-case-more"
	CasesChoose      Label = "case-window-choose"
	HintCasesChoose  Label = "hint-case-choose"
)

// How hard cases of the levels are.
const (
	CasesPlain  Label = "case-level-plain"
	CasesSmall  Label = "case-level-small"
	CasesWithin Label = "case-level-within"
)

var caseLevels = [...]Label{CasesPlain, CasesSmall, CasesWithin}

// CaseLevel says how hard cases of a level are.
func (w *Words) CaseLevel(level int) string { return w.Label(caseLevels[level-1]) }

// CaseSight says what a picture is to a case that is judged.
func (w *Words) CaseSight(role string) string { return w.say("case-sight-"+role, nil) }

// CasesMissed says how many cases were missed.
func (w *Words) CasesMissed(n int) string {
	return w.say("case-window-missed", with{"Number": strconv.Itoa(n)})
}

// PointsOf says how many points there are of so many.
func (w *Words) PointsOf(points float64, of int) string {
	decimals := 1
	if math.Abs(points-math.Round(points)) < 0.05 {
		decimals = 0
	}
	return w.say("case-points-of", with{"Points": w.Number(points, decimals), "Of": strconv.Itoa(of)})
}

// What cases have are codes of scenes/cases. Here are their words.

// CaseKind names a kind of case.
func (w *Words) CaseKind(kind string) string { return w.say("case-kind-"+kind, nil) }

// CaseItem asks an item of a case.
func (w *Words) CaseItem(item string) string { return w.say("case-item-"+item, nil) }

// CaseChoice is a choice of an item that is no number.
func (w *Words) CaseChoice(code string) string { return w.say("case-choice-"+code, nil) }

// CaseQuestion asks an item of the answers of the strings of cases: the bead that is asked
// for is between a nearer one and a farther one.
func (w *Words) CaseQuestion(i answers.Item) string {
	switch i {
	case answers.Near, answers.Far, answers.NearerBeads, answers.FartherBeads, answers.Clear:
		return w.say("case-ask-"+strings.ReplaceAll(i.String(), "_", "-"), nil)
	}
	return w.Question(i)
}

// CaseSaid is an answer to such a question, in full.
func (w *Words) CaseSaid(i answers.Item, c answers.Code) string {
	switch i {
	case answers.Meet, answers.NearerBeads, answers.FartherBeads:
		return w.say("case-said-"+c.String(), nil)
	}
	return w.Answer(i, c)
}

// CaseStory tells a story.
func (w *Words) CaseStory(story string) string { return w.say("case-story-"+story, nil) }

// CaseWhy says in a sentence why the answer is right.
func (w *Words) CaseWhy(why string) string { return w.say("case-why-"+why, nil) }

// CaseSource is where a row of what is published is from.
func (w *Words) CaseSource(row string) string { return w.say("case-source-"+row, nil) }
