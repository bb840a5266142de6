#!/usr/bin/python3
"""Reads a packet with programs that are not part of the project and compares.

    outside.py PACKET PLAN.json MOVES.jsonl [PACKET PLAN.json MOVES.jsonl ...]

PLAN.json is the output of `starwright plan --json`, MOVES.jsonl that of
replay.cjs for the packet's programs. Prints what was compared and 'N passed, N
failed'; exits 1 where anything differs. Readers: ezdxf (with its auditor),
GDAL, shapely; SVG by Python's own XML reader and the arc formulas of the standard.
"""
import functools
import json
import math
import os
import sys

import ezdxf
import outside_svg
import tally
from osgeo import ogr
from ezdxf.math import bulge_to_arc
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union
from tally import check

ogr.UseExceptions()


def unit_of(doc_text):
    """Millimetres in a drawing unit, as the 999 comment states it."""
    lines = doc_text.splitlines()
    for code, value in zip(lines[0::2], lines[1::2]):
        if code.strip() == "999" and "drawing unit" in value:
            return 25.4 if "inch" in value else 1.0
    return None


def flat(polyline, unit):
    """Points of a closed polyline in mm, arcs as chords of half a degree."""
    pts = []
    vs = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0)) for v in polyline.vertices]
    for (x, y, b), (x2, y2, _) in zip(vs, vs[1:] + vs[:1]):
        pts.append((x * unit, y * unit))
        if b:
            c, a0, a1, r = bulge_to_arc((x, y), (x2, y2), b)
            sweep = 4 * math.atan(abs(b))
            n = max(2, int(math.degrees(sweep) / 0.5))
            start = math.atan2(y - c.y, x - c.x)
            for i in range(1, n):
                a = start + math.copysign(sweep, b) * i / n
                pts.append(((c.x + r * math.cos(a)) * unit, (c.y + r * math.sin(a)) * unit))
    return pts


@functools.lru_cache(maxsize=100)
def read_dxf(path):
    text = open(path, encoding="ascii").read()
    doc = ezdxf.readfile(path)
    audit = doc.audit()
    name = os.path.basename(path)
    check(not audit.has_errors and not audit.has_fixes, f"{name}: ezdxf audit: {audit.errors} {audit.fixes}")
    check(doc.dxfversion == "AC1009", f"{name}: version {doc.dxfversion}")
    unit = unit_of(text)
    check(unit is not None, f"{name}: no 999 comment states the unit")
    layers = {l.dxf.name for l in doc.layers}
    check({"OUTLINE", "HOLE", "GUIDE", "TEXT"} <= layers, f"{name}: layers {layers}")
    outlines = []
    for e in doc.modelspace():
        check(e.dxf.layer in ("OUTLINE", "HOLE", "GUIDE", "TEXT"), f"{name}: layer {e.dxf.layer}")
        if e.dxf.layer in ("OUTLINE", "HOLE"):
            check(e.dxftype() == "POLYLINE" and e.is_closed, f"{name}: {e.dxftype()} on a cut layer")
            outlines.append((e.dxf.layer, flat(e, unit or 1)))
    polygons = [(l, Polygon(p)) for l, p in outlines]
    for _, p in polygons:
        check(p.is_valid and p.area > 0, f"{name}: a contour crosses itself")
    bars(doc, unit, name)
    gdal(path, doc, name)
    return unit, polygons


def bars(doc, unit, name):
    """The check bar has the length its label says."""
    stated = None
    for t in doc.modelspace().query('TEXT[layer=="GUIDE"]'):
        number, u = t.dxf.text.split()[:2]
        stated = float(number) * (25.4 if u == "in" else 1)
    lines = [l.dxf.start.distance(l.dxf.end) * (unit or 1) for l in doc.modelspace().query('LINE[layer=="GUIDE"]')]
    check(stated is not None and any(abs(l - stated) < 1e-6 for l in lines), f"{name}: check bar {stated} among {lines}")


