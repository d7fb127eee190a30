"""Decisions recomputed from the yard's files, beside what `decide --json` says.

    decisions.py GAPWRIGHT [SEED]

Reads the machine files and the logs of the sample yard by itself, for each machine as it stands and
after one more visit drawn from the seed, in which every station is measured anew. Then, per station
and line, by nothing but the files and the definitions:

- the reading is that of the newest session; where all links of the chain have a constant expansion
  it is brought to 20 °C and to working temperature;
- the probability below, within and above the working limits, and from whole numbers and those
  probabilities the verdict against the limits table;
- the gap after a recipe is the gap before, less what the pack grows times the cosine of the face
  angle, and lies inside the working limits; a turned or new blade promises no gap;
- what comes out stood in the pack, what goes in lies on the shelf, and the pack afterwards is within
  its maximum and its count;
- the edge in use on each blade and the hours it has cut;
- shims behind the guide pads move every gap by the lever of their distance from the pivot;
- torque is that of the machine's file, each bolt comes once, and the share of the proof load follows
  from ISO 898-1 and the formula of VDI 2230.

Every answer is then falsified, one number after the other, and each lie must be found. Needs nothing
but Python; the last line says how much agrees, and any difference ends with 1.
"""

import copy
import json
import math
import random
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

MACHINES = ["heron", "wren", "dunlin"]
VISITS = 12
YARD = Path(__file__).parents[2] / "sample-sessions"
NM = 1e-6
# Two roundings to whole nanometres.
NEAR_MM = 2.1 * NM
NEAR_P = 1e-9

TOKEN = re.compile(r'\s*(?:"((?:[^"\\]|\\.)*)"|([A-Za-z_]\w*)|(-?[\d.]+(?:e-?\d+)?)|([()\[\]:,]))')


def read(path):
    """A RON file: structs as dictionaries, `Name(…)` as (name, value), a bare name as itself."""
    found = [match for match in TOKEN.finditer(path.read_text())]
    tokens = [(kind, match.group(kind)) for match in found for kind in (1, 2, 3, 4) if match.group(kind) is not None]
    value, end = parse(tokens, 0)
    assert end == len(tokens), path
    return value


def parse(tokens, at):
    kind, text = tokens[at]
    if kind == 1:
        return text, at + 1
    if kind == 3:
        return float(text), at + 1
    if kind == 2:
        if at + 1 < len(tokens) and tokens[at + 1][1] == "(" and tokens[at + 1][0] == 4:
            value, end = parse(tokens, at + 1)
            return (text, value), end
        return {"true": True, "false": False}.get(text, text), at + 1
    close, items, names = {"(": ")", "[": "]"}[text], [], []
    at += 1
    while tokens[at] != (4, close):
        if text == "(" and tokens[at][0] == 2 and tokens[at + 1] == (4, ":"):
            names.append(tokens[at][1])
            at += 2
        value, at = parse(tokens, at)
        items.append(value)
        if tokens[at] == (4, ","):
            at += 1
    if names:
        return dict(zip(names, items, strict=True)), at + 1
    return (items[0] if text == "(" and len(items) == 1 else items), at + 1


