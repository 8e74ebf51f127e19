// Package filler deals with the powder before it meets the polymer: its
// moisture and drying, its preparation and packing, its grain sizes, and the
// oversize grains that block a nozzle. Pure functions on SI numbers: m, kg,
// kg/m³, K, s, and fractions from 0 to 1.
//
// Grain sizes go this way. A SieveTest, as weighed, becomes a Sieving. Between
// its sieves, Sieving.Percentile reads sizes; beyond them only a SizeLaw says
// anything, and FitSizes fits three of them. A law, a mass left on a sieve, a
// sample looked through and strand already printed are four kinds of evidence
// of Oversize grains, from which chances along a strand follow.
//
// All distributions are by mass unless a name says Number.
package filler
