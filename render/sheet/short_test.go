//go:build !long

package sheet_test

const long = false
