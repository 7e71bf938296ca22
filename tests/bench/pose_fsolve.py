#!/usr/bin/env python3
"""The pose of bench_problem with SciPy's fsolve, started from the pose before, tolerances as they come.

    pose_fsolve.py PROBLEM.json [SECONDS] [angles|ball_and_pitch]

Unknowns: lower link's angle and pitch, or ball and pitch; derivatives by fsolve's own differences.
Prints one line of JSON: nanoseconds a pose, worst errors, poses wrong and called solved, poses called unsolved.
"""
import sys
import warnings
from math import acos, atan2, cos, hypot, sin, sqrt

from scipy.optimize import fsolve

from pose_script import judge, load, report, time_poses


def angle_closure(k):
    (px, pz), (ux, uz), (mx, mz), (lower, upper) = k["lower_pivot"], k["upper_pin"], k["mast_pin"], k["link_lengths"]

    def left(x, h):
        s, c, z = sin(x[1]), cos(x[1]), pz + lower * sin(x[0])
        return [z - h, hypot(px + lower * cos(x[0]) + c * mx - s * mz - ux, z + s * mx + c * mz - uz) - upper]

    return left


def ball_closure(k):
    (px, pz), (ux, uz), (mx, mz), (lower, upper) = k["lower_pivot"], k["upper_pin"], k["mast_pin"], k["link_lengths"]

    def left(x, h):
        s, c = sin(x[2]), cos(x[2])
        return [x[1] - h, hypot(x[0] - px, x[1] - pz) - lower,
                hypot(x[0] + c * mx - s * mz - ux, x[1] + s * mx + c * mz - uz) - upper]

    return left


def find_numbers(k, angle, pitch):
    (px, pz), (lower, _) = k["lower_pivot"], k["link_lengths"]
    q, j, u, a = k["tractor_joint"], k["implement_joint"], k["stub_axis"], k["input_axis"]
    s, c = sin(pitch), cos(pitch)
    x, y = px + lower * cos(angle) + c * j[0] - s * j[2] - q[0], j[1] - q[1]
    z = pz + lower * sin(angle) + s * j[0] + c * j[2] - q[2]
    length = sqrt(x * x + y * y + z * z)
    first = (u[0] * x + u[1] * y + u[2] * z) / length
    second = ((c * a[0] - s * a[2]) * x + a[1] * y + (s * a[0] + c * a[2]) * z) / length
    return pitch, length, acos(max(-1.0, min(1.0, first))), acos(max(-1.0, min(1.0, second)))


def solve_path(k, unknowns):
    (px, pz), (lower, _), (angle, pitch) = k["lower_pivot"], k["link_lengths"], k["first"]
    with_ball = unknowns == "ball_and_pitch"
    left = ball_closure(k) if with_ball else angle_closure(k)
    x = [px + lower * cos(angle), pz + lower * sin(angle), pitch] if with_ball else [angle, pitch]
    found, solved = [], []
    for h in k["heights"]:
        x, _, status, _ = fsolve(left, x, args=(h,), full_output=True)
        found.append(find_numbers(k, atan2(x[1] - pz, x[0] - px) if with_ball else x[0], x[-1]))
        solved.append(status == 1)
    return found, solved


def main():
    warnings.simplefilter("ignore")
    k = load(sys.argv[1])
    seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 0.2
    unknowns = sys.argv[3] if len(sys.argv) > 3 else "angles"
    errors = judge(k, *solve_path(k, unknowns))
    report("scipy_fsolve_" + unknowns, time_poses(lambda: solve_path(k, unknowns), len(k["heights"]), seconds), errors)


main()
