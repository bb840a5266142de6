#!/usr/bin/python3
"""Holds orders against sums of its own: stock plans, board feet, cost.

    order.py STARWRIGHT

Runs the program on orders that it writes itself. Every stock plan is laid out by
shapely: strips and blanks within their boards, kerfs between them, nothing in bad
places, of the wood that is wanted, as many as are wanted; strips of two woods make
their blanks, which is reckoned anew from the job. Plans of small orders are held against the least wood
of all ways to cut them, which this script tries one by one; those of large ones
against a bound by area. Board feet are counted anew (a board foot is 144 cubic
inches: PS 20, American Softwood Lumber Standard, 'board measure'), and the cost is
added up from the lines of the plan. Shares no code with the project. Prints 'N
passed, N failed', exits 1 where anything differs.
"""
import itertools
import json
import math
import random
import subprocess
import sys
import tempfile
import time

from shapely.geometry import box

from tally import check, finish

INCH = 25.4
BOARD_FOOT = 144 * INCH ** 3    # mm3
EPS = 1e-6


def plan_of(program, text, name):
    with tempfile.NamedTemporaryFile("w", suffix=".toml") as f:
        f.write(text)
        f.flush()
        started = time.monotonic()
        out = subprocess.run([program, "plan", "--json", "--shop", "", f.name], capture_output=True, text=True)
        took = time.monotonic() - started
    check(out.returncode == 0, f"{name}: exit {out.returncode}: {out.stdout[-400:]} {out.stderr[-400:]}")
    return (json.loads(out.stdout) if out.returncode == 0 else None), took


# ---- orders ------------------------------------------------------------------

def order(stars, boards, yard=(), rest=""):
    """A job file."""
    text = ['units = "mm"']
    for name, width, count, more in stars:
        text += ["[[star]]", f'name = "{name}"', f"board_width = {width}", f"count = {count}", more]
    text += ["[stock]", f"trim = {TRIM}", "rip_kerf = 4"]

    def written(b):
        length, width, count, bad = b
        return f"{{ length = {length}, width = {width}, count = {count}, bad = {json.dumps(bad)} }}"
    if boards:
        text.append("boards = [" + ", ".join(written(b) for b in boards) + "]")
    if yard:
        text += ["[yard]", "boards = [" + ", ".join(f"{{ length = {a}, width = {b} }}" for a, b in yard) + "]"]
    return "\n".join(text + [rest, ""])


TRIM = 10


# ---- stock plans ---------------------------------------------------------------

