// Package ui is the kit of widgets: buttons, choices, numbers, texts, lists and what
// scrolls, with the focus, the pointer and the editing of text that they share. It
// knows nothing of scenes, of languages or of windows: what a widget shows and changes
// comes as functions and texts, what happened comes as an Input, and what is seen goes
// into a display list.
//
// A page of widgets is a slice in the order of the focus. Kit.Turn hands it what
// happened; whoever owns the page lays it out by giving every widget its Area, in
// pixels, x to the right and y down.
package ui
