"""Recomputes every worked line of this folder by slow, plain means and compares.

Nothing but the standard library: each unknown is bracketed and halved until doubles end, a filling time is
summed by Simpson's rule, a choice of sizes is tried in full. Says what differs by more than 1e-9 and fails.
"""
import itertools
import json
import math
import os
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
G = 9.80665
worst, bad = {}, []


def case(number):
    name = next(f for f in sorted(os.listdir(HERE)) if f.startswith(number) and f.endswith(".json"))
    with open(os.path.join(HERE, name)) as file:
        data = json.load(file)
    return name, data["inputs"], data["expected"]


def same(name, what, wanted, got, share=1e-9, least=1e-12):
    off = abs(got - wanted) / max(abs(wanted), least / share)
    worst[name] = max(worst.get(name, 0.0), off)
    if not off <= share:
        bad.append(f"{name}: {what}: written {wanted!r}, here {got!r}")


def halve(rising, low, high):
    """Where a rising function is 0."""
    for _ in range(200):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        if rising(middle) < 0.0:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def factor(reynolds, relative):
    if reynolds <= 2000.0:
        return 64.0 / reynolds
    if reynolds < 4000.0:  # not reached by a figure that is compared
        return 0.032 + (factor(4000.0, relative) - 0.032) * (reynolds / 2000.0 - 1.0)
    x = halve(lambda x: x + 2.0 * math.log10(relative / 3.7 + 2.51 * x / reynolds), 1.0, 30.0)
    return 1.0 / (x * x)


def area(bore):
    return math.pi * bore * bore / 4.0


def velocity_head(flow, bore):
    return (flow / area(bore)) ** 2 / (2.0 * G)


def darcy(flow, length, bore, roughness, viscosity):
    if flow == 0.0:
        return 0.0
    reynolds = abs(flow) / area(bore) * bore / viscosity
    loss = factor(reynolds, roughness / bore) * length / bore * velocity_head(flow, bore)
    return math.copysign(loss, flow)


def hazen(flow, length, bore, c, k=10.6744, n=1.852, m=4.8704):
    return k * length * flow**n / (c**n * bore**m)


def flow_at(loss, head, most=1.0):
    return halve(lambda q: loss(q) - head, 0.0, most)


def friction_factors():
    name, _, expected = case("01")
    for row in expected["table"]:
        same(name, f"f({row['Re']}, {row['rel_rough']})", row["f"], factor(row["Re"], row["rel_rough"]))


def head_losses():
    name, given, expected = case("02")
    length, bore = given["L"], given["D"]
    for row in expected["rows"]:
        q = row["Q_m3s"]
        same(name, "Darcy-Weisbach", row["hf_dw"], darcy(q, length, bore, given["eps"], given["nu"]))
        same(name, "fittings", row["minor_K4"], 4.0 * velocity_head(q, bore))
        for words, loss in row["hf_hw"].items():
            s = expected["hw_constants"][words]
            same(name, words, loss, hazen(q, length, bore, given["C"], s["coef"], s["expQ"], s["expD"]))


