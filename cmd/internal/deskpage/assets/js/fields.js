// What the form asks, in the order of the form. A field is a key of the job
// file: kind "length", "number", "whole", "angle", "words", "yes", "choice", or "names": a list of words with
// commas between. What stands "beside" another key is asked
// where that one is given.

const f = (path, label, kind, hint = "", more = {}) => ({ path: path.split("."), label, kind, hint, ...more });

// GROUPS are the folded parts of the form.
export const GROUPS = [
  { name: "Star and blanks", fields: [
    f("title", "Name of the job", "words", "Stands on the sheet and in the files."),
    f("units", "Units", "choice", "", { choices: [["mm", "millimetres"], ["in", "inches"]] }),
    f("star.thickness", "Board thickness", "length", "Measure the boards as they will be glued."),
    f("star.woods", "Of two woods", "names", "As in walnut, hard maple. Left empty, each star is of one."),
    f("star.halves", "How the woods come together", "choice", "", { beside: "star.woods", choices: [["turning", "each point light and dark, turning"], ["mirrored", "each point light and dark, mirrored; even points alone"], ["whole", "whole points in turn"]] }),
    f("star.tip", "Tip angle", "angle", "Smaller is more pointed."),
    f("blank.end_trim", "End trim", "length", "Added to each blank, to square its ends."),
    f("blank.round_to", "Round blanks up to", "length"),
  ] },
  { name: "Mitre saw", fields: [
    f("saw.kerf", "Kerf", "length", "Cut into scrap and measure the slot."),
    f("saw.max_miter", "Largest angle", "angle", "From a square cut."),
  ] },
  { name: "Segments from the CNC", fields: [
    f("segments.cut", "Segments are cut", "choice", "The CNC takes them from boards that lie flat.", { choices: [["saw", "at the saw, or by hand"], ["cnc", "on the CNC"]] }),
    f("segments.board_width", "Width of the boards", "length", "Of boards that are not on the rack.", { beside: "segments.cut" }),
    f("segments.board_length", "Length of the boards", "length", "", { beside: "segments.cut" }),
    f("segments.longest", "Longest piece on the machine", "length", "", { beside: "segments.cut" }),
    f("segments.margin", "Free along the boards' edges", "length", "", { beside: "segments.cut" }),
    f("segments.spacing", "Between two segments", "length", "", { beside: "segments.cut" }),
  ] },
  { name: "Slots and splines", needs: "slot", fields: [
    f("slot.width", "Slot width", "length"),
    f("slot.depth", "Slot depth", "length", "From the facet inwards."),
    f("slot.from_face", "Show face to slot centre", "length"),
    f("slot.start", "Slot starts", "length", "From the star's centre along the facet."),
    f("slot.end_margin", "Slot ends before the valley", "length"),
    f("slot.web", "Least wood between two slots", "length"),
    f("slot.stations", "Segments side by side", "whole", "Held at once on the machine."),
    f("spline.thickness", "Spline thickness, measured", "length", "Plywood is rarely what it is sold as."),
    f("spline.fit", "Play of the spline", "length"),
    f("spline.glue_gap", "Room for glue", "length"),
  ] },
  { name: "Cutter", fields: [
    f("cutter.diameter", "Diameter", "length"),
    f("cutter.cut_length", "Cutting length", "length"),
    f("cutter.depth_per_pass", "Depth of a pass", "length"),
    f("cutter.feed", "Feed", "length", "As in 1200 mm/min."),
    f("cutter.plunge_feed", "Feed downwards", "length"),
    f("cutter.spindle_rpm", "Spindle, rev/min", "whole"),
    f("cutter.flutes", "Flutes", "whole"),
    f("cutter.side", "Side of cut", "choice", "", { choices: [["conventional", "conventional"], ["climb", "climb"]] }),
  ] },
  { name: "CNC machine", fields: [
    f("machine.travel.0", "Travel along X", "length", "", { list: "machine.travel", of: 3 }),
    f("machine.travel.1", "Travel along Y", "length", "", { list: "machine.travel", of: 3 }),
    f("machine.travel.2", "Travel up and down", "length", "", { list: "machine.travel", of: 3 }),
    f("machine.safe_z", "Safe height", "length", "Over the wood and its clamps."),
    f("machine.park", "Park the cutter", "choice", "At stops and at the end, to this side of the work.", { choices: [["back", "back"], ["front", "front"], ["left", "left"], ["right", "right"], ["up", "up only"]] }),
    f("machine.spin_up", "Spindle run-up, seconds", "number"),
  ] },
  { name: "Sheet for jigs and splines", fields: [
    f("sheet.width", "Width", "length"),
    f("sheet.height", "Height", "length"),
    f("sheet.thickness", "Thickness", "length"),
    f("sheet.margin", "Free along the edges", "length"),
    f("sheet.spacing", "Between parts", "length"),
    f("sheet.screw_zones", "Screw the sheet down in its corners", "yes"),
    f("tabs.count", "Tabs a part", "whole"),
    f("tabs.width", "Tab width", "length"),
    f("tabs.height", "Tab height", "length"),
    f("laser.kerf", "Laser kerf", "length", "Leave empty where nothing is lasered."),
  ] },
  { name: "Wood and its movement", fields: [
    f("wood.species", "Species", "words", "As in western redcedar."),
    f("wood.mc_now", "Moisture now, %", "number"),
    f("wood.mc_service", "Moisture later, %", "number"),
    f("wood.movement_limit", "Opening that you accept", "length"),
  ] },
  { name: "Print", fields: [
    f("print.paper", "Paper", "choice", "", { choices: [["A4", "A4"], ["Letter", "Letter"]] }),
    f("date", "Date on the sheet", "words", "As in 2026-12-05."),
  ] },
];

// asked are the paths of the fields that stand beside another one.
export function asked(path) { return GROUPS.flatMap((g) => g.fields).filter((one) => one.beside === path.join(".")).map((one) => one.path); }

// NAME is asked of each star of an order.
export const NAME = f("star.name", "What it is called", "words", "Letters, digits and -. Its files carry the name.");

// HOW_MANY, POINTS, BOARD, STAR_WIDTH are asked on the first screen.
export const HOW_MANY = f("star.count", "How many stars", "whole");
export const POINTS = f("star.points", "Points", "choice", "", { bare: true, choices: [4, 5, 6, 7, 8, 9, 10, 11, 12].map((n) => [String(n), String(n)]) });
export const BOARD = f("star.board_width", "Board width", "length", "Planed, edge to edge. A trade name such as 1x6 will do.");
export const STAR_WIDTH = f("star.star_width", "Star width", "length", "The widest, tip to tip.");
