//go:build !long

package measure_test

// setups is how many set-ups are looked at. The tag long looks at a million.
const setups uint64 = 600