def gdal(path, doc, name):
    """GDAL reads the same vertices of straight outlines, the same count of all."""
    source = ogr.Open(path)
    got = {}
    for f in source.GetLayerByName("entities"):
        g = f.GetGeometryRef()
        if f["Layer"] in ("OUTLINE", "HOLE") and g is not None:
            ring = g.GetGeometryRef(0) if g.GetGeometryCount() else g
            got.setdefault(len(got), [p[:2] for p in ring.GetPoints()])
    want = [e for e in doc.modelspace() if e.dxf.layer in ("OUTLINE", "HOLE")]
    check(len(got) == len(want), f"{name}: GDAL reads {len(got)} contours, ezdxf {len(want)}")
    rings = list(got.values())
    for e in want:
        vs = [(v.dxf.location.x, v.dxf.location.y) for v in e.vertices]
        near = any(all(min(math.dist(v, p) for p in ring) < 1e-6 for v in vs) for ring in rings)
        check(near, f"{name}: GDAL has no contour with the vertices {vs[:4]}")


def directions(path, unit, least=1.0):
    """Directions of the straight pieces of the outline, degrees from 0 to 180."""
    out = []
    for e in ezdxf.readfile(path).modelspace().query('POLYLINE[layer=="OUTLINE"]'):
        vs = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0)) for v in e.vertices]
        for (x, y, b), (x2, y2, _) in zip(vs, vs[1:] + vs[:1]):
            if not b and math.dist((x, y), (x2, y2)) * unit >= least:
                out.append(math.degrees(math.atan2(y2 - y, x2 - x)) % 180)
    return out


def near_angle(a, b):
    """Whether two directions are the same to a hundredth of a degree."""
    d = abs(a - b) % 180
    return min(d, 180 - d) <= 0.01


def stars(plan):
    """The stars of an order with what stands before the names of their files; of a
    job of one star that one."""
    if "stars" not in plan:
        return [("", plan)]
    return [(s["name"] + "-", s) for s in plan["stars"]]


def jigs(packet, plan):
    """Angles of the jigs as ezdxf reads them, against the stars' own."""
    names = [n for n, _ in stars(plan)]
    for prefix, star in stars(plan):
        # A jig of one star carries its name; one that several share is held
        # against each, which the orders here have at the same angles.
        mine = [j for j in plan["jigs"] if not prefix or j["drawing"].startswith("dxf/jig-" + prefix)
                or not any(j["drawing"].startswith("dxf/jig-" + n) for n in names)]
        star_jigs(packet, star, mine)


def star_jigs(packet, plan, listed):
    centre, tip = plan["star"]["center_deg"], plan["star"]["tip_deg"]
    check(abs(centre - 360 / plan["star"]["points"]) < 1e-9, f"centre angle {centre}")
    saw = plan["saw"]
    for j in listed:
        path = os.path.join(packet, j["drawing"])
        unit, polygons = read_dxf(path)
        ways = directions(path, unit)
        has = lambda a: any(near_angle(w, a) for w in ways)
        between = lambda a: any(near_angle(w - v, a) for w in ways for v in ways)
        key, name = j["key"], j["drawing"]
        if key == "angle-block":
            # The work face turns the board so far that the saw reaches the rest.
            needs = [n for n in (saw["center_miter_deg"], saw["tip_miter_deg"]) if n > saw["max_miter_deg"]]
            faces = [w for w in ways if 1 < w < 89 and any(-0.01 <= n - w <= saw["max_miter_deg"] + 0.01 for n in needs)]
            check(faces and has(0), f"{name}: no face that serves {needs} degrees among {ways}")
            own = [90 - centre / 2, centre / 2, tip / 2, 90 - tip / 2, 0, 22.5, 30, 45]
            check(any(near_angle(w, a) or near_angle(w, n - a) for w in faces for a in own for n in needs),
                  f"{name}: faces at {faces} are no angle of this star")
        elif key == "centre-gauge":
            check(between(centre), f"{name}: nothing at {centre} degrees")
        elif key == "tip-gauge":
            check(between(tip), f"{name}: nothing at {tip} degrees")
        elif key == "tip-cradle" and "base" not in name:
            # The line of cut is upright, the facets meet it as they meet the edge.
            check(between(centre) and has(90) and has(0), f"{name}: no notch of {centre} degrees between fence and blade: {ways}")
            check(has(90 - (180 - centre / 2 - tip / 2)) or has(90 + (180 - centre / 2 - tip / 2)), f"{name}: the facet does not meet the blade at {180 - centre / 2 - tip / 2}")
        elif key == "offcut-cradle" and "base" not in name:
            check(between(tip) and has(90) and has(0), f"{name}: no notch of {tip} degrees between fence and blade: {ways}")
        elif key in ("slot-stand", "router-carriage"):
            # One facet level, so the other at the centre angle and the far edge
            # at half the difference of the two.
            rise = (tip - centre) / 2
            check(has(0) and (has(centre) or has(-centre)), f"{name}: no seat at {centre} degrees: {ways}")
            check(has(rise) or has(-rise), f"{name}: no far seat at {rise} degrees: {ways}")
        elif key == "segment-nest":
            window = max((p for l, p in polygons if l == "HOLE"), key=lambda p: p.area)
            work = Polygon(plan["segment"]["outline_mm"])
            check(window.contains(work), f"{name}: the segment does not drop in")
            check(0.05 < work.exterior.distance(window.exterior) <= 0.1001, f"{name}: {work.exterior.distance(window.exterior)} mm of room")
        elif key == "glue-board" and "sector" in name:
            check(between(centre), f"{name}: nothing at {centre} degrees")