class Machine:
    """A machine and what its log says of packs and newest readings."""

    def __init__(self, yard, name):
        self.name = name
        self.shear = read(yard / "shears" / name / "shear.ron")
        settings = read(yard / "yard.ron")
        self.shelf = {nm(it["thickness_mm"]): int(it["count"]) for it in settings["shelf"]}
        self.conformity = settings["tolerance"]["conformity"]
        self.blades = {blade["id"]: blade for blade in self.shear["blades"]}
        self.lines = {line["letter"]: line for line in self.shear["lines"]}
        sessions = [read(path) for path in sorted((yard / "shears" / name / "sessions").glob("*.ron"))]
        assert all("amends" not in it for it in sessions)
        self.packs = {blade: [] for blade in self.blades}
        self.newest = {}
        # The edge in use on each blade, and since which hour of service.
        self.edges = {blade: (1, sessions[0]["meter_h"]) for blade in self.blades}
        # What other meters had counted before the one of now.
        self.before_h = 0.0
        for session in sorted(sessions, key=lambda it: (it["taken"], it["id"])):
            for reading in session.get("readings", []):
                self.newest[reading["station"]] = (reading, session)
            self.service_h = session["meter_h"] + self.before_h
            for work in session.get("work", []):
                if isinstance(work, tuple):
                    self.do(*work)

    def do(self, kind, work):
        if kind == "Shims":
            pack = self.packs[work["blade"]]
            for shim in work.get("take_out_mm", []):
                if nm(shim) in pack:
                    pack.remove(nm(shim))
            pack.extend(nm(shim) for shim in work.get("put_in_mm", []))
        elif kind in ("Turned", "Replaced"):
            self.packs[work["blade"]] = [nm(shim) for shim in work.get("pack_mm", [])]
            self.edges[work["blade"]] = (int(work.get("edge", 1)), self.service_h)
        elif kind == "MeterChanged":
            self.before_h += work["old_h"] - work["new_h"]
        # Blades that changed places are not in these logs.
        assert kind != "Swapped"

    def station(self, name):
        line = self.lines[name[0]]
        return next(it for it in line["stations"] if it["station"] == name)


def nm(mm):
    return round(mm / NM)


def opening_mm(line, temperatures):
    """How far the chain opens the gap from 20 °C; nothing where a link's expansion is not constant."""
    total = 0.0
    for link in line["chain"]:
        if not isinstance(link["material"], tuple) or link["material"][0] != "Constant":
            return None
        growth = link["material"][1]["ppm_per_k"] * 1e-6 * (temperatures[link["follows"]] - 20.0)
        total += link["length_mm"] * growth * (1.0 if link["opens"] else -1.0)
    return total


def felt_at(reading, session):
    """The temperatures of a reading: jaws that nobody took lie halfway between air and blade."""
    air = session.get("air_temp_c", 20.0)
    blade = reading.get("blade_temp_c", session.get("jaw_temp_c", 20.0))
    between = (blade + air) / 2.0 if "blade_temp_c" in reading else 20.0
    jaw = session.get("jaw_temp_c", between)
    return {"Moving": blade, "Fixed": blade, "UpperJaw": jaw, "LowerJaw": jaw}


def below(x, low, high, sigma):
    """P(gap < x), the gap even between two stacks and blurred by a normal."""
    phi = lambda z: 0.5 * math.erfc(-z / math.sqrt(2.0))
    density = lambda z: math.exp(-0.5 * z * z) / math.sqrt(2.0 * math.pi)
    part = lambda a: (x - a) * phi((x - a) / sigma) + sigma * density((x - a) / sigma)
    return (part(low) - part(high)) / (high - low)


def chances(limits, low, high, sigma):
    lower = below(limits["min_mm"], low, high, sigma)
    # By reflection, so that a small tail above is no difference of ones.
    upper = below(-limits["max_mm"], -high, -low, sigma)
    return lower, 1.0 - lower - upper, upper


ZONES = ["stop_tight", "too_tight", "tight", "set", "wide", "too_wide", "stop_wide"]


def ends(limits, low, high):
    """The tightest and the widest zone that two stacks leave open; limits belong to the inside."""
    set_, working, stop = (limits[key] for key in ("set", "working", "stop"))
    walls = [stop["min_mm"], working["min_mm"], set_["min_mm"]]
    tops = [set_["max_mm"], working["max_mm"], stop["max_mm"]]
    def zone(at):
        if nm(at) < nm(walls[2]):
            return sum(nm(wall) <= nm(at) for wall in walls)
        return 3 + sum(nm(top) < nm(at) for top in tops)
    return zone(low), zone(high)


