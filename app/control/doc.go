// Package control holds the reusable controls of the window: entries that
// commit, a grid, a picture view, notes, tabs, the rail, the blend bar and the
// verdict strip.
//
// The controls know nothing of projects, materials or sheets. They take plain
// values and callbacks, and every text they show is handed in, already worded.
// Nothing here computes; nothing here imports the app package of the toolkit,
// so the whole package can be tested without a display.
//
// Two habits run through the package.
//
// Height for width: an object that wraps its text implements HeightFor, and the
// containers of this package ([Column], [Card], [Split], [ScrollColumn]) ask for
// it, so a window is laid out correctly in one pass.
//
// State lives in the widget, never in its renderer, because the toolkit drops
// renderers of widgets that stay hidden for a while.
package control
