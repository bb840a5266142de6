#!/usr/bin/python3
"""Holds segments that the CNC cuts from boards lying flat against geometry of its own.

    segments.py STARWRIGHT [HOW_MANY_RANDOM_JOBS [SEED]]

Makes packets of jobs that it writes itself and reads the drawings of each piece of
board with ezdxf. By shapely: every outline is that of a star's segment, in its size,
turned by nothing or half a turn, so that the grain runs along it; it keeps its
distance to the others, to the board's edges and to the screws. By sums from the job's
own boards: each piece of board lies in clear wood of a board that is there, a kerf
from the next, no longer than the machine takes; segments, volumes and what is left add
up; no layout takes less wood than the parts with half their spacing round them. On
boards with room across, segments lie head to tail: a piece is shorter than in line.
Shares no code with the project. Prints 'N passed, N failed', exits 1 where anything
differs.
"""
import collections
import json
import math
import pathlib
import random
import re
import subprocess
import sys
import tempfile

import ezdxf
from shapely.geometry import Polygon, box

from tally import check, finish

EPS = 0.002         # mm; drawings are held to the model by as much
BOARD_FOOT = 144 * 25.4 ** 3    # mm3: 144 cubic inches (PS 20, 'board measure')


def kite(points, width, tip):
    """A star's segment by plane trigonometry: O, valley, tip, valley."""
    x = width / 2 / math.tan(math.pi / points)
    length = x + width / 2 / math.tan(math.radians(tip) / 2)
    return [(0, 0), (x, -width / 2), (length, 0), (x, width / 2)]


class Job:
    """A job as this script writes it, and what it has to come to."""

    def __init__(self, name, stars, boards, yard=(), trim=10, kerf=3, spacing=14, margin=11, cutter=5,
                 longest=800, across=400, screws=True, unit=1.0, rest="", plane=19):
        vars(self).update(locals())
        self.step = 1 if unit == 1 else 25.4 / 8    # of a rule

    def text(self):
        u = self.unit
        out = [f'units = "{"in" if u != 1 else "mm"}"']
        for s in self.stars:
            out += ["[[star]]", f'name = "{s["name"]}"', f'board_width = {s["width"]}', f'points = {s.get("points", 5)}',
                    f'count = {s["count"]}', f'tip = {s["tip"]}', f'thickness = {self.plane}', 'joint = "plain"']
            if "woods" in s:
                out += [f'woods = {json.dumps(s["woods"])}', 'halves = "whole"']
        out += ["[segments]", 'cut = "cnc"', f"spacing = {self.spacing}", f"margin = {self.margin}", f"longest = {self.longest}",
                "[cutter]", f"diameter = {self.cutter}", f"cut_length = {self.plane * 2}", "[saw]", f"kerf = {self.kerf}",
                "[machine]", f"travel = [{self.longest}, {self.across}, {self.plane * 5}]",
                "[sheet]", f"screw_zones = {str(self.screws).lower()}", "[jigs]", "make = []",
                "[stock]", f"trim = {self.trim}"]
        if self.boards:
            out.append("boards = [" + ", ".join(self.board(b) for b in self.boards) + "]")
        if self.yard:
            out += ["[yard]", "boards = [" + ", ".join(self.board(b) for b in self.yard) + "]"]
        return "\n".join(out + [self.rest, ""])

    @staticmethod
    def board(b):
        keys = [f'{k} = {json.dumps(b[k])}' for k in ("length", "width", "count", "bad", "wood") if k in b]
        return "{ " + ", ".join(keys) + " }"

    def mm(self, v):
        return v * self.unit

    def wanted(self):
        """How many segments of each star and wood."""
        out = collections.Counter()
        for s in self.stars:
            n = s.get("points", 5) * s["count"]
            for w in s.get("woods", [""]):
                out[s["name"], w] += n // len(s.get("woods", [""]))
        return out

    def outline(self, name):
        s = next(s for s in self.stars if s["name"] == name)
        return kite(s.get("points", 5), self.mm(s["width"]), s["tip"])


def run(program, *args):
    out = subprocess.run([program, *args], capture_output=True, text=True)
    return out.returncode, out.stdout, out.stderr


# ---- one drawing -----------------------------------------------------------------

