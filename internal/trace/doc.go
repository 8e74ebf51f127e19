// Package trace reads the log of a diameter gauge and says what the strand is
// like: its statistics, lumps and thin spots, waves, drift and steps. A log may have
// millions of rows; it is read once, from the beginning to the end, and only what
// is needed of it is kept.
//
// The way of a log:
//
//	Guess (a first piece of the file) ─> Layout
//	Scan  (file, Layout)              ─> Blocks of readings, in their order
//	Analysis.Add (Block) …            ─> Summary
//
// Diameters are in m. The axis is what the log says of the place of a reading:
// seconds, metres, or only their order (see Axis). It becomes metres where the
// speed of the puller, or the length of the spool, is known.
package trace
