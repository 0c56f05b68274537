//go:build long

package cases

// long draws 2 000 seeds of every kind and level, of every string.
const long = true
