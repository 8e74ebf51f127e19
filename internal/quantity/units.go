package quantity

// The units. Spellings are those of UCUM (the Unified Code for Units of
// Measure, version 2.1) and those in print; the first is the one shown.
//
// Inch, foot, pound and ounce are exact by the international yard and pound
// agreement of 1959: 1 yd = 0.9144 m, 1 lb = 0.45359237 kg. Bar, litre, tonne,
// minute, hour, day and dalton are from the SI brochure (9th edition, tables 8
// and 4 for the prefixes); the pound-force uses the standard acceleration
// 9.80665 m/s2 (3rd CGPM, 1901); 0 °C is 273.15 K and 0 °F is 459.67 °R.

func define(pretty string, up, down float64, spellings ...string) unit {
	return unit{pretty: pretty, spellings: spellings, up: up, down: down}
}

var massDim = dimension{name: "mass", example: "1.5 kg", units: []unit{
	define("kg", 1, 1, "kg"),
	define("g", 1, 1e3, "g"),
	define("mg", 1, 1e6, "mg"),
	define("t", 1e3, 1, "t"),
	define("lb", 45359237, 1e8, "lb", "[lb_av]"),
	define("oz", 28349523125, 1e12, "oz", "[oz_av]"),
}}.index()

var lengthDim = dimension{name: "length", example: "1.75 mm", units: []unit{
	define("m", 1, 1, "m"),
	define("cm", 1, 1e2, "cm"),
	define("mm", 1, 1e3, "mm"),
	define("µm", 1, 1e6, "um", "µm", "μm"), // U+00B5 and U+03BC
	define("nm", 1, 1e9, "nm"),
	define("in", 254, 1e4, "in", "[in_i]", `"`),
	define("ft", 3048, 1e4, "ft", "[ft_i]"),
}}.index()

var densityDim = dimension{name: "density", example: "1.24 g/cm3", units: []unit{
	define("g/cm³", 1e3, 1, "g/cm3", "g/cm³", "g/cm^3", "g/cc"),
	define("kg/m³", 1, 1, "kg/m3", "kg/m³", "kg/m^3"),
	define("g/mL", 1e3, 1, "g/mL", "g/ml"),
	define("kg/L", 1e3, 1, "kg/L", "kg/l"),
	define("lb/ft³", 45359237e4, 28316846592, "lb/ft3", "lb/ft³", "[lb_av]/[ft_i]3"),
}}.index()

var volumeDim = dimension{name: "volume", example: "250 mL", units: []unit{
	define("m³", 1, 1, "m3", "m³", "m^3"),
	define("L", 1, 1e3, "L", "l"),
	define("mL", 1, 1e6, "mL", "ml"),
	define("cm³", 1, 1e6, "cm3", "cm³", "cm^3"),
	define("mm³", 1, 1e9, "mm3", "mm³", "mm^3"),
}}.index()

var temperatureDim = dimension{name: "temperature", example: "210 °C", signed: true, units: []unit{
	{pretty: "°C", spellings: []string{"°C", "Cel", "degC"}, up: 1, down: 1, offset: 273.15},
	define("K", 1, 1, "K"),
	{pretty: "°F", spellings: []string{"°F", "degF", "[degF]"}, up: 5, down: 9, offset: 459.67},
}}.index()

var durationDim = dimension{name: "duration", example: "4 h", units: []unit{
	define("ms", 1, 1e3, "ms"),
	define("s", 1, 1, "s"),
	define("min", 60, 1, "min"),
	define("h", 3600, 1, "h"),
	define("d", 86400, 1, "d"),
}}.index()

var fractionDim = dimension{name: "fraction", example: "5 %", units: []unit{
	define("%", 1, 1e2, "%"),
	define("wt%", 1, 1e2, "wt%"),
	define("1", 1, 1, "1"),
	define("ppm", 1, 1e6, "ppm", "[ppm]"),
	define("g/kg", 1, 1e3, "g/kg"),
	define("mg/kg", 1, 1e6, "mg/kg"),
}}.index()

var factorDim = dimension{name: "factor", example: "1.8", factor: true, units: []unit{
	define("×", 1, 1, "×", "x"),
	define("", 1, 1, "", "1"),
}}.index()

var pressureDim = dimension{name: "pressure", example: "50 MPa", units: []unit{
	define("Pa", 1, 1, "Pa"),
	define("kPa", 1e3, 1, "kPa"),
	define("MPa", 1e6, 1, "MPa"),
	define("GPa", 1e9, 1, "GPa"),
	define("N/mm²", 1e6, 1, "N/mm2", "N/mm²", "N/mm^2"),
	define("bar", 1e5, 1, "bar"),
	define("psi", 44482216152605, 6451600000, "psi", "[psi]"), // 0.45359237 kg · 9.80665 m/s2 on (0.0254 m)2
}}.index()

var molarMassDim = dimension{name: "molar_mass", example: "100 kg/mol", units: []unit{
	define("g/mol", 1, 1e3, "g/mol"),
	define("kg/mol", 1, 1, "kg/mol"),
	define("Da", 1, 1e3, "Da"), // a dalton per molecule is a gram per mole to about 1e-9
	define("kDa", 1, 1, "kDa"),
}}.index()

