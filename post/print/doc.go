// Package print makes the printed pages that go to the bench: a PDF of A4 or
// Letter pages with headings, paragraphs, tick lists, tables, drawings and
// templates in true size.
//
// A [PDF] is filled from top to bottom in sections; each section starts a
// page and flows over to the next where it does not fit. Job name, date and
// page number stand at the foot of every page. Without a date the foot has a
// line to write it on, so that the same job makes the same bytes whenever it is
// printed.
//
// Everything is printed in black and greys. Words are text in embedded fonts,
// so that they can be searched and copied.
//
// The package knows paper and print. It knows neither stars nor saws; what is
// said and drawn is its caller's.
package print
