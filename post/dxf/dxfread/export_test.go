package dxfread

// Sized is for tests, which need not hold a file of that size.
var Sized = sized
