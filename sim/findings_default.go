package sim

// DefaultFindings are the means that were published of adults without complaints:
// Morgan's of 1944 unless another row is named. A slope has no published mean; the
// mean fixation disparity is 0 (row X2), which is that of no slope. There is no
// gradient AC/A, so the calculated one stands in; its published mean is 4 (row C7).
func DefaultFindings() Findings {
	return Findings{
		FarPhoria:     -1, // C1: SD 2
		NearPhoria:    -3, // C2: SD 3
		VerticalBreak: 3,  // C20: Ogle and Prangen, 2.5 – 3
		Far: Reserves{
			BaseInBreak: 7, BaseInRecovery: 4, // C4: SD 3, 2; no blur is expected
			BaseOutBlur: 9, BaseOutBreak: 19, BaseOutRecovery: 10, // C3: SD 4, 8, 4
		},
		Near: Reserves{
			BaseInBlur: Some[Prism](13), BaseInBreak: 21, BaseInRecovery: 13, // C6: SD 4, 4, 5
			BaseOutBlur: 17, BaseOutBreak: 21, BaseOutRecovery: 11, // C5: SD 5, 6, 7
		},
		NPCBreak: 50, NPCRecovery: 70, // C10: the cut-off of adults, which no mean is published beside
		Preferred: Right, // neither eye is likelier by any row: a modelling choice
		State:     StateHolding,
	}
}
