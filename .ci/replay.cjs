// Replays G-code programs with the npm package gcode-toolpath and prints, for
// each file named, one line of JSON: its moves as an outside reader sees them.
//
//   node replay.cjs FILE...
//
// A move is [motion, x1, y1, z1, x2, y2, z2] in millimetres, an arc with its
// centre x, y added.
const fs = require('fs');
const Toolpath = require('gcode-toolpath');

for (const file of process.argv.slice(2)) {
  const moves = [];
  const record = (modal, a, b, o) => {
    const m = [modal.motion, a.x, a.y, a.z, b.x, b.y, b.z];
    if (o) m.push(o.x, o.y);
    moves.push(m);
  };
  const toolpath = new Toolpath({ addLine: record, addArcCurve: record });
  toolpath.loadFromStringSync(fs.readFileSync(file, 'utf8'));
  console.log(JSON.stringify({ file, moves }));
}
