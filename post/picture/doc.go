// Package picture draws what people look at: parts with their dimensions,
// jigs with the work seated in them, and back-plots of programs. A [Picture] is
// a page in millimetres; it comes out as SVG, as PNG, or by another's [Brush] on
// the page of a PDF, with the same bytes each time.
//
// It is given contours, moves and words, and knows neither stars nor jobs;
// its caller says what the lines mean. It judges nothing: findings come
// from the back-plot and are only shown here.
//
// Words are drawn as outlines of the letters, so that a picture looks the same
// where no fonts are installed; the SVG repeats them as its description, so
// that they can be searched and read out. Lines are black or of a few colours
// that stay apart when printed in grey; no meaning is carried by colour alone:
// dashes, hatching, weight or a number say the same.
//
// Every picture keeps its proportions: X and Y have the same scale. Where
// heights are drawn larger than lengths, the picture says so.
package picture