def single_pipes():
    name, i, e = case("03")
    same(name, "Q", e["Q"], math.pi * G * i["D"] ** 4 * i["head_difference"] / (128.0 * i["nu"] * i["L"]))
    name, i, e = case("04")
    k = sum(i["K"].values())
    q = flow_at(lambda q: darcy(q, i["L"], i["D"], i["eps"], i["nu"]) + k * velocity_head(q, i["D"]),
                i["box_level"] - i["outlet_elevation"])
    same(name, "Q", e["Q"], q)
    same(name, "friction", e["friction_loss"], darcy(q, i["L"], i["D"], i["eps"], i["nu"]))
    name, i, e = case("05")
    foot, gallon = 0.3048, 3.785411784e-3 / 60.0
    bore, length = i["bore_in"] * 0.0254, i["length_ft"] * foot
    loss = lambda q: hazen(q, length, bore, i["C"]) + i["K_total_including_exit"] * velocity_head(q, bore)
    fall = (i["box_level_ft"] - i["outlet_elevation_ft"]) * foot
    same(name, "Q", e["Q_gpm"], flow_at(loss, fall) / gallon)
    same(name, "loss at 5", e["loss_at_5_gpm_ft"], loss(5.0 * gallon) / foot)
    same(name, "pressure", e["residual_pressure_at_5_gpm_psi"],
         (fall - loss(5.0 * gallon)) * i["density_for_psi"] * G / 6894.757293168)
    name, i, e = case("06")
    one = lambda p, q: hazen(q, p["L"], p["D"], p["C"]) + p["K"] * velocity_head(q, p["D"])
    q = flow_at(lambda q: one(i["pipes"][0], q) + one(i["pipes"][1], q), i["head_A"] - i["head_B"])
    same(name, "Q", e["Q"], q)
    same(name, "H", e["H_junction"], i["head_A"] - one(i["pipes"][0], q))


def networks():
    """The written flows and heads satisfy both balances; no other state does, as the losses rise with flow."""
    for number in ("08", "10"):
        name, i, e = case(number)
        heads = dict(i["fixed_heads"], **e["heads"])
        left = {node: -draw for node, draw in i["demands"].items()}
        for p in i["pipes"]:
            q = e["flows"][p["id"]]
            loss = darcy(q, p["L"], p["D"], p["eps"], i["nu"]) + p["K"] * velocity_head(q, p["D"])
            same(name, f"energy of {p['id']}", heads[p["a"]] - heads[p["b"]], loss)
            for node, sign in ((p["a"], -1.0), (p["b"], 1.0)):
                if node in left:
                    left[node] += sign * q
        for o in i["outlets"]:
            q = e["outlet_flows"][o["id"]]
            left[o["node"]] -= q
            if q > 0.0:
                same(name, o["id"], heads[o["node"]], o["z"] + o["K"] * velocity_head(q, o["D"]))
            elif heads[o["node"]] > o["z"]:
                bad.append(f"{name}: {o['id']} is dry below the grade line")
        for node, rest in left.items():
            same(name, f"balance of {node}", 1.0, 1.0 + rest / 1e-3)


def box():
    name, i, e = case("12")
    p = i["pipe"]
    loss = lambda q: darcy(q, p["L"], p["D"], p["eps"], i["nu"]) + p["K"] * velocity_head(q, p["D"])
    capacity = flow_at(loss, i["box_overflow_level"] - i["outlet_elevation"])
    same(name, "capacity", e["capacity"], capacity)
    for s in e["scenarios"]:
        q = min(s["inflow"], capacity)
        same(name, "Q", s["Q"], q)
        same(name, "overflow", s["overflow"], s["inflow"] - q, 1e-9, 1e-9)
        if s["box_level"] is not None:
            same(name, "level", s["box_level"], i["outlet_elevation"] + loss(q))


def along(i):
    """Length of pipe from the box to each surveyed point: station is plan distance."""
    out = [0.0]
    for (x0, z0), (x1, z1) in zip(i["points"], i["points"][1:]):
        out.append(out[-1] + math.hypot(x1 - x0, z1 - z0))
    return out


def profile_capacity(i, floors, level):
    """Least flow, over the points, that reaches that point full-bore with just its floor left."""
    length = along(i)
    mouth = 1.0 + i["K_entrance"]
    reach = []
    for j, floor in enumerate(floors):
        loss = lambda q: (mouth * velocity_head(q, i["bore"]) +
                          darcy(q, length[j], i["bore"], i["eps"], i["nu"]))
        reach.append(0.0 if floor >= level else flow_at(loss, level - floor))
    return min(reach), reach.index(min(reach))