def verdict(limits, low, high, sigma, conformity):
    tight, wide = ends(limits, low, high)
    inside = lambda zone: 2 <= zone <= 4
    if not (tight == wide or (inside(tight) and inside(wide))):
        working = chances(limits["working"], low, high, sigma)
        stop = chances(limits["stop"], low, high, sigma)
        rest = 1.0 - conformity
        # A zone is left out where everything up to its limit is too unlikely.
        floor = 6 if conformity <= stop[2] else 5 if conformity <= working[2] else \
            2 if working[0] <= rest else 1 if stop[0] <= rest else 0
        roof = 0 if conformity <= stop[0] else 1 if conformity <= working[0] else \
            4 if working[2] <= rest else 5 if stop[2] <= rest else 6
        new = max(tight, floor), min(wide, roof)
        both = inside(new[0]) and inside(new[1])
        if new[0] <= new[1] and not (both and working[1] < conformity):
            tight, wide = new
    if tight == wide and not inside(tight):
        return ZONES[tight]
    if inside(tight) and inside(wide):
        return "set_range" if (tight, wide) == (3, 3) else "working"
    return "undecided"


class Check:
    """Holds one answer against the files, and keeps what differs."""

    def __init__(self, machine, answer):
        self.machine, self.answer, self.wrong, self.agreed = machine, answer, [], 0

    def holds(self, so, *words):
        if so:
            self.agreed += 1
        else:
            self.wrong.append(" ".join(str(word) for word in (self.machine.name, *words)))

    def near(self, value, wanted, within, *words):
        close = value is not None and abs(value - wanted) <= within
        self.holds(close, *words, value, "and not", wanted)

    def all(self):
        pads = self.pads_grow_mm()
        shelf = dict(self.machine.shelf)
        for told in self.answer["lines"]:
            line = self.machine.lines[told["line"]]
            for station in told["stations"]:
                self.station(line, station)
            self.action(told, line)
            self.edges(told)
            self.recipe(told, line, shelf)
            self.bolts(told)
            self.moved_by_pads(told, line, pads)
        return self

    def station(self, line, told):
        name, limits = told["station"], line["limits"]
        reading, session = self.machine.newest[name]
        low, high = told["cold_go_mm"], told["cold_no_go_mm"]
        self.near(told["go_mm"], reading["go_mm"], 0.0, name, "go")
        self.near(told["no_go_mm"], reading["no_go_mm"], 0.0, name, "no-go")
        shift = opening_mm(line, felt_at(reading, session))
        if shift is not None:
            self.near(low, reading["go_mm"] - shift, NEAR_MM, name, "at 20 °C")
        self.near(high - low, reading["no_go_mm"] - reading["go_mm"], NEAR_MM, name, "between its stacks")
        middle = (low + high) / 2.0
        self.near(told["cold_gap_mm"], middle, NEAR_MM, name, "in the middle")
        parts = {"Moving": "moving_c", "Fixed": "fixed_c", "UpperJaw": "upper_jaw_c", "LowerJaw": "lower_jaw_c"}
        hot = opening_mm(line, {part: line["working"][key] for part, key in parts.items()})
        if hot is not None:
            self.near(told["hot_gap_mm"], middle + hot, NEAR_MM, name, "hot")
        even = (high - low) ** 2 / 12.0
        self.holds(even < told["u_mm"] ** 2, name, "is surer than its two stacks")
        sigma = math.sqrt(max(told["u_mm"] ** 2 - even, 1e-18))
        for key, p in zip(("p_below", "p_within", "p_above"), chances(limits["working"], low, high, sigma)):
            self.near(told[key], p, NEAR_P, name, key)
        wanted = verdict(limits, low, high, sigma, self.machine.conformity)
        soon = told["verdict"].startswith("soon_") and wanted in ("set_range", "working")
        self.holds(told["verdict"] == wanted or soon, name, told["verdict"], "and not", wanted)

    def action(self, told, line):
        zones = {station["station"]: ends(line["limits"], station["cold_go_mm"], station["cold_no_go_mm"])
                 for station in told["stations"] if not station["stale"]}
        worst = lambda zone: 2 if zone in (0, 6) else 1 if zone in (1, 5) else 0
        beyond_stop = [name for name, pair in zones.items() if max(map(worst, pair)) == 2]
        beyond = [name for name, pair in zones.items() if max(map(worst, pair)) == 1]
        if beyond_stop:
            self.holds(told["action"] == "stop", told["line"], told["action"], "beyond stop at", beyond_stop)
        elif beyond:
            self.holds(told["action"] != "leave", told["line"], "is left alone, beyond at", beyond)
        # A reason about a gap stands on the station it names, on the middle of its reading.
        middles = {station["station"]: station["cold_gap_mm"] for station in told["stations"]}
        for reason in told["reasons"]:
            limit = re.match(r"(\w\d) .* (?:is|may be) (under|over) the (stop|working) limit", reason["text"])
            if limit:
                name, side, which = limit.groups()
                end = line["limits"][which]["min_mm" if side == "under" else "max_mm"]
                self.near(reason["limit_mm"], end, 0.0, name, which, "limit")
                self.near(reason["value_mm"], middles[name], NEAR_MM, name, "value")

    def edges(self, told):
        for blade in told["edges"]:
            edge, since_h = self.machine.edges[blade["blade"]]
            in_use = [it for it in blade["edges"] if it["state"] == "in_use"]
            self.holds([it["edge"] for it in in_use] == [edge], blade["blade"], "edge", edge, "and not", in_use)
            self.near(in_use[0]["hours_h"], self.machine.service_h - since_h, 1e-6, blade["blade"], "hours")
            self.near(blade["table_h"], self.machine.blades[blade["blade"]]["hours_per_edge_h"], 0.0, blade["blade"], "table")

    def recipe(self, told, line, shelf):
        close_by = 0.0
        for entry in told["recipe"]:
            blade, pack = self.machine.blades[entry["blade"]], list(self.machine.packs[entry["blade"]])
            for shim in map(nm, entry["take_out_mm"]):
                self.holds(shim in pack, told["line"], shim, "nm comes out and was not there")
                if shim in pack:
                    pack.remove(shim)
            for shim in map(nm, entry["put_in_mm"]):
                shelf[shim] = shelf.get(shim, 0) - 1
                # What a turned blade gets back came out of the same pack, so it needs no shelf.
                self.holds(0 <= shelf[shim] or told["action"] in ("rotate", "replace"), shim, "nm is not on the shelf")
                pack.append(shim)
            rules = blade.get("pack")
            if rules:
                self.holds(sum(pack) <= nm(rules["thickest_mm"]), told["line"], "pack of", sum(pack), "nm")
                self.holds(len(pack) <= rules["most_shims"], told["line"], "pack of", len(pack), "shims")
            if entry["bolts"]:
                count = len(blade["bolts"]["from_pivot_mm"])
                self.holds(1 <= entry["bolts"][0] <= entry["bolts"][1] <= count, told["line"], entry["bolts"])
            change = sum(entry["put_in_mm"]) - sum(entry["take_out_mm"])
            close_by += change * math.cos(math.radians(blade["face_angle_deg"]))
        turned = any(entry["edge"] or entry["new_blade"] for entry in told["recipe"])
        working = line["limits"]["working"]
        for station in told["stations"]:
            after = station["after_mm"]
            if turned or not told["recipe"]:
                self.holds(after is None, station["station"], "promises", after)
                continue
            self.near(after, station["cold_gap_mm"] - close_by, NEAR_MM, station["station"], "after")
            inside = after is not None and nm(working["min_mm"]) <= nm(after) <= nm(working["max_mm"])
            self.holds(inside, station["station"], after, "is outside the working limits after work")

    def bolts(self, told):
        if not told["bolts"] or not told["recipe"]:
            return
        bolts = self.machine.blades[told["recipe"][0]["blade"]]["bolts"]
        self.near(told["bolts"]["torque_nm"], bolts["torque_nm"], 0.0, told["line"], "torque")
        self.near(told["bolts"]["first_torque_nm"], bolts["first_torque_nm"], 0.0, told["line"], "first torque")
        every = list(range(1, len(bolts["from_pivot_mm"]) + 1))
        self.holds(sorted(told["bolts"]["order"]) == every, told["line"], "bolts", told["bolts"]["order"])
        share = re.search(r"at friction ([\d.]+) that is (\d+)\D*% of the proof load", told["bolts"]["source"])
        self.holds(share is not None, told["line"], told["bolts"]["source"])
        if share:
            wanted = 100.0 * proof_share(bolts["size"], bolts["grade"], bolts["torque_nm"], float(share[1]))
            self.near(float(share[2]), wanted, 1.0, told["line"], "share of proof")

    def pads_grow_mm(self):
        """How much nearer the pads come by the recipe, if they do."""
        for told in self.answer["lines"]:
            if self.machine.lines[told["line"]]["toward"] == "Pads" and told["recipe"] and \
                    not any(entry["edge"] or entry["new_blade"] for entry in told["recipe"]):
                return sum(
                    (sum(entry["put_in_mm"]) - sum(entry["take_out_mm"]))
                    * math.cos(math.radians(self.machine.blades[entry["blade"]]["face_angle_deg"]))
                    for entry in told["recipe"])
        return 0.0

    def moved_by_pads(self, told, line, grown):
        reasons = [it for it in told["reasons"] if "guide pads move the upper jaw" in it["text"]]
        sign = {"Cutting": -1.0, "Guide": 1.0}.get(line["toward"], 0.0)
        self.holds(bool(reasons) == bool(grown * sign), told["line"], "pads by", grown, "and", len(reasons), "reasons")
        if not reasons or not grown * sign:
            return
        self.holds(told["provisional"] or not told["recipe"], told["line"], "is not provisional")
        lever = lambda name: self.machine.station(name)["from_pivot_mm"] / self.machine.shear["geometry"]["pads_mm"]
        then = [it["cold_gap_mm"] + sign * grown * lever(it["station"]) for it in told["stations"]]
        closes = sign * grown < 0.0
        self.near(reasons[0]["value_mm"], min(then) if closes else max(then), NEAR_MM, told["line"], "after the pads")
        end = line["limits"]["working"]["min_mm" if closes else "max_mm"]
        self.near(reasons[0]["limit_mm"], end, 0.0, told["line"], "limit after the pads")