def drawn(path, unit):
    """Outlines to cut, the piece of board, and where it is screwed down; drawings are
    in the job's unit."""
    doc = ezdxf.readfile(path)
    outlines, guides = [], []
    for e in doc.modelspace():
        if e.dxftype() != "POLYLINE":
            continue
        pts = [(v.dxf.location.x * unit, v.dxf.location.y * unit) for v in e.vertices]
        straight = all(not v.dxf.get("bulge", 0) for v in e.vertices)
        if e.dxf.layer == "OUTLINE":
            outlines.append((pts, straight and e.is_closed))
        elif e.dxf.layer == "GUIDE" and e.is_closed and len(pts) == 4:
            guides.append(Polygon(pts))
    whole = max(guides, key=lambda p: p.area)
    return outlines, whole, [g for g in guides if g is not whole]


def lies(pts, outline):
    """Whether corners are those of an outline moved, or turned by half a turn and
    moved, in any order round."""
    for sign in (1, -1):
        at = [(sign * x, sign * y) for x, y in outline]
        low = (min(x for x, _ in at), min(y for _, y in at))
        there = (min(x for x, _ in pts), min(y for _, y in pts))
        at = [(x - low[0] + there[0], y - low[1] + there[1]) for x, y in at]
        if len(pts) == len(at) and all(min(math.dist(p, q) for q in at) < EPS for p in pts) and all(min(math.dist(p, q) for p in pts) < EPS for q in at):
            return True
    return False


def piece(job, packet, p, where):
    """One piece of board as drawn: which stars' segments lie on it, and their area."""
    number = p["program"].removeprefix("gcode/segments-").removesuffix(".nc")
    outlines, whole, screws = drawn(packet / "dxf" / f"sheet-segments-{number}.dxf", job.unit)
    length, width = p["length_mm"], p["width_mm"]
    check(whole.symmetric_difference(box(0, 0, length, width)).area < EPS * (length + width), f"{where}: the board is drawn as {whole.bounds}")
    margin, spacing, cutter = job.mm(job.margin), job.mm(job.spacing), job.mm(job.cutter)
    room = box(margin - EPS, margin - EPS, length - margin + EPS, width - margin + EPS)
    of, shapes = collections.Counter(), []
    for pts, plain in outlines:
        names = [s["name"] for s in job.stars if lies(pts, job.outline(s["name"]))]
        check(plain and len(names) == 1, f"{where}: an outline is {len(names)} stars' segment along the grain: {pts}")
        of.update(names[:1])
        shapes.append(Polygon(pts))
        check(room.contains(shapes[-1]), f"{where}: a segment at {shapes[-1].bounds} comes nearer to the edge than {margin}")
        for s in screws:
            check(s.distance(shapes[-1]) >= cutter - EPS, f"{where}: the cutter, {cutter} wide, hits screws at {s.bounds}")
    for i, a in enumerate(screws):
        check(all(a.centroid.distance(b.centroid) > 12 for b in screws[i + 1:]), f"{where}: two screws in one place, {a.centroid}")
    for i, a in enumerate(shapes):
        for b in shapes[i + 1:]:
            check(a.distance(b) >= spacing - EPS, f"{where}: two segments are {a.distance(b)} apart, not {spacing}")
    check(len(screws) >= 4 if job.screws else not screws, f"{where}: {len(screws)} places for screws")
    check(len(outlines) == p["segments"] and shapes, f"{where}: {len(outlines)} segments are drawn, {p['segments']} said")
    # No longer than they need, up to what is read off a rule: something ends at the
    # margin, or screws stand there.
    most, step = max(s.bounds[2] for s in shapes), job.step
    check(most > length - margin - step - EPS or job.screws, f"{where}: {length - margin - most} of the board are left beside the last segment")
    if len(of) == 1 and len(shapes) > 1 and not job.screws:
        line = len(shapes) * (shapes[0].bounds[2] - shapes[0].bounds[0]) + (len(shapes) - 1) * spacing + 2 * margin
        high = shapes[0].bounds[3] - shapes[0].bounds[1]
        check(length - step < line - EPS or width < high + 2 * margin + 1, f"{where}: {len(shapes)} segments take {length}, in line {line}")
    return of, sum(s.area for s in shapes)


# ---- the boards ------------------------------------------------------------------

def clear(job, b):
    """Clear wood of a board of the job, mm."""
    end, trim, kerf = job.mm(b["length"]), job.mm(job.trim), job.mm(job.kerf)
    free = box(trim, 0, end - trim, 1)
    for lo, hi in b.get("bad", []):
        lo, hi = job.mm(lo), job.mm(hi)
        grow = max(0, kerf - (hi - lo)) / 2     # the blade that takes it out is as wide
        free = free.difference(box(lo - grow, -1, hi + grow, 2))
    return free


