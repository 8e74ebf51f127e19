package uncertain

import "math"

// Where the three parts of AS 241 meet, and where the outer two are centred.
const (
	centralHalf = 0.425
	centralR    = centralHalf * centralHalf
	middleR     = 1.6
	farR        = 5
)

// normalQuantile returns the number that a standard normal one falls below with the
// probability p.
//
//	z = q·A(r)/B(r),        r = 0.425² − q²          for |q| ≤ 0.425, q = p − ½
//	z = ±C(r − 1.6)/D(r − 1.6),  r = √(−ln min(p, 1−p)) ≤ 5
//	z = ±E(r − 5)/F(r − 5)       beyond
//
// p is from 0 to 1, both without; the relative error is about 1e-16 of z. It is ∓Inf
// at 0 and 1 and NaN outside. Own code, because gonum's serves one number in about
// twice the time.
//
// Source: M. J. Wichura, Algorithm AS 241, Applied Statistics 37 (1988) 477-484; the
// coefficients as in its Fortran.
func normalQuantile(p float64) float64 {
	q := p - 0.5
	if math.Abs(q) > centralHalf {
		return normalTail(p, q)
	}
	r := centralR - q*q
	return q * (((((((2.5090809287301226727e3*r+3.3430575583588128105e4)*r+6.7265770927008700853e4)*r+
		4.5921953931549871457e4)*r+1.3731693765509461125e4)*r+1.9715909503065514427e3)*r+
		1.3314166789178437745e2)*r + 3.3871328727963666080) /
		(((((((5.2264952788528545610e3*r+2.8729085735721942674e4)*r+3.9307895800092710610e4)*r+
			2.1213794301586595867e4)*r+5.3941960214247511077e3)*r+6.8718700749205790830e2)*r+
			4.2313330701600911252e1)*r + 1)
}

// normalTail is normalQuantile outside the central part, with q = p − ½.
func normalTail(p, q float64) float64 {
	r := p
	if q > 0 {
		r = 1 - p
	}
	if r == 0 {
		return math.Copysign(math.Inf(1), q)
	}
	r = math.Sqrt(-math.Log(r))
	if r <= farR {
		return math.Copysign(normalMiddle(r-middleR), q)
	}
	return math.Copysign(normalFar(r-farR), q)
}

func normalMiddle(r float64) float64 {
	return (((((((7.74545014278341407640e-4*r+2.27238449892691845833e-2)*r+2.41780725177450611770e-1)*r+
		1.27045825245236838258)*r+3.64784832476320460504)*r+5.76949722146069140550)*r+
		4.63033784615654529590)*r + 1.42343711074968357734) /
		(((((((1.05075007164441684324e-9*r+5.47593808499534494600e-4)*r+1.51986665636164571966e-2)*r+
			1.48103976427480074590e-1)*r+6.89767334985100004550e-1)*r+1.67638483018380384940)*r+
			2.05319162663775882187)*r + 1)
}

func normalFar(r float64) float64 {
	return (((((((2.01033439929228813265e-7*r+2.71155556874348757815e-5)*r+1.24266094738807843860e-3)*r+
		2.65321895265761230930e-2)*r+2.96560571828504891230e-1)*r+1.78482653991729133580)*r+
		5.46378491116411436990)*r + 6.65790464350110377720) /
		(((((((2.04426310338993978564e-15*r+1.42151175831644588870e-7)*r+1.84631831751005468180e-5)*r+
			7.86869131145613259100e-4)*r+1.48753612908506148525e-2)*r+1.36929880922735805310e-1)*r+
			5.99832206555887937690e-1)*r + 1)
}

// normalBelow is the probability of a standard normal number below z.
func normalBelow(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
