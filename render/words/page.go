package words

// The family page: the simulator in a file for a browser.
const (
	PageStill   Label = "page-still"  // where no script runs
	PageCut     Label = "page-cut"    // the end of the file is missing
	PageOld     Label = "page-old"    // the browser lacks something
	PageFailed  Label = "page-failed" // while it ran
	PageScene   Label = "page-scene"
	PageMeet    Label = "page-meet"
	PageMeeting Label = "page-meeting" // Off, Meeting
	PageNearer  Label = "page-nearer"
	PageFarther Label = "page-farther"
	PageCover   Label = "page-cover"
	PagePulling Label = "page-pulling"
	PageOver    Label = "page-over"

	PagePrescribed Label = "page-prescribed" // Name
	PageLocked     Label = "page-locked"

	PageDone  Label = "page-done"
	PageDays  Label = "page-days"
	PageKept  Label = "page-kept"
	PageEmpty Label = "page-empty"
)
