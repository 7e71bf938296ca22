#!/usr/bin/env python3
"""The pose of bench_problem in closed form with numpy, all heights at once.

    pose_numpy.py PROBLEM.json [SECONDS [closed_form|in_plane]]

closed_form takes any driveline, its joint angles by arc cosine; in_plane one that lies in a plane along the tractor, whose joint
angles are differences of directions. Prints one line of JSON: nanoseconds a pose, worst errors, poses wrong and called solved.
"""
import sys

import numpy as np

from pose_script import judge, load, report, time_poses


def find_ball_and_turn(k, h):
    """Where the ball is behind the axle; cosine and sine of the pitch."""
    (px, pz), (ux, uz), (mx, mz) = k["lower_pivot"], k["upper_pin"], k["mast_pin"]
    lower, upper = k["link_lengths"]
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
    return ball_x, (mx * wx + mz * wz) / mast2, (mx * wz - mz * wx) / mast2


def closed_form(k, h):
    (qx, qy, qz), (jx, jy, jz) = k["tractor_joint"], k["implement_joint"]
    (ax, ay, az), (bx, by, bz) = k["stub_axis"], k["input_axis"]
    ball_x, c, s = find_ball_and_turn(k, h)
    x = ball_x + c * jx - s * jz - qx
    y = jy - qy
    z = h + s * jx + c * jz - qz
    length = np.sqrt(x * x + y * y + z * z)
    first = (ax * x + ay * y + az * z) / length
    second = ((c * bx - s * bz) * x + by * y + (s * bx + c * bz) * z) / length
    return np.arctan2(s, c), length, np.arccos(np.clip(first, -1.0, 1.0)), np.arccos(np.clip(second, -1.0, 1.0))


def in_plane(k, h):
    (qx, _, qz), (jx, _, jz) = k["tractor_joint"], k["implement_joint"]
    (ax, _, az), (bx, _, bz) = k["stub_axis"], k["input_axis"]
    ball_x, c, s = find_ball_and_turn(k, h)
    x = ball_x + c * jx - s * jz - qx
    z = h + s * jx + c * jz - qz
    pitch, turn = np.arctan2(s, c), np.arctan2(ax * z - az * x, ax * x + az * z)
    return pitch, np.sqrt(x * x + z * z), np.abs(turn), np.abs(turn - pitch - np.arctan2(ax * bz - az * bx, ax * bx + az * bz))


def main():
    k = load(sys.argv[1])
    heights = np.array(k["heights"])
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 0.2
    form = sys.argv[3] if len(sys.argv) > 3 else "closed_form"
    solve = {"closed_form": closed_form, "in_plane": in_plane}[form]
    errors = judge(k, list(zip(*solve(k, heights))), [True] * len(heights))
    report("numpy_" + form, time_poses(lambda: solve(k, heights), len(heights), seconds), errors)


main()