def laid_out(name, plan):
    """Every board of the plan, laid out by shapely."""
    s = plan["stock"]
    pieces = s["pieces"]
    given, bought, taken, seen = {}, {}, 0.0, set()
    for sawn in s["boards"]:
        b = (s["yard"] if sawn["bought"] else s["rack"])[sawn["board"] - 1]
        where = f"{name}: board {sawn['board']} copy {sawn['copy']}{' bought' if sawn['bought'] else ''}"
        key = (sawn["bought"], sawn["board"], sawn["copy"])
        check(key not in seen and (sawn["bought"] or sawn["copy"] <= b["count"]), f"{where}: is cut twice, or is not there")
        seen.add(key)
        taken += b["length_mm"] * b["width_mm"] * b["thickness_mm"]
        clear = box(s["trim_mm"], 0, b["length_mm"] - s["trim_mm"], b["width_mm"])
        for lo, hi in b.get("bad_mm", []):
            clear = clear.difference(box(lo, 0, hi, b["width_mm"]))
        strips, blanks = [], []
        for strip in sawn["strips"]:
            strips.append(box(0, strip["from_mm"], b["length_mm"], strip["to_mm"]))
            in_strip = []
            for c in strip["cuts"]:
                p = pieces[c["piece"] - 1]
                check(p["star"] == c["star"] and p.get("wood", "") == b.get("wood", ""), f"{where}: {b.get('wood')} for {p['star']}, which wants {p.get('wood')}")
                check(abs(c["to_mm"] - c["from_mm"] - p["length_mm"]) < EPS and abs(p["thickness_mm"] - b["thickness_mm"]) < EPS,
                      f"{where}: a blank of {c['star']} is {c['to_mm'] - c['from_mm']} long")
                blank = box(c["from_mm"], strip["from_mm"], c["to_mm"], strip["from_mm"] + p["width_mm"])
                check(strips[-1].buffer(EPS).contains(blank), f"{where}: a blank of {c['star']} is wider than its strip")
                in_strip.append(blank)
                count = bought if sawn["bought"] else given
                count[c["piece"]] = count.get(c["piece"], 0) + 1
            for x, y in zip(in_strip, in_strip[1:]):
                check(x.distance(y) >= s["kerf_mm"] - EPS, f"{where}: no kerf between two blanks")
            blanks += in_strip
        for x, y in zip(strips, strips[1:]):
            check(x.distance(y) >= s["rip_kerf_mm"] - EPS, f"{where}: no kerf between two strips")
        for blank in blanks:
            check(clear.buffer(EPS).contains(blank), f"{where}: a blank lies in a bad place or beside the board: {blank.bounds}")
    used = 0.0
    for i, p in enumerate(pieces, 1):
        star = next(x for x in plan["stars"] if x["name"] == p["star"])
        wanted(name, star, [q for q in pieces if q["star"] == p["star"]])
        check(given.get(i, 0) == p["from_rack"] and bought.get(i, 0) == p["bought"]
              and p["from_rack"] + p["bought"] + p["short"] == p["wanted"], f"{name}: the blanks of {p['star']} do not add up: {p}")
        used += (p["from_rack"] + p["bought"]) * p["length_mm"] * p["width_mm"] * p["thickness_mm"]
    check(abs(taken - s["taken_mm3"]) < 1e-6 * taken + 1, f"{name}: {taken} mm3 are taken, said {s['taken_mm3']}")
    check(abs(used - s["used_mm3"]) < 1e-6 * used + 1, f"{name}: {used} mm3 become blanks, said {s['used_mm3']}")
    check(abs(taken / BOARD_FOOT - s["board_feet"]) < 1e-6 * (1 + s["board_feet"]), f"{name}: {taken / BOARD_FOOT} board feet, said {s['board_feet']}")
    check(s["bound_mm3"] <= s["volume_mm3"] * (1 + 1e-9) + 1, f"{name}: the bound {s['bound_mm3']} is above the {s['volume_mm3']} taken")
    check(not s["exact"] or s["volume_mm3"] >= s["bound_mm3"] - 1, f"{name}: exact")
    return s


def wanted(name, star, mine):
    """What a star takes of its boards: whole blanks, or strips that make them."""
    blank, strips = star["blank"], star.get("strips")
    spare = star["star"]["points"]          # one star can be cut again
    n, length, width = blank["count"] + spare, blank["length_mm"], blank["width_mm"]
    if strips:
        # Planed on both glued edges, and the glued board on both outer ones.
        width = blank["width_mm"] / strips["per_blank"] + 2 * strips["jointing_mm"]
        length, n = strips["length_mm"], n * strips["per_blank"]
        check(strips["length_mm"] >= blank["length_mm"] + 10 - EPS, f"{name}: {star['name']}: strips leave nothing to square the ends")
        check(strips["per_blank"] % 2 == 0 or "woods" not in star, f"{name}: {star['name']}: {strips['per_blank']} strips are no two halves")
    woods = [w.lower() for w in star.get("woods", [])]
    check(len(mine) == (2 if woods else 1) and [q.get("wood", "") for q in mine if woods] == woods, f"{name}: {star['name']}: pieces of {[q.get('wood') for q in mine]}")
    for q in mine:
        check(q["wanted"] * len(mine) == n and q["spare"] * len(mine) == spare * (strips["per_blank"] if strips else 1),
              f"{name}: {star['name']} wants {q['wanted']} of {n}, {q['spare']} of them spare")
        check(abs(q["width_mm"] - width) < EPS and abs(q["length_mm"] - length) < EPS and q["what"] == ("strip" if strips else "blank"), f"{name}: {star['name']}: {q}, should be {length} x {width}")


