// Package shopsheet writes what the maker takes to the bench: shop-sheet.pdf,
// the 1:1 templates and the operator's ticket.
//
// It is given a job that was worked out and says it in the order of the work:
// what to cut, how the saw is set, how the slots are cut, what is glued
// in which order and why, what is checked at the end. It computes nothing that
// the model, the jigs or the bench packages do not settle; what it adds is
// where the hands are and what can go wrong.
//
// Drawings of the saw are seen from above, the fence at the top of the page and
// the maker at its foot. Left and right of a segment are those of one that is
// seen from the front with its tip up.
package shopsheet
