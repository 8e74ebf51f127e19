package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func writeLog(t *testing.T, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "log.csv")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

const tenRows = "1,74\n1,76\n1,75\n1,78\n1,73\n1,75\n1,77\n1,74\n1,76\n1,72\n"

func TestTracePrintsATableOrJSON(t *testing.T) {
	path := writeLog(t, tenRows)
	s := speak(t, "trace", "-target", "1.75mm", "-tolerance", "0.05 mm", path)
	require.Equal(t, fine, s.status, s.err)
	assert.Contains(t, s.out, "10 readings from 10 lines")
	s = speak(t, "trace", "-json", "-quick", "-target", "1.75mm", "-tolerance", "0.05mm", path)
	require.Equal(t, fine, s.status, s.err)
	var got struct {
		Figures map[string]struct{ Value float64 }
	}
	require.NoError(t, json.Unmarshal([]byte(s.out), &got))
	assert.InDelta(t, 0.91287, got.Figures["cpk"].Value, 5e-6)
}

func TestTraceTakesTheLayoutFromFlags(t *testing.T) {
	path := writeLog(t, "head\nhead\n"+strings.Repeat("1|1750|9\n2|1760|9\n", 20))
	s := speak(t, "trace", "-json", "-columns", "ignored,diameter:um,ignored", "-separator", "bar", "-header", "2", path)
	require.Equal(t, fine, s.status, s.err)
	assert.Contains(t, s.out, `"readings": 40`)
	assert.Contains(t, s.out, `"value": 1.755`)
}

func TestTraceRefuses(t *testing.T) {
	path := writeLog(t, tenRows)
	for name, c := range map[string]struct {
		args   []string
		status int
		says   string
	}{
		"no file":     {[]string{"trace"}, misused, "usage"},
		"unknown":     {[]string{"trace", "-x", path}, misused, "usage"},
		"not a width": {[]string{"trace", "-target", "wide", path}, misused, "-target"},
		"no unit":     {[]string{"trace", "-speed", "2", path}, misused, "-speed"},
		"columns":     {[]string{"trace", "-columns", "time:s", path}, misused, "-columns"},
		"role":        {[]string{"trace", "-columns", "colour", path}, misused, "-columns"},
		"separator":   {[]string{"trace", "-separator", "dot", path}, misused, "usage"},
		"missing":     {[]string{"trace", filepath.Join(t.TempDir(), "none.csv")}, refused, "none.csv"},
		"empty":       {[]string{"trace", writeLog(t, "")}, refused, "empty"},
		"binary":      {[]string{"trace", writeLog(t, "\x00\x01\x00")}, refused, "no text"},
		"prose":       {[]string{"trace", writeLog(t, "the gauge\nis broken\n")}, refused, "the gauge"},
	} {
		t.Run(name, func(t *testing.T) {
			s := speak(t, c.args...)
			assert.Equal(t, c.status, s.status)
			assert.Contains(t, s.err, c.says)
			assert.Empty(t, s.out)
		})
	}
}
