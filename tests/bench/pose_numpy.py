#!/usr/bin/env python3
"""The pose of bench_problem in closed form with numpy, all heights at once.

    pose_numpy.py PROBLEM.json [SECONDS]

Prints one line of JSON: nanoseconds a pose, worst errors, poses wrong and called solved.
"""
import sys

import numpy as np

from pose_script import judge, load, report, time_poses


def solve(k, h):
    (px, pz), (ux, uz), (mx, mz) = k["lower_pivot"], k["upper_pin"], k["mast_pin"]
    (lower, upper), (qx, qy, qz), (jx, jy, jz) = k["link_lengths"], k["tractor_joint"], k["implement_joint"]
    (ax, ay, az), (bx, by, bz) = k["stub_axis"], k["input_axis"]
    mast2 = mx * mx + mz * mz
    mast = np.sqrt(mast2)
    sine = (h - pz) / lower
    ball_x = px + lower * np.sqrt(1.0 - sine * sine)
    dx, dz = ux - ball_x, uz - h
    d2 = dx * dx + dz * dz
    d = np.sqrt(d2)
    a = 0.5 * (d2 + mast2 - upper * upper)
    b = -0.5 * np.sqrt((d + mast + upper) * (d + mast - upper) * (upper + mast - d) * (upper - mast + d))
    wx, wz = (a * dx - b * dz) / d2, (a * dz + b * dx) / d2
    c, s = (mx * wx + mz * wz) / mast2, (mx * wz - mz * wx) / mast2
    x = ball_x + c * jx - s * jz - qx
    y = jy - qy
    z = h + s * jx + c * jz - qz
    length = np.sqrt(x * x + y * y + z * z)
    first = (ax * x + ay * y + az * z) / length
    second = ((c * bx - s * bz) * x + by * y + (s * bx + c * bz) * z) / length
    return np.arctan2(s, c), length, np.arccos(np.clip(first, -1.0, 1.0)), np.arccos(np.clip(second, -1.0, 1.0))


def main():
    k = load(sys.argv[1])
    heights = np.array(k["heights"])
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 0.2
    errors = judge(k, list(zip(*solve(k, heights))), [True] * len(heights))
    report("numpy_closed_form", time_poses(lambda: solve(k, heights), len(heights), seconds), errors)


main()
