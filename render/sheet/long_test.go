//go:build long

package sheet_test

// long writes every sheet in every language, unit and paper, and more of those that are
// drawn by lot.
const long = true
