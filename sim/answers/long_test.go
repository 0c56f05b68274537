//go:build long

package answers_test

import "testing"

func TestFindsTenThousandSetupsAgain(t *testing.T) {
	const seed = 8
	findsAgain(t, seed, 10_000)
}
