package line

// SDFactors is for a check against printed tables.
var SDFactors = sdFactors
