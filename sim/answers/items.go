package answers

import (
	"fmt"
	"strings"
)

// Item is one thing that a patient can be asked about what they see.
type Item int

// The items, in the order in which they are asked. Those of the bead, of where the
// strings meet and of the other beads speak of the bead that was asked for; those of
// the strings and of clearness of the place looked at.
const (
	Bead             Item = iota // how many of the bead asked for: One, Two, None
	Higher                       // whether one of its two images is higher: No, Yes
	Near                         // strings in front: Zero, Single, Double
	Far                          // strings behind: Zero, Single, Double
	Meet                         // where the strings cross: At, Nearer, Beyond, Not
	MeetAt                       // the place where they cross, mm: see Answers.Place
	NearerBeads                  // each of the nearer beads: One, Two
	FartherBeads                 // each of the farther beads: One, Two
	Wider                        // which beads are doubled most: Nearer, Farther
	RightCoverString             // the string in front that goes when the right eye is covered: Left, Right, Only, None
	LeftCoverString              // the same with the left eye
	RightCoverBead               // the image of the bead that goes: Left, Right, Upper, Lower, Only, None
	LeftCoverBead                // the same with the left eye
	Clear                        // whether the place looked at is clear: Sharp, Blurred
	Fainter                      // which string in front is fainter: Left, Right, None
	items
)

// Code is one answer to an item.
type Code uint8

// The codes. Open is an item that was not answered, or of which a view decides
// nothing: it agrees with every answer.
const (
	Open    Code = iota
	One          // bead
	Two          // beads
	None         // of the beads or images; of a cover: nothing goes
	No           // neither is higher
	Yes          // one is higher
	Zero         // strings
	Single       // string
	Double       // two strings
	At           // in the bead asked for
	Nearer       // in front of it
	Farther      // the beads behind it
	Beyond       // behind it
	Not          // not seen to cross
	Left         // the patient's left, of two images
	Right        // the right one
	Upper        // the upper one
	Lower        // the lower one
	Only         // the only one
	Sharp        // clear
	Blurred
	codes
)

var codeNames = [codes]string{
	Open: "", One: "one", Two: "two", None: "none", No: "no", Yes: "yes", Zero: "0", Single: "1", Double: "2",
	At: "at", Nearer: "nearer", Farther: "farther", Beyond: "beyond", Not: "not",
	Left: "left", Right: "right", Upper: "upper", Lower: "lower", Only: "only",
	Sharp: "clear", Blurred: "blurred",
}

// String is the code as the contract of answers writes it.
func (c Code) String() string { return codeNames[c] }

var itemTable = [items]struct {
	name  string
	codes []Code
}{
	Bead:             {"bead", []Code{One, Two, None}},
	Higher:           {"higher", []Code{No, Yes}},
	Near:             {"near", []Code{Zero, Single, Double}},
	Far:              {"far", []Code{Zero, Single, Double}},
	Meet:             {"meet", []Code{At, Nearer, Beyond, Not}},
	MeetAt:           {"meet_at_mm", nil},
	NearerBeads:      {"nearer_beads", []Code{One, Two}},
	FartherBeads:     {"farther_beads", []Code{One, Two}},
	Wider:            {"wider", []Code{Nearer, Farther}},
	RightCoverString: {"right_cover_string", []Code{Left, Right, Only, None}},
	LeftCoverString:  {"left_cover_string", []Code{Left, Right, Only, None}},
	RightCoverBead:   {"right_cover_bead", []Code{Left, Right, Upper, Lower, Only, None}},
	LeftCoverBead:    {"left_cover_bead", []Code{Left, Right, Upper, Lower, Only, None}},
	Clear:            {"clear", []Code{Sharp, Blurred}},
	Fainter:          {"fainter", []Code{Left, Right, None}},
}

// String is the item as the contract of answers writes it.
func (i Item) String() string { return itemTable[i].name }

// Codes are the answers that the item takes; MeetAt takes a place instead.
func (i Item) Codes() []Code { return itemTable[i].codes }

// Items gives all items in their order.
func Items() []Item {
	all := make([]Item, items)
	for i := range all {
		all[i] = Item(i)
	}
	return all
}

// ParseItem finds an item by its name. The error for another name says which there are.
func ParseItem(name string) (Item, error) {
	var allowed []string
	for i := range items {
		if itemTable[i].name == name {
			return i, nil
		}
		allowed = append(allowed, itemTable[i].name)
	}
	return 0, fmt.Errorf("%q is no item; allowed: %s", name, strings.Join(allowed, ", "))
}

// ParseCode finds an answer of the item by its name. The error for another name says which
// the item takes.
func (i Item) ParseCode(name string) (Code, error) {
	var allowed []string
	for _, c := range i.Codes() {
		if c.String() == name {
			return c, nil
		}
		allowed = append(allowed, c.String())
	}
	return Open, fmt.Errorf("%s: %q is no answer; allowed: %s", i, name, strings.Join(allowed, ", "))
}