var powerDim = dimension{name: "power", example: "400 W", units: []unit{
	define("W", 1, 1, "W"),
	define("kW", 1e3, 1, "kW"),
}}.index()

var energyDim = dimension{name: "energy", example: "1.5 kWh", units: []unit{
	define("kWh", 36e5, 1, "kWh"),
	define("Wh", 3600, 1, "Wh"),
	define("MJ", 1e6, 1, "MJ"),
	define("kJ", 1e3, 1, "kJ"),
}}.index()

var molarEnergyDim = dimension{name: "molar_energy", example: "38 kJ/mol", units: []unit{
	define("kJ/mol", 1e3, 1, "kJ/mol"),
	define("J/mol", 1, 1, "J/mol"),
}}.index()

var massFlowDim = dimension{name: "mass_flow", example: "0.5 kg/h", units: []unit{
	define("kg/h", 1, 3600, "kg/h"),
	define("g/h", 1, 36e5, "g/h"),
	define("g/min", 1, 6e4, "g/min"),
	define("kg/s", 1, 1, "kg/s"),
	define("lb/h", 45359237, 36e10, "lb/h", "[lb_av]/h"),
}}.index()

// meltFlowDim is apart from massFlowDim, so that a test is not mistaken for the
// throughput of a line.
var meltFlowDim = dimension{name: "melt_flow", example: "6 g/10min", units: []unit{
	define("g/10 min", 1, 6e5, "g/10min", "g/10 min", "g/(10.min)"),
	define("g/min", 1, 6e4, "g/min"),
}}.index()

var speedDim = dimension{name: "speed", example: "2.7 m/min", units: []unit{
	define("m/min", 1, 60, "m/min"),
	define("mm/s", 1, 1e3, "mm/s"),
	define("cm/s", 1, 1e2, "cm/s"),
	define("m/s", 1, 1, "m/s"),
}}.index()

var rotationDim = dimension{name: "rotation", example: "20 rpm", units: []unit{
	define("rpm", 1, 60, "rpm", "/min"),
	define("/s", 1, 1, "/s"),
}}.index()

var currentDim = dimension{name: "current", example: "1.8 A", units: []unit{
	define("A", 1, 1, "A"),
	define("mA", 1, 1e3, "mA"),
}}.index()

var specificEnergyDim = dimension{name: "specific_energy", example: "93 J/g", units: []unit{
	define("kJ/kg", 1e3, 1, "kJ/kg"),
	define("J/g", 1e3, 1, "J/g"),
}}.index()

var heatCapacityDim = dimension{name: "heat_capacity", example: "1800 J/(kg.K)", units: []unit{
	define("J/(kg·K)", 1, 1, "J/(kg.K)", "J/(kg·K)", "J/kg/K", "J/kgK"),
	define("kJ/(kg·K)", 1e3, 1, "kJ/(kg.K)", "kJ/(kg·K)", "kJ/kg/K", "kJ/kgK"),
	define("J/(g·K)", 1e3, 1, "J/(g.K)", "J/(g·K)", "J/g/K", "J/gK"),
}}.index()

var conductivityDim = dimension{name: "conductivity", example: "0.13 W/(m.K)", units: []unit{
	define("W/(m·K)", 1, 1, "W/(m.K)", "W/(m·K)", "W/m/K", "W/mK"),
}}.index()

// contentDim has no per cent: it does not say of what.
var contentDim = dimension{name: "content", example: "5 wt%", units: []unit{
	define("wt%", 1, 1e2, "wt%"),
	define("vol%", 1, 1e2, "vol%"),
	define("phr", 1, 1e2, "phr"),
}}.index()

var priceDim = dimension{name: "price", example: "25 EUR", money: true, units: []unit{
	define("", 1, 1, ""),
}}.index()

var pricePerMassDim = dimension{name: "price_per_mass", example: "18.90 EUR/kg", money: true, units: []unit{
	define("/kg", 1, 1, "/kg"),
	define("/g", 1e3, 1, "/g"),
	define("/t", 1, 1e3, "/t"),
	define("/lb", 1e8, 45359237, "/lb", "/[lb_av]"),
}}.index()

var pricePerEnergyDim = dimension{name: "price_per_energy", example: "0.30 EUR/kWh", money: true, units: []unit{
	define("/kWh", 1, 36e5, "/kWh"),
	define("/MJ", 1, 1e6, "/MJ"),
}}.index()

var pricePerTimeDim = dimension{name: "price_per_time", example: "15 EUR/h", money: true, units: []unit{
	define("/h", 1, 3600, "/h"),
}}.index()

var pricePerLengthDim = dimension{name: "price_per_length", example: "0.06 EUR/m", money: true, units: []unit{
	define("/m", 1, 1, "/m"),
}}.index()

// dimensions lists them all, for look-ups over every unit.
var dimensions = []*dimension{
	massDim, lengthDim, densityDim, volumeDim, temperatureDim, durationDim, fractionDim, factorDim,
	pressureDim, molarMassDim, powerDim, energyDim, molarEnergyDim, massFlowDim, meltFlowDim, speedDim, rotationDim,
	currentDim, specificEnergyDim, heatCapacityDim, conductivityDim, contentDim,
	priceDim, pricePerMassDim, pricePerEnergyDim, pricePerTimeDim, pricePerLengthDim,
}
