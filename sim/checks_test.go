package sim_test

import (
	"flag"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// fewer makes a share of the random checks that were asked for in a test whose checks
// are costly.
func fewer(t *testing.T) {
	checks := flag.Lookup("rapid.checks")
	asked := checks.Value.String()
	n, err := strconv.Atoi(asked)
	require.NoError(t, err)
	require.NoError(t, flag.Set("rapid.checks", strconv.Itoa(max(1, n/share))))
	t.Cleanup(func() { require.NoError(t, flag.Set("rapid.checks", asked)) })
}