# ISO 898-1 proof loads in kN; bearing of the head and hole by ISO 4014 and ISO 273.
BOLTS = {("M20", "10.9"): (203.0, 2.5, 20.0, 28.19, 22.0), ("M24", "10.9"): (293.0, 3.0, 24.0, 33.61, 26.0)}


def proof_share(size, grade, torque_nm, friction):
    proof_kn, pitch, d, head, hole = BOLTS[size, grade]
    pitch_diameter, head_diameter = d - 0.649519 * pitch, (head + hole) / 2.0
    lever = 0.159 * pitch + 0.578 * pitch_diameter * friction + 0.5 * head_diameter * friction
    return torque_nm / lever / proof_kn


def decide(program, yard, name):
    told = subprocess.run([program, "decide", yard, "--shear", name, "--json"], capture_output=True, text=True, check=True)
    return json.loads(told.stdout)["shears"][0]


def one_more_visit(rng, yard, machine):
    """Every station anew, cold, in a line that is anything from too tight to too wide."""
    readings = []
    for line in machine.shear["lines"]:
        limits = line["limits"]
        top = limits["stop"]["max_mm"] + 0.1
        first = rng.uniform(0.0, top) if rng.random() < 0.5 else rng.uniform(
            limits["working"]["min_mm"], limits["working"]["max_mm"] + 0.1)
        if line["toward"] == "Pads" and rng.random() < 0.7:
            first = rng.uniform(0.3, 0.9)
        slope = rng.choice([0.0, 0.0, 0.02, 0.05])
        for place, station in enumerate(line["stations"]):
            go = round((first + slope * place) / 0.05) * 0.05
            readings.append(f'(station: "{station["station"]}", go_mm: {go:.2f}, no_go_mm: {go + 0.05:.2f})')
    session = yard / "shears" / machine.name / "sessions" / "2026-12-01T0700Z-0001.ron"
    meter = max(read(path)["meter_h"] for path in session.parent.glob("*.ron")) + 8.0
    session.write_text(
        f'(format: 1, id: "{session.stem}", shear: "{machine.name}", taken: "2026-12-01T07:00:00Z", '
        f'meter_h: {meter:.1f}, by: "QX", readings: [{", ".join(readings)}])')


