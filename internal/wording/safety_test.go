package wording

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestEveryCautionDefersToThoseWhoKnow(t *testing.T) {
	w := New("en")
	var cautions []string
	for _, id := range w.IDs() {
		name, ok := strings.CutPrefix(id, "safety.")
		if !ok {
			continue
		}
		cautions = append(cautions, name)
		text := w.Text(id)
		assert.True(t, strings.HasSuffix(text, "."), "%s: the action follows as a sentence of its own", id)
		assert.LessOrEqual(t, len(text), 400, "%s: too long to be read beside the work", id)
	}
	assert.ElementsMatch(t, []string{
		"dust", "dust_mineral", "drying", "solvent", "fumes", "hot_parts", "moisture_spit", "plugged_die", "shell_never_calcine",
		"food_contact", "mould", "allergens", "minerals", "metal_powders",
	}, cautions)
	assert.Equal(t, "Follow the safety data sheet, local rules and qualified advice.", w.Text("action.safety"), "what every caution ends with")
	assert.Empty(t, w.Missing())
}
