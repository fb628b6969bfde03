# SPDX-License-Identifier: GPL-3.0-or-later
"""W6 by NumPy, a block of stacks at a time: layups.py PROBLEM STACKS BLOCK.

Prints microseconds, the mean factor, and the mean of factor times (stack number modulo 7)."""

import sys
import time

import numpy as np

rows = [[float(word) for word in line.split()] for line in open(sys.argv[1])]
load = np.array(rows[0])
plies, angles = int(rows[1][0]), int(rows[1][1])
kinds = np.array(rows[2:])
stacks = np.fromfile(sys.argv[2], dtype=np.uint8).astype(np.intp).reshape(-1, plies)
block = int(sys.argv[3])


def factors(code):
    """Load factors of the stacks in one block."""
    angle = np.radians(180.0 / angles * (code % angles) - 75)
    E1, E2, nu, G, t, Xt, Xc, Yt, Yc, S = np.moveaxis(kinds[code // angles], -1, 0)
    c, s = np.cos(angle), np.sin(angle)
    to_ply = np.stack([np.stack([c * c, s * s, c * s], -1),
                       np.stack([s * s, c * c, -c * s], -1),
                       np.stack([-2 * c * s, 2 * c * s, c * c - s * s], -1)], -2)
    stiff = np.zeros(code.shape + (3, 3))
    whole = 1 - nu**2 * E2 / E1
    stiff[..., 0, 0], stiff[..., 1, 1], stiff[..., 2, 2] = E1 / whole, E2 / whole, G
    stiff[..., 0, 1] = stiff[..., 1, 0] = nu * E2 / whole
    stress_of = stiff @ to_ply
    turned = np.swapaxes(to_ply, -1, -2) @ stress_of
    height = t.sum(-1, keepdims=True)
    top = np.cumsum(t, -1) - height / 2
    low = top - t
    abd = np.empty(code.shape[:-1] + (6, 6))
    abd[..., :3, :3] = np.einsum("np,npij->nij", t, turned)
    abd[..., 3:, 3:] = np.einsum("np,npij->nij", (top**3 - low**3) / 3, turned)
    abd[..., :3, 3:] = np.einsum("np,npij->nij", (top**2 - low**2) / 2, turned)
    abd[..., 3:, :3] = abd[..., :3, 3:]
    e = np.linalg.inv(abd) @ load
    z = np.stack([low, top], -1)
    strain = e[:, None, None, :3] + z[..., None] * e[:, None, None, 3:]
    s1, s2, t12 = np.moveaxis(np.einsum("npij,npfj->npfi", stress_of, strain), -1, 0)
    f1, f2 = (1 / Xt - 1 / Xc)[..., None], (1 / Yt - 1 / Yc)[..., None]
    f11, f22, f66 = (1 / (Xt * Xc))[..., None], (1 / (Yt * Yc))[..., None], (1 / S**2)[..., None]
    a = f11 * s1**2 + f22 * s2**2 + f66 * t12**2 - np.sqrt(f11 * f22) * s1 * s2
    b = f1 * s1 + f2 * s2
    return ((np.sqrt(b * b + 4 * a) - b) / (2 * a)).min((-1, -2))


def sweep():
    """Load factors of all stacks."""
    return np.concatenate([factors(stacks[i:i + block]) for i in range(0, len(stacks), block)])


took = []
for _ in range(3):
    begin = time.thread_time()
    answer = sweep()
    took.append(time.thread_time() - begin)
marked = (answer * (np.arange(len(answer)) % 7)).mean()
print(f"{1e6 * sorted(took)[1]:.6g} {answer.mean():.17g} {marked:.17g}")