def plates(packet, plan):
    """Back plates as ezdxf reads them, on their stars as ezdxf reads those: hidden
    behind them, their holes clear of joints, edges and each other."""
    for before, star in stars(plan):
        for prefix, src in ((before, star), (before + "offcut-", star.get("offcut") or {})):
            plate = src.get("plate")
            check(bool(plate) == os.path.exists(os.path.join(packet, f"dxf/{prefix}plate.dxf")), f"{prefix}plate.dxf: a plate that the plan has not, or none that it has")
            check(not src or (src["joint"] == "plate") == bool(plate) and (src["joint"] == "spline") == ("spline" in src), f"{prefix}joint {src.get('joint')}")
            if not plate:
                continue
            name = f"dxf/{prefix}plate.dxf"
            _, polygons = read_dxf(os.path.join(packet, name))
            outline = next(p for l, p in polygons if l == "OUTLINE")
            holes = [p for l, p in polygons if l == "HOLE"]
            n, s = src["star"]["points"], src["star"]
            ring = [(r * math.cos(math.radians(a)), r * math.sin(math.radians(a))) for i in range(n)
                    for r, a in ((s["circumradius_mm"], 360 * i / n), (s["valley_radius_mm"], 360 * (i + 0.5) / n))]
            body = Polygon(ring)
            check(body.contains(outline), f"{name}: the plate shows beside its star")
            check(outline.exterior.distance(body.exterior) >= 8 - 0.01, f"{name}: {outline.exterior.distance(body.exterior):.3f} mm to the outer edges")
            check(len(holes) == 2 * n + 1, f"{name}: {len(holes)} holes for {n} segments")
            joints = [LineString([(0, 0), ring[2 * i + 1]]) for i in range(n)]
            for i, h in enumerate(holes):
                check(outline.contains(h) and h.distance(outline.exterior) >= 6 - 0.02, f"{name}: a hole {h.distance(outline.exterior):.3f} mm from the edge")
                check(min(h.distance(j) for j in joints) >= 5 - 0.02, f"{name}: a hole {min(h.distance(j) for j in joints):.3f} mm from a joint")
                check(all(h.distance(o) >= 5 - 0.02 for o in holes[i + 1:]), f"{name}: two holes too near each other")
            # The head goes in at the round end and not at the neck, which lies farther out.
            key = max(holes, key=lambda h: h.area)
            low, high = key.bounds[0], key.bounds[2]
            r = plate["keyhole_head_mm"] / 2
            check(key.buffer(0.01).contains(Point(low + r, 0).buffer(r - 0.05)) and not key.contains(Point(high - r, 0).buffer(r - 0.05)), f"{name}: the keyhole lets the head out at its end")
            check(low > 0 and abs(high - plate["keyhole_at_mm"] - plate["keyhole_run_mm"] - plate["keyhole_neck_mm"] / 2) < 0.01, f"{name}: the keyhole ends at {high}")


def slot_polygon(slot, corner, mirror, dy):
    """The slot's outline by shapely: a rectangle opened by the cutter."""
    y = slot["from_face_mm"] + dy
    w = slot["width_mm"] / 2
    inner = box(slot["start_mm"] + corner, y - w + corner, slot["end_mm"] - corner, y + w - corner) \
        if w - corner > 1e-9 else LineString([(slot["start_mm"] + corner, y), (slot["end_mm"] - corner, y)])
    p = inner.buffer(corner, resolution=256)
    return Polygon([(-x, yy) for x, yy in p.exterior.coords]) if mirror else p


