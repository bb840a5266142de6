// Package page makes the back-plot page: one HTML file that shows every
// program of a packet running in the wood, and every drawing by layer, in any
// browser, straight from the folder and with no network.
//
// What it shows is what it is given: the moves as a reader took them from the
// files on disk, the outlines they are held against, and the findings of the
// check. It reads no files, judges nothing and knows formats, not stars. The
// same data give the same bytes.
//
// The page itself is plain HTML, CSS and JavaScript from the folder assets. A
// content security policy in the page names the one script and the one style
// sheet by their SHA-256 and forbids everything else, so that nothing in a
// program or a title can become code and nothing can be fetched.
package page
