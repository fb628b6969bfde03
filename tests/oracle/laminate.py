#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A second opinion on 1,000 random ply stacks: laminate.py PROGRAM [COUNT [SEED]].

PROGRAM is laminate.c beside this file. Everything is worked out again in NumPy by other ways:
stiffness turns by transformation matrices, A B D are differences of powers of z, the stresses
between plies are polynomials, and failure is bisected. Exit status 1 where the two differ by more
than 1e-10 (1e-9 for what is bisected). Materials are invented."""

import struct
import subprocess
import sys

import numpy as np

CLOSE, BISECTED = 1e-10, 1e-9
FIELDS = ("E1", "E2", "G12", "nu12", "G13", "G23", "density", "t", "angle",
          "Xt", "Xc", "Yt", "Yc", "S", "e1", "e2", "g12", "spare")


def bits(x):
    return struct.pack(">d", x).hex()


def number(text):
    return struct.unpack(">d", bytes.fromhex(text))[0]


def random_stack(draw):
    n = int(draw.integers(1, 9))
    E1 = 10 ** draw.uniform(9, 11.3, n)
    E2 = E1 * 10 ** draw.uniform(-1.5, 0.3, n)
    G12 = E1 * 10 ** draw.uniform(-1.5, 0, n)
    Xt, Xc = 10 ** draw.uniform(7.5, 9.2, (2, n))
    return {"E1": E1, "E2": E2, "G12": G12,
            "nu12": draw.uniform(-0.2, 0.8, n) * np.sqrt(E1 / E2),
            "G13": G12 * draw.uniform(0.2, 1.5, n), "G23": G12 * draw.uniform(0.2, 1.5, n),
            "density": draw.uniform(100, 3000, n), "t": 10 ** draw.uniform(-4, -2, n),
            "angle": draw.uniform(-np.pi, np.pi, n), "Xt": Xt, "Xc": Xc,
            "Yt": np.minimum(Xt, Xc) * draw.uniform(0.05, 1.9, n),
            "Yc": np.minimum(Xt, Xc) * draw.uniform(0.05, 1.9, n),
            "S": 10 ** draw.uniform(6.5, 8, n), "e1": draw.uniform(-1e-4, 1e-4, n),
            "e2": draw.uniform(-1e-4, 1e-4, n), "g12": draw.uniform(-1e-4, 1e-4, n),
            "spare": np.zeros(n)}


def turn(angle):
    """Stresses along the ply from those in laminate axes."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c * c, s * s, 2 * c * s], [s * s, c * c, -2 * c * s],
                     [-c * s, c * s, c * c - s * s]])


def reduced(p, i):
    compliance = np.array([[1 / p["E1"][i], -p["nu12"][i] / p["E1"][i], 0],
                           [-p["nu12"][i] / p["E1"][i], 1 / p["E2"][i], 0],
                           [0, 0, 1 / p["G12"][i]]])
    return np.linalg.inv(compliance)


def matrices(p):
    n = len(p["t"])
    z = np.concatenate(([0], np.cumsum(p["t"]))) - np.sum(p["t"]) / 2
    Q = [reduced(p, i) for i in range(n)]
    T = [turn(a) for a in p["angle"]]
    bar = [np.linalg.solve(T[i], Q[i]) @ np.linalg.inv(T[i]).T for i in range(n)]
    A = sum(bar[i] * (z[i + 1] - z[i]) for i in range(n))
    B = sum(bar[i] * (z[i + 1] ** 2 - z[i] ** 2) / 2 for i in range(n))
    D = sum(bar[i] * (z[i + 1] ** 3 - z[i] ** 3) / 3 for i in range(n))
    full = np.block([[A, B], [B, D]])
    scale = np.sqrt(np.diag(full))
    inverse = np.linalg.inv(full / np.outer(scale, scale)) / np.outer(scale, scale)
    return z, Q, T, bar, A, B, D, full, inverse