def pieces(m):
    """A move as short straight pieces [x, y, z]; arcs as chords of a degree."""
    a, b = m[1:4], m[4:7]
    if m[0] not in ("G2", "G3"):
        return [a, b]
    cx, cy = m[7], m[8]
    r = math.hypot(a[0] - cx, a[1] - cy)
    start, end = math.atan2(a[1] - cy, a[0] - cx), math.atan2(b[1] - cy, b[0] - cx)
    turn = (end - start) % (2 * math.pi) if m[0] == "G3" else -((start - end) % (2 * math.pi))
    if abs(turn) < 1e-9:
        turn = 2 * math.pi if m[0] == "G3" else -2 * math.pi
    n = max(2, int(abs(math.degrees(turn))))
    out = [a]
    for i in range(1, n):
        t = i / n
        out.append([cx + r * math.cos(start + turn * t), cy + r * math.sin(start + turn * t), a[2] + (b[2] - a[2]) * t])
    return out + [b]


def swept(moves, radius, z, fine=256):
    """What the moves take away at height z: capsules of the parts below it."""
    out, way, seen = [], [], set()

    def ended():
        if way:
            out.append(Point(way[0]) if all(math.dist(way[0], w) < 1e-9 for w in way) else LineString(way))
            way.clear()

    for m in moves:
        if m[0] == "G0" or min(m[3], m[6]) > z:
            continue
        if m[3] <= z and m[6] <= z:  # passes run over each other: a move that comes again is swept once
            key = (m[0], *(round(v, 4) for v in m[1:3] + m[4:6] + m[7:]))
            if key in seen:
                ended()
                continue
            seen.add(key)
        points = pieces(m)
        for a, b in zip(points, points[1:]):
            if min(a[2], b[2]) > z:
                continue
            t0 = 0.0 if a[2] <= z else (a[2] - z) / (a[2] - b[2])
            t1 = 1.0 if b[2] <= z else (a[2] - z) / (a[2] - b[2])
            p = (a[0] + (b[0] - a[0]) * t0, a[1] + (b[1] - a[1]) * t0)
            q = (a[0] + (b[0] - a[0]) * t1, a[1] + (b[1] - a[1]) * t1)
            if way and math.dist(way[-1], p) > 1e-9:
                ended()
            way += [p, q] if not way else [q]
    ended()
    return unary_union([g.buffer(radius, resolution=fine) for g in out])


def tabs(ring, through, s):
    """How many bridges a cut along a ring leaves, each as wide as planned."""
    rest = ring.difference(through)
    found = [g for g in getattr(rest, "geoms", [rest]) if g.length > 0.5]
    ends = [g for g in found if g.intersects(Point(ring.coords[0]).buffer(1e-6))]
    for g in found:
        if len(ends) != 2 or g not in ends:
            check(g.length >= s["tab_width_mm"] - 0.5, f"{s['program']}: a tab of {g.length:.2f} mm")
    return len(found) - (1 if len(ends) == 2 else 0)


