#!/usr/bin/env python3
"""Makes random small projects with windows, lags and blocks, and lets OR-Tools CP-SAT (from PyPI) say the shortest makespan of each.

Writes windows.json beside it. A makespan of null: there is no schedule. Run by hand; the tests read the file alone.
"""
import json
import pathlib
import random

from ortools.sat.python import cp_model

SEED, COUNT, HORIZON = 20261125, 150, 400


def project(dice):
    n = dice.randint(4, 16)
    kinds = dice.randint(1, 6)
    capacities = [dice.randint(1, 6) for _ in range(kinds)]
    activities = []
    for _ in range(n):
        demand = [dice.randint(1, c) if dice.random() < 0.5 else 0 for c in capacities]
        earliest = dice.randint(0, 15) if dice.random() < 0.3 else 0
        latest = earliest + dice.randint(5, 60) if dice.random() < 0.25 else None
        activities.append([dice.choice([0, 1, 2, 3, 5, 8, 13]), demand, earliest, latest])
    arcs = []
    for a in range(n):
        for b in range(a + 1, n):
            if dice.random() < 1.5 / n:
                lag = activities[a][0] if dice.random() < 0.7 else dice.randint(-3, 12)
                arcs.append([a, b, lag])
                if dice.random() < 0.35:
                    arcs.append([b, a, -max(lag, 0) - dice.randint(0, 12)])
    blocks = []
    for _ in range(dice.randint(0, 3)):
        k, start = dice.randrange(kinds), dice.randint(0, 40)
        blocks.append([k, start, start + dice.randint(1, 15), dice.randint(1, capacities[k])])
    return {"capacities": capacities, "activities": activities, "arcs": arcs, "blocks": blocks}


def shortest(p):
    model = cp_model.CpModel()
    starts, spans = [], []
    end = model.new_int_var(0, HORIZON, "")
    for duration, _, earliest, latest in p["activities"]:
        s = model.new_int_var(earliest, HORIZON if latest is None else latest, "")
        starts.append(s)
        spans.append(model.new_fixed_size_interval_var(s, duration, ""))
        model.add(end >= s + duration)
    for a, b, lag in p["arcs"]:
        model.add(starts[b] >= starts[a] + lag)
    for k, capacity in enumerate(p["capacities"]):
        # blocks of one resource that lie over each other take no more than there is, together
        edges = sorted({t for r, f, t2, _ in p["blocks"] if r == k for t in (f, t2)})
        away = []
        for f, t in zip(edges, edges[1:]):
            amount = sum(x[3] for x in p["blocks"] if x[0] == k and x[1] <= f and t <= x[2])
            if amount:
                away.append((model.new_fixed_size_interval_var(f, t - f, ""), min(amount, capacity)))
        takes = [(s, a[1][k]) for s, a in zip(spans, p["activities"]) if a[0] and a[1][k]] + away
        model.add_cumulative([s for s, _ in takes], [d for _, d in takes], capacity)
    model.minimize(end)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model)
    if status == cp_model.OPTIMAL:
        return int(solver.objective_value)
    assert status == cp_model.INFEASIBLE, status
    return None


dice = random.Random(SEED)
out = []
for _ in range(COUNT):
    p = project(dice)
    p["makespan"] = shortest(p)
    out.append(p)
lines = ",\n".join(json.dumps(p, separators=(",", ":")) for p in out)
pathlib.Path(__file__).with_suffix(".json").write_text("[\n" + lines + "\n]\n")
print(sum(p["makespan"] is None for p in out), "of", COUNT, "without a schedule")
