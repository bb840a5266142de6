#!/usr/bin/python3
"""Carries out the route of a job as a maker would, with shapely, and compares.

    route.py PLAN.json [--packet DIR] [--fit LENGTH valley|centre FIT.json]...

PLAN.json is the output of `starwright plan --json`, FIT.json that of
`starwright fit --json` for the same job with a gap of LENGTH mm. Every set-up
that saws an outline lays the piece where `hold` says, looks whether it touches
what it should, cuts with the kerf, and hands on what comes out; the last piece
is held against the segment of the plan. With a packet every printed reading is
looked up on its page by pdftotext, and every jig in the folder. Shares no code
with the project. Prints 'N passed, N failed', exits 1 where anything differs.
"""
import json
import math
import os
import re
import subprocess
import sys

from shapely.geometry import LineString, Polygon
from shapely.affinity import affine_transform

from tally import check, finish

OUTLINE_TOL = 0.2   # mm, so near has an outline to come that is done as printed
TOUCH_TOL = 0.25    # mm, a printed stop may be rounded so far
PRINT_TOL = 5e-4    # of what a printed number says, mm or degrees
FAR = 1e5           # mm, beyond any work


# ---- printed numbers -------------------------------------------------------

UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, '"': 25.4, "ft": 304.8}


def printed_number(text):
    """The length in mm or the angle in degrees that a printed text says, or None."""
    t = text.strip().replace("\u2212", "-").replace("\u00a0", " ")
    decimal = re.search(r"\(\s*(-?\d+(?:\.\d+)?)\s*(in|mm|cm|m)?\s*\)", t)
    m = re.match(r"(-?\d+(?:\.\d+)?)\s*(?:°|deg)", t)
    if m:
        return float(m.group(1))
    unit = re.search(r"(?:\d|\s)(mm|cm|in|ft|m)\b", t)
    scale = UNITS[unit.group(1)] if unit else None
    if decimal and (decimal.group(2) or scale):
        return float(decimal.group(1)) * UNITS.get(decimal.group(2), scale)
    m = re.match(r"(-?\d+)[ -](\d+)/(\d+)", t)
    if m and scale:
        return (int(m.group(1)) + int(m.group(2)) / int(m.group(3))) * scale
    m = re.match(r"(-?\d+)/(\d+)", t)
    if m and scale:
        return int(m.group(1)) / int(m.group(2)) * scale
    m = re.match(r"(-?\d+(?:\.\d+)?)", t)
    if m and scale:
        return float(m.group(1)) * scale
    return None


def readings(s):
    for r in s.get("readings") or []:
        where = f"{s['name']}: reading {r.get('name')}"
        value = r.get("mm", r.get("deg"))
        check(value is not None and r.get("printed"), f"{where}: has a number and its print: {r}")
        if value is None or not r.get("printed"):
            continue
        said = printed_number(r["printed"])
        check(said is not None and abs(said - value) <= PRINT_TOL * max(1, 0.01 * abs(value)),
              f"{where}: printed {r['printed']!r} says {said}, the number is {value}")


def reading(s, name):
    for r in s.get("readings") or []:
        if r["name"] == name:
            return r.get("mm", r.get("deg"))
    return None


# ---- laying, cutting -------------------------------------------------------

def placed(poly, hold):
    """The piece in the machine's coordinates."""
    m = -1.0 if hold["show_face"] == "down" else 1.0
    a = math.radians(hold["turn_deg"])
    c, s = math.cos(a), math.sin(a)
    return affine_transform(poly, [c, -s * m, s, c * m, hold["x_mm"], hold["y_mm"]])


def lifted(poly, hold):
    """The way back from the machine's coordinates to the piece's own."""
    m = -1.0 if hold["show_face"] == "down" else 1.0
    a = math.radians(-hold["turn_deg"])
    c, s = math.cos(a), math.sin(a)
    x, y = hold["x_mm"], hold["y_mm"]
    back = affine_transform(poly, [c, -s, s, c, -x * c + y * s, -x * s - y * c])
    return affine_transform(back, [1, 0, 0, m, 0, 0])


