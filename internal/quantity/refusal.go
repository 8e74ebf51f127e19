package quantity

import (
	"fmt"
	"strings"
	"unicode"
)

// Refusal says why an entry was not read. ID names the text in the catalogue
// and Values fill its blanks: always Text (what was read), Units (what is
// accepted) and Example (an entry that is read), and more by ID.
type Refusal struct {
	ID     string
	Values map[string]any
}

// Error is for logs; people read the catalogue's text of the Message.
func (r *Refusal) Error() string {
	return fmt.Sprintf("%s: %q (accepted: %v)", r.ID, r.Values["Text"], r.Values["Units"])
}

// Message hands the refusal to whoever renders texts.
func (r *Refusal) Message() (id string, values map[string]any) { return r.ID, r.Values }

// refuse makes the refusal of an entry; more are pairs of a name and a value.
func (d *dimension) refuse(id, text string, more ...any) *Refusal {
	values := map[string]any{"Text": printable(text), "Units": join(d.accepts(exampleCode)), "Example": proposal(d.example)}
	for i := 0; i+1 < len(more); i += 2 {
		values[more[i].(string)] = more[i+1]
	}
	return &Refusal{ID: id, Values: values}
}

// candidate is an entry that was perhaps meant. Settle decides about it.
type candidate string

// settle makes proposals of the candidates in a refusal: each in its file form
// if it is read, else the example of the dimension. A refusal never proposes
// what is refused.
func (r *Refusal) settle(d *dimension) *Refusal {
	for name, value := range r.Values {
		text, ok := value.(candidate)
		if !ok {
			continue
		}
		r.Values[name] = proposal(d.example)
		if c, refused := d.read(string(text)); refused == nil && c.text != "" {
			r.Values[name] = proposal(c.text)
		}
	}
	return r
}

// proposal is an entry that a refusal proposes. The renderer of texts asks
// Pretty for it with the decimal sign of the reader; the unit stays as typed.
type proposal string

// Pretty prints the proposal for the window.
func (p proposal) Pretty(decimalComma bool) string {
	text := []byte(p)
	for i := 0; decimalComma && i+1 < len(text); i++ {
		if text[i] == '.' && isDigit(text[i+1]) {
			text[i] = ','
		}
	}
	return string(text)
}

// shownLength is how many characters of an entry a refusal repeats.
const shownLength = 60

// printable makes an entry fit for a sentence: short, and without characters
// that do not print.
func printable(text string) string {
	text = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) && !isSpace(r) {
			return unicode.ReplacementChar
		}
		return r
	}, strings.ToValidUTF8(text, string(unicode.ReplacementChar)))
	if runes := []rune(text); len(runes) > shownLength {
		return string(runes[:shownLength]) + "…"
	}
	return text
}
