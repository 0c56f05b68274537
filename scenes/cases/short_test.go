//go:build !long

package cases

const long = false
