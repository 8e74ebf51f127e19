package shell_test

import (
	"testing"

	"fyne.io/fyne/v2"

	"fillwright/app/control"
)

func TestTabAfterAnEditGoesOnFromThere(t *testing.T) {
	for _, name := range []string{olive, mussel} {
		r := openSample(t, name)
		eachPart(r, func(string) {
			for _, place := range tried(r.places()) {
				f, is := r.input(place).(*control.Field)
				if !is {
					continue
				}
				text := examples(f)[0]
				if text == f.Entry().Text {
					continue
				}
				r.typeInto(place, text)
				r.key(fyne.KeyTab)
				alive(r, "Tab from "+place)
				r.typeInto(place, "")
				r.key(fyne.KeyReturn)
				alive(r, "Enter in "+place)
			}
		})
	}
}
