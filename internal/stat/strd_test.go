package stat

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// strdFolder may hold NIST's files beside the repository. The tests that need
// no file hold the most important of these sets as literals.
const strdFolder = "../../../shared/reference/nist-strd"

// readStrd reads one of the files, and says whether they are there at all.
func readStrd(t *testing.T, name string) ([]byte, bool) {
	t.Helper()
	content, err := os.ReadFile(filepath.Join(strdFolder, name))
	if os.IsNotExist(err) {
		t.Logf("%s is not here; the literals have to do", name)
		return nil, false
	}
	require.NoError(t, err)
	return content, true
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

// The literals of the nonlinear sets are what the files say.
func TestCertifiedSetsAreAsPublished(t *testing.T) {
	for name, set := range certifiedSets {
		content, here := readStrd(t, name+".dat")
		if !here {
			return
		}
		lines := strings.Split(string(content), "\n")
		starts := 0
		for _, line := range lines {
			words := strings.Fields(line)
			if len(words) == 6 && words[1] == "=" { // b1 = start start estimate sd
				j := starts
				starts++
				assert.Equal(t, []float64{
					number(t, words[2]), number(t, words[3]), number(t, words[4]), number(t, words[5]),
				}, []float64{set.starts[0][j], set.starts[1][j], set.params[j], set.sd[j]}, "%s: %s", name, line)
			}
		}
		assert.Equal(t, len(set.params), starts, name)

		parts := strings.Split(string(content), "\nData: ") // the last after the description
		words := strings.Fields(parts[len(parts)-1])[2:]    // after y and x
		require.Len(t, words, 2*len(set.x), name)
		for i := range set.x {
			assert.Equal(t, number(t, words[2*i]), set.y[i], "%s y %d", name, i+1)
			assert.Equal(t, number(t, words[2*i+1]), set.x[i], "%s x %d", name, i+1)
		}
	}
}

// linearSet is a linear regression of strd.json.
type linearSet struct {
	B  [][3]string // name, estimate, standard deviation
	R2 string
	Y  []float64
	X  [][]float64
}

// columns is the matrix of the set, column after column: what stands in the
// table, after a column of ones when that is missing, or the powers of x.
func (s linearSet) columns() [][]float64 {
	columns := make([][]float64, len(s.B))
	for j := range columns {
		columns[j] = make([]float64, len(s.Y))
	}
	for i, row := range s.X {
		values := []float64{1}
		if len(row) == len(s.B) {
			values = nil
		}
		values = append(values, row...)
		for len(values) < len(s.B) {
			values = append(values, values[len(values)-1]*values[1])
		}
		for j, v := range values {
			columns[j][i] = v
		}
	}
	return columns
}

func (s linearSet) problem() Problem {
	columns := s.columns()
	return Problem{
		Observed: s.Y,
		Start:    make([]float64, len(s.B)),
		Model: func(params, y []float64) {
			for i := range y {
				y[i] = 0
				for j, b := range params {
					y[i] += b * columns[j][i]
				}
			}
		},
		Slopes: func(_ []float64, slopes [][]float64) {
			for j := range slopes {
				copy(slopes[j], columns[j])
			}
		},
	}
}

// A linear problem is the easiest of curves, but Filip and Wampler are the
// hardest of matrices. The bars are those of a good linear solver in float64,
// less half a digit or so.
func TestLeastSquaresAgainstCertifiedLinearSets(t *testing.T) {
	content, here := readStrd(t, "strd.json")
	if !here {
		return
	}
	var all struct{ Linear map[string]linearSet }
	require.NoError(t, json.Unmarshal(content, &all))
	bars := map[string]float64{
		"Norris": 12, "NoInt1": 13, "NoInt2": 13, "Longley": 11, "Filip": 7,
		"Wampler1": 9, "Wampler2": 11, "Wampler4": 7.5, "Wampler5": 5.5,
	}
	require.Len(t, all.Linear, len(bars))
	for name, bar := range bars {
		set := all.Linear[name]
		f, err := LeastSquares(set.problem())
		require.NoError(t, err, name)
		for j, b := range set.B {
			assert.GreaterOrEqual(t, correctDigits(f.Params[j], number(t, b[1])), bar, "%s %s", name, b[0])
			if sd := number(t, b[2]); sd > 0 {
				assert.GreaterOrEqual(t, correctDigits(f.SD[j], sd), bar, "sd of %s %s", name, b[0])
			}
		}
		if len(set.B) > len(set.X[0]) { // without an intercept NIST's R² is not about the mean
			assert.GreaterOrEqual(t, correctDigits(f.R2, number(t, set.R2)), 9.0, name)
		}
	}
}
