//go:build long

package sim_test

const share = 1
