#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Random ply stacks worked out a second way, one JSON line each.

Stiffness turns by the invariants U1 to U5, A B D are integrals of powers of z between ply faces,
and the inverse is Gauss-Jordan elimination in exact fractions. Usage: laminate_oracle.py [COUNT
[SEED]]. Standard library only. Materials are invented.
"""
import json
import math
import random
import sys
from fractions import Fraction


def turned(ply):
    """Reduced stiffness in laminate axes, order x y xy, as fractions."""
    share = 1 - ply["nu12"] ** 2 * ply["E2"] / ply["E1"]
    q11, q22, q66 = ply["E1"] / share, ply["E2"] / share, ply["G12"]
    q12 = ply["nu12"] * q22
    u1 = (3 * q11 + 3 * q22 + 2 * q12 + 4 * q66) / 8
    u2 = (q11 - q22) / 2
    u3 = (q11 + q22 - 2 * q12 - 4 * q66) / 8
    u4 = (q11 + q22 + 6 * q12 - 4 * q66) / 8
    u5 = (q11 + q22 - 2 * q12 + 4 * q66) / 8
    c2, s2 = math.cos(2 * ply["angle"]), math.sin(2 * ply["angle"])
    c4, s4 = math.cos(4 * ply["angle"]), math.sin(4 * ply["angle"])
    q16, q26 = u2 * s2 / 2 + u3 * s4, u2 * s2 / 2 - u3 * s4
    rows = [[u1 + u2 * c2 + u3 * c4, u4 - u3 * c4, q16],
            [u4 - u3 * c4, u1 - u2 * c2 + u3 * c4, q26],
            [q16, q26, u5 - u3 * c4]]
    return [[Fraction(x) for x in row] for row in rows]


def inverse(matrix):
    n = len(matrix)
    rows = [list(row) + [Fraction(int(i == j)) for j in range(n)]
            for i, row in enumerate(matrix)]
    for i in range(n):
        pivot = next(k for k in range(i, n) if rows[k][i] != 0)
        rows[i], rows[pivot] = rows[pivot], rows[i]
        rows[i] = [x / rows[i][i] for x in rows[i]]
        for k in range(n):
            if k != i and rows[k][i] != 0:
                factor = rows[k][i]
                rows[k] = [a - factor * b for a, b in zip(rows[k], rows[i])]
    return [row[n:] for row in rows]


def stack(plies):
    full = [[Fraction(0)] * 6 for _ in range(6)]
    h = sum(Fraction(p["thickness"]) for p in plies)
    low = -h / 2
    for ply in plies:
        high = low + Fraction(ply["thickness"])
        q = turned(ply)
        first, second, third = (high - low, (high ** 2 - low ** 2) / 2,
                                (high ** 3 - low ** 3) / 3)
        for i in range(3):
            for j in range(3):
                full[i][j] += q[i][j] * first
                full[i][j + 3] += q[i][j] * second
                full[i + 3][j] += q[i][j] * second
                full[i + 3][j + 3] += q[i][j] * third
        low = high
    abd = inverse(full)

    def block(i, j):
        return [float(full[i + r][j + c]) for r in range(3) for c in range(3)]

    return {"thickness": float(h),
            "areal_mass": sum(p["thickness"] * p["density"] for p in plies),
            "A": block(0, 0), "B": block(0, 3), "D": block(3, 3),
            "abd": [float(x) for row in abd for x in row],
            "Ex": float(1 / (h * abd[0][0])), "Ey": float(1 / (h * abd[1][1])),
            "Gxy": float(1 / (h * abd[2][2])), "nuxy": float(-abd[1][0] / abd[0][0]),
            "EIx": float(1 / abd[3][3]), "EIy": float(1 / abd[4][4])}


def random_ply(draw):
    e1 = 10 ** draw.uniform(9, 11.3)
    e2 = e1 * 10 ** draw.uniform(-1.7, 0.3)
    return {"density": draw.uniform(100, 3000), "E1": e1, "E2": e2,
            "G12": e1 * 10 ** draw.uniform(-1.7, 0),
            "nu12": draw.uniform(-0.2, 0.9) * math.sqrt(e1 / e2),
            "thickness": 10 ** draw.uniform(-4, -2), "angle": draw.uniform(-math.pi, math.pi)}


def main():
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    draw = random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    for _ in range(count):
        plies = [random_ply(draw) for _ in range(draw.randint(1, 8))]
        print(json.dumps({"plies": plies, "stack": stack(plies)}))


if __name__ == "__main__":
    main()