def profiles():
    for number in ("15", "19a"):
        name, i, e = case(number)
        z = [p[1] for p in i["points"]]
        capacity, where = profile_capacity(i, z, i["box_overflow_level"])
        same(name, "capacity", e["capacity"], capacity)
        same(name, "point that governs", e["controlling_vertex"], where)
        same(name, "end to end", e["full_pipe_flow_ignoring_profile"],
             profile_capacity(i, [-1e9] * (len(z) - 1) + [z[-1]], i["box_overflow_level"])[0])
        for s in e["scenarios"]:
            length, head = along(i), z[-1]
            heads = [head]
            for j in range(len(z) - 2, -1, -1):
                asked = head + darcy(s["Q"], length[j + 1] - length[j], i["bore"], i["eps"], i["nu"])
                head = max(z[j], asked)
                heads.insert(0, head)
            for j, (wanted, got) in enumerate(zip(s["heads"], heads)):
                same(name, f"grade at {j}", wanted, got)
            for slack in s["slack_reaches"]:
                j = slack["reach"]
                friction = darcy(s["Q"], length[j + 1] - length[j], i["bore"], i["eps"], i["nu"])
                gap = z[j] - heads[j + 1] - friction
                share = gap / (gap + heads[j + 1] - z[j + 1])
                (x0, _), (x1, _) = i["points"][j : j + 2]
                same(name, f"lost in air in {j}", slack["head_lost_in_air"], gap)
                same(name, f"full again in {j}", slack["to_station"], x0 + share * (x1 - x0))
    name, i, e = case("20")
    z = [p[1] for p in i["points"]]
    same(name, "open", e["Q_open"], profile_capacity(i, z, i["box_overflow_level"])[0])
    suction = (i["p_atm"] - i["p_vapour"]) / (i["rho"] * G)
    floors = [v - suction for v in z[:-1]] + [z[-1]]
    q = profile_capacity(i, floors, i["box_overflow_level"])[0]
    same(name, "primed", e["Q_sealed_primed"], q)
    length = along(i)
    crest = z[-1] + darcy(q, length[2] - length[1], i["bore"], i["eps"], i["nu"])
    same(name, "suction at the crest", e["pressure_head_at_crest_sealed"], crest - z[1])


def shut_in(points, crest, low, bore, level):
    """Volume of the falling leg above a level."""
    total = 0.0
    for (x0, z0), (x1, z1) in zip(points[crest:low], points[crest + 1:low + 1]):
        share = 1.0 if level <= z1 else max(0.0, (z0 - level) / (z0 - z1))
        total += share * math.hypot(x1 - x0, z1 - z0) * area(bore)
    return total


def start_up(points, pockets, vented, bore, ha):
    """Head asked of the source, with and without compression, from the end back; and each pocket."""
    after = pockets[-1][1]
    head = stiff = max(p[1] for p in points[after:])
    found = {}
    for crest, low in reversed(pockets):
        zc, zl = points[crest][1], points[low][1]
        if crest in vented:
            found[crest] = {"gauge_head": 0.0, "interface": min(head, zc), "head_at_crest": max(zc, head)}
            head, stiff = max(zc, head), max(zc, stiff)
            continue
        whole = shut_in(points, crest, low, bore, zl)
        boyle = lambda y: ha * whole - (ha + head - y) * shut_in(points, crest, low, bore, y)
        y = halve(boyle, zl, min(zc, ha + head))
        found[crest] = {"gauge_head": head - y, "interface": y, "head_at_crest": zc + head - y}
        head, stiff = zc + head - y, zc + stiff - zl
    first = points[pockets[0][0]][1]  # water has to top the first crest in any case
    return max(head, first), max(stiff, first), found


