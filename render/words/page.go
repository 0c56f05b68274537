package words

// The family page: the simulator in a file for a browser.
const (
	PageStill   Label = "page-still"  // where no script runs
	PageCut     Label = "page-cut"    // the end of the file is missing
	PageOld     Label = "page-old"    // the browser lacks something
	PageFailed  Label = "page-failed" // while it ran
	PageScene   Label = "page-scene"
	PageMeet    Label = "page-meet"
	PageMeeting Label = "page-meeting" // Meeting, Off
	PageNearer  Label = "page-nearer"
	PageFarther Label = "page-farther"
	PageCover   Label = "page-cover"
	PagePulling Label = "page-pulling"

	PagePractise Label = "page-practise"
	PageHow      Label = "page-how" // the sheet, in short
	PageOther    Label = "page-other"
	PageSays     Label = "page-says"
	PageNowRight Label = "page-now-right"
	PageStays    Label = "page-stays"
	PageCounted  Label = "page-counted"
	PageOver     Label = "page-over"

	PageExercises Label = "page-exercises" // the scenes with a routine
	PagePictures  Label = "page-pictures"  // those without

	PagePrescribed Label = "page-prescribed" // Name
	PageLocked     Label = "page-locked"

	PageDone   Label = "page-done"
	PageDays   Label = "page-days"
	PageKept   Label = "page-kept"
	PageUnkept Label = "page-unkept" // where nothing can be
	PageEmpty  Label = "page-empty"
)
