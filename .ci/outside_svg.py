"""Holds an SVG that is cut from against the DXF of the same drawing.

Read by Python's own XML reader; arcs by the formulas of SVG 1.1, appendix F.6,
those of the DXF by ezdxf. No code of the project.
"""
import math
import os
import re
import xml.etree.ElementTree

from ezdxf.math import bulge_to_arc


def arc_piece(a, b, r, large, sweep):
    """An arc of SVG as [start, end, centre, turn]: SVG 1.1, F.6.5 and F.6.6, of a circle."""
    (x1, y1), (x2, y2) = a, b
    hx, hy = (x1 - x2) / 2, (y1 - y2) / 2
    r = max(abs(r), math.hypot(hx, hy))
    k = math.sqrt(max(0, r * r - hx * hx - hy * hy) / (hx * hx + hy * hy)) * (-1 if large == sweep else 1)
    cx, cy = k * hy + (x1 + x2) / 2, -k * hx + (y1 + y2) / 2
    start, end = math.atan2(y1 - cy, x1 - cx), math.atan2(y2 - cy, x2 - cx)
    turn = (end - start) % (2 * math.pi) if sweep else -((start - end) % (2 * math.pi))
    return [a, b, (cx, cy), turn]


def svg_pieces(data):
    """The pieces of a path of M, L, A and Z, Y down."""
    words, i, at, out = data.split(), 0, None, []
    while i < len(words):
        c = words[i]
        n = {"M": 2, "L": 2, "A": 7, "Z": 0}[c]
        v = [float(w) for w in words[i + 1:i + 1 + n]]
        i += 1 + n
        if c == "M":
            first = at = tuple(v)
        elif c == "L":
            out.append([at, tuple(v), None, 0])
        elif c == "A":
            out.append(arc_piece(at, tuple(v[5:]), v[0], v[3] == 1, v[4] == 1))
        elif at != first:
            out.append([at, first, None, 0])
        if c in "LA":
            at = tuple(v[-2:])
    return out, words[-1] == "Z"


def dxf_pieces(polyline, unit):
    """The pieces of a polyline in mm, Y down as in SVG."""
    out = []
    vs = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0)) for v in polyline.vertices]
    for (x, y, b), (x2, y2, _) in zip(vs, vs[1:] + vs[:1]):
        centre = None
        if b:
            c, _, _, _ = bulge_to_arc((x, y), (x2, y2), b)
            centre = (c.x * unit, -c.y * unit)
        out.append([(x * unit, -y * unit), (x2 * unit, -y2 * unit), centre, -4 * math.atan(b)])
    return out


def along(piece, t):
    a, b, c, turn = piece
    if c is None:
        return a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])
    x, y, s, k = a[0] - c[0], a[1] - c[1], math.sin(t * turn), math.cos(t * turn)
    return c[0] + x * k - y * s, c[1] + x * s + y * k


def distance(p, piece):
    a, b, c, turn = piece
    if c is None:
        dx, dy = b[0] - a[0], b[1] - a[1]
        t = max(0, min(1, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy or 1)))
        return math.dist(p, (a[0] + t * dx, a[1] + t * dy))
    off = math.atan2(p[1] - c[1], p[0] - c[0]) - math.atan2(a[1] - c[1], a[0] - c[0])
    off = off % (2 * math.pi) if turn > 0 else -(-off % (2 * math.pi))
    if abs(off) <= abs(turn):
        return abs(math.dist(p, c) - math.dist(a, c))
    return min(math.dist(p, a), math.dist(p, b))


def apart(one, other):
    """The largest distance from either contour to the other, at eight places of each piece."""
    return max(min(distance(along(e, k / 8), f) for f in b) for a, b in ((one, other), (other, one)) for e in a for k in range(8))


def corner(pieces):
    return min(e[0][0] for e in pieces), min(e[0][1] for e in pieces)


def compare(path, dxf, unit, check):
    """The SVG of a drawing holds the same as its DXF, to 0.002 mm."""
    name = os.path.basename(path)
    space = "{http://www.w3.org/2000/svg}"
    root = xml.etree.ElementTree.parse(path).getroot()
    check(root.tag == space + "svg", f"{name}: {root.tag}")
    width, height = (re.fullmatch(r"([0-9.]+)mm", root.get(k, "")) for k in ("width", "height"))
    view = [float(v) for v in root.get("viewBox").split()]
    check(width and height and float(width[1]) == view[2] and float(height[1]) == view[3],
          f"{name}: size {root.get('width')} by {root.get('height')}, view box {view}")
    groups = {g.get("id"): g for g in root if g.tag == space + "g"}
    check(list(groups) == ["HOLE", "OUTLINE", "GUIDE", "TEXT"], f"{name}: layers {list(groups)}")
    check(len({g.get("stroke") for g in groups.values()}) == 4, f"{name}: layers of the same colour")
    check(all(g.get("fill") == "none" and float(g.get("stroke-width")) <= 0.1 for g in groups.values()), f"{name}: no hairlines")
    odd = {e.tag for e in root.iter()} - {space + t for t in ("svg", "title", "desc", "g", "path", "line", "text")}
    check(not odd, f"{name}: elements {odd}")
    moved = [e.tag for e in root.iter() if e.get("transform") and e.tag != space + "text" or e.get("style")]
    check(not moved, f"{name}: {moved} are moved or styled")
    for layer in ("HOLE", "OUTLINE", "GUIDE"):
        got = [svg_pieces(e.get("d")) for e in groups[layer] if e.tag == space + "path"]
        want = [dxf_pieces(e, unit) for e in dxf.modelspace().query(f'POLYLINE[layer=="{layer}"]')]
        check(len(got) == len(want) and all(closed for _, closed in got), f"{name}: {len(got)} contours on {layer}, DXF {len(want)}")
        for (a, _), b in zip(got, want):  # both in the order in which they were drawn
            check(apart(a, b) <= 0.002, f"{name}: a contour on {layer} at {corner(a)} is {apart(a, b):.4f} mm from that of the DXF")
            for k in range(0, len(a)):
                for t in (0, 0.5):
                    x, y = along(a[k], t)
                    check(view[0] <= x <= view[0] + view[2] and view[1] <= y <= view[1] + view[3], f"{name}: {x}, {y} beyond the page")
        got = [[float(e.get(k)) for k in ("x1", "y1", "x2", "y2")] for e in groups[layer] if e.tag == space + "line"]
        want = [[v * unit for v in (l.dxf.start.x, -l.dxf.start.y, l.dxf.end.x, -l.dxf.end.y)] for l in dxf.modelspace().query(f'LINE[layer=="{layer}"]')]
        check(len(got) == len(want) and all(abs(x - y) <= 0.002 for g, w in zip(got, want) for x, y in zip(g, w)), f"{name}: lines on {layer}: {got}, DXF {want}")
    words = [e.text for g in groups.values() for e in g if e.tag == space + "text"]
    check(len(words) == len(dxf.modelspace().query("TEXT")), f"{name}: words {words}")
    stated = [w for w in words if re.fullmatch(r"[0-9.]+ (mm|in)", w)]
    bar = float(stated[-1].split()[0]) * (25.4 if stated[-1].endswith("in") else 1) if stated else None
    lengths = [math.hypot(float(e.get("x2")) - float(e.get("x1")), float(e.get("y2")) - float(e.get("y1"))) for e in groups["GUIDE"] if e.tag == space + "line"]
    check(bar and any(abs(l - bar) < 1e-5 for l in lengths), f"{name}: check bar {bar} among {lengths}")
