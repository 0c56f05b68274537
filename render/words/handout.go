package words

import (
	"math"
	"strings"
)

// The labels of the sheet without numbers.
const (
	SheetCare          Label = "sheet-care"
	SheetStopTitle     Label = "sheet-stop-title"
	SheetStopWalk      Label = "sheet-stop-walk"
	SheetStopJumps     Label = "sheet-stop-jumps"
	SheetStopBare      Label = "sheet-stop-bare"
	SheetLikeA         Label = "sheet-like-a"
	SheetLikeX         Label = "sheet-like-x"
	SheetLikeV         Label = "sheet-like-v"
	SheetStopStrain    Label = "sheet-stop-strain"
	SheetStopStays     Label = "sheet-stop-stays"
	SheetStopNew       Label = "sheet-stop-new"
	SheetStopTwo       Label = "sheet-stop-two"
	SheetFill          Label = "sheet-fill"
	SheetFillMinutes   Label = "sheet-fill-minutes"
	SheetFillTimes     Label = "sheet-fill-times"
	SheetFillDays      Label = "sheet-fill-days"
	SheetFillUntil     Label = "sheet-fill-until"
	SheetFillClinic    Label = "sheet-fill-clinic"
	SheetFillTelephone Label = "sheet-fill-telephone"
	SheetFillVisit     Label = "sheet-fill-visit"
	SheetFillGlasses   Label = "sheet-fill-glasses"
	SheetFillPatch     Label = "sheet-fill-patch"
	SheetFillEmpty     Label = "sheet-fill-empty"
	SheetClinicNote    Label = "sheet-clinic-note"
	SheetSetHead       Label = "sheet-set-head"
	SheetSetNose       Label = "sheet-set-nose"
	SheetSetLevel      Label = "sheet-set-level"
	SheetSetLight      Label = "sheet-set-light"
	SheetSetAdult      Label = "sheet-set-adult"
	SheetSetAlt        Label = "sheet-set-alt"
	SheetMarkTitle     Label = "sheet-mark-title"
	SheetMarkCheck     Label = "sheet-mark-check"
	SheetDoTitle       Label = "sheet-do-title"
	SheetDoRight       Label = "sheet-do-right"
	SheetDoRightBare   Label = "sheet-do-right-bare"
	SheetDoJumpsNext   Label = "sheet-do-jumps-next"
	SheetWhy           Label = "sheet-why"
	SheetFirstTitle    Label = "sheet-first-title"
	SheetFirstLead     Label = "sheet-first-lead"
	SheetHear          Label = "sheet-hear"
	SheetMeans         Label = "sheet-means"
	SheetStopWhen      Label = "sheet-stop-when"
	SheetLogDone       Label = "sheet-log-done"
	SheetLogEmpty      Label = "sheet-log-empty"
	SheetLogBack       Label = "sheet-log-back"
	SheetLogStays      Label = "sheet-log-stays"
	SheetLogLost       Label = "sheet-log-lost"
	SheetPlayer        Label = "sheet-player"
	SheetPlay          Label = "sheet-play"
	SheetPause         Label = "sheet-pause"
	SheetEarlier       Label = "sheet-earlier"
	SheetLater         Label = "sheet-later"
	SheetChild         Label = "sheet-child"
	SheetChildSit      Label = "sheet-child-sit"
	SheetChildLook     Label = "sheet-child-look"
	SheetChildCount    Label = "sheet-child-count"
	SheetChildNearer   Label = "sheet-child-nearer"
	SheetChildTwo      Label = "sheet-child-two"
	SheetChildStop     Label = "sheet-child-stop"
	SheetChildDone     Label = "sheet-child-done"
)