def boards(job, s, where, on):
    """Every board that is taken. on are the segments on each piece."""
    seen, cut, got, taken = set(), collections.Counter(), collections.Counter(), 0.0
    listed = {False: job.boards, True: job.yard}
    for sawn in s["boards"]:
        b = listed[sawn["bought"]][sawn["board"] - 1]
        at = f"{where}: board {sawn['board']} copy {sawn['copy']}{' bought' if sawn['bought'] else ''}"
        key = (sawn["bought"], sawn["board"], sawn["copy"])
        check(key not in seen and (sawn["bought"] or sawn["copy"] <= b.get("count", 1)) and sawn["cuts"], f"{at}: is not there, or has no piece")
        seen.add(key)
        end, free = job.mm(job.trim) - job.mm(job.kerf), clear(job, b).buffer(1e-6)
        taken += job.mm(b["length"]) * job.mm(b["width"]) * job.mm(job.plane)
        for c in sawn["cuts"]:
            p = s["pieces"][c["piece"] - 1]
            check(abs(c["to_mm"] - c["from_mm"] - p["length_mm"]) < 1e-6 and abs(p["width_mm"] - job.mm(b["width"])) < 1e-6, f"{at}: {c} for a piece {p['length_mm']} by {p['width_mm']}")
            check(p["length_mm"] <= job.mm(job.longest) + 1e-6 and p["width_mm"] <= job.mm(job.across) + 1e-6, f"{at}: {p} does not lie on the machine")
            check(c["from_mm"] >= end + job.mm(job.kerf) - 1e-6, f"{at}: no kerf before {c}")
            check(free.contains(box(c["from_mm"], 0.2, c["to_mm"], 0.8)), f"{at}: {c} is not clear wood")
            check(not b.get("wood") or p.get("wood") == b["wood"], f"{at}: a piece of {p.get('wood')} from {b.get('wood')}")
            end = c["to_mm"]
            cut[c["piece"]] += 1
            for name, n in on[c["piece"] - 1].items():
                got[name, p.get("wood", ""), sawn["bought"]] += n
        rest = max(0, job.mm(b["length"]) - job.mm(job.trim) - end - job.mm(job.kerf))
        check(abs(rest - sawn["rest_mm"]) < 1e-6, f"{at}: {rest} is left, said {sawn['rest_mm']}")
    check([cut[i + 1] for i in range(len(s["pieces"]))] == [p["count"] for p in s["pieces"]], f"{where}: pieces are cut {cut}")
    return got, taken


def planned(program, job, path):
    """The plan. Where segments lie too near to each other for tabs, the spacing that
    the program offers is one that it takes."""
    for _ in range(2):
        path.write_text(job.text())
        code, out, err = run(program, "plan", "--json", "--shop", "", str(path))
        offer = re.search(r'\[segments\] spacing: .*Try: spacing = "([0-9.]+) mm"', err)
        if not offer or job.spacing >= 2 * job.cutter + 3:  # two cuts and a strip between them
            break
        job.spacing = float(offer[1])
    return code, out, err


def packet_of(program, job):
    with tempfile.TemporaryDirectory() as d:
        d = pathlib.Path(d)
        code, out, err = planned(program, job, d / "job.toml")
        check(code == 0, f"{job.name}: plan: {err[-600:]}\n{job.text()}")
        if code:
            return
        plan = json.loads(out)
        code, out, err = run(program, "make", "--shop", "", "-o", str(d / "packet"), str(d / "job.toml"))
        check(code == 0, f"{job.name}: make: {out[-400:]} {err[-600:]}\n{job.text()}")
        if code:
            return
        whole(job, plan, d / "packet")


