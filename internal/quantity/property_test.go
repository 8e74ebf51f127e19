package quantity

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// draw makes an entry in file form that must be read.
func draw(random *rand.Rand, d *dimension, spelling string) string {
	number := func(limit int) string {
		text := strconv.Itoa(random.IntN(limit))
		if decimals := random.IntN(5); decimals > 0 {
			text += fmt.Sprintf(".%0*d", decimals, random.IntN([]int{0, 10, 100, 1000, 10000}[decimals]))
		}
		if random.IntN(8) == 0 {
			text += []string{"e2", "E+1", "e-2"}[random.IntN(3)]
		}
		return text
	}
	numbers := number(1000)
	switch random.IntN(3) {
	case 1:
		numbers += " ± " + number(100)
	case 2:
		numbers = strconv.Itoa(random.IntN(100)) + "-" + strconv.Itoa(100+random.IntN(100)) + ".5"
		if d.signed && random.IntN(2) == 0 {
			numbers = fmt.Sprintf("-%d to %d", 100+random.IntN(100), random.IntN(100)-100)
		}
	}
	switch {
	case spelling == "":
		return numbers
	case d.factor && spelling != "1":
		return spelling + numbers
	}
	return numbers + " " + spelling
}

// everywhere runs a check on drawn entries in each unit of each dimension.
func everywhere(t *testing.T, check func(k kind, spelling, text string, q read)) {
	t.Helper()
	random := rand.New(rand.NewPCG(1, 2))
	for i, d := range dimensions {
		require.Equal(t, d.name, kinds[i].name)
		for _, spelling := range spellingsOf(d) {
			for range 50 {
				text := draw(random, d, spelling)
				if spelling == "K" && strings.HasPrefix(text, "-") {
					continue // below absolute zero
				}
				q, err := kinds[i].parse(text)
				require.NoError(t, err, "%s %q", d.name, text)
				check(kinds[i], spelling, text, q)
			}
		}
	}
}

func TestParseAndStringAreInverse(t *testing.T) {
	everywhere(t, func(k kind, spelling, text string, q read) {
		assert.Equal(t, spelling, q.Unit(), text)
		again, err := k.parse(q.String())
		require.NoError(t, err, q.String())
		assert.True(t, q == again, "%s %q: %q", k.name, text, q)
	})
}

func TestWindowFormReadsBack(t *testing.T) {
	everywhere(t, func(k kind, _, text string, q read) {
		want, _ := q.Estimate()
		for _, comma := range []bool{false, true} {
			again, err := k.parse(q.Pretty(comma))
			require.NoError(t, err, q.Pretty(comma))
			got, _ := again.Estimate()
			assert.Equal(t, want, got, text)
			assert.Equal(t, q.Pretty(comma), again.Pretty(comma), text)
		}
	})
}

func TestCommaAndPointReadTheSame(t *testing.T) {
	everywhere(t, func(k kind, spelling, text string, q read) {
		numbers := strings.TrimSuffix(text, spelling)
		comma := strings.ReplaceAll(numbers, ".", ",") + text[len(numbers):]
		again, err := k.parse(comma)
		require.NoError(t, err, comma)
		assert.True(t, q == again, "%q: %q", comma, again)
	})
}

func TestEstimatesAreOrdered(t *testing.T) {
	everywhere(t, func(_ kind, _, text string, q read) {
		e, given := q.Estimate()
		assert.True(t, given && e.Low <= e.Value && e.Value <= e.High && e.StdU >= 0, "%q: %+v", text, e)
		assert.Equal(t, e.Spread == Exact, e.Low == e.High && !strings.Contains(text, "±"), text)
	})
}

func TestPatternLetsFileFormsPass(t *testing.T) {
	everywhere(t, func(_ kind, _, _ string, q read) {
		_, pattern := q.Schema()
		assert.Regexp(t, pattern, q.String())
	})
	for _, entry := range accepted {
		q, err := kindNamed(t, entry.dimension).parse(entry.text)
		require.NoError(t, err)
		name, pattern := q.Schema()
		assert.Equal(t, entry.dimension, name)
		assert.Regexp(t, pattern, q.String())
		assert.Regexp(t, pattern, "", "not given")
	}
}