def cut_pieces(poly, cut):
    """What stays and what falls off of a polygon, kerf gone."""
    (x0, y0), (x1, y1) = cut["from_mm"], cut["to_mm"]
    length = math.hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    left = 1.0 if cut["keep"] == "left" else -1.0
    nx, ny = -uy * left, ux * left          # towards what is kept

    def strip(near, far):
        a = (x0 - ux * FAR, y0 - uy * FAR)
        b = (x0 + ux * FAR, y0 + uy * FAR)
        return Polygon([(a[0] + nx * near, a[1] + ny * near), (b[0] + nx * near, b[1] + ny * near),
                        (b[0] + nx * far, b[1] + ny * far), (a[0] + nx * far, a[1] + ny * far)])
    kept = poly.intersection(strip(0, FAR))
    off = poly.intersection(strip(-cut["kerf_mm"], -FAR))
    gone = poly.intersection(strip(0, -cut["kerf_mm"]))
    return kept, off, gone, (x0, y0, ux, uy, length)


def far_from(a, b):
    """The largest distance of any place of one outline from the other's line."""
    worst = 0.0
    for p, q in ((a, b), (b, a)):
        n = max(40, int(p.exterior.length))
        for i in range(n):
            worst = max(worst, q.exterior.distance(p.exterior.interpolate(i / n, normalized=True)))
        for v in p.exterior.coords:
            worst = max(worst, q.exterior.distance(LineString([v, v]).centroid))
    return worst


def largest(g):
    if g.geom_type == "Polygon":
        return g
    parts = [p for p in getattr(g, "geoms", []) if p.geom_type == "Polygon"]
    return max(parts, key=lambda p: p.area) if parts else Polygon()


class Bench:
    """The pieces that are on the bench, by their kind."""

    def __init__(self, plan):
        self.plan = plan
        self.pieces = {}    # (star, kind) -> every outline that this kind has had, as it came out
        self.offcuts = {}   # star -> what fell off in the tips' cuts

    def take(self, s):
        key = (s.get("star", ""), s["piece"]["kind"])
        want = Polygon(s["piece"]["before_mm"])
        check(want.is_valid and want.area > 0, f"{s['name']}: the piece before is an outline")
        have = self.pieces.setdefault(key, [])
        for p in have:
            if far_from(p, want) <= OUTLINE_TOL:
                return key, p
        check(not have or s.get("first_of_its_kind", False) or not self.cut_before(key),
              f"{s['name']}: no piece of kind {key[1]} looks like this one: nearest {min((far_from(p, want) for p in have), default=0):.3f} mm off")
        return key, want

    def cut_before(self, key):
        return bool(self.pieces[key])

    def carry_out(self, s):
        key, own = self.take(s)
        hold, cut, name = s["hold"], s["cut"], s["name"]
        work = placed(own, hold)
        check(work.bounds[3] <= TOUCH_TOL, f"{name}: the work reaches {work.bounds[3]:.3f} mm behind the fence")
        touches(s, placed(Polygon(s["piece"]["before_mm"]), hold))
        kept, off, gone, line = cut_pieces(work, cut)
        self.severs(s, work, gone, line)
        kept = largest(kept)
        result = lifted(kept, hold)
        want = Polygon(s["piece"]["after_mm"])
        d = far_from(result, want) if not result.is_empty else FAR
        check(d <= OUTLINE_TOL, f"{name}: what comes out is {d:.3f} mm off the piece after")
        if key not in self.pieces or not self.pieces[key]:
            self.pieces[key] = [own]
        self.pieces[key].append(result)
        if not off.is_empty:
            self.offcuts.setdefault(key, []).append(largest(off))
        return result

    def severs(self, s, work, gone, line):
        """The cut as given is as long as the wood that it has to go through, and the saw reaches."""
        x0, y0, ux, uy, length = line
        if gone.is_empty:
            check(False, f"{s['name']}: the cut meets no wood")
            return
        along = [(x - x0) * ux + (y - y0) * uy for g in getattr(gone, "geoms", [gone]) if g.geom_type == "Polygon" for x, y in g.exterior.coords]
        check(min(along) >= -0.5 and max(along) <= length + 0.5,
              f"{s['name']}: the cut runs from 0 to {length:.1f} mm, the wood from {min(along):.1f} to {max(along):.1f}")
        reach = reading(s, "reach")
        if reach is not None:
            # measured from the fence along the blade
            start = -y0 / uy if abs(uy) > 1e-9 else 0
            far = max(along) - start
            check(reach >= far - 0.5, f"{s['name']}: the saw must reach {far:.1f} mm from the fence, printed {reach:.1f}")


