package figure

import "image/color"

// Palette returns eight colours that people with the usual kinds of colour
// blindness can tell apart, the best-contrasting ones first. On a light ground they are those of
// Okabe and Ito, "Color Universal Design" (2002, revised 2008), except that
// black is a grey and yellow is darkened to show on white; from memory,
// confirm. On a dark ground they are lightened at about the same hue.
func Palette(dark bool) []color.Color {
	hex := [...]uint32{0x0072B2, 0xD55E00, 0x009E73, 0xCC79A7, 0xE69F00, 0x56B4E9, 0x6B7580, 0xA89600}
	if dark {
		hex = [...]uint32{0x5DB2EA, 0xF08A4B, 0x2DBE94, 0xE09CC3, 0xF2B83F, 0x9AD3F5, 0xA6AEB8, 0xF0E442}
	}
	out := make([]color.Color, len(hex))
	for i, v := range hex {
		out[i] = color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
	}
	return out
}
