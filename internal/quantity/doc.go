// Package quantity reads and prints numbers with a unit as people write them:
//
//	1.24 g/cm3            exact as far as anybody said
//	1.24 ± 0.02 g/cm3     ± is the expanded uncertainty, coverage factor k = 2
//	1.40-1.50 g/cm3       a range as on a data sheet, rectangular
//	-40 to -30 °C         the same with signs, where a hyphen would mislead
//	×1.8                  a plain factor
//	18.90 EUR/kg          money carries its ISO 4217 code
//
// A quantity keeps its digits and its unit as they were entered: "1.240 g/cm3"
// does not become "1.24 g/cm3" and "250 um" does not become "0.25 mm". Only the
// spelling around them is made uniform, so that one quantity has one file form:
// one space before the unit, a decimal point, no plus sign, ± spelled as one
// character, a range with a hyphen, the unit once and at the end, € and £ as
// EUR and GBP. Everything that is not understood is refused with a Refusal that
// says what was read, what is wrong and what is accepted.
//
// How numbers are read:
//
//   - One comma or point is the decimal sign. Digits in groups (1,234.5 or
//     1 234 or 1'234) are refused, for the same text means different numbers
//     in different countries.
//   - A decimal sign may stand first (".5" stays ".5") but not last ("5.").
//   - Exponents are read ("1e-3"), fractions ("1/2") and powers ("1×10^3") are not.
//   - The other spellings of ± are +/- and +-; those of the range are – and "to".
//     A minus sign beside the hyphen of a range is refused: it takes "to".
//   - "1.24 g/cm3 ± 0.02 g/cm3" is read, for both numbers say the same unit.
//     "1.24 g/cm3 ± 2 %" and "5 % ± 2 %" are refused: a ± is always in the unit
//     of the number, and a percentage of a percentage has two readings.
//   - A number without a unit is a factor and nothing else: a bare 0.05 is no
//     fraction, for a bare 5 would be one too. "5 %" is no content, for it does
//     not say of what. A bare C, F or hp is no unit.
//   - Beside temperatures nothing may be negative, not even -0; no temperature
//     may be below absolute zero. The low end that follows from a wide ± may be.
//   - Every number must lie within 1e-30 and 1e30 in SI, or be zero. What is
//     computed from such numbers does not overflow. It may have 40 characters,
//     and the whole entry 200 bytes.
package quantity