def touches(s, work):
    """Edges that should lie on the fence do; nothing else of the fence's is claimed."""
    pts = list(work.exterior.coords)[:-1]
    given = s["piece"]["before_mm"]
    m = -1.0 if s["hold"]["show_face"] == "down" else 1.0
    a = math.radians(s["hold"]["turn_deg"])

    def at(p):
        x, y = p[0], p[1] * m
        return (x * math.cos(a) - y * math.sin(a) + s["hold"]["x_mm"], x * math.sin(a) + y * math.cos(a) + s["hold"]["y_mm"])
    saw_angle = reading(s, "saw")
    for t in s.get("touches") or []:
        if t["what"] == "fence" and t.get("edge") is not None and not t.get("jig"):
            i = t["edge"]
            p, q = at(given[i]), at(given[(i + 1) % len(given)])
            check(abs(p[1]) <= TOUCH_TOL and abs(q[1]) <= TOUCH_TOL,
                  f"{s['name']}: edge {i} should lie on the fence and lies at {p[1]:.3f} and {q[1]:.3f}")
        if t["what"] == "stop" and t.get("corner") is not None and not any(k["what"] in ("block", "cradle") for k in s["touches"]):
            x, _ = at(given[t["corner"]])
            stop = reading(s, "stop")
            check(stop is not None and abs(abs(x) - stop) <= TOUCH_TOL,
                  f"{s['name']}: the corner at the stop lies {abs(x):.3f} mm along the fence from the line of cut, printed {stop}")
            side = "right" if x > 0 else "left"
            (x0, y0), (x1, y1) = s["cut"]["from_mm"], s["cut"]["to_mm"]
            kept_left = s["cut"]["keep"] == "left"
            cross = (x1 - x0) * (0 - y0) - (y1 - y0) * (x - x0)
            check((cross > 0) == kept_left, f"{s['name']}: the stop stands on the side that falls off ({side})")
    (x0, y0), (x1, y1) = s["cut"]["from_mm"], s["cut"]["to_mm"]
    if saw_angle is not None:
        lean = abs(math.degrees(math.atan2(x1 - x0, abs(y1 - y0))))
        check(abs(lean - abs(saw_angle)) <= 0.01, f"{s['name']}: the blade stands at {lean:.3f} from square, printed {saw_angle}")


# ---- whole routes ----------------------------------------------------------

def stars(plan):
    if "stars" in plan:
        return {x["name"]: x for x in plan["stars"]}
    return {"": plan}


def centre_angle(p):
    """The angle at the corner nearest to the origin, degrees."""
    pts = list(p.exterior.coords)[:-1]
    i = min(range(len(pts)), key=lambda k: math.hypot(*pts[k]))

    def far_along(step):
        k, o = i, pts[i]
        while True:                         # the next corner that is not a speck away
            k = (k + step) % len(pts)
            if math.hypot(pts[k][0] - o[0], pts[k][1] - o[1]) > 1:
                return pts[k]
    a, b, o = far_along(1), far_along(-1), pts[i]
    d = math.degrees(math.atan2(a[1] - o[1], a[0] - o[0]) - math.atan2(b[1] - o[1], b[0] - o[0]))
    return abs((d + 180) % 360 - 180)


def angles(s, star):
    """Facets stand 90 - 180/n from square, from the saw's scale and the block's print."""
    if s["piece"]["kind"] == "segment" and reading(s, "block") is not None and "facet" in s["name"]:
        total = reading(s, "block") + (reading(s, "saw") or 0)
        want = 90 - 180 / star["star"]["points"]
        check(abs(total - want) <= 0.011, f"{s['name']}: block and saw make {total}, the facet needs {want:.3f}")


def order_of_work(route):
    """Cautions before the first cut are the sheet's; here: one star is tried before the rest."""
    names = [s["name"].lower() for s in route]
    check(len(set(names)) == len(names), f"names of set-ups repeat: {sorted(n for n in names if names.count(n) > 1)}")
    for s in route:
        check(s.get("count", 0) >= 1, f"{s['name']}: is done {s.get('count')} times")
        check(s["machine"] in ("mitre saw", "router table", "cnc", "laser", "hand"), f"{s['name']}: machine {s['machine']}")
        check(s.get("page", 0) >= 1, f"{s['name']}: has no page")


def gap_of(segment_angles, n, facet):
    return abs(n * segment_angles - 360) * math.pi / 180 * facet


def whole(plan, packet):
    route = plan.get("route") or []
    check(len(route) > 3, "the plan has a route")
    order_of_work(route)
    bench, last = Bench(plan), {}
    for s in route:
        readings(s)
        if s.get("cut"):
            last[(s.get("star", ""), s["piece"]["kind"])] = bench.carry_out(s)
            angles(s, stars(plan).get(s.get("star", ""), plan))
        elif s.get("kind") == "segments":   # by programs, which outside.py replays
            last[(s.get("star", ""), s["piece"]["kind"])] = Polygon(s["piece"]["after_mm"])
    for name, star in stars(plan).items():
        compare_segments(name, star, last)
    if packet:
        pages(route, packet)