def lies(answer):
    """The answer, each time with one number or word changed, and what was changed."""
    def change(path, value, words):
        lie = copy.deepcopy(answer)
        place = lie
        for key in path[:-1]:
            place = place[key]
        place[path[-1]] = value
        return lie, words
    for at, line in enumerate(answer["lines"]):
        for number, station in enumerate(line["stations"]):
            path = ("lines", at, "stations", number)
            wrong = "working" if station["verdict"] != "working" else "too_wide"
            yield change((*path, "verdict"), wrong, "a verdict")
            yield change((*path, "p_within"), station["p_within"] - 1e-6, "a probability")
            yield change((*path, "cold_gap_mm"), station["cold_gap_mm"] + 5e-6, "a gap")
            after = station["after_mm"]
            yield change((*path, "after_mm"), 0.4 if after is None else after + 5e-6, "a gap after work")
        for number, blade in enumerate(line["edges"]):
            for place, edge in enumerate(blade["edges"]):
                if edge["state"] == "in_use":
                    path = ("lines", at, "edges", number, "edges", place, "hours_h")
                    yield change(path, (edge["hours_h"] or 0.0) + 0.1, "hours on an edge")
        if line["recipe"]:
            taken = line["recipe"][0]["take_out_mm"]
            yield change(("lines", at, "recipe", 0, "take_out_mm"), [*taken, 0.77], "a shim")
        if line["recipe"] and line["bolts"]:
            yield change(("lines", at, "bolts", "torque_nm"), line["bolts"]["torque_nm"] + 1.0, "a torque")


def main():
    program = Path(sys.argv[1]).absolute()
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else random.SystemRandom().randrange(2**32)
    rng = random.Random(seed)
    print(f"seed {seed}")
    agreed, wrong, found, missed = 0, [], 0, []
    with tempfile.TemporaryDirectory() as folder:
        for name in MACHINES:
            for visit in range(VISITS + 1):
                yard = Path(folder) / f"{name}-{visit}"
                shutil.copytree(YARD, yard)
                if visit:
                    one_more_visit(rng, yard, Machine(yard, name))
                machine, answer = Machine(yard, name), decide(program, yard, name)
                check = Check(machine, answer).all()
                agreed += check.agreed
                wrong += [f"visit {visit}: {words}" for words in check.wrong]
                if visit == 0:
                    for lie, words in lies(answer):
                        found += 1
                        if not Check(machine, lie).all().wrong:
                            missed.append(f"{name}: {words}")
    for words in wrong + [f"not found: {words}" for words in missed]:
        print(words)
    print(f"{agreed} numbers agree, {len(wrong)} differ; {found - len(missed)} of {found} lies found")
    return bool(wrong or missed)


if __name__ == "__main__":
    sys.exit(main())
