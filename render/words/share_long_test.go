//go:build long

package words

const share = 1

// drawn are the random set-ups of which the clinical caption is checked.
const drawn = 15_000
