package figure

import (
	"image/color"
	"math"
)

// Palette returns eight colours that people with the usual kinds of colour
// blindness can tell apart, those that stand out best first. On a light ground
// they are those of Okabe and Ito, "Color Universal Design" (2002, revised
// 2008), except that black is a grey and yellow is a brown that shows on white;
// from memory, confirm. On a dark ground they are lightened at about the same hue.
func Palette(dark bool) []color.Color {
	hex := [...]uint32{0x0072B2, 0xD55E00, 0x009E73, 0xCC79A7, 0xE69F00, 0x56B4E9, 0x6B7580, 0x5A4A00}
	if dark {
		hex = [...]uint32{0x5DB2EA, 0xF08A4B, 0x2DBE94, 0xE09CC3, 0xF2B83F, 0x9AD3F5, 0x7F8A96, 0xF0E442}
	}
	out := make([]color.Color, len(hex))
	for i, v := range hex {
		out[i] = color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
	}
	return out
}

// luminance is the relative luminance of WCAG 2.2, from 0 for black to 1 for white.
func luminance(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	return 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
}

// linear undoes the sRGB transfer curve of one 16-bit channel.
func linear(channel uint32) float64 {
	v := float64(channel) / 0xffff
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// contrast is the contrast ratio of WCAG 2.2, from 1 to 21.
func contrast(a, b color.Color) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// textContrast is what WCAG 2.2 asks of text of ordinary size (criterion 1.4.3).
const textContrast = 4.5

// readable moves a colour towards that of the text until text in it can be read on the ground.
func readable(c, ground, text color.Color) color.Color {
	for t := 0.0; t < 1; t += 0.1 {
		if m := mix(c, text, t); contrast(m, ground) >= textContrast {
			return m
		}
	}
	return text
}

// mix is the colour that lies the share t of the way from a to b.
func mix(a, b color.Color, t float64) color.Color {
	x, y := color.NRGBAModel.Convert(a).(color.NRGBA), color.NRGBAModel.Convert(b).(color.NRGBA)
	part := func(p, q uint8) uint8 { return uint8(math.Round(float64(p)*(1-t) + float64(q)*t)) }
	return color.NRGBA{R: part(x.R, y.R), G: part(x.G, y.G), B: part(x.B, y.B), A: part(x.A, y.A)}
}

// faint is the colour with its opacity cut to the share a.
func faint(c color.Color, a float64) color.Color {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	n.A = uint8(math.Round(float64(n.A) * a))
	return n
}