def least_wood(s):
    """The least area of boards that gives all blanks, by trying every way; None where
    the rack does not give them."""
    boards = [b for b in s["rack"] for _ in range(b["count"])]
    sizes = [(p["length_mm"], p["width_mm"]) for p in s["pieces"]]
    kerf, rip, trim = s["kerf_mm"], s["rip_kerf_mm"], s["trim_mm"]
    want = tuple(p["wanted"] for p in s["pieces"])

    def runs(b):
        at, out = trim, []
        for lo, hi in sorted(b.get("bad_mm", [])):
            if hi - lo < kerf:
                lo, hi = (lo + hi - kerf) / 2, (lo + hi + kerf) / 2
            if lo > at:
                out.append(min(lo, b["length_mm"] - trim) - at)
            at = max(at, hi)
        if b["length_mm"] - trim > at:
            out.append(b["length_mm"] - trim - at)
        return out

    def in_run(room, wide):
        """All counts of blanks that fit one run of a strip."""
        fits = [i for i, (l, w) in enumerate(sizes) if w <= wide + EPS]
        out = set()
        ranges = [range(min(want[i], int((room + kerf + EPS) // (sizes[i][0] + kerf))) + 1) if i in fits else range(1) for i in range(len(sizes))]
        for counts in itertools.product(*ranges):
            n = sum(counts)
            if n == 0 or sum(c * sizes[i][0] for i, c in enumerate(counts)) + (n - 1) * kerf <= room + EPS:
                out.add(counts)
        return out

    def added(sets):
        out = {tuple([0] * len(sizes))}
        for one in sets:
            out = best_of({capped(x, y) for x in out for y in one})
        return out

    def capped(x, y):
        """Both together, no more than is wanted."""
        return tuple(min(w, a + b) for w, a, b in zip(want, x, y))

    def best_of(counts):
        """Those that give more of nothing than another one are left out."""
        keep = []
        for c in sorted(counts, key=sum, reverse=True):
            if not any(all(a >= b for a, b in zip(k, c)) for k in keep):
                keep.append(c)
        return set(keep)

    def ways(b):
        widths = sorted({w for _, w in sizes if w <= b["width_mm"] + EPS}, reverse=True)
        strip = {w: added([best_of(in_run(r, w)) for r in runs(b)]) for w in widths}
        out = {tuple([0] * len(sizes))}

        def rip_on(room, had, first):
            nonlocal out
            out |= had
            for k in range(first, len(widths)):
                if widths[k] <= room + EPS:
                    rip_on(room - widths[k] - rip, best_of({capped(p, q) for p in had for q in strip[widths[k]]}), k)
        rip_on(b["width_mm"], {tuple([0] * len(sizes))}, 0)
        return best_of(out)

    # From board to board: what has been cut, no more than is wanted, for how little.
    states, known = {tuple([0] * len(sizes)): 0.0}, {}
    for b in boards:
        area, after = b["length_mm"] * b["width_mm"], dict(states)
        key = json.dumps([b["length_mm"], b["width_mm"], b.get("bad_mm")])
        if key not in known:
            known[key] = ways(b)
        for have, cost in states.items():
            for way in known[key]:
                got = capped(have, way)
                if cost + area < after.get(got, math.inf):
                    after[got] = cost + area
        states = after
    return states.get(want)


def small_orders(program):
    rnd = random.Random(20261129)
    exact = 0
    for n in range(14):
        stars = [(f"s{k}", rnd.choice([40, 48, 55, 60, 72, 80]), 1, rnd.choice(["", "points = 4\ntip = 45", "points = 6"])) for k in range(rnd.choice([1, 2, 2, 3]))]
        boards = []
        for _ in range(rnd.choice([2, 3, 4])):
            length = rnd.choice([900, 1100, 1300, 1600])
            bad = [] if rnd.random() < 0.5 else [[at := rnd.randrange(100, 800, 50), at + rnd.choice([1, 30, 60])]]
            boards.append((length, rnd.choice([60, 85, 100, 125, 150]), rnd.choice([1, 1, 2]), bad))
        name = f"small order {n}"
        plan, _ = plan_of(program, order(stars, boards, rest="[slot]\nmake = false\n"), name)
        if plan is None:
            continue
        s = laid_out(name, plan)
        least, whole = least_wood(s), all(p["short"] == 0 for p in s["pieces"])
        thick = s["pieces"][0]["thickness_mm"]
        if whole:
            check(least is not None and s["volume_mm3"] >= least * thick - 1, f"{name}: takes {s['volume_mm3']}, less than the least, {least}")
            check(least is not None and s["bound_mm3"] <= least * thick + 1, f"{name}: the bound {s['bound_mm3']} is above the least, {least}")
            if s["exact"]:
                exact += 1
                check(abs(s["volume_mm3"] - least * thick) < 1, f"{name}: takes {s['volume_mm3']} and says it is exact; the least is {least and least * thick}")
        else:
            check(least is None, f"{name}: leaves blanks uncut that the boards give")
    check(exact >= 5, f"only {exact} plans of small orders claim to be exact")
    print(f"{exact} of 14 small orders are exact, each as the least of all ways")


def large_order(program):
    stars = [(f"n{k}", 50 + 11 * k, 100, "") for k in range(10)]
    name = "1,000 stars of ten sizes"
    text = order(stars, [(2400, 160, 40, [[700, 760]])], [(2400, 150), (3000, 200), (1800, 120)], "[sheet]\nwidth = 1200\nheight = 800\n")
    plan, took = plan_of(program, text, name)
    if plan is None:
        return
    s = laid_out(name, plan)
    check(all(p["short"] == 0 for p in s["pieces"]), f"{name}: blanks are short")
    bought = sum(p["bought"] * (p["length_mm"] + s["kerf_mm"]) * (p["width_mm"] + s["rip_kerf_mm"]) * p["thickness_mm"] for p in s["pieces"])
    # No board gives more than its area with a kerf beside it and one behind it.
    most = max((b["length_mm"] - 2 * s["trim_mm"] + s["kerf_mm"]) * (b["width_mm"] + s["rip_kerf_mm"]) / (b["length_mm"] * b["width_mm"]) for b in s["yard"])
    check(s["volume_mm3"] <= 1.12 * bought / most, f"{name}: buys {s['volume_mm3'] / (bought / most) - 1:.1%} more than the bound by area")
    print(f"{name}: planned in {took:.1f} s; {len(s['boards'])} boards, {s['waste_percent']:.1f} % waste, "
          f"{s['volume_mm3'] / (bought / most) - 1:.1%} above the bound by area, {1 - s['bound_mm3'] / s['volume_mm3']:.1%} above its own")


# ---- cost ------------------------------------------------------------------------

PRICES = """[cost]
currency = "EUR"
hour = 38
machine_hour = 6
wood = 4.20
sheet = 9
glue = 11
finish = 2.50
cutter = 24
cutter_hours = 15
fees = 8
margin = 20
"""
TIME = {"labour": "labour_minutes", "machine": "machine_minutes", "drying": "drying_minutes"}


def close(a, b):
    return abs(a - b) <= 1e-6 * (1 + abs(b))


def added_up(name, plan):
    """The cost from its lines alone."""
    c = plan["cost"]
    price = {"labour": 38, "machine": 6, "wood": 4.20, "sheet": 9, "glue": 11, "finish": 2.50, "cutter": 24}
    weights = {s["star"]: s["weight"] for s in c["stars"]}
    sums = {s: {"cost": 0.0, "labour_minutes": 0.0, "machine_minutes": 0.0, "drying_minutes": 0.0} for s in weights}
    by_name, total = {}, 0.0
    for l in c["lines"]:
        amount = l["count"] * l["each"]
        money = amount * price.get(l["kind"], 0) / (60 if l["kind"] in TIME else 1)
        check(close(money, l.get("money", 0)), f"{name}: {l['what']} costs {money}, said {l.get('money', 0)}")
        total += money
        if l["kind"] != "drying":
            by_name[l["what"]] = by_name.get(l["what"], 0) + money
        for s in sums:
            share = 1.0 if l["star"] == s else weights[s] / sum(weights.values()) if l["star"] == "" else 0.0
            sums[s]["cost"] += money * share
            if l["kind"] in TIME:
                sums[s][TIME[l["kind"]]] += amount * share
    check(close(total, c["order"]["cost"]), f"{name}: the lines cost {total}, the order {c['order']['cost']}")
    asked = total / (1 - (8 + 20) / 100)
    check(close(asked, c["order"]["price"]) and close(c["order"]["fees"], 0.08 * asked) and close(c["order"]["margin"], 0.20 * asked), f"{name}: the price is {asked}, said {c['order']}")
    for s in c["stars"]:
        for k, v in sums[s["star"]].items():
            check(close(v, s.get(k, 0)), f"{name}: {s['star']} {k} {v}, said {s.get(k, 0)}")
        check(close(s["price_each"] * s["count"] * 0.72, s["cost"]), f"{name}: the price of one {s['star']}")
    first = sorted(by_name.values(), reverse=True)[:3]
    check(all(close(a, d["money"]) for a, d in zip(first, c["drivers"])), f"{name}: the three that drive it are {first}, said {c['drivers']}")
    machine = sum(p["runs"] * p["minutes"] for p in plan["programs"])
    check(close(machine, c["order"]["machine_minutes"]), f"{name}: the programs run {machine} min, said {c['order']['machine_minutes']}")
    sheets = sum(s["runs"] for s in plan["sheets"])
    check(close(sheets, sum(l["count"] * l["each"] for l in c["lines"] if l["kind"] == "sheet")), f"{name}: {sheets} sheets")
    if "board_feet" in plan.get("stock", {}):
        feet = sum(l["count"] * l["each"] for l in c["lines"] if l["kind"] == "wood")
        check(close(feet, plan["stock"]["board_feet"]), f"{name}: {feet} board feet are paid for, {plan['stock']['board_feet']} taken")


def settings(route):
    """How often a machine is set anew: what stays from set-up to set-up is not counted."""
    return sum(1 for s in route if s["machine"] not in ("hand", "laser") and not s.get("keeps"))


def woods_order(program):
    """Stars of two woods in all three ways and stars glued up from narrow boards."""
    for n, (points, halves, more) in enumerate([(5, "turning", ""), (6, "mirrored", ""), (8, "whole", ""), (6, "whole", "laminate = true"), (7, "turning", "laminate = true")]):
        name = f"two woods, {halves} {points} {more}"
        stars = [("plain", 60, 3, ""), ("duo", 120, 2, f'points = {points}\nwoods = ["Walnut", "hard maple"]\nhalves = "{halves}"\noffcut_star = true')]
        text = order(stars, [], [(2400, 150), (1500, 125)], "[wood]\nspecies = 'hard maple'\nmc_now = 10\nmc_service = 7\n[sheet]\nwidth = 600\nheight = 500\n")
        rack = '[{ length = 2400, width = 150, wood = "walnut" }, { length = 1800, width = 90, count = 3, bad = [[400, 450]] }]'
        text = text.replace("[yard]", f"boards = {rack}\n" + (f"board_width = 90\n{more}\n" if more else "") + "[yard]")
        plan, _ = plan_of(program, text, name)
        if plan is None:
            continue
        s = laid_out(name, plan)
        check(all(p["short"] == 0 for p in s["pieces"]), f"{name}: the yard sells every wood, and pieces are short")
        made = [x["name"] for x in plan["route"] if x["name"] == "duo star: strips to boards"]
        check(bool(made) == (halves != "whole" or bool(more)), f"{name}: glued up {made}")
        duo = next(x for x in plan["stars"] if x["name"] == "duo")
        moves(name, duo)
    print("two woods in five orders: every strip laid out, of its wood, and their movement reckoned anew")


# Wood Handbook, FPL-GTR-190, Table 13-5: radial and tangential, per percent.
COEFFICIENTS = {"black walnut": (0.00190, 0.00274), "hard maple": (0.00165, 0.00353)}


def moves(name, star):
    """The movement of a star of two woods, by the table's coefficients."""
    w = star["wood"]
    one, two = COEFFICIENTS[w["species"]], COEFFICIENTS[w["second_species"]]
    by = w["mc_service_percent"] - w["mc_now_percent"]
    width, thick = star["segment"]["width_mm"], star["segment"]["thickness_mm"]
    check(close(w["width_change_mm"], width * by * (one[1] + two[1]) / 2), f"{name}: the width changes by {w['width_change_mm']}")
    check(close(w["step_mm"], abs(one[0] - two[0]) * abs(by) * thick), f"{name}: a step of {w['step_mm']}")
    half = math.radians(180 / star["star"]["points"])
    turned = [math.degrees(math.atan((1 + by * c[1]) * math.tan(half))) - math.degrees(half) for c in (one, two)]
    check(abs(w["all_joints_deg"] - star["star"]["points"] * sum(turned)) < 1e-9, f"{name}: all joints {w['all_joints_deg']}")


def priced_order(program):
    stars = [("small", 60, 6, ""), ("middle", 96, 4, "offcut_star = true\nslot = { depth = 8 }"), ("large", 140, 2, 'woods = ["walnut", "hard maple"]')]
    rest = "[sheet]\nwidth = 600\nheight = 500\n" + PRICES
    boards = [(2400, 150, 3, []), (1800, 100, 3, [[400, 450]])]
    text = order(stars, boards, [(2400, 150)], rest + "[wood]\nspecies = 'hard maple'\n")
    plan, _ = plan_of(program, text, "order of three sizes")
    if plan is None:
        return
    laid_out("order of three sizes", plan)
    added_up("order of three sizes", plan)
    # Its three jobs, each alone.
    sheets = plates = setups = 0
    for star in stars:
        one, _ = plan_of(program, order([star], [], rest=rest), f"{star[0]} alone")
        added_up(f"{star[0]} alone", one)
        sheets += len(one["sheets"])
        plates += sum(j["quantity"] for j in one["jigs"])
        last = {}
        for s in one["route"]:
            now = tuple((r["name"], r["printed"]) for r in s["readings"] if r["name"] in ("saw", "block", "bit", "bit height", "fence")) + tuple(s["jigs"] if s.get("slot") else [])
            if s["machine"] not in ("hand", "laser"):
                setups += last.get(s["machine"]) != now
                last[s["machine"]] = now
    got = len(plan["sheets"]), sum(j["quantity"] for j in plan["jigs"]), settings(plan["route"])
    check(got[0] < sheets and got[1] < plates and got[2] < setups, f"the order takes {got} sheets, plates and settings, its three jobs {sheets, plates, setups}")
    print(f"three sizes in one order, one with off-cut stars and one of two woods: {got[0]} sheets, {got[1]} plates of jigs, {got[2]} settings of machines; its three jobs: {sheets}, {plates}, {setups}")
    alone, _ = plan_of(program, "[star]\nboard_width = 100\ncount = 3\n" + PRICES, "one star")
    added_up("one star", alone)


def main():
    program = sys.argv[1]
    small_orders(program)
    large_order(program)
    woods_order(program)
    priced_order(program)
    finish()


if __name__ == "__main__":
    main()