// Its sentences with something in braces, for Filled.
const (
	SheetSetTight        Label = "sheet-set-tight"         // Length
	SheetSetSlack        Label = "sheet-set-slack"         // Length, Off
	SheetSetHigher       Label = "sheet-set-higher"        // Off
	SheetSetLower        Label = "sheet-set-lower"         // Off
	SheetMarkList        Label = "sheet-mark-list"         // Places
	SheetMarkEvery       Label = "sheet-mark-every"        // Step, To, From
	SheetMarkScreen      Label = "sheet-mark-screen"       // Places
	SheetMarkScreenEvery Label = "sheet-mark-screen-every" // Step, To, From
	SheetMarkOn          Label = "sheet-mark-on"           // End, Next
	SheetRulerAlt        Label = "sheet-ruler-alt"         // Length
	SheetDoWalkBegin     Label = "sheet-do-walk-begin"     // From
	SheetDoJumpsBegin    Label = "sheet-do-jumps-begin"    // Order
	SheetDoBareBegin     Label = "sheet-do-bare-begin"     // From
	SheetDoAsk           Label = "sheet-do-ask"            // Questions
	SheetDoRightElse     Label = "sheet-do-right-else"     // See
	SheetDoCount         Label = "sheet-do-count"          // Count
	SheetDoCountBare     Label = "sheet-do-count-bare"     // Count
	SheetDoCountElse     Label = "sheet-do-count-else"     // Count
	SheetDoWalkStep      Label = "sheet-do-walk-step"      // Step, To
	SheetDoBareStep      Label = "sheet-do-bare-step"      // Step, To
	SheetPlaceOf         Label = "sheet-place-of"          // Number, Total, At
	SheetPlaceBead       Label = "sheet-place-bead"        // Number, Total, Bead, At
	SheetBetween         Label = "sheet-between"           // Places
	SheetOtherAlt        Label = "sheet-other-alt"         // Heard
	SheetLogSession      Label = "sheet-log-session"       // Number
)

// Quoted is what somebody says, in the quotation marks of the language.
func (w *Words) Quoted(text string) string { return w.say("sheet-quoted", with{"Text": text}) }

// PlaceBetween says a place that has no picture of its own, by its number.
func (w *Words) PlaceBetween(number int, at string) string {
	return w.say("sheet-between-item", with{"Number": w.Number(float64(number), 0), "At": at})
}

// Means says what another answer means, and StopWhen when to stop, codes of
// scenes/routine.
func (w *Words) Means(answer string) string { return w.say("sheet-"+answer+"-means", nil) }

// StopWhen see Means.
func (w *Words) StopWhen(stop string) string { return w.say("sheet-stop-"+stop, nil) }

// Heard is another answer as it is heard.
func (w *Words) Heard(answer string) string { return w.Quoted(w.OtherAnswer(answer)) }

var quarters = [...]string{"", "¼", "½", "¾"}

// Ruled writes lengths given in mm as they stand on a ruler: in cm, or in inches with
// quarters as fractions: "56 cm", "22 in", "1½ in", "¾ in". Several have one unit: "6, 11,
// 16 cm", or, where a number has a comma itself, "6,5; 11,5; 16,5 cm".
func (w *Words) Ruled(mm ...float64) string {
	numbers, unit, between := make([]string, len(mm)), "unit-cm", ", "
	if w.inches {
		unit = "unit-in"
	}
	for i := range mm {
		numbers[i] = w.ruledNumber(mm[i])
		if strings.Contains(numbers[i], ",") {
			between = "; "
		}
	}
	last := &numbers[len(mm)-1]
	*last = unbroken(w.say(unit, with{"Number": *last}))
	return strings.Join(numbers, between)
}

func (w *Words) ruledNumber(mm float64) string {
	if !w.inches {
		return w.centimetres(mm)
	}
	n := int(math.Round(math.Abs(mm) / inch * 4))
	number := quarters[n%4]
	if n >= 4 || n == 0 {
		number = w.Number(float64(n/4), 0) + number
	}
	return number
}

// unbroken is a text that stays on one line.
func unbroken(text string) string { return strings.ReplaceAll(text, " ", "\u00a0") }
