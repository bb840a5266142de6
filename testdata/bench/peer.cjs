// The npm packages' side of the comparison that peers.sh makes: one process
// reads one file and says how much was in it. Nothing is kept, so that what is
// measured is the package.
//
//   node peer.cjs gcode-toolpath FILE
//   node peer.cjs dxf-parser FILE
const fs = require('fs');

const [, , peer, file] = process.argv;
if (peer === 'gcode-toolpath') {
  const Toolpath = require('gcode-toolpath');
  let moves = 0;
  const count = () => { moves += 1; };
  new Toolpath({ addLine: count, addArcCurve: count }).loadFromFileSync(file);
  console.log(`${moves} moves`);
} else if (peer === 'dxf-parser') {
  const DxfParser = require('dxf-parser');
  const drawing = new DxfParser().parseSync(fs.readFileSync(file, 'utf8'));
  console.log(`${drawing.entities.length} entities`);
} else {
  console.error(`no such peer: ${peer}`);
  process.exit(1);
}