def shear(p, z, bar, full):
    """Shear stiffness and the stresses in the middle of each ply for unit forces."""
    n = len(bar)
    compliance, middle = np.zeros((2, 2)), np.zeros((n, 2, 2))
    at = np.zeros((2, 2))
    grown = []
    for side in range(2):
        free = [0, 2, 3, 5] if side == 0 else [1, 2, 4, 5]
        scale = np.sqrt(np.diag(full)[free])
        right = np.array([0, 0, 1, 0]) / scale
        part = np.linalg.solve(full[np.ix_(free, free)] / np.outer(scale, scale), right) / scale
        rate = np.zeros(6)
        rate[free] = part
        grown.append(rate)
    for i in range(n):
        poly = [[None, None], [None, None]]
        for side, rows in enumerate(((0, 2), (2, 1))):
            for k, row in enumerate(rows):
                even, bent = bar[i][row] @ grown[side][:3], bar[i][row] @ grown[side][3:]
                rising = np.poly1d([-bent / 2, -even, 0])
                poly[side][k] = rising - rising(z[i]) + at[side, k]
        c, s = float(np.cos(p["angle"][i])), float(np.sin(p["angle"][i]))
        local = [(c * q[0] + s * q[1], c * q[1] - s * q[0]) for q in poly]
        for a in range(2):
            for b in range(2):
                energy = (local[a][0] * local[b][0] / float(p["G13"][i])
                          + local[a][1] * local[b][1] / float(p["G23"][i])).integ()
                compliance[a, b] += energy(z[i + 1]) - energy(z[i])
        half = (z[i] + z[i + 1]) / 2
        middle[i] = [[q(half) for q in row] for row in poly]
        at = np.array([[q(z[i + 1]) for q in row] for row in poly])
    return np.linalg.inv(compliance), middle


def faces(p, z, Q, T, strain, free):
    """Stress along each ply at both faces: plies, faces, three stresses."""
    out = np.zeros((len(Q), 2, 3))
    for i in range(len(Q)):
        for k in range(2):
            whole = strain[:3] + z[i + k] * strain[3:]
            local = np.linalg.inv(T[i]).T @ whole  # engineering shear turns the other way round
            out[i, k] = Q[i] @ (local - free[i])
    return out


def used(p, s, criterion):
    m = {k: v[:, None] for k, v in p.items()}
    s1, s2, s12 = s[..., 0], s[..., 1], s[..., 2]
    if criterion == 2:
        s1, s2 = s1 - m["nu12"] * s2, s2 - m["nu12"] * m["E2"] / m["E1"] * s1
    X, Y = np.where(s1 > 0, m["Xt"], m["Xc"]), np.where(s2 > 0, m["Yt"], m["Yc"])
    if criterion in (0, 2):
        return np.maximum(np.maximum(abs(s1) / X, abs(s2) / Y), abs(s12) / m["S"])
    if criterion == 3:
        return (s1 * s1 - s1 * s2) / X ** 2 + (s2 / Y) ** 2 + (s12 / m["S"]) ** 2
    f11, f22 = 1 / (m["Xt"] * m["Xc"]), 1 / (m["Yt"] * m["Yc"])
    return (f11 * s1 * s1 + f22 * s2 * s2 - np.sqrt(f11 * f22) * s1 * s2 + (s12 / m["S"]) ** 2
            + (1 / m["Xt"] - 1 / m["Xc"]) * s1 + (1 / m["Yt"] - 1 / m["Yc"]) * s2)


def factors(p, base, add, criterion):
    """For each ply the least factor at which one of its faces reaches its limit."""
    low = np.zeros(base.shape[:2])
    high = np.ones(base.shape[:2])
    broken = used(p, base, criterion) >= 1
    for _ in range(400):
        short = used(p, base + high[..., None] * add, criterion) < 1
        if not short.any():
            break
        high = np.where(short, 2 * high, high)
    for _ in range(1100):
        half = (low + high) / 2
        short = used(p, base + half[..., None] * add, criterion) < 1
        low, high = np.where(short, half, low), np.where(short, high, half)
        if np.all(high - low <= 1e-13 * high):
            break
    return np.where(broken, 0, high).min(axis=1)


