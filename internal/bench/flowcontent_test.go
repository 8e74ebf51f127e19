package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fillwright/internal/project"
	"fillwright/internal/quantity"
	"fillwright/internal/wording"
)

// A test stands for its blend while the recipe has the powder that was tested, within half
// a percent of the whole; one that does not say what was tested always does. What else the
// recipe holds its powder by makes no difference.
func TestATestStandsForTheRecipeThatWasTested(t *testing.T) {
	for _, c := range []struct {
		then, recipe string
		used         bool
	}{
		{"", "5 wt%", true},
		{"", "12 wt%", true},
		{"5.0 wt%", "5 wt%", true},
		{"5.0 wt%", "5.5 wt%", true},
		{"5.0 wt%", "5.6 wt%", false},
		{"5.0 wt%", "4.4 wt%", false},
		{"20 wt%", "25 phr", true}, // 25 of 125 is a fifth
		{"25 wt%", "25 phr", false},
		{"0 wt%", "5 wt%", false},
	} {
		p := quiet()
		filled(&p).Parts[1].Amount = amount(c.recipe)
		test := filledTest
		if c.then != "" {
			test.Content = q[quantity.Fraction](c.then)
		}
		p.Melt.Tests = []project.FlowTest{plainTest, test}
		s := evaluate(t, p)
		sheet, name := s.FlowTests[1], c.then+" in "+c.recipe
		assert.Equal(t, c.used, sheet.Used, name)
		assert.Equal(t, c.used, sheet.Ratio.Known(), name)
		assert.Equal(t, c.used, s.Blends[1].Results[MeltFlow].Basis == Measured, name)
		assert.Equal(t, !c.used, s.Blends[1].Melt.RateFrom != "own", name)
		_, noted := note(s.Notes, "flow_test_other_content")
		assert.Equal(t, !c.used, noted, name)
	}
}

// The note names both contents.
func TestNoteNamesBothContents(t *testing.T) {
	p := quiet()
	test := filledTest
	test.Content = q[quantity.Fraction]("10.0 wt%")
	p.Melt.Tests = []project.FlowTest{plainTest, test}
	n, found := note(evaluate(t, p).Notes, "flow_test_other_content")
	require.True(t, found)
	said := wording.New("en").Say(n.Message())
	assert.Contains(t, said, "10.0")
	assert.Contains(t, said, "now has 5")
}
