package render

import "twincord/render/words"

// MarksIn are the marks in a language.
func MarksIn(w *words.Words) *Marks {
	return &Marks{
		Right: w.Label(words.RightLetter), Left: w.Label(words.LeftLetter),
		Cross: w.Label(words.StringsCross), Apart: w.Degrees,
		AsOne: w.Label(words.SeenAsOne),
	}
}

// EachEyeIn are the labels of the two eyes' own images in a language.
func EachEyeIn(w *words.Words) EachEyeLabels {
	return EachEyeLabels{
		Right: w.Label(words.RightImage), Left: w.Label(words.LeftImage),
		Covered: w.Label(words.Covered), LeftOut: w.Label(words.LeftOut),
	}
}

// CompareIn are the labels of a comparison in a language.
func CompareIn(w *words.Words) CompareLabels {
	return CompareLabels{OnTheBead: w.Label(words.OnTheBead), OnThePlace: w.Label(words.OnThePlace), ThisSetup: w.Label(words.ThisSetup)}
}

// AboveIn are the labels of the view from above in a language.
func AboveIn(w *words.Words) AboveLabels {
	return AboveLabels{
		Right: w.Label(words.RightLetter), Left: w.Label(words.LeftLetter),
		Target: w.Label(words.LookingAt), Meet: w.Label(words.EyesMeet),
		Cross: w.Label(words.StringsCross), MeetCross: w.Label(words.MeetCross),
		Horopter: w.Label(words.Horopter),
		Unit:     w.LengthUnit(), Length: w.Length, Wider: w.Wider,
	}
}

// FrontIn are the labels of the view from in front in a language.
func FrontIn(w *words.Words) FrontLabels {
	return FrontLabels{
		Right: w.Label(words.RightLetter), Left: w.Label(words.LeftLetter),
		Covered: w.Label(words.Covered), Turned: w.Turned,
	}
}

// DemandIn are the labels of the chart of demand in a language.
func DemandIn(w *words.Words) DemandLabels {
	return DemandLabels{
		Title: w.Label(words.DemandTitle), Load: w.Label(words.DemandLoad), Need: w.Label(words.DemandNeed),
		InBreak: w.Label(words.DemandIn), OutBreak: w.Label(words.DemandOut), Recovery: w.Label(words.DemandBack),
		Holds: w.Label(words.DemandHolds), Prism: w.Label(words.DemandPrism), Place: w.Label(words.DemandPlace),
		Here: w.Label(words.DemandHere), Breaks: w.BreaksAt, Back: w.ComesBackAt,
	}
}
