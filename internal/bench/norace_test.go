//go:build !race

package bench

// raceEnabled says that the race detector is on, which makes all five to ten times slower:
// then samples are smaller. packaging/test runs this package without it too.
const raceEnabled = false