def sheets(packet, plan, programs):
    """Shapely's cut-through area frees each part but for its tabs, and no part
    loses wood; the parts are those of the sheet's own drawing, as ezdxf reads it."""
    r = plan["cutter"]["diameter_mm"] / 2
    for s in plan["sheets"]:
        moves = programs[os.path.join(packet, s["program"])]
        _, polygons = read_dxf(os.path.join(packet, s["drawing"]))
        holes = [p for l, p in polygons if l == "HOLE"]
        parts = [p for l, p in polygons if l == "OUTLINE"]
        check(len(parts) == s["parts"], f"{s['drawing']}: {len(parts)} parts, planned {s['parts']}")
        room = box(0, 0, s["width_mm"], s["height_mm"])
        for i, p in enumerate(parts):
            check(room.contains(p), f"{s['drawing']}: part {i} leaves the sheet")
            for q in parts[i + 1:]:
                check(p.distance(q) >= 2 * r - 1e-6, f"{s['drawing']}: parts {p.distance(q):.3f} mm apart, the cutter is {2 * r}")
        through = swept(moves, r, -s["thickness_mm"] + 0.01, 16).buffer(0.021, resolution=2)
        touched = swept(moves, r, -0.01, 16)
        held = 0
        for p in parts:
            wood = p
            for h in holes:
                if not p.contains(h):
                    continue
                wood = wood.difference(h)
                bridges = tabs(h.exterior, through, s)
                held += bridges
                # What hangs in no tabs is cleared, but where a sheet is cut without any.
                slug = h.difference(through).area
                check(bridges >= 2 or bridges == 0 and (slug < 8 or s["tabs"] == 0), f"{s['program']}: a slug of {slug:.1f} mm2 hangs in {bridges} tabs")
            lost = touched.intersection(wood.buffer(-0.021)).area
            check(lost < 1e-3, f"{s['program']}: {lost:.4f} mm2 cut from a part")
            held += tabs(p.exterior, through, s)
        check(held == s["tabs"], f"{s['program']}: {held} tabs, planned {s['tabs']}")
        low = min(min(m[3], m[6]) for m in moves)
        check(abs(low + s["thickness_mm"] + s["breakthrough_mm"]) < 0.002, f"{s['program']}: lowest Z {low}")


def lying_flat(packet, plan):
    """Segments cut on the CNC: each piece of board lies in clear wood of its board, a
    kerf from the next; on it lie kites as the plan has them, the grain along the board,
    and all together they are as many as the stars take."""
    s = plan.get("stock") or {}
    if s.get("cut") != "cnc":
        return
    kites = [(star, Polygon(star["segment"]["outline_mm"])) for _, star in stars(plan)]
    cut = [0] * len(kites)
    for p in s["pieces"]:
        _, polygons = read_dxf(os.path.join(packet, p["program"].replace("gcode/", "dxf/sheet-").replace(".nc", ".dxf")))
        parts = [q for l, q in polygons if l == "OUTLINE"]
        check(len(parts) == p["segments"], f"{p['program']}: {len(parts)} segments, planned {p['segments']}")
        for q in parts:
            x, y = q.centroid.coords[0]
            off = []
            for _, kite in kites:
                turned = [affinity.rotate(kite, a, origin=(0, 0)) for a in (0, 180)]
                off.append(min(affinity.translate(t, x - t.centroid.x, y - t.centroid.y).symmetric_difference(q).area for t in turned))
            i = off.index(min(off))
            check(off[i] < 1e-3 * q.length, f"{p['program']}: a part is no segment with its grain along the board, by {off[i]:.3f} mm2")
            check(abs(kites[i][0]["segment"]["thickness_mm"] - p["thickness_mm"]) < 1e-6, f"{p['program']}: the board is {p['thickness_mm']} thick")
            cut[i] += p["count"]
    for (star, _), n in zip(kites, cut):
        check(n == star["count"] * star["star"]["points"], f"{n} segments of {star.get('name', 'the star')}, its stars take {star['count'] * star['star']['points']}")
    boards_for_pieces(s)


def boards_for_pieces(s):
    """The pieces on their boards."""
    used, seen = [0] * len(s["pieces"]), set()
    for b in s["boards"]:
        board = (s["yard"] if b["bought"] else s["rack"])[b["board"] - 1]
        where = f"board {b['board']}, copy {b['copy']}{', bought' if b['bought'] else ''}"
        key = (b["bought"], b["board"], b["copy"])
        check(key not in seen and (b["bought"] or b["copy"] <= board["count"]), f"{where}: is cut twice, or is not there")
        seen.add(key)
        end = s["trim_mm"] - s["kerf_mm"]
        for c in b["cuts"]:
            p = s["pieces"][c["piece"] - 1]
            used[c["piece"] - 1] += 1
            check(abs(c["to_mm"] - c["from_mm"] - p["length_mm"]) < 1e-6 and abs(board["width_mm"] - p["width_mm"]) < 1e-6 and
                  abs(board["thickness_mm"] - p["thickness_mm"]) < 1e-6 and board.get("wood") == p.get("wood"), f"{where}: gives no piece as {p}")
            check(c["from_mm"] >= end + s["kerf_mm"] - 1e-6 and c["to_mm"] <= board["length_mm"] - s["trim_mm"] + 1e-6, f"{where}: the piece at {c['from_mm']} lies in a trim or in the one before")
            for lo, hi in board.get("bad_mm", []):
                check(c["to_mm"] <= lo + 1e-6 or c["from_mm"] >= hi - 1e-6, f"{where}: the piece at {c['from_mm']} lies in a bad place, {lo} to {hi}")
            end = c["to_mm"]
    check(used == [p["count"] for p in s["pieces"]], f"the boards give {used} pieces, wanted {[p['count'] for p in s['pieces']]}")