def expected(p, load, force):
    z, Q, T, bar, A, B, D, full, inverse = matrices(p)
    n, h = len(Q), np.sum(p["t"])
    H, middle = shear(p, z, bar, full)
    free = np.stack([p["e1"], p["e2"], p["g12"]], axis=1)
    forced = np.zeros(6)
    for i in range(n):
        whole = bar[i] @ (T[i].T @ free[i])
        forced[:3] += whole * (z[i + 1] - z[i])
        forced[3:] += whole * (z[i + 1] ** 2 - z[i] ** 2) / 2
    strain, locked, driven = inverse @ (load + forced), inverse @ forced, inverse @ load
    stress = faces(p, z, Q, T, strain, free)
    base = faces(p, z, Q, T, locked, free)
    add = faces(p, z, Q, T, driven, np.zeros((n, 3)))
    size = np.sqrt(np.diag(inverse))
    unit = np.array([1, 1, 1, h, h, h])
    a = np.trace(A)
    groups = [("A", A.ravel() / a, 1 / a), ("B", B.ravel() / (a * h), 1 / (a * h)),
              ("D", D.ravel() / (a * h * h), 1 / (a * h * h)),
              ("inverse", (inverse / np.outer(size, size)).ravel(),
               (1 / np.outer(size, size)).ravel())]
    stiff = np.sqrt(H[0, 0] * H[1, 1])
    groups.append(("shear stiffness", np.array([H[0, 0], H[1, 1], H[0, 1]]) / stiff, 1 / stiff))
    most = abs(strain * unit).max()
    groups.append(("strain", strain * unit / most, unit / most))
    top = abs(stress).max(axis=(1, 2), keepdims=True) + abs(base).max()
    groups.append(("stress", (stress / top).ravel(), np.repeat(1 / top.ravel(), 6)))
    for criterion in range(4):
        begin = np.zeros_like(base) if criterion == 3 else base
        answer = factors(p, begin, add, criterion)
        with np.errstate(divide="ignore"):
            scale = np.where(answer > 0, 1 / answer, 1 / (1e-300 + answer.max()))
        groups.append(("factor %d" % criterion, answer * scale, scale))
    groups.append(("stress between plies", (force @ middle).ravel() * h, h))
    return groups


def main():
    program = sys.argv[1]
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 1000
    draw = np.random.default_rng(int(sys.argv[3]) if len(sys.argv) > 3 else 1)
    cases, lines = [], []
    for _ in range(count):
        p = random_stack(draw)
        h = np.sum(p["t"])
        load = draw.uniform(-1e4, 1e4, 6) * np.array([1, 1, 1, h, h, h])
        force = draw.uniform(-1, 1, 2)
        cases.append((p, load, force))
        lines.append(str(len(p["t"])))
        for i in range(len(p["t"])):
            lines.append(" ".join(bits(float(p[k][i])) for k in FIELDS))
        lines.append(" ".join(bits(float(x)) for x in (*load, *force)))
    answer = subprocess.run([program], input="\n".join(lines) + "\n", capture_output=True,
                            text=True, check=False)
    if answer.returncode != 0:
        sys.exit("%s ended with %d: %s" % (program, answer.returncode, answer.stderr))
    given = iter(answer.stdout.split())
    worst, faults, compared = {}, 0, 0
    for index, (p, load, force) in enumerate(cases):
        for name, wanted, scale in expected(p, load, force):
            got = np.array([number(next(given)) for _ in range(len(wanted))]) * scale
            off = float(np.max(abs(got - wanted)))
            compared += len(wanted)
            worst[name] = max(worst.get(name, 0.0), off)
            if not off <= (BISECTED if name.startswith("factor") else CLOSE):
                faults += 1
                print("stack %d: %s differs by %.3g" % (index, name, off))
    if next(given, None) is not None:
        sys.exit("the program said more than was asked")
    for name, off in worst.items():
        print("%-22s %.2g" % (name, off))
    print("%d stacks, %d numbers, %d faults" % (count, compared, faults))
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
