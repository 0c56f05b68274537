//go:build !long

package words

// share is the part of the costly checks that is made: one in so many. The tag long
// makes all of them.
const share = 5

// drawn are the random set-ups of which the clinical caption is checked.
const drawn = 1_500