def slots(packet, plan, programs):
    """Shapely's removed area at the floor and just below the surface is the slot."""
    for before, star in stars(plan):
        star_slots(packet, plan["cutter"]["diameter_mm"] / 2, before, star, programs)


def star_slots(packet, r, before, plan, programs):
    for prefix, src in ((before, plan), (before + "offcut-", plan.get("offcut") or {})):
        slot = src.get("slot")
        if not slot:
            continue
        for side in ("left", "right"):
            name = f"gcode/{prefix}slot-{side}.nc"
            moves = programs[os.path.join(packet, name)]
            want = unary_union([slot_polygon(slot, r, side == "right", k * plan["stations"]["pitch_mm"])
                                for k in range(plan["stations"]["count"])])
            for z in (-slot["depth_mm"] + 0.01, -0.01):
                got = swept(moves, r, z)
                diff = got.symmetric_difference(want).area
                outside = got.difference(want.buffer(0.01)).area
                rest = want.difference(got.buffer(0.01)).area
                check(outside < 1e-3 and rest < 1e-3, f"{name}: at Z {z} {outside:.5f} mm2 too much, {rest:.5f} mm2 left, {diff:.4f} mm2 differ")
            low = min(min(m[3], m[6]) for m in moves)
            check(abs(low + slot["depth_mm"]) < 0.001, f"{name}: lowest Z {low}, depth {slot['depth_mm']}")


def outlines(f, polygons, before, star):
    """The drawing of a star's own part against the plan."""
    want = {before + "segment.dxf": star["segment"], before + "offcut-segment.dxf": (star.get("offcut") or {}).get("segment")}.get(f)
    if want:
        p = Polygon(want["outline_mm"])
        diff = polygons[0][1].symmetric_difference(p).area
        check(len(polygons) == 1 and diff < 1e-4 * p.length, f"{f}: differs from the plan by {diff} mm2")
    if f == before + "star.dxf":
        n, seg = star["star"]["points"], star["segment"]
        check(abs(polygons[0][1].area - n * Polygon(seg["outline_mm"]).area) < 1e-4 * polygons[0][1].length, f"{f}: area")


@functools.lru_cache(maxsize=1)
def moves_of(moves_file):
    """The moves of each program in a file; packets may share one."""
    programs = {}
    for line in open(moves_file):
        d = json.loads(line)
        programs[d["file"]] = d["moves"]
    return programs


def one(packet, plan_file, moves_file):
    """Reads one packet."""
    before = tally.passed, len(tally.failed)
    plan = json.load(open(plan_file))
    programs = {f: m for f, m in moves_of(moves_file).items() if f.startswith(packet + os.sep)}
    drawings = sorted(f for f in os.listdir(os.path.join(packet, "dxf")))
    for f in drawings:
        unit, polygons = read_dxf(os.path.join(packet, "dxf", f))
        outside_svg.compare(os.path.join(packet, "svg", f.replace(".dxf", ".svg")), ezdxf.readfile(os.path.join(packet, "dxf", f)), unit, check)
        for prefix, star in stars(plan):
            outlines(f, polygons, prefix, star)
    check(sorted(f.replace(".svg", ".dxf") for f in os.listdir(os.path.join(packet, "svg"))) == drawings, "the drawings in svg and dxf are others")
    slots(packet, plan, programs)
    sheets(packet, plan, programs)
    jigs(packet, plan)
    plates(packet, plan)
    lying_flat(packet, plan)
    print(f"{packet}: {len(drawings)} drawings, {len(programs)} programs: {tally.passed - before[0]} passed, {len(tally.failed) - before[1]} failed")


def main():
    for i in range(1, len(sys.argv), 3):
        one(*sys.argv[i:i + 3])
    sys.exit(1 if tally.failed else 0)


if __name__ == "__main__":
    main()
