//go:build long

package measure_test

// setups is how many set-ups are looked at.
const setups uint64 = 1_000_000
