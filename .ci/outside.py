#!/usr/bin/python3
"""Reads a packet with programs that are not part of the project and compares.

    outside.py PACKET PLAN.json MOVES.jsonl

PLAN.json is the output of `starwright plan --json`, MOVES.jsonl that of
replay.cjs for the packet's programs. Prints what was compared and 'N passed, N
failed'; exits 1 where anything differs. Readers: ezdxf (with its auditor),
GDAL's ogr2ogr, shapely.
"""
import json
import math
import os
import subprocess
import sys

import ezdxf
from ezdxf.math import bulge_to_arc
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union

PASSED, FAILED = 0, []


def check(ok, what):
    global PASSED
    if ok:
        PASSED += 1
    else:
        FAILED.append(what)
        print("FAIL", what)


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
    out = subprocess.run(["ogr2ogr", "-f", "GeoJSON", "/vsistdout/", path, "entities", "-lco", "COORDINATE_PRECISION=8"],
                         capture_output=True, text=True, check=True).stdout
    got = {}
    for f in json.loads(out)["features"]:
        g = f["geometry"]
        if f["properties"]["Layer"] in ("OUTLINE", "HOLE") and g:
            ring = g["coordinates"][0] if g["type"] == "Polygon" else g["coordinates"]
            got.setdefault(len(got), [tuple(p[:2]) for p in ring])
    want = [e for e in doc.modelspace() if e.dxf.layer in ("OUTLINE", "HOLE")]
    check(len(got) == len(want), f"{name}: GDAL reads {len(got)} contours, ezdxf {len(want)}")
    rings = list(got.values())
    for e in want:
        vs = [(v.dxf.location.x, v.dxf.location.y) for v in e.vertices]
        near = any(all(min(math.dist(v, p) for p in ring) < 1e-6 for v in vs) for ring in rings)
        check(near, f"{name}: GDAL has no contour with the vertices {vs[:4]}")


def slot_polygon(slot, corner, mirror, dy):
    """The slot's outline by shapely: a rectangle opened by the cutter."""
    y = slot["from_face_mm"] + dy
    w = slot["width_mm"] / 2
    inner = box(slot["start_mm"] + corner, y - w + corner, slot["end_mm"] - corner, y + w - corner) \
        if w - corner > 1e-9 else LineString([(slot["start_mm"] + corner, y), (slot["end_mm"] - corner, y)])
    p = inner.buffer(corner, resolution=256)
    return Polygon([(-x, yy) for x, yy in p.exterior.coords]) if mirror else p


def swept(moves, radius, z):
    """What the moves take away at height z: capsules of the parts below it."""
    out = []
    for m in moves:
        a, b = m[1:4], m[4:7]
        if min(a[2], b[2]) > z or m[0] == "G0":
            continue
        t0 = 0.0 if a[2] <= z else (a[2] - z) / (a[2] - b[2])
        t1 = 1.0 if b[2] <= z else (a[2] - z) / (a[2] - b[2])
        p = [a[0] + (b[0] - a[0]) * t0, a[1] + (b[1] - a[1]) * t0]
        q = [a[0] + (b[0] - a[0]) * t1, a[1] + (b[1] - a[1]) * t1]
        g = Point(p) if math.dist(p, q) < 1e-9 else LineString([p, q])
        out.append(g.buffer(radius, resolution=256))
    return unary_union(out)


def slots(packet, plan, programs):
    """Shapely's removed area at the floor and just below the surface is the slot."""
    for prefix, src in (("", plan), ("offcut-", plan.get("offcut") or {})):
        slot = src.get("slot")
        if not slot:
            continue
        for side in ("left", "right"):
            name = f"gcode/{prefix}slot-{side}.nc"
            moves = programs[os.path.join(packet, name)]
            r = plan["cutter"]["diameter_mm"] / 2
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


def main():
    packet, plan_file, moves_file = sys.argv[1:4]
    plan = json.load(open(plan_file))
    programs = {}
    for line in open(moves_file):
        d = json.loads(line)
        programs[d["file"]] = d["moves"]
    drawings = sorted(f for f in os.listdir(os.path.join(packet, "dxf")))
    for f in drawings:
        unit, polygons = read_dxf(os.path.join(packet, "dxf", f))
        want = {"segment.dxf": plan["segment"], "offcut-segment.dxf": (plan.get("offcut") or {}).get("segment")}.get(f)
        if want:
            p = Polygon(want["outline_mm"])
            diff = polygons[0][1].symmetric_difference(p).area
            check(len(polygons) == 1 and diff < 1e-4 * p.length, f"{f}: differs from the plan by {diff} mm2")
        if f == "star.dxf":
            n, seg = plan["star"]["points"], plan["segment"]
            check(abs(polygons[0][1].area - n * Polygon(seg["outline_mm"]).area) < 1e-4 * polygons[0][1].length, f"{f}: area")
    slots(packet, plan, programs)
    print(f"{packet}: {len(drawings)} drawings, {len(programs)} programs: {PASSED} passed, {len(FAILED)} failed")
    sys.exit(1 if FAILED else 0)


if __name__ == "__main__":
    main()
