package project

import (
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/quantity"
)

const (
	killedChild = "FILLWRIGHT_KILLED_CHILD" // makes the test program save to this path until it is killed
	killCount   = "FILLWRIGHT_KILLS"        // how many times; 25 when not set
)

// oldAndNew are two projects of different size.
func oldAndNew() (a, b Project) {
	a, b = named("old"), named("new")
	for range 2000 {
		b.Spool.Readings = append(b.Spool.Readings, quantity.MustParse[quantity.Length]("1.75 mm"))
	}
	return a, b
}

// saveForEver is the child: it saves one and the other in turn.
func saveForEver(path string) {
	a, b := oldAndNew()
	for {
		for _, p := range []Project{a, b} {
			if err := Save(path, p); err != nil {
				os.Exit(3)
			}
		}
	}
}

// TestKilledSavesLoseNothing kills a program that saves all the time, at random
// moments: after each kill the file is the old or the new project in full, and
// so is the backup.
func TestKilledSavesLoseNothing(t *testing.T) {
	kills := 25
	if text := os.Getenv(killCount); text != "" {
		n, err := strconv.Atoi(text)
		require.NoError(t, err, killCount)
		kills = n
	}
	self, err := os.Executable()
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(1, 1))
	a, b := oldAndNew()
	titles, inside := map[string]int{}, 0
	for range kills {
		dir := t.TempDir()
		path := filepath.Join(dir, "work.json")
		require.NoError(t, Save(path, a))
		killWhileSaving(t, self, path, time.Duration(r.IntN(25_000))*time.Microsecond)

		p, unknown, err := Load(path)
		require.NoError(t, err)
		require.Empty(t, unknown)
		require.Contains(t, []Project{a, b}, p)
		titles[p.Title]++
		backup, _, err := Load(BackupPath(path))
		require.NoError(t, err)
		require.Contains(t, []Project{a, b}, backup)
		left, err := filepath.Glob(tempPattern(path, "*"))
		require.NoError(t, err)
		inside += min(len(left), 1)
		require.NoError(t, Save(path, b), "the next save works")
		require.NoError(t, os.RemoveAll(dir))
	}
	t.Logf("%d kills; found old %d times, new %d times; %d fell inside a save that had begun to write",
		kills, titles["old"], titles["new"], inside)
	assert.Equal(t, kills, titles["old"]+titles["new"])
}

// killWhileSaving starts the child, waits for its first save and then for delay,
// and kills it.
func killWhileSaving(t *testing.T, self, path string, delay time.Duration) {
	t.Helper()
	child := exec.Command(self, "-test.run=^$")
	child.Env = append(os.Environ(), killedChild+"="+path)
	require.NoError(t, child.Start())
	for deadline := time.Now().Add(30 * time.Second); ; time.Sleep(200 * time.Microsecond) {
		if _, err := os.Lstat(BackupPath(path)); err == nil {
			break
		}
		require.True(t, time.Now().Before(deadline), "the child does not save")
	}
	time.Sleep(delay)
	require.NoError(t, child.Process.Kill())
	err := child.Wait()
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	require.NotEqual(t, 3, exit.ExitCode(), "a save failed before the kill")
}
