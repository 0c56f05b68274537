package words

// The labels of the chart of demand.
const (
	DemandTitle Label = "demand-title"
	DemandLoad  Label = "demand-load"
	DemandNeed  Label = "demand-need"
	DemandIn    Label = "demand-in-break"
	DemandOut   Label = "demand-out-break"
	DemandBack  Label = "demand-recovery"
	DemandHolds Label = "demand-holds"
	DemandPrism Label = "demand-axis-prism"
	DemandPlace Label = "demand-axis-place"
	DemandHere  Label = "demand-here"
)

// BreaksAt and ComesBackAt say at what place along the string, mm, the hold is lost
// and where it returns.
func (w *Words) BreaksAt(mm float64) string {
	return w.say("demand-breaks-at", with{"Length": w.Length(mm)})
}

// ComesBackAt see BreaksAt.
func (w *Words) ComesBackAt(mm float64) string {
	return w.say("demand-back-at", with{"Length": w.Length(mm)})
}
