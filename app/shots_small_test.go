//go:build !ci

package main

import "testing"

func TestShotsOfASmallWindowWithLargeText(t *testing.T) {
	shootFew(t, "-size", "320x240", "-text", "200") // panics
}
