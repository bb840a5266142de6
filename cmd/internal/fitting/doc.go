// Package fitting answers what a maker asks at the test fit: what a gap says
// of the saw, which gaps a saw's error makes, how fine the saw must be set, and
// how a last joint is trued without a new cut. The trigonometry is that of
// starwright/geom/bench/fit; here it is asked, named for JSON and written for
// people.
package fitting
