// Package deskpage is the desk's page: one frame, one style sheet and scripts
// that browsers read as they are.
//
// The page knows nothing of wood. What it shows comes from the calls of package
// engine, through a host: the local server (js/serverhost.js), or the same code
// as WebAssembly (js/workerhost.js). The scripts are modules; [Asset] serves them one by one.
//
// Everything the page needs is in it: its policy allows no other source.
package deskpage
