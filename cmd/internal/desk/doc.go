// Package desk serves the desk's page to the browser of the machine it runs on,
// and keeps the job files and packets of one folder.
//
// The page's calls come to [Server]: those that need nothing but a job go to
// package engine, those about files to [Folder]. Nobody but the page may call:
// the server listens on the loopback address, refuses any request with another
// Host or Origin (a web site that has its name point to 127.0.0.1), and asks each
// call for a key that stands nowhere but in the fragment of the desk's address.
//
// A [Folder] reads and writes job files, the shop file and packets below one
// folder and nothing else, whatever a name says. A file is written beside its
// place and put there by one rename; one that has changed since it was read is
// not overwritten.
package desk
