//go:build long

package words

const share = 1
