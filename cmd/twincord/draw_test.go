package main

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"twincord/render"
)

// A field is as wide as one may be, or left to the picture, and no more and no less.
func TestBoundsOfFields(t *testing.T) {
	for field, good := range map[float64]bool{
		0: true, render.LeastField - 0.1: false, render.LeastField: true, render.MostField: true, render.MostField + 0.1: false, -20: false,
	} {
		assert.Equal(t, good, fieldAllowed(field) == nil, "%v°", field)
	}
}

// A size is one that a picture may have, each way by itself.
func TestBoundsOfSizes(t *testing.T) {
	for size, good := range map[string]bool{
		"160x120": true, "159x120": false, "160x119": false, "7680x4320": true, "7681x4320": false, "7680x4321": false, "4320x7680": false,
	} {
		w, h, err := sizeOf(size)
		assert.Equal(t, good, err == nil, size)
		assert.Equal(t, good, w > 0 && h > 0, size)
	}
}