def starts():
    name, i, e = case("22")
    ha = i["p_atm"] / (i["rho"] * G)
    pockets = [(p["crest"], p["low"]) for p in e["pockets"]]
    for s in e["scenarios"]:
        head, stiff, found = start_up(i["points"], pockets, s["vented_vertices"], i["bore"], ha)
        same(name, "asked", s["required_source_head_compressed"], head)
        same(name, "asked, never compressed", s["required_source_head_no_compression"], stiff)
        for pocket in s["pockets"]:
            for what, got in found[pocket["crest"]].items():
                same(name, f"{what} at {pocket['crest']}", pocket[what], got)
    name, i, e = case("25")
    head, stiff, found = start_up(i["points"], [(2, 3)], [], i["bore"], i["p_atm"] / (i["rho"] * G))
    same(name, "asked", e["required_source_head_compressed"], head)
    same(name, "asked, never compressed", e["required_source_head_no_compression"], stiff)
    same(name, "interface", e["interface"], found[2]["interface"])
    same(name, "gauge head", e["gauge_head"], found[2]["gauge_head"])


def filling():
    name, i, e = case("26")
    p = i["pipe"]
    loss = lambda q: darcy(q, p["L"], p["D"], p["eps"], i["nu"]) + p["K"] * velocity_head(q, p["D"])
    inlet = i["inlet_height_above_floor"]
    flow = lambda h: flow_at(loss, i["source_level"] - i["tank_floor"] - max(inlet, h))
    plan = area(i["tank_diameter"])

    def time(to):
        n = 200
        step = (to - inlet) / n
        weights = [1.0 if j in (0, n) else (4.0 if j % 2 else 2.0) for j in range(n + 1)]
        drowned = sum(w / flow(inlet + j * step) for j, w in enumerate(weights)) * step / 3.0
        return plan * (inlet / flow(0.0) + drowned)

    same(name, "time to the float", e["fill_time_s"], time(i["float_closes_at_depth"]))
    same(name, "time to half", e["time_to_half_depth_1p1_s"], time(1.1))
    same(name, "first flow", e["Q_initial"], flow(0.0))
    same(name, "last flow", e["Q_final"], flow(i["float_closes_at_depth"]))


def sizing():
    name, i, e = case("31")
    top, sizes = i["source_level"], i["sizes"]
    losses = [[darcy(r["Q"], r["L"], s["bore"], i["eps"], i["nu"]) for s in sizes] for r in i["reaches"]]
    for wanted, got in zip(e["head_loss_table"], losses):
        for a, b in zip(wanted, got):
            same(name, "loss", a, b)
    kept = []
    for choice in itertools.product(range(len(sizes)), repeat=len(i["reaches"])):
        head, cost = top, 0.0
        for j, (reach, s) in enumerate(zip(i["reaches"], choice)):
            head -= losses[j][s]
            cost += reach["L"] * sizes[s]["cost"]
            lower = min(reach["z_end"], i["reaches"][j - 1]["z_end"] if j else top)
            if head - reach["z_end"] < i["min_pressure_head"] or top - lower > sizes[s]["rating_m"]:
                break
        else:
            kept.append((cost, [sizes[s]["name"] for s in choice]))
    kept.sort()
    same(name, "designs that will do", e["feasible_count"], len(kept))
    for place, (cost, names) in zip(("optimum", "second_best"), kept):
        same(name, place, e[place + "_cost"], cost)
        if names != e[place + "_sizes"]:
            bad.append(f"{name}: {place}: {names}")


def surge():
    name, i, e = case("32")
    for p, row in zip(i["pipes"], e["rows"]):
        a = math.sqrt(p["K"] / i["rho"]) / math.sqrt(1.0 + p["c1"] * p["K"] / p["E"] * p["D"] / p["e"])
        same(name, "wave speed", row["a"], a)
        same(name, "rise", row["dH"], a * p["V"] / G)
        same(name, "period", row["period_2L_over_a"], 2.0 * i["L"] / a)
    slow = 10.0 * e["rows"][0]["period_2L_over_a"]
    same(name, "slow", e["slow_rise_PVC"], 2.0 * i["L"] * i["pipes"][0]["V"] / (G * slow))


for part in (friction_factors, head_losses, single_pipes, networks, box, profiles, starts, filling, sizing,
             surge):
    part()
for name, off in sorted(worst.items()):
    print(f"{name}: {off:.1e}")
if bad:
    sys.exit("\n".join(bad))
