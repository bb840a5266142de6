package main

// fitHelp is followed by people at a bench who do not live on command lines.
const fitHelp = `fit tells how to set the saw when the star does not close.

WHAT TO DO AT THE BENCH

  1. Cut the segments of one star. Lay them on a flat board without glue.
  2. Press all joints shut, one after the other, round the star. One joint is
     left; if the saw was off, it does not close.
  3. Look where it is open, and measure there with a feeler gauge or a rule,
     from corner to corner:

       open at the valley              open at the centre
       (outside)                       (inside)

          \ gap  /                        \  /   touch
           \<-->/                          \/
            \  /                           ||
             \/  touch                    /  \
             /\                          /<-->\ gap
          star's centre               star's centre

  4. Type what you saw, with the words in quotation marks as they stand here:

       starwright fit job.toml --gap "1 mm" --at valley

     job.toml is your job file. Named or not, the one of the folder is taken, and
     without any the built-in job. For a star without a job say which it is:

       starwright fit --points 5 --board "3 1/2 in" --gap "1/32 in" --at centre

  5. For a job it answers for the way in which the job cuts its facets: the shim
     that goes behind board, block or cradle, and where the stop then stands; by
     hand, the new marks. For the star from the off-cuts say

       starwright fit job.toml --star offcut --gap "0.5 mm" --at valley

     Without a job it answers which way to turn the saw, and how far that is at a
     distance from its pivot. If that is not 300 mm (12 in), say so:

       ... --pivot "450 mm"

     Set the saw, cut the segments of another star, look again.

OTHER WAYS TO LOOK

  --test last-joint     one joint of the whole star is left (as above)
  --test halves         two half stars are pushed together; both joints that
                        are left open alike: measure one of them
  --test one-joint      all joints are open alike: measure one of them
  --test straightedge   a half star against a straightedge; for an even number
                        of points. Measure square to the straightedge

OTHER QUESTIONS

  Which gaps come of a saw that is off by a fifth of a degree?
       starwright fit job.toml --saw-error "0.2 deg"

  How fine must the saw be set for gaps below 0.3 mm?
       starwright fit job.toml --limit "0.3 mm"

Lengths are written "1 mm", "0.5 mm", "1/32 in", "3 1/2 in"; angles "0.2 deg".`