def whole(job, plan, packet):
    s = plan["stock"]
    check(s["cut"] == "cnc", f"{job.name}: cut by {s['cut']}")
    for star in plan.get("stars") or [plan]:
        name = star.get("name", job.stars[0]["name"])
        check(lies([tuple(p) for p in star["segment"]["outline_mm"]], job.outline(name)), f"{job.name}: the outline of {name} is {star['segment']['outline_mm']}")
    files = sorted(p.name for p in (packet / "dxf").glob("sheet-segments-*.dxf"))
    check(len(files) == len(s["pieces"]), f"{job.name}: {files} for {len(s['pieces'])} pieces")
    on, used, grown = [], 0.0, 0.0
    thick, half = job.mm(job.plane), job.mm(job.spacing) / 2
    for i, p in enumerate(s["pieces"], 1):
        of, area = piece(job, packet, p, f"{job.name}: piece {i}")
        on.append(of)
        used += area * p["count"] * thick
        grown += p["count"] * sum(n * Polygon(job.outline(k)).buffer(half).area for k, n in of.items())
    got, taken = boards(job, s, job.name, on)
    wanted = job.wanted()
    for w in s["wanted"]:
        name, wood = w["star"] or job.stars[0]["name"], w.get("wood", "")
        here = [sum(n for (k, x, b), n in got.items() if k == name and b == bought and (not wood or x == wood)) for bought in (False, True)]
        check(w["wanted"] == wanted.pop((name, wood), None) and here == [w["from_rack"], w["bought"]] and sum(here) == w["wanted"], f"{job.name}: {w}, the drawings give {here}")
    check(not wanted, f"{job.name}: the bench says nothing of {wanted}")
    near = lambda a, b: abs(a - b) < 1e-6 * (1 + abs(b))
    check(near(taken, s["taken_mm3"]) and abs(used - s["used_mm3"]) < 1e-4 * used, f"{job.name}: taken {taken}, used {used}, said {s['taken_mm3']}, {s['used_mm3']}")
    check(near(100 * (1 - s["used_mm3"] / taken), s["waste_percent"]) and near(taken / BOARD_FOOT, s["board_feet"]), f"{job.name}: {s['waste_percent']} % waste, {s['board_feet']} board feet")
    long = sum(job.mm({False: job.boards, True: job.yard}[b["bought"]][b["board"] - 1]["length"]) for b in s["boards"])
    check(near(long, s["taken_mm"]) and 0 < s["bound_mm"] <= long * (1 + 1e-9), f"{job.name}: {long} of boards are taken, said {s['taken_mm']} and no less than {s['bound_mm']}")
    check(grown * thick <= taken * (1 + (2 * half) / job.mm(job.margin)), f"{job.name}: {grown} of segments with their spacing from {taken / thick} of boards")


# ---- jobs ------------------------------------------------------------------------

def star(name, width, count, points=5, tip=36, **more):
    return dict(name=name, width=width, count=count, points=points, tip=tip, **more)


JOBS = [
    Job("one size", [star("porch", 100, 3)], [dict(length=1200, width=180, bad=[[500, 540]]), dict(length=1500, width=150, count=2)], longest=600),
    Job("in line", [star("porch", 80, 2)], [dict(length=2400, width=102, count=2)]),
    Job("wide boards", [star("hall", 60, 6)], [dict(length=1500, width=300)], screws=False),
    Job("three sizes", [star("large", 110, 1), star("middle", 80, 2), star("small", 50, 4, points=6, tip=40)], [dict(length=2000, width=160, count=4, bad=[[900, 930], [300, 301]])]),
    Job("bought", [star("porch", 100, 4)], [dict(length=700, width=140)], [dict(length=2400, width=200), dict(length=1800, width=150)]),
    Job("two woods", [star("gate", 70, 2, points=6, tip=40, woods=["walnut", "hard maple"])], [dict(length=1400, width=150, wood="walnut"), dict(length=1400, width=120, wood="hard maple", count=2)]),
    Job("inches", [star("porch", 3.5, 3)], [dict(length=60, width=5.5, count=3, bad=[[20, 21.5]])], unit=25.4, trim=0.5, kerf=0.125, spacing=0.5, margin=0.5, cutter=0.25, longest=32, across=16, plane=0.75),
]


def drawn_job(r, n):
    """A random job that boards of the yard are there for."""
    stars = [star(f"s{i}", r.randrange(45, 120), r.randrange(1, 4), points=(p := r.choice([4, 5, 6, 8])), tip=r.randrange(28, min(60, 720 // p))) for i in range(r.randrange(1, 4))]
    wide = max(s["width"] for s in stars)
    margin = r.randrange(8, 16)
    rack = []
    for _ in range(r.randrange(1, 4)):
        b = dict(length=r.randrange(500, 2600), width=r.randrange(wide - 20, 2 * wide) + 2 * margin, count=r.randrange(1, 3))
        if r.random() < 0.5:
            at = r.randrange(50, b["length"] - 100)
            b["bad"] = [[at, at + r.choice([1, 20, 45])]]
        rack.append(b)
    return Job(f"random {n}", stars, rack, [dict(length=2400, width=wide + 2 * margin + 30)], trim=r.choice([0, 10, 25]), kerf=r.choice([2, 3.2]), margin=margin,
               spacing=r.randrange(10, 20), cutter=r.choice([4, 6]), longest=r.choice([700, 1000, 1300]), across=r.choice([300, 500]), screws=r.random() < 0.6)


def main():
    program, n = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 12
    seed = int(sys.argv[3]) if len(sys.argv) > 3 else 20261130
    print(f"{n} random jobs of seed {seed}")
    r = random.Random(seed)
    for job in JOBS + [drawn_job(r, i + 1) for i in range(n)]:
        packet_of(program, job)
    finish()


if __name__ == "__main__":
    main()
