"""Holds the solved heads and flows of this folder to both balances, within the digits that are printed.

Nothing but the standard library, and no solver: in a network whose losses rise with the flow only one state satisfies
both balances, so heads and flows that do are right, whatever found them.
"""
import csv
import os
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
FOOT, INCH, HALF_DIGIT = 0.3048, 0.0254, 0.5e-6  # printed to six decimals
bad, seen, worst_head, worst_flow = [], 0, 0.0, 0.0


def table(name):
    with open(os.path.join(HERE, name + ".csv"), newline="") as file:
        return list(csv.DictReader(file))


def constants(words):
    """"k10.5088_n1/0.54_m2.63/0.54": h = k L Q^n / (C^n D^m) in metres and seconds."""
    def value(text):
        top, _, under = text.partition("/")
        return float(top) / float(under or 1)
    return [value(part[1:]) for part in words.split("_")]


def check(network, runs, key, length, demand, fixed, flow, head, metre, flow_si):
    global seen, worst_head, worst_flow
    lines = {row[key]: row for row in table(f"{network}_{runs}")}
    nodes = {row["node_id"]: row for row in table(f"{network}_junctions")}
    heads, flows = {}, {}
    for row in table(f"{network}_solved_heads"):
        heads.setdefault((row["design"], row["hw_constant_set"]), {})[row["node_id"]] = float(row[head])
    for row in table(f"{network}_solved_flows"):
        flows.setdefault((row["design"], row["hw_constant_set"]), []).append(row)
    if set(heads) != set(flows) or not heads:
        bad.append(f"{network}: designs of heads and of flows differ")
    for state, rows in flows.items():
        k, n, m = constants(state[1])
        at = dict(heads[state])
        at.update({i: float(node[fixed]) for i, node in nodes.items() if node[fixed]})
        left = {i: -float(node[demand]) for i, node in nodes.items() if not node[fixed]}
        touches = {i: 1 for i in nodes}
        for row in rows:
            line, total = lines[row[key]], float(row[flow])
            for end, sign in ((line["from_node"], -1.0), (line["to_node"], 1.0)):
                touches[end] += 1
                if end in left:
                    left[end] += sign * total
            drop = (at[line["from_node"]] - at[line["to_node"]]) * metre
            parts = [(total, row.get("diameter_in"))]
            if "parallel_part_ft3_per_s" in row:  # two tunnels side by side have the same loss
                parts = [(float(row["existing_part_ft3_per_s"]), row["existing_diameter_in"]),
                         (float(row["parallel_part_ft3_per_s"]), row["parallel_diameter_in"])]
            for part, bore in parts:
                if float(bore) == 0.0:
                    continue
                q, d = abs(part) * flow_si, float(bore) * INCH
                per = k * float(line[length]) * metre / (float(line["hw_C"]) ** n * d ** m)
                loss = per * q ** n * (1.0 if part >= 0.0 else -1.0)
                slack = 2.0 * HALF_DIGIT * metre + n * per * q ** (n - 1.0) * HALF_DIGIT * flow_si
                off = abs(loss - drop) / slack
                worst_head, seen = max(worst_head, off), seen + 1
                if off > 1.01:
                    bad.append(f"{network} {state} {key} {row[key]}: drop {drop}, loss {loss}")
        for node, rest in left.items():
            off = abs(rest) / (touches[node] * HALF_DIGIT)
            worst_flow = max(worst_flow, off)
            if off > 1.01:
                bad.append(f"{network} {state} node {node}: {rest} left over")


metric = dict(length="length_m", demand="demand_m3_per_h", fixed="fixed_head_m", flow="flow_m3_per_h", head="head_m",
              metre=1.0, flow_si=1.0 / 3600.0)
check("two_loop", "runs", "run_id", **metric)
check("hanoi", "runs", "run_id", **metric)
check("new_york", "tunnels", "tunnel_id", length="length_ft", demand="demand_ft3_per_s", fixed="fixed_head_ft",
      flow="total_flow_ft3_per_s", head="head_ft", metre=FOOT, flow_si=FOOT**3)
print(f"{seen} losses; largest difference {worst_head:.2f} of heads and {worst_flow:.2f} of flows, in what rounding allows")
if bad:
    sys.exit("\n".join(bad[:20]))
