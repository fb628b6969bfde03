# SPDX-License-Identifier: GPL-3.0-or-later
"""W1 by SciPy's odeint, stopping at every reading: odeint.py PROBLEM TOLERANCE.

Prints tolerance, microseconds and error. With 0 the loosest tolerance that holds 1e-6 is found
first, as for the others."""

import math
import sys
import time

from scipy.integrate import odeint

rows = [[float(word) for word in line.split()] for line in open(sys.argv[1])]
A1, C1, A2, C2, M, N = rows[0]
levels = rows[1:5]
log = rows[5:]
times = [row[0] for row in log]
kelvin = [row[1] for row in log]
step = times[1]
slopes = [(b - a) / step for a, b in zip(kelvin, kelvin[1:])]
last = len(slopes) - 1


def rate(a, temperature):
    done = max(a, 0.0)
    left = max(1.0 - a, 0.0)
    k = A1 * math.exp(-C1 / temperature) + A2 * math.exp(-C2 / temperature) * done**M
    return k * left**N


def slope(y, t):
    i = min(max(int(t / step), 0), last)
    return rate(y[0], kelvin[i] + slopes[i] * (t - times[i]))


def crossing(level, curve):
    i = next((k for k in range(last + 1) if curve[k + 1] >= level), None)
    if i is None:
        return math.inf
    a0, a1 = curve[i], curve[i + 1]
    r0, r1 = step * rate(a0, kelvin[i]), step * rate(a1, kelvin[i + 1])
    rise = a1 - a0
    c, d = 3 * rise - 2 * r0 - r1, r0 + r1 - 2 * rise
    u = (level - a0) / rise
    for _ in range(6):
        u -= (a0 + u * (r0 + u * (c + u * d)) - level) / (r0 + u * (2 * c + 3 * u * d))
    return times[i] + u * step


def solve(tolerance):
    curve = odeint(slope, [0.0], times, rtol=tolerance, atol=tolerance, tcrit=times[1:],
                   mxstep=100000)[:, 0].tolist()
    return curve, [crossing(level, curve) for level, _ in levels]


def error(tolerance):
    curve, when = solve(tolerance)
    worst = max(abs(a - row[2]) for a, row in zip(curve, log))
    for (level, exact), got in zip(levels, when):
        if exact < math.inf:
            i = min(int(exact / step), last)
            temperature = kelvin[i] + slopes[i] * (exact - times[i])
            worst = max(worst, abs(got - exact) * rate(level, temperature))
    return worst


def loosest():
    best = 0.0
    for half in range(24, 7, -1):
        tolerance = 10 ** (-0.5 * half)
        if error(tolerance) <= 1e-6:
            best = tolerance
        elif best > 0:
            break
    return best


chosen = float(sys.argv[2]) or loosest()
took = []
for _ in range(5):
    begin = time.thread_time()
    solve(chosen)
    took.append(time.thread_time() - begin)
print(f"{chosen:.6g} {1e6 * sorted(took)[2]:.6g} {error(chosen):.3g}")