def compare_segments(name, star, last):
    if (name, "segment") in last:
        got = last[(name, "segment")]
        d = far_from(got, Polygon(star["segment"]["outline_mm"]))
        check(d <= OUTLINE_TOL, f"{name or 'the star'}: the segment comes out {d:.3f} mm off its outline")
        gap = gap_of(centre_angle(got), star["star"]["points"], star["segment"]["facet_mm"])
        check(gap <= 0.2, f"{name or 'the star'}: the last joint stands open by {gap:.3f} mm")
    small = star.get("offcut")
    if small:
        keys = [k for k in last if k[0] == name and k[1] in ("pair", "small segment")]
        for k in keys:
            d = far_from(last[k], Polygon(small["segment"]["outline_mm"]))
            check(d <= OUTLINE_TOL, f"{name or 'the star'}: the small segment comes out {d:.3f} mm off its outline")


def pages(route, packet):
    pdf = os.path.join(packet, "shop-sheet.pdf")
    text = {}
    for s in route:
        page = s.get("page", 0)
        if page not in text:
            out = subprocess.run(["pdftotext", "-f", str(page), "-l", str(page), "-layout", pdf, "-"],
                                 capture_output=True, text=True, check=True).stdout
            text[page] = " ".join(out.split())
        for r in s.get("readings") or []:
            if r.get("printed"):
                want = " ".join(r["printed"].split())
                check(want in text[page], f"{s['name']}: {r['name']} {want!r} is not on page {page}")
        for j in s.get("jigs") or []:
            path = j if isinstance(j, str) else j.get("path", "")
            check(os.path.isfile(os.path.join(packet, path)), f"{s['name']}: the packet has no {path}")


def spanned(gap, facet, n, at):
    """The angle that a gap spans at the last joint, radians.

    Open at the valley, the two facets share the star's centre: a triangle of two
    equal sides. Open at the centre, the last segment has slid out along the facet
    that is shut, until its other facet strikes the neighbour's valley corner: seen
    from that corner the gap spans the angle; its own angle lies opposite the
    facet (law of sines).
    """
    if at == "valley":
        return 2 * math.asin(gap / 2 / facet)
    span = 0.0
    for _ in range(50):
        span = math.asin(gap / facet * math.sin(2 * math.pi / n + span / n))
    return span


def fitted(plan, gap, at, fit):
    """Carried out with the correction, the facets meet at the angle that closes the gap."""
    route = fit.get("route") or []
    check(route, f"fit {gap} at {at}: has a route")
    bench, last = Bench(plan), {}
    for s in route:
        if not s.get("cut"):
            continue
        key = (s.get("star", ""), s["piece"]["kind"])
        own = bench.pieces.get(key, [Polygon(s["piece"]["before_mm"])])
        own = own[-1] if len(own) > 1 and "second" in s["name"] else Polygon(s["piece"]["before_mm"])
        work = placed(own, s["hold"])
        kept, _, _, _ = cut_pieces(work, s["cut"])
        result = lifted(largest(kept), s["hold"])
        bench.pieces.setdefault(key, [own]).append(result)
        last[key] = result
    for (name, kind), got in last.items():
        star = stars(plan).get(name, plan)
        if kind in ("pair", "small segment"):
            star = star.get("offcut", star)
        n, facet = star["star"]["points"], star["segment"]["facet_mm"]
        span = spanned(gap, facet, n, at)
        want = 360 / n + (1 if at == "valley" else -1) * math.degrees(span) / n
        have = centre_angle(got)
        # a shim of paper and a scale are read to so much
        check(abs(have - want) * math.pi / 180 * facet * n <= 0.2,
              f"fit {gap} at {at}: {kind} comes out with {have:.4f} at the centre, {want:.4f} closes the gap")


def main(args):
    plan, packet, fits = json.load(open(args[0])), None, []
    i = 1
    while i < len(args):
        if args[i] == "--packet":
            packet = args[i + 1]
            i += 2
        elif args[i] == "--fit":
            fits.append((float(args[i + 1]), args[i + 2], json.load(open(args[i + 3]))))
            i += 4
        else:
            sys.exit(f"unknown argument {args[i]}")
    whole(plan, packet)
    for gap, at, fit in fits:
        fitted(plan, gap, at, fit)
    finish()


if __name__ == "__main__":
    main(sys.argv[1:])