func TestPatternStopsNonsense(t *testing.T) {
	for i, d := range dimensions {
		q, err := kinds[i].parse("")
		require.NoError(t, err)
		_, text := q.Schema()
		pattern := regexp.MustCompile(text)
		number, unit := "1", " "+spellingsOf(d)[0]
		if d.factor {
			unit = ""
		}
		require.True(t, pattern.MatchString(number+unit), "%s: %s", d.name, text)
		for _, nonsense := range []string{
			" ", "abc", "1 furlong", "1,5" + unit, "1 234" + unit, "1." + unit, "1 ± -2" + unit, "1 ± 2 ± 3" + unit, "1-2-3" + unit,
			number + unit + " ", " " + number + unit, "\n" + number + unit, number + unit + "\n", "NaN" + unit, "0x1f" + unit, "1_0" + unit, "1e" + unit, "--1" + unit,
		} {
			assert.False(t, pattern.MatchString(nonsense), "%s: %q", d.name, nonsense)
		}
		assert.Equal(t, d.signed, pattern.MatchString("-1"+unit), d.name)
		assert.Equal(t, d.factor, pattern.MatchString("1"), d.name)
	}
	assert.NotRegexp(t, Pattern[PricePerMass](), "1 €/kg", "files name the code")
	assert.NotRegexp(t, Pattern[PricePerMass](), "1 eur/kg")
}

// TestUnitsScale reads one amount in two units: value, ends and standard
// uncertainty must agree, whatever the units are.
func TestUnitsScale(t *testing.T) {
	for i, d := range dimensions {
		spellings := spellingsOf(d)
		for _, a := range spellings {
			for _, b := range spellings {
				for _, text := range []string{"500", "500 ± 25", "400-600"} {
					first, err := kinds[i].parse(withUnit(d, text, a))
					require.NoError(t, err)
					second, err := kinds[i].parse(withUnit(d, rescale(t, d, text, a, b), b))
					require.NoError(t, err)
					want, _ := first.Estimate()
					got, _ := second.Estimate()
					for _, pair := range [][2]float64{{want.Value, got.Value}, {want.Low, got.Low}, {want.High, got.High}, {want.StdU, got.StdU}} {
						assert.InDelta(t, pair[0], pair[1], 1e-12*want.High, "%s %q in %q", d.name, text, b)
					}
				}
			}
		}
	}
}

func withUnit(d *dimension, numbers, spelling string) string {
	if d.factor && spelling != "1" {
		return spelling + numbers
	}
	return numbers + " " + spelling
}

// rescale writes the numbers of a text in another unit.
func rescale(t *testing.T, d *dimension, text, from, to string) string {
	t.Helper()
	a, _ := d.lookUp(from)
	b, ok := d.lookUp(to)
	require.True(t, ok)
	print := func(v float64) string { return strconv.FormatFloat(v, 'g', 17, 64) }
	absolute := func(number string) string { return print(b.fromSI(a.toSI(parseNumber(number)))) }
	if value, half, found := strings.Cut(text, " ± "); found {
		return absolute(value) + " ± " + print(a.difference(parseNumber(half))/b.difference(1))
	}
	if low, high, found := strings.Cut(text, "-"); found {
		return absolute(low) + "-" + absolute(high)
	}
	return absolute(text)
}

func TestConvertIsInverse(t *testing.T) {
	for _, d := range dimensions {
		for _, spelling := range spellingsOf(d) {
			u, _ := d.lookUp(spelling)
			for _, number := range []float64{1, 37.5, 1e-3, 12345} {
				assert.InEpsilon(t, number, u.fromSI(u.toSI(number)), 1e-10, "%s %s", d.name, spelling)
			}
		}
	}
}

func TestNamesAndUnitsAreListed(t *testing.T) {
	seen := map[string]bool{}
	for _, d := range dimensions {
		assert.Regexp(t, `^[a-z]+(_[a-z]+)*$`, d.name)
		assert.False(t, seen[d.name], d.name)
		seen[d.name] = true
		_, refused := d.parse(d.example)
		assert.Nil(t, refused, d.example)
	}
	assert.Equal(t, "price_per_mass", Name[PricePerMass]())
	assert.Equal(t, []string{"EUR/kg", "EUR/g", "EUR/t", "EUR/lb"}, Accepts[PricePerMass]())
	assert.Equal(t, []string{"wt%", "vol%", "phr"}, Accepts[Content]())
	assert.Equal(t, []string{"×"}, Accepts[Factor]())
}

// TestOfIsAPlainValue keeps clones of a document cheap and safe: a quantity is
// comparable and shares no memory that could be written.
func TestOfIsAPlainValue(t *testing.T) {
	kind := reflect.TypeOf(Of[Mass]{})
	assert.True(t, kind.Comparable())
	assert.LessOrEqual(t, kind.Size(), uintptr(64))
	assert.False(t, kind.ConvertibleTo(reflect.TypeOf(Of[Length]{})), "a mass cannot pass for a length")
}
