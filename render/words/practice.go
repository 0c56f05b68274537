package words

import "strconv"

// The page on which a routine is gone through.
const (
	TabRoutine       Label = "tab-routine"
	ButtonPractise   Label = "button-practise"
	HintPractise     Label = "hint-practise"
	HintNoRoutine    Label = "hint-no-routine"
	RoutineCannot    Label = "routine-cannot"
	ButtonPage       Label = "button-page"
	HintPage         Label = "hint-page"
	ButtonSheet      Label = "button-sheet"
	HintSheet        Label = "hint-sheet"
	ButtonStepBack   Label = "button-step-back"
	HintStepBack     Label = "hint-step-back"
	ButtonRun        Label = "button-run"
	HintRun          Label = "hint-run"
	ButtonStepNext   Label = "button-step-next"
	HintStepNext     Label = "hint-step-next"
	StepIsFirst      Label = "step-is-first"
	StepWasLast      Label = "step-was-last"
	NothingFarther   Label = "nothing-farther"
	ButtonRight      Label = "button-right"
	HintRight        Label = "hint-right"
	ButtonStaysTwo   Label = "button-stays-two"
	HintStaysTwo     Label = "hint-stays-two"
	HintAnswer       Label = "hint-answer"
	PracticeExpected Label = "practice-expected"
	SettingSound     Label = "setting-sound"
	SettingSoundOff  Label = "setting-sound-off"
	SettingSoundOn   Label = "setting-sound-on"
	HintSound        Label = "hint-sound"
)

// StepOf says which step of a routine it is, and where.
func (w *Words) StepOf(step, steps int, place string) string {
	return w.say("practice-step", with{"Step": strconv.Itoa(step), "Steps": strconv.Itoa(steps), "Place": place})
}

// CountOf says how far a hold is counted.
func (w *Words) CountOf(count, to int) string {
	return w.say("practice-count", with{"Count": strconv.Itoa(count), "To": strconv.Itoa(to)})
}
