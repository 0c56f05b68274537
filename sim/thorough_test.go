//go:build !long

package sim_test

// share is the part of the costly random checks that is made: one in so many. The tag
// long makes all of them.
const share = 4
