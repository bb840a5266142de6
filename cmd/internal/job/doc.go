// Package job reads the job file: a TOML text in which a woodworker says what
// star to make, of what wood, with which saw, cutter and machine.
//
// [Parse] checks everything that can be judged without the star's geometry and
// reports all that is wrong at once, each with file, line, key, the value read
// and one that goes through. [Load] goes on to the star's model and turns what it
// finds into the same errors. Every value the file leaves out is either
// filled here, with a [problem.Note] that says so, or left open for the model.
//
// The package writes no files and knows nothing of outlines, moves or jigs;
// names of species, jigs and the like are checked where they are known, with
// [Job.Error] to point at the line.
//
// Lengths are millimetres, feeds mm/min, angles [geom.Angle].
package job
