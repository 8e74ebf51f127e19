// Package figure holds pictures as data and draws them.
//
// A [Picture] says what is to be seen: panels with axes, bands, lines, points,
// range bars, marks and tiles, all in words and numbers that are already in
// the units to be shown. A [Style] says how it looks: size, scale, text size
// and every colour. [Draw] paints one with the other onto any canvas of
// gonum.org/v1/plot/vg and returns a [Layout], which tells where things went:
// the transform of every axis both ways, and the boxes of what can be chosen.
// A [Renderer] does the same into an image that it keeps from one frame to the
// next, for a window that redraws as its user types.
//
// The same picture in the same style always gives the same image. Nothing in
// a picture makes the drawing fail: numbers that are not finite are left out,
// texts that are too long are shortened, and what a small image has no room
// for is dropped, axis titles before data.
package figure
