package words

// theBead is what a bead is called within a sentence: "the blue bead", “the bead
// "Lena"”.
func (w *Words) theBead(name string) string {
	for english, told := range w.told.Beads {
		if told == name {
			return w.say("the-bead-"+english, nil)
		}
	}
	return w.say("the-bead", with{"Name": name})
}

// TheBead is a bead in the midst of a sentence: "the blue bead".
func (w *Words) TheBead(name string) string { return w.theBead(name) }
