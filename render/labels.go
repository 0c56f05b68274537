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
	return CompareLabels{OnTheBead: w.Label(words.OnTheBead), ThisSetup: w.Label(words.ThisSetup)}
}

// AboveIn are the labels of the view from above in a language.
func AboveIn(w *words.Words) AboveLabels {
	return AboveLabels{
		Right: w.Label(words.RightLetter), Left: w.Label(words.LeftLetter),
		Target: w.Label(words.LookingAt), Meet: w.Label(words.EyesMeet),
		Cross: w.Label(words.StringsCross), MeetCross: w.Label(words.MeetCross),
		Horopter: w.Label(words.Horopter),
		Unit:     10, Length: w.Length, Wider: w.Wider,
	}
}
