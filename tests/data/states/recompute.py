"""Recomputes every line of this folder by slow, plain means and compares: unknowns are bracketed and halved.

Nothing but the standard library. Says what differs by more than 1e-8 and fails.
"""
import glob
import json
import math
import os
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
G = 9.80665
bad = []


def halve(rising, low, high):
    for _ in range(200):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        if rising(middle) < 0.0:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def colebrook(reynolds, relative):
    """Factor and its slope in Re."""
    x = halve(lambda x: x + 2.0 * math.log10(relative / 3.7 + 2.51 * x / reynolds), 1.0, 30.0)
    two, inside = 2.0 / math.log(10.0), relative / 3.7 + 2.51 * x / reynolds
    slope = two * 2.51 * x / reynolds**2 / inside / (1.0 + two * 2.51 / reynolds / inside)
    return 1.0 / x**2, -2.0 / x**3 * slope


def factor(reynolds, relative):
    if reynolds <= 2000.0:
        return 64.0 / reynolds
    if reynolds >= 4000.0:
        return colebrook(reynolds, relative)[0]
    t, (end, end_slope) = reynolds / 2000.0 - 1.0, colebrook(4000.0, relative)
    start, start_slope = 0.032, -0.032 / 2000.0
    return ((1 + 2 * t) * (1 - t) ** 2 * start + t * (1 - t) ** 2 * 2000.0 * start_slope +
            t * t * (3 - 2 * t) * end + t * t * (t - 1) * 2000.0 * end_slope)


class Line:
    def __init__(self, inputs):
        self.points, self.bore = inputs["points"], inputs["bore_m"]
        self.given, self.ha = inputs, inputs["atmospheric_head_m"]
        stations = [p[0] for p in self.points]
        self.pockets = [(stations.index(p["crest_m"]), stations.index(p["low_m"])) for p in inputs["pockets"]]

    def piece(self, a, b):
        (x0, z0), (x1, z1) = self.points[a], self.points[b]
        return math.hypot(x1 - x0, z1 - z0)

    def per_metre(self, flow):
        v = flow / (math.pi * self.bore**2 / 4.0)
        reynolds = v * self.bore / self.given["kinematic_viscosity_m2s"]
        head = v * v / (2.0 * G)
        return factor(reynolds, self.given["roughness_m"] / self.bore) * head / self.bore, head

    def need(self, flow, kept, compressed=True, mouth=True):
        """Level that the box must have for this flow with the pockets of `kept` in place, and each pocket's state."""
        loss, head = self.per_metre(flow)
        grade, states = self.points[-1][1], {}
        at = len(self.points) - 1
        for crest in range(len(self.points) - 2, -1, -1):
            low = dict(self.pockets).get(crest) if crest in kept else None
            if any(c < crest + 1 <= l and c in kept for c, l in self.pockets) and low is None:
                continue  # within a leg that holds a pocket: done when its crest comes
            z = self.points[crest][1]
            if low is None:
                grade += loss * self.piece(crest, at)
                if crest > 0 or mouth:
                    grade = max(grade, z)
            else:  # one straight leg: it falls evenly from the crest to the low point
                zl, length = self.points[low][1], self.piece(crest, low)
                wet = lambda y: length * (y - zl) / (z - zl)
                gauge = lambda y: grade + loss * wet(y) - y
                y = zl
                if compressed:
                    boyle = lambda y: self.ha * (z - zl) - (self.ha + gauge(y)) * (z - y)
                    y = halve(boyle, zl, z)
                states[crest] = (y, gauge(y))
                grade = z + gauge(y)
            at = crest
        return grade + (1.0 + self.given["entrance_loss"]) * head, states

    def flow(self, kept, compressed=True):
        return halve(lambda q: self.need(q, kept, compressed)[0] - self.given["box_level_m"], 1e-9, 0.1)


def same(name, what, wanted, got):
    if abs(got - wanted) > 1e-8 * abs(wanted):
        bad.append(f"{name}: {what}: written {wanted!r}, here {got!r}")


for path in sorted(glob.glob(os.path.join(HERE, "*.json"))):
    name = os.path.basename(path)
    with open(path) as file:
        data = json.load(file)
    line, expected = Line(data["inputs"]), data["expected"]
    if any(low != crest + 1 for crest, low in line.pockets):
        sys.exit(f"{name}: a leg of several pieces is beyond this program")
    stations = [p[0] for p in line.points]
    every = [crest for crest, _ in line.pockets]
    same(name, "flow without air", expected["flow_without_air_m3s"], line.flow([]))
    first = line.flow(every)
    same(name, "flow at first", expected["flow_at_first_m3s"], first)
    states = line.need(first, every)[1]
    for pocket in expected["pockets_at_first"]:
        y, gauge = states[stations.index(pocket["crest"])]
        same(name, f"interface at {pocket['crest']}", pocket["interface_level_m"], y)
        same(name, f"gauge head at {pocket['crest']}", pocket["gauge_m"], gauge)
    if expected.get("flow_if_pockets_do_not_compress_m3s"):
        same(name, "flow, never compressed", expected["flow_if_pockets_do_not_compress_m3s"],
             line.flow(every, compressed=False))
    for step in expected["as_pockets_go_from_the_top"]:
        kept = [c for c in every if stations[c] not in step["without_pockets_at"]]
        same(name, f"without {step['without_pockets_at']}", step["flow_m3s"], line.flow(kept))
    # Just moving, and what the air asks alone: the mouth's own floor aside.
    start = line.need(1e-9, every, mouth=False)[0]
    same(name, "level to start", expected["level_needed_to_start_m"], start)
    print(f"{name}: first {first:.6g} m3/s")
if bad:
    sys.exit("\n".join(bad))
