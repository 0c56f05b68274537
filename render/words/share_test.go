//go:build !long

package words

// share is the part of the costly checks that is made: one in so many. The tag long
// makes all of them.
const share = 5
