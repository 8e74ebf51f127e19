// Package assets carries the files that the program needs at run time, and
// nothing else: texts, the library of materials, samples, schema and icon.
package assets

import "embed"

// Lang holds the catalogues of texts, lang/en.*.toml and their translations.
//
//go:embed lang/*.toml
var Lang embed.FS

// Library holds the built-in materials, one file for each kind.
//
//go:embed library/*.json
var Library embed.FS

// Samples holds the projects that show what the program does.
//
//go:embed samples
var Samples embed.FS

// Schema holds the published JSON Schema of the project file.
//
//go:embed schema
var Schema embed.FS

// Icon is the picture of the program, as SVG.
//
//go:embed icon.svg
var Icon []byte
