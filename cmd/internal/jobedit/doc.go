// Package jobedit changes single values of a TOML text and leaves every other
// byte as it is: comments, the order of keys, blank lines, how a value is
// written, the kind of line ends. A job file belongs to its maker, who may have
// written in it what no program knows of.
//
// [Set] writes one value, and adds the key and its table where the text has
// none; [Remove] takes one out; [Copy] has an item of a list stand twice, [List]
// makes a table the first of a list. All know where things stand from
// [github.com/pelletier/go-toml/v2/unstable]; where in a line a value ends is
// found here, because that parser keeps no place for lists and inline tables.
//
// The package knows TOML, not stars: which keys there are and which values are
// sound is for package job.
package jobedit
