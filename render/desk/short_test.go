//go:build !long

package desk

const long = false
