package cases

import "slices"

// Story is something that a patient tells while the string is out: the words of it
// stand in the catalogues.
type Story string

// story is a story with what it calls for.
type story struct {
	Story
	level int
	stop  bool
	row   string // of the published cautions, or of what is to be expected
	// caution names the caution that says it: an id of the catalogues.
	caution string
}

// The stories, each by a row of the published ones. Those that may go on are what a
// string shows everybody; where no row says so, it is common practice without a source.
var stories = []story{
	{"trauma", 1, true, "K11", "caution-urgent"},
	{"speech", 1, true, "K11", "caution-urgent"},
	{"headache", 1, true, "K11", "caution-urgent"},
	{"others_double", 1, false, "D3", ""},
	{"crossing_moves", 1, false, "Z1", ""},

	{"lid", 2, true, "K11", "caution-urgent"},
	{"jaw", 2, true, "K12", "caution-over-50"},
	{"unsteady", 2, true, "K14", "caution-urgent"},
	{"far_double", 2, false, "D4", ""},
	{"too_near", 2, false, "C10", ""},

	{"one_eye", 3, true, "K13", "caution-one-eye"},
	{"by_evening", 3, true, "K11", "caution-urgent"},
	{"turned_child", 3, true, "K10", "caution-suppression"},
	{"stub", 3, false, "", ""},
	{"stretch", 3, false, "K6", ""},
}

func (s Story) told() *story {
	i := slices.IndexFunc(stories, func(t story) bool { return t.Story == s })
	if i < 0 {
		return &story{}
	}
	return &stories[i]
}

// Stops says whether the story calls for stopping.
func (s Story) Stops() bool { return s.told().stop }

// Row is the published row that the story rests on; "" where it is common practice
// without a source.
func (s Story) Row() string { return s.told().row }

// Caution is the id of the caution that says what the story calls for; "" where none is
// due.
func (s Story) Caution() string { return s.told().caution }
